#!/usr/bin/env python3
"""Fits the onset models to candidates for a strum's start and writes dsp/onset_table.cpp.

SET is a folder made by make_takes.py, CANDIDATES what the names of its dump's files (dump_onsets) begin with. A candidate
within 22 ms of a true start is one; others within 30 ms before or 90 ms after one (late strings) and in the first 120 ms of a take are not used, nor is what
comes before the asked strum where another chord was struck ahead of it (its start isn't in the tables); the rest are none. Several pairs may be given.
Single notes weigh double: of all starts they are the softest to the ear, and few.
"""
import argparse
import collections
import csv
import json
import pathlib

import numpy as np
import torch
from torch import nn

from tables import literals, numbers, read_sizes, rows, write_table

SIZES = read_sizes()
MEASURES, BANDS, HOPS = (SIZES[k] for k in ("kOnsetMeasures", "kOnsetBands", "kOnsetHops"))
CHANNELS, REACH, STEPS = (SIZES[k] for k in ("kOnsetChannels", "kOnsetReach", "kOnsetSteps2"))
SEEN, HIDDEN, HIDDEN2 = (SIZES[k] for k in ("kOnsetSeen", "kOnsetHidden", "kOnsetHidden2"))
SAME_S, BEFORE_S, AFTER_S, START_S = 0.022, 0.03, 0.09, 0.12
BATCH, RATE, DECAY = 256, 5e-3, 1e-3
SINGLE_NOTES_WEIGH = 2.0
# What is shaken while fitting, so that no one sound is learnt by heart: measures; the picture number by number, and band by band in every second candidate.
SHAKEN_MEASURES, SHAKEN_PICTURE, SHAKEN_BAND = 0.03, 0.12, 0.15
THRESHOLDS = (0.2, 0.35, 0.5, 0.65)


def strings_of(grip):
    return sum(mark != "x" for mark in (grip.split("-") if "-" in grip else grip))


def read_starts(folder, number):
    """({take number: true starts in seconds}, {take number: family}, {take number: seconds from which all starts are known}, {(take number, start)} of single
    notes) of the takes in `number`."""
    starts, family, known_from, single = collections.defaultdict(set), {}, {}, set()
    with open(folder / "truth.csv", newline="") as table:
        for row in csv.DictReader(table):
            if row["take"] in number:
                family[number[row["take"]]] = row.get("family") or row["guitar"]
                if row["onset_s"] and row["kind"] != "nothing":
                    starts[number[row["take"]]].add(float(row["onset_s"]))
                    if strings_of(row["played"]) == 1:
                        single.add((number[row["take"]], float(row["onset_s"])))
                    if json.loads(row["sound"]).get("before"):
                        known_from[number[row["take"]]] = float(row["onset_s"]) - BEFORE_S
    if (walks := folder / "walks.csv").exists():  # every beat, also those that no case asks for
        with open(walks, newline="") as table:
            for row in csv.DictReader(table):
                if row["take"] in number and row["onset_s"]:
                    starts[number[row["take"]]].add(float(row["onset_s"]))
    return starts, family, known_from, single


def label(at_s, starts, known_from_s=START_S):
    """1 a start, 0 none, -1 not used."""
    after = [at_s - start for start in starts]
    if any(abs(s) < SAME_S for s in after):
        return 1
    if any(-BEFORE_S < s < AFTER_S for s in after) or at_s < known_from_s:
        return -1
    return 0


class Candidates:
    """`measures` and `picture` (bands x hops), a row each; `label`; `weight` in the loss; `family`."""

    def __init__(self, folder, out):
        raw = np.fromfile(out + ".onsets", "<f4")
        length = 2 + MEASURES + BANDS * HOPS
        if len(raw) % length:
            raise ValueError(f"{out}.onsets: the number of measures has changed since the dump: dump again")
        raw = raw.reshape(-1, length)
        takes = pathlib.Path(out + ".takes").read_text().splitlines()
        starts, family, known_from, single = read_starts(pathlib.Path(folder), {take: i for i, take in enumerate(takes)})
        self.measures = raw[:, 2:2 + MEASURES]
        self.picture = raw[:, 2 + MEASURES:].reshape(-1, BANDS, HOPS)
        self.label = np.array([label(at_s, starts[int(take)], known_from.get(int(take), START_S)) for take, at_s in raw[:, :2]])
        alone = [any(abs(at_s - start) < SAME_S and (int(take), start) in single for start in starts[int(take)]) for take, at_s in raw[:, :2]]
        self.weight = np.where(alone, SINGLE_NOTES_WEIGH, 1.0).astype(np.float32)
        self.family = np.array([family.get(int(take), "") for take in raw[:, 0]])


class Model(nn.Module):
    """As dsp/onset_model.h has it."""

    def __init__(self):
        super().__init__()
        self.layers = nn.ModuleList([nn.Conv1d(BANDS, CHANNELS, REACH, stride=2), nn.Conv1d(CHANNELS, CHANNELS, REACH, stride=2), nn.Linear(CHANNELS * STEPS, SEEN),
                                     nn.Linear(MEASURES + SEEN, HIDDEN), nn.Linear(HIDDEN, HIDDEN2), nn.Linear(HIDDEN2, 1)])

    def forward(self, measures, picture):
        rough1, rough2, seen, hidden, hidden2, score = self.layers
        saw = torch.relu(seen(torch.relu(rough2(torch.relu(rough1(picture)))).flatten(1)))
        return score(torch.relu(hidden2(torch.relu(hidden(torch.cat([measures, saw], 1))))))[:, 0]


def fit(measures, pictures, labels, weights, epochs, seed):
    torch.manual_seed(seed)
    inputs, pictures, wanted, count = torch.tensor(measures), torch.tensor(pictures), torch.tensor(labels.astype(np.float32)), len(labels)
    weights = torch.tensor(weights / weights.mean())
    model = Model()
    optimizer = torch.optim.AdamW(model.parameters(), lr=RATE, weight_decay=DECAY)
    schedule = torch.optim.lr_scheduler.OneCycleLR(optimizer, RATE, total_steps=epochs * (count // BATCH + 1))
    for epoch in range(epochs):
        order, total = torch.randperm(count), 0.0
        for i in range(0, count, BATCH):
            chosen = order[i:i + BATCH]
            optimizer.zero_grad()
            size, every_second = len(chosen), torch.rand(len(chosen), 1, 1) < 0.5
            measured = inputs[chosen] + SHAKEN_MEASURES * torch.randn(size, MEASURES)
            seen = pictures[chosen] + SHAKEN_PICTURE * torch.randn(size, BANDS, HOPS) + SHAKEN_BAND * torch.randn(size, BANDS, 1) * every_second
            value = nn.functional.binary_cross_entropy_with_logits(model(measured, seen), wanted[chosen], weights[chosen])
            value.backward()
            optimizer.step()
            schedule.step()
            total += value.item() * len(chosen)
        print(f"epoch {epoch + 1} of {epochs}: loss {total / count:.4f}", flush=True)
    return model


def report(models, candidates, where, title):
    with torch.no_grad():
        chance = np.mean([np.concatenate([torch.sigmoid(model(torch.tensor(m), torch.tensor(p))).numpy() for m, p in
                                          zip(np.array_split(candidates.measures, 16), np.array_split(candidates.picture, 16))]) for model in models], 0)
    true, false = (chance[where & (candidates.label == value)] for value in (1, 0))
    for threshold in THRESHOLDS:
        missed, taken = (true < threshold).sum(), (false >= threshold).sum()
        print(f"{title}: from {threshold}: {missed} of {len(true)} starts missed ({100 * missed / max(1, len(true)):.2f} %), "
              f"{taken} of {len(false)} others taken ({100 * taken / max(1, len(false)):.2f} %)")


def write_onset_table(models, path):
    tables = []
    for model in models:
        parts = []
        for layer in model.layers:
            weight = numbers(layer.weight)
            parts += [f"{{{rows(weight.reshape(len(weight), -1), ' ' * 6)}}}", f"{{{literals(numbers(layer.bias))}}}"]
        tables.append("    OnsetTable{\n" + ",\n".join("     " + part for part in parts) + "}")
    write_table(path, "the onset models", "", "dsp/onset_model.h", "gripline::dsp", "std::array<OnsetTable, kOnsetModels> kOnsetTables", ",\n".join(tables))


def arguments(about, epochs, table):
    """Options of a fit to candidates: (parser, what was given)."""
    parser = argparse.ArgumentParser(description=about, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--set", action="append", required=True, nargs=2, metavar=("SET", "CANDIDATES"), help="may be given several times")
    parser.add_argument("--leave-out", action="append", default=[], metavar="FAMILY", help="guitars not to fit, but to report on; may be given several times")
    parser.add_argument("--test", action="append", default=[], nargs=2, metavar=("SET", "CANDIDATES"), help="others to report on; may be given several times")
    parser.add_argument("--epochs", type=int, default=epochs)
    parser.add_argument("--seed", type=int, default=0)
    parser.add_argument("--table", metavar="FILE", help=f"the C++ table to write ({table})")
    given = parser.parse_args()
    if given.epochs < 1:
        parser.error("--epochs: at least 1")
    return parser, given


def main():
    parser, given = arguments(__doc__, 20, "dsp/onset_table.cpp")
    torch.set_num_threads(1)
    sets = [Candidates(folder, dump) for folder, dump in given.set]
    families = set(np.concatenate([s.family for s in sets]))
    if unknown := set(given.leave_out) - families:
        parser.error(f"--leave-out {', '.join(sorted(unknown))}: no such family; there are {', '.join(sorted(families))}")
    out = [np.isin(s.family, given.leave_out) for s in sets]
    fitted = [~o & (s.label >= 0) for s, o in zip(sets, out)]
    if not any(f.any() for f in fitted):
        parser.error("no candidates are left to fit")
    to_fit = [np.concatenate([getattr(s, what)[f] for s, f in zip(sets, fitted)]) for what in ("measures", "picture", "label", "weight")]
    models = [fit(*to_fit, given.epochs, given.seed + i) for i in range(SIZES["kOnsetModels"])]
    for s, f, o, (_, dump) in zip(sets, fitted, out, given.set):
        report(models, s, f, f"fitted {dump}")
        if o.any():
            report(models, s, o, f"left out of {dump}")
    for folder, dump in given.test:
        tested = Candidates(folder, dump)
        report(models, tested, np.ones(len(tested.label), bool), dump)
    if given.table:
        write_onset_table(models, given.table)


if __name__ == "__main__":
    main()

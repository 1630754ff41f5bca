#!/usr/bin/env python3
"""Fits what a known guitar adds to the judge: a small net on top of the chances that the judge has without knowing it (dump_weighings --known).

    fit_known.py WEIGHINGS... --test WEIGHINGS [--table src/judge/known_table.cpp]
"""
import argparse
import time

import numpy as np
import torch
from torch import nn

from fit_judge import usable, weights_by_kind
from judge_model import chances, loss
from load_weighings import SIZES, Weighings, batch, note_inputs
from tables import literals, numbers, rows, write_table

BATCH, RATE, DECAY = 256, 3e-3, 3e-3
LEAST = 1e-7


class KnownWeighings(Weighings):
    def __init__(self, outs):
        super().__init__(outs)
        self.known = np.concatenate([np.fromfile(out + ".known", "<f2") for out in outs]).reshape(-1, SIZES["kKnownFeatures"])
        self.chance = np.concatenate([np.fromfile(out + ".chances", "<f4") for out in outs])
        assert len(self.known) == len(self.notes) and len(self.chance) == len(self.hypothesis)


def known_batch(weighings, looks):
    b = batch(weighings, looks)
    chosen = np.concatenate([np.arange(weighings.first_hypothesis[i], weighings.first_hypothesis[i] + weighings.case["hypotheses"][i]) for i in looks])
    b["base"] = torch.from_numpy(np.log(np.maximum(weighings.chance[chosen], LEAST)))
    notes, weighings.notes = weighings.notes, weighings.known
    time_of = np.zeros(len(chosen), np.float32)
    for side, (r, starts) in {"added": (weighings.added, weighings.added_from), "removed": (weighings.removed, weighings.removed_from)}.items():
        known, _ = note_inputs(weighings, chosen, r, starts, side == "added", time_of)
        b[side] = torch.cat([b[side], known[:, :SIZES["kKnownFeatures"]]], 1)
    weighings.notes = notes
    return b


class KnownModel(nn.Module):
    def __init__(self, blind=False):
        super().__init__()
        self.blind = blind
        self.note1 = nn.Linear(SIZES["kNoteInputs"] + SIZES["kKnownFeatures"], SIZES["kKnownHidden"])
        self.note2 = nn.Linear(SIZES["kKnownHidden"], SIZES["kKnownOutputs"])
        self.hypothesis1 = nn.Linear(SIZES["kHypothesisInputs"] - 2 * SIZES["kNoteOutputs"] + 1 + 2 * SIZES["kKnownOutputs"], SIZES["kKnownHidden2"])
        self.score = nn.Linear(SIZES["kKnownHidden2"], 1)
        nn.init.zeros_(self.score.weight)
        nn.init.zeros_(self.score.bias)

    def layers(self):
        return self.note1, self.note2, self.hypothesis1, self.score

    def say(self, notes, owner, count):
        if self.blind:
            notes = notes.clone()
            notes[:, SIZES["kNoteInputs"]:] = 0
        said = torch.relu(self.note2(torch.relu(self.note1(notes))))
        return torch.zeros(count, said.shape[1]).index_add_(0, owner, said)

    def forward(self, b):
        count = len(b["hypotheses"])
        base = b["base"]
        inputs = torch.cat([b["hypotheses"], base[:, None] / 8, self.say(b["added"], b["added_owner"], count), self.say(b["removed"], b["removed_owner"], count)], 1)
        return base + self.score(torch.relu(self.hypothesis1(inputs)))[:, 0]


def fit(weighings, looks, epochs, seed, blind):
    weights, looks = weights_by_kind(weighings, looks), looks.copy()
    torch.manual_seed(seed)
    model, shuffle, batches = KnownModel(blind), np.random.default_rng(seed), len(looks) // BATCH
    optimizer = torch.optim.AdamW(model.parameters(), lr=RATE, weight_decay=DECAY)
    schedule = torch.optim.lr_scheduler.OneCycleLR(optimizer, RATE, total_steps=batches * epochs + 1)
    for epoch in range(epochs):
        start, total = time.time(), 0.0
        shuffle.shuffle(looks)
        for i in range(batches):
            chosen = looks[i * BATCH:(i + 1) * BATCH]
            b = known_batch(weighings, chosen)
            optimizer.zero_grad()
            value = loss(model(b), b, torch.from_numpy(weights[chosen]))
            value.backward()
            optimizer.step()
            schedule.step()
            total += value.item()
        print(f"epoch {epoch + 1} of {epochs}: loss {total / batches:.4f}, {time.time() - start:.0f} s", flush=True)
    return model


def equal_error(right, kinds):
    edges = np.unique(right)
    edges = edges[np.linspace(0, len(edges) - 1, min(len(edges), 2000)).astype(int)]
    good = np.sort(right[kinds == "none"])
    rejected = np.searchsorted(good, edges) / len(good)
    let = np.mean([1 - np.searchsorted(np.sort(right[kinds == k]), edges) / (kinds == k).sum() for k in np.unique(kinds) if k not in ("none", "nothing")], 0)
    at = np.argmin(np.abs(let - rejected))
    return (let[at] + rejected[at]) / 2


def report(models, weighings, step):
    """One look a case: the first from `step` on."""
    seen, looks = set(), []
    for i in np.nonzero(weighings.case["step"] >= step)[0]:
        key = tuple(weighings.case_key[i])
        if key not in seen and weighings.case["label"][i] >= 0:
            seen.add(key)
            looks.append(i)
    looks = np.array(looks)
    out = {"without": np.zeros(len(looks))} | {name: np.zeros(len(looks)) for name in models}
    with torch.no_grad():
        for i in range(0, len(looks), 512):
            b = known_batch(weighings, looks[i:i + 512])
            def right(scores):
                return torch.zeros(b["looks"]).index_add_(0, b["look"], chances(scores, b)[1] * b["right"]).numpy()
            out["without"][i:i + 512] = right(b["base"])
            for name, ms in models.items():
                out[name][i:i + 512] = np.mean([right(m(b)) for m in ms], 0)
    kinds, guitars = weighings.kind[looks], weighings.guitar[looks]
    for name, r in out.items():
        by_kind = " ".join(f"{k} {100 * (r[kinds == k] >= 0.4).mean():.2f}" for k in np.unique(kinds) if k != "none")
        print(f"step {step} {name:10s} equal error {100 * equal_error(r, kinds):.2f} %, right called wrong {100 * (r[kinds == 'none'] < 0.4).mean():.2f} %, let through: {by_kind}")
    for g in np.unique(guitars):
        print(f"  {g:18s} " + "  ".join(f"{name} {100 * equal_error(r[guitars == g], kinds[guitars == g]):.2f}" for name, r in out.items()))


def write_known_table(models, path, note):
    tables = []
    for model in models:
        layers = ",\n".join(f"    {{{{{rows(numbers(layer.weight), ' ' * 7)}}},\n     {{{literals(numbers(layer.bias))}}}}}" for layer in model.layers())
        tables.append(f"    KnownTable{{\n{layers}}}")
    write_table(path, "what a known guitar adds to the judge", note, "judge/known_model.h", "gripline", "std::array<KnownTable, kKnownModels> kKnownTables", ",\n".join(tables))


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("weighings", nargs="+")
    parser.add_argument("--test", action="append", default=[])
    parser.add_argument("--epochs", type=int, default=6)
    parser.add_argument("--models", type=int, default=1)
    parser.add_argument("--blind", action="store_true", help="a second fit that sees nothing of the set-up, to tell what the set-up itself gains")
    parser.add_argument("--table")
    parser.add_argument("--note", default="Fitted on rendered strums of guitars other than those it is measured on.")
    given = parser.parse_args()
    torch.set_num_threads(1)
    weighings = KnownWeighings(given.weighings)
    looks, _ = usable(weighings, [])
    print(f"{len(looks)} looks", flush=True)
    models = {"known": [fit(weighings, looks, given.epochs, i, False) for i in range(given.models)]}
    if given.blind:
        models["blind"] = [fit(weighings, looks, given.epochs, i, True) for i in range(given.models)]
    if given.table:
        write_known_table(models["known"], given.table, given.note)
    for out in given.test:
        tested = KnownWeighings([out])
        for step in (1, 3, 5):
            report(models, tested, step)


if __name__ == "__main__":
    main()

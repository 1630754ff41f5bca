#!/usr/bin/env python3
"""Fits the model that finds the first string's instant within a rise and writes dsp/first_string_table.cpp.

SET is a folder made by make_takes.py, CANDIDATES what the names of its dump's files (dump_onsets) begin with; several pairs may be given.
A candidate is used when exactly one true start lies inside the blocks that are searched.
"""
import pathlib

import numpy as np
import torch
from torch import nn

from fit_onset import arguments, read_starts
from tables import literals, numbers, read_sizes, rows, write_table

SIZES = read_sizes()
BANDS, BLOCKS, HIDDEN = (SIZES[k] for k in ("kStartBands", "kStartBlocks", "kStartHidden"))
REACHES = [SIZES[f"kStartReach{i}"] for i in (1, 2, 3)]
STEPS = (1, 2, 4)
RATE_HZ, BLOCK_FRAMES = 12000, 16
FIRST, LAST = 10, BLOCKS - 12     # blocks in which a true start is asked for
TRUTH_SPREAD = 0.6                # blocks: of the smoothed truth
BATCH, RATE, DECAY = 256, 6e-3, 1e-3


class Starts:
    """`blocks` (rows x bands x blocks), `place` (of the true start, in blocks), `family`, of the candidates that can be used."""

    def __init__(self, folder, out):
        raw = np.fromfile(out + ".starts", "<f4")
        if len(raw) % (2 + BANDS * BLOCKS):
            raise ValueError(f"{out}.starts: the number of blocks has changed since the dump: dump again")
        raw = raw.reshape(-1, 2 + BANDS * BLOCKS)
        takes = pathlib.Path(out + ".takes").read_text().splitlines()
        starts, family, _, _ = read_starts(pathlib.Path(folder), {take: i for i, take in enumerate(takes)})
        used, place = [], []
        for i, (take, from_s) in enumerate(raw[:, :2]):
            inside = [p for s in starts[int(take)] if 0 <= (p := (s - from_s) * RATE_HZ / BLOCK_FRAMES) < BLOCKS]
            if len(inside) == 1 and FIRST <= inside[0] < LAST:
                used.append(i)
                place.append(inside[0])
        self.blocks = raw[used, 2:].reshape(-1, BANDS, BLOCKS)
        self.place = np.array(place, np.float32)
        self.family = np.array([family.get(int(raw[i, 0]), "") for i in used])


class Model(nn.Module):
    def __init__(self):
        super().__init__()
        sizes = (BANDS, HIDDEN, HIDDEN, HIDDEN)
        self.layers = nn.ModuleList(nn.Conv1d(a, b, reach, padding=step * (reach // 2), dilation=step)
                                    for a, b, reach, step in zip(sizes, sizes[1:], REACHES, STEPS))
        self.score = nn.Conv1d(HIDDEN, 1, 1, bias=False)

    def forward(self, x):
        for layer in self.layers:
            x = torch.relu(layer(x))
        return self.score(x)[:, 0]


def found_blocks(score):
    """Where the C++ side finds the start, in blocks."""
    best = score[:, 8:BLOCKS - 10].argmax(1) + 8
    near = best[:, None] + torch.arange(-2, 3)
    chance = torch.softmax(score.gather(1, near), 1)
    return (chance * near).sum(1)


def fit(blocks, place, epochs, seed):
    torch.manual_seed(seed)
    inputs, place = torch.tensor(blocks), torch.tensor(place)
    model, count = Model(), len(place)
    optimizer = torch.optim.AdamW(model.parameters(), lr=RATE, weight_decay=DECAY)
    schedule = torch.optim.lr_scheduler.OneCycleLR(optimizer, RATE, total_steps=epochs * (count // BATCH + 1))
    grid = torch.arange(BLOCKS, dtype=torch.float32)
    for epoch in range(epochs):
        order, total = torch.randperm(count), 0.0
        for i in range(0, count, BATCH):
            chosen = order[i:i + BATCH]
            wanted = torch.softmax(-((grid - place[chosen, None]) / TRUTH_SPREAD) ** 2 / 2, 1)
            x = inputs[chosen] + 0.15 * torch.randn(len(chosen), 1, 1)
            optimizer.zero_grad()
            value = -(wanted * torch.log_softmax(model(x), 1)).sum(1).mean()
            value.backward()
            optimizer.step()
            schedule.step()
            total += value.item() * len(chosen)
        print(f"epoch {epoch + 1} of {epochs}: loss {total / count:.4f}", flush=True)
    return model


def report(model, starts, where, title):
    if not where.any():
        return
    with torch.no_grad():
        found = torch.cat([found_blocks(model(x)) for x in torch.tensor(starts.blocks[where]).split(2048)]).numpy()
    error_ms = (found - starts.place[where]) * 1000 * BLOCK_FRAMES / RATE_HZ
    print(f"{title}: {len(error_ms)} starts, median {np.median(error_ms):.1f} ms, within 5 ms {100 * (abs(error_ms) < 5).mean():.1f} %, "
          f"within 10 ms {100 * (abs(error_ms) < 10).mean():.1f} %, 95 % within {np.percentile(abs(error_ms), 95):.1f} ms")


def write_first_string_table(model, path):
    parts = []
    for layer in model.layers:
        weight = numbers(layer.weight)
        parts += [f"{{{rows(weight.reshape(len(weight), -1), ' ' * 5)}}}", f"{{{literals(numbers(layer.bias))}}}"]
    parts.append(f"{{{literals(numbers(model.score.weight).ravel())}}}")
    write_table(path, "the model of the first string's start", "", "dsp/first_string.h", "gripline::dsp", "FirstStringTable kFirstStringTable",
                ",\n".join("    " + part for part in parts))


def main():
    _, given = arguments(__doc__, 20, "dsp/first_string_table.cpp")
    torch.set_num_threads(1)
    sets = [Starts(folder, dump) for folder, dump in given.set]
    out = [np.isin(s.family, given.leave_out) for s in sets]
    model = fit(np.concatenate([s.blocks[~o] for s, o in zip(sets, out)]), np.concatenate([s.place[~o] for s, o in zip(sets, out)]), given.epochs, given.seed)
    for s, o, (_, dump) in zip(sets, out, given.set):
        report(model, s, ~o, f"fitted {dump}")
        report(model, s, o, f"left out of {dump}")
    for folder, dump in given.test:
        tested = Starts(folder, dump)
        report(model, tested, np.ones(len(tested.place), bool), dump)
    if given.table:
        write_first_string_table(model, given.table)


if __name__ == "__main__":
    main()

"""Weighings as dump_weighings writes them (weighing_file.h), as arrays and as batches for the judge's model."""
import numpy as np
import torch

from tables import read_sizes

SIZES = read_sizes()
MARGINS, COMMON, KINDS = SIZES["kMargins"], SIZES["kCommon"], SIZES["kKinds"]
FEATURES = SIZES["kNoteFeatures"]
MOST_ROWS = 8  # kMostRows of weighing_file.h
TIME = 7       # of the common numbers: how long the strum has sounded, as in model.cpp

CASE = np.dtype([("case_id", "<i4"), ("step", "<i4"), ("label", "<i4"), ("hypotheses", "<i4"), ("notes", "<i4"),
                 ("heard_s", "<f4"), ("onset_error_s", "<f4"), ("common", "<f4", COMMON)])
HYPOTHESIS = np.dtype([("kind", "i1"), ("string", "i1"), ("frets", "i1"), ("right", "i1"), ("error", "<f4"),
                       ("margins", "<f4", MARGINS), ("added", "i1"), ("removed", "i1"), ("rows", "<i2", 2 * MOST_ROWS)])


def read_truth(path):
    """{case id: (guitar, family, kind, whether an open string was struck between two strums)}; a guitar that is of no family is one of its own."""
    truth = {}
    for line in open(path, encoding="utf-8"):
        case_id, _, guitar, family, kind, *_, sound = line.rstrip("\n").split("\t")
        truth[int(case_id)] = guitar, family or guitar, kind, "soft_early_s" in sound or "struck_into" in sound
    return truth


def read_part(out):
    """The files of one dump, checked against one another."""
    cases, hypotheses = np.fromfile(out + ".cases", CASE), np.fromfile(out + ".hypotheses", HYPOTHESIS)
    notes = np.memmap(out + ".notes", "<f2", "r")  # gigabytes
    if len(hypotheses) != cases["hypotheses"].sum() or len(notes) != cases["notes"].sum() * FEATURES:
        raise ValueError(f"{out}: the files do not belong together, or the headers' sizes have changed since the dump: dump again")
    return cases, hypotheses, notes.reshape(-1, FEATURES), read_truth(out + ".truth")


class Weighings:
    """All looks of several dumps. A look is one row of `case`; its hypotheses are rows first_hypothesis... of `hypothesis`; `added` and `removed` say which
    rows of the notes of all parts a hypothesis adds and removes: rows added_from[h] to added_from[h + 1] of added."""

    def __init__(self, outs):
        parts = [read_part(out) for out in outs]
        self.case = np.concatenate([p[0] for p in parts])
        self.hypothesis = np.concatenate([p[1] for p in parts])
        self.notes = [p[2] for p in parts]  # left on disk: several fits at once share what the system keeps of the files
        self.part = np.repeat(np.arange(len(parts)), [len(p[0]) for p in parts])
        truth = [p[3][i] for p in parts for i in p[0]["case_id"]]
        self.guitar, self.family, self.kind, self.struck_between = (np.array(column) for column in zip(*truth))
        # The same case in two dumps is two cases.
        self.case_key = np.concatenate([np.stack([np.full(len(p[0]), n), p[0]["case_id"]], 1) for n, p in enumerate(parts)])
        counts = self.case["hypotheses"]
        self.first_hypothesis = np.cumsum(counts, dtype=np.int64) - counts
        self.first_note = np.cumsum(self.case["notes"], dtype=np.int64) - self.case["notes"]
        self.first_of_part = np.cumsum([0] + [len(notes) for notes in self.notes])
        first_note = np.repeat(self.first_note, counts)
        self.added, self.added_from = self._rows(slice(0, MOST_ROWS), first_note)
        self.removed, self.removed_from = self._rows(slice(MOST_ROWS, None), first_note)

    def _rows(self, columns, first_note):
        """Rows of `notes` by hypothesis; of one hypothesis in the order of the columns."""
        rows = self.hypothesis["rows"][:, columns].astype(np.int64)
        there = rows >= 0
        return (rows + first_note[:, None])[there], np.concatenate([[0], np.cumsum(there.sum(1))])

    def __len__(self):
        return len(self.case)


def note_inputs(weighings, looks):
    """Features, flags and time of every note of these looks, as the model's first layer takes them; and where each look's notes begin."""
    count = weighings.case["notes"][looks].astype(np.int64)
    begin = np.cumsum(count) - count
    stored, inputs = np.empty((count.sum(), FEATURES), np.float16), np.zeros((count.sum(), FEATURES + 3), np.float32)
    parts = weighings.part[looks]
    for at, part, first, notes in zip(begin, parts, weighings.first_note[looks] - weighings.first_of_part[parts], count):
        stored[at:at + notes] = weighings.notes[part][first:first + notes]
    inputs[:, :FEATURES] = torch.from_numpy(stored).float().numpy()  # several times as fast as numpy
    inputs[:, FEATURES + 2] = np.repeat(weighings.case["common"][looks, TIME], count)
    return inputs, begin


def note_owners(weighings, chosen, rows, starts, shift):
    """(row, place among `chosen`) of every note that the chosen hypotheses add or remove. `shift`: what leads from rows of all notes to those of the batch, by hypothesis."""
    count = starts[chosen + 1] - starts[chosen]
    owner = np.repeat(np.arange(len(chosen)), count)
    place = np.arange(count.sum()) - np.repeat(np.cumsum(count) - count, count) + np.repeat(starts[chosen], count)
    return rows[place] + shift[owner], owner


def batch(weighings, looks):
    """Everything the model and its loss need for these looks, as tensors. The order of the inputs is that of model.cpp; a note that several hypotheses lack is one row, as there."""
    looks = np.asarray(looks)
    counts = weighings.case["hypotheses"][looks].astype(np.int64)
    first = np.cumsum(counts) - counts
    look = np.repeat(np.arange(len(looks)), counts)
    chosen = np.arange(counts.sum()) - first[look] + weighings.first_hypothesis[looks][look]
    h, common = weighings.hypothesis[chosen], weighings.case["common"][looks][look]
    frets = h["frets"].astype(np.float32)
    more = np.stack([frets / 3, np.abs(frets) / 3, h["added"] / 3.0, h["removed"] / 3.0, h["string"] / 6.0, h["right"]], 1).astype(np.float32)
    kind = np.eye(KINDS, dtype=np.float32)[h["kind"]]
    notes, begin = note_inputs(weighings, looks)
    shift = (begin - weighings.first_note[looks])[look]
    added, added_owner = note_owners(weighings, chosen, weighings.added, weighings.added_from, shift)
    removed, removed_owner = note_owners(weighings, chosen, weighings.removed, weighings.removed_from, shift)
    notes[added, FEATURES], notes[removed, FEATURES + 1] = 1.0, 1.0
    return dict(looks=len(looks), look=torch.from_numpy(look), counts=counts, first=first,
                nothing=torch.from_numpy(first + counts - 1),  # the last hypothesis of a look
                hypotheses=torch.from_numpy(np.concatenate([h["margins"], common, kind, more], 1).astype(np.float32)),
                right=torch.from_numpy(h["right"].astype(np.float32)),
                true=torch.from_numpy(first + weighings.case["label"][looks]),
                notes=torch.from_numpy(notes), added=torch.from_numpy(added), added_owner=torch.from_numpy(added_owner),
                removed=torch.from_numpy(removed), removed_owner=torch.from_numpy(removed_owner))

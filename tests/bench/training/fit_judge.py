#!/usr/bin/env python3
"""Fits the judge's models to weighings and writes src/judge/model_table.cpp.

The sizes of its layers are those of src/judge/model.h. Of every strum that was found within 60 ms of its true onset the looks
are weighed so that each kind of fault has a fixed share of the whole, whatever its number.
"""
import argparse
import time

import numpy as np
import torch

from judge_model import JudgeModel, loss, read_judge_table, write_judge_table
from judge_report import report
from load_weighings import SIZES, Weighings, batch

# A strum in practice is right more often than not; wrong notes are the commonest fault. Shares of the loss, by judgement.
SHARES = {"none": 0.5, "wrong_note": 0.15, "extra_note": 0.12, "missing_note": 0.10, "wrong_bass": 0.07, "shifted": 0.03, "nothing": 0.03}
LATEST_ONSET_S = 0.06
BATCH, RATE, DECAY = 256, 4e-3, 1e-3
RATE_GOING_ON = 1e-3  # of a fit that begins with a fitted model


def weights_by_kind(weighings, looks):
    """A weight for every look of the set, 0 where it is not among `looks`; their mean over `looks` is 1."""
    weights = np.zeros(len(weighings), np.float32)
    for kind, share in SHARES.items():
        of_kind = weighings.kind[looks] == kind
        if of_kind.any():
            weights[looks[of_kind]] = share / of_kind.sum()
    return weights * (len(looks) / weights[looks].sum())


def usable(weighings, left_out):
    """(looks to fit, looks left out)."""
    out = np.isin(weighings.family, left_out)
    labelled = (weighings.case["label"] >= 0) & (np.abs(weighings.case["onset_error_s"]) < LATEST_ONSET_S)
    # What rang before a strum is not judged: an open string that was struck ahead of it is neither a fault nor none, and in the strum before it is no string of that one's.
    return np.nonzero(labelled & ~out & ~weighings.struck_between)[0], np.nonzero(out)[0]


def fit(weighings, looks, epochs, seed, model=None):
    """`model`: fitted already, and goes on from there."""
    weights, looks = weights_by_kind(weighings, looks), looks.copy()
    rate = RATE_GOING_ON if model else RATE
    torch.manual_seed(seed)
    model, shuffle, batches = model or JudgeModel(), np.random.default_rng(seed), len(looks) // BATCH
    optimizer = torch.optim.AdamW(model.parameters(), lr=rate, weight_decay=DECAY)
    schedule = torch.optim.lr_scheduler.OneCycleLR(optimizer, rate, total_steps=batches * epochs + 1)
    for epoch in range(epochs):
        start, total = time.time(), 0.0
        shuffle.shuffle(looks)
        for i in range(batches):
            chosen = looks[i * BATCH:(i + 1) * BATCH]
            b = batch(weighings, chosen)
            optimizer.zero_grad()
            value = loss(model(b), b, torch.from_numpy(weights[chosen]))
            value.backward()
            optimizer.step()
            schedule.step()
            total += value.item()
        print(f"epoch {epoch + 1} of {epochs}: loss {total / batches:.4f}, {time.time() - start:.0f} s", flush=True)
    return model


def go_halfway(models, begun):
    """Each number of the models becomes the mean of itself and of the one that it began as."""
    with torch.no_grad():
        for model, before in zip(models, begun):
            for number, was in zip(model.parameters(), before.parameters()):
                number.copy_((number + was) / 2)


def arguments():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("weighings", nargs="*", help="what the names of a dump's files begin with; several are taken together")
    parser.add_argument("--leave-out", action="append", default=[], metavar="FAMILY", help="guitars not to fit, but to report on; may be given several times")
    parser.add_argument("--test", action="append", default=[], metavar="WEIGHINGS", help="another dump to report on; may be given several times")
    parser.add_argument("--epochs", type=int, default=12)
    parser.add_argument("--seed", type=int, default=0, help="of the first model; the next take the next numbers")
    parser.add_argument("--begin-with", metavar="TABLE", help="a C++ table whose models go on being fitted, instead of new ones")
    parser.add_argument("--halfway", action="store_true", help="with --begin-with: keep the mean of each number before and after (Wortsman et al. 2022, Robust fine-tuning of "
                        "zero-shot models): what was learned from the first set isn't lost on the next")
    parser.add_argument("--load", metavar="FILE", help="fit nothing, take the models saved here")
    parser.add_argument("--save", metavar="FILE", help="where to keep the models")
    parser.add_argument("--table", metavar="FILE", help="the C++ table to write (src/judge/model_table.cpp)")
    parser.add_argument("--note", default="Fitted on rendered strums of guitars other than those it is measured on.", help="a remark on the table's second line")
    given = parser.parse_args()
    if given.epochs < 1:
        parser.error("--epochs: at least 1")
    if given.halfway and not given.begin_with:
        parser.error("--halfway: only with --begin-with")
    if not given.load and not given.weighings:
        parser.error("weighings to fit, or --load, are wanted")
    return parser, given


def main():
    parser, given = arguments()
    torch.set_num_threads(1)
    weighings, fitted, left_out = None, None, None
    if given.weighings:
        weighings = Weighings(given.weighings)
        if unknown := set(given.leave_out) - set(weighings.family):
            parser.error(f"--leave-out {', '.join(sorted(unknown))}: no such family; there are {', '.join(sorted(set(weighings.family)))}")
        fitted, left_out = usable(weighings, given.leave_out)
    if given.load:
        models = []
        for state in torch.load(given.load):
            models.append(JudgeModel())
            models[-1].load_state_dict(state)
    else:
        if len(fitted) < BATCH:
            parser.error(f"{len(fitted)} looks can be fitted; at least {BATCH} are wanted")
        print(f"{len(fitted)} looks of {len(set(weighings.family[fitted]))} families to fit, {len(left_out)} looks left out", flush=True)
        begun = read_judge_table(given.begin_with) if given.begin_with else [None] * SIZES["kModels"]
        models = [fit(weighings, fitted, given.epochs, given.seed + i, model) for i, model in enumerate(begun)]
        if given.halfway:
            go_halfway(models, read_judge_table(given.begin_with))
    if given.save:
        torch.save([model.state_dict() for model in models], given.save)
    if given.table:
        write_judge_table(models, given.table, given.note)
    if given.leave_out:
        report(models, weighings, left_out, "left out")
    for out in given.test:
        tested = Weighings([out])
        report(models, tested, np.arange(len(tested)), out)


if __name__ == "__main__":
    main()

"""How well the judge's model tells right from wrong: by time heard, by kind of fault, by guitar."""
import numpy as np
import torch

from judge_model import chance_of_right, chances
from load_weighings import batch


def chances_of_right(models, weighings, looks, size=512):
    """The mean over the models."""
    out = np.zeros(len(looks))
    with torch.no_grad():
        for i in range(0, len(looks), size):
            b = batch(weighings, looks[i:i + size])
            out[i:i + size] = sum(chance_of_right(chances(model(b), b)[1], b).numpy() for model in models) / len(models)
    return out


def equal_error(right_chance, kind):
    """Per cent, or - where it has no meaning. The least, over thresholds, of the larger of two shares: right strums called wrong, wrong ones called right (the mean of the kinds of fault)."""
    is_right, faults = kind == "none", [k for k in sorted(set(kind)) if k != "none"]
    if not is_right.any() or not faults:
        return "-"
    share = {k: 1 / (kind == k).sum() / len(faults) for k in faults}
    order = np.argsort(right_chance, kind="stable")
    right_lost, wrong_passed, best = 0.0, 1.0, 1.0
    for n, i in enumerate(order):
        if is_right[i]:
            right_lost += 1 / is_right.sum()
        else:
            wrong_passed -= share[kind[i]]
        if n + 1 == len(order) or right_chance[order[n + 1]] > right_chance[i]:
            best = min(best, max(right_lost, wrong_passed))
    return f"{100 * best:.2f}"


def last_looks(weighings, looks):
    """Places in `looks` of each case's latest look."""
    last = {}
    for n, i in enumerate(looks):
        key = tuple(weighings.case_key[i])
        if key not in last or weighings.case["step"][i] > weighings.case["step"][looks[last[key]]]:
            last[key] = n
    return np.array(sorted(last.values()), int)


def percent(mask):
    return f"{100 * mask.mean():.2f}" if len(mask) else "-"


def report(models, weighings, looks, title):
    """Prints all in per cent; a strum is called right above a chance of one half."""
    if not len(looks):
        print(f"{title}: nothing")
        return
    right, kind = chances_of_right(models, weighings, looks), weighings.kind[looks]
    step = weighings.case["step"][looks]
    for s in sorted(set(step)):
        at = step == s
        print(f"{title}: step {s}: {at.sum()} looks, equal error {equal_error(right[at], kind[at])}")
    last = last_looks(weighings, looks)
    right, kind, guitar = right[last], kind[last], weighings.guitar[looks][last]
    print(f"{title}: last looks: {len(last)} cases, equal error {equal_error(right, kind)}, right called wrong {percent(right[kind == 'none'] < 0.5)}")
    for k in sorted(set(kind) - {"none"}):
        print(f"    {k}: {(kind == k).sum()} cases, called right {percent(right[kind == k] > 0.5)}")
    for g in sorted(set(guitar)):
        its = guitar == g
        print(f"    {g}: {its.sum()} cases, equal error {equal_error(right[its], kind[its])}, right called wrong "
              f"{percent(right[its & (kind == 'none')] < 0.5)}, wrong called right {percent(right[its & (kind != 'none')] > 0.5)}", flush=True)

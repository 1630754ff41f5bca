"""Marks of a set (`gripline mark SET/cases.csv --json`) against its truth, a row a family of guitars.

The equal error rate weighs every kind of fault alike; the other rates are at the program's own threshold. Named: string and frets as they were,
of all faults of the kinds wrong note and shifted; string, of missing and extra notes. Calibration: expected calibration error over ten equal bins of the chance (Guo et al. 2017).
"""
import argparse
import collections
import csv
import json
import pathlib


def equal_error(rows):
    right = sum(r["expect"] == "right" for r in rows)
    kinds = collections.Counter(r["kind"] for r in rows if r["expect"] != "right")
    missed, through, best = 0.0, 1.0, 1.0
    by_chance = sorted(rows, key=lambda r: r["chance"])
    for i, r in enumerate(by_chance):
        if r["expect"] == "right":
            missed += 1 / right
        else:
            through -= 1 / kinds[r["kind"]] / len(kinds)
        if i + 1 == len(by_chance) or by_chance[i + 1]["chance"] > r["chance"]:
            best = min(best, max(missed, through))
    return best


def calibration_error(rows, bins=10):
    shelves = collections.defaultdict(list)
    for r in rows:
        shelves[min(bins - 1, int(r["chance"] * bins))].append(r)
    return sum(abs(sum(r["chance"] - (r["expect"] == "right") for r in shelf)) for shelf in shelves.values()) / len(rows)


def named(r):
    first = (r["faults"] or [{}])[0]
    if r["verdict"] != "wrong" or first.get("kind") != r["kind"]:
        return False
    strings = r["kind"] not in ("wrong_note", "missing_note", "extra_note") or first.get("string") == int(r["string"])
    frets = r["kind"] not in ("wrong_note", "shifted") or first.get("frets") == int(r["frets"])
    return strings and frets


def rates(rows):
    right = [r for r in rows if r["expect"] == "right"]
    out = {"strums": len(rows), "equal error": equal_error(rows), "right called wrong": sum(r["verdict"] != "right" for r in right) / max(1, len(right)),
           "calibration": calibration_error(rows)}
    for kind in ("wrong_note", "shifted", "wrong_bass", "missing_note", "extra_note", "nothing"):
        of_kind = [r for r in rows if r["kind"] == kind]
        out[kind] = sum(r["verdict"] == "right" for r in of_kind) / max(1, len(of_kind))
    faults = [r for r in rows if r["expect"] != "right" and r["kind"] != "nothing"]
    out["named"] = sum(map(named, faults)) / max(1, len(faults))
    return out


def ordinary(row):
    """Whether a strum is of the kind that hearing is promised for: open strings down to -13 dB, noise 22 dB below, peaks above -30 dB, the guitar
    within 45 cents (farther out a grip is as near to the next fret's), no open string struck ahead of the strum (what rang before is not judged) or, ahead of the next one, into it, nothing overdriven,
    clipped or muted."""
    sound = json.loads(row["sound"])
    hard = sound.get("overdriven") or sound.get("clipped") or "muted" in row["family"] or "overdriven" in row["family"]
    hard = hard or abs(sound.get("detune_cents", 0)) > 45 or "soft_early_s" in sound or "struck_into" in sound
    return not hard and sound.get("snr_db", 60) >= 22 and sound.get("soft_db", -8) >= -13 and sound.get("peak_db", 0) >= -30


def read(folder, answers):
    heard = {a["case"]: a for a in map(json.loads, answers.open())}
    for r in csv.DictReader((folder / "truth.csv").open()):
        if r["case"] in heard and r["kind"] != "other":
            a = heard[r["case"]]
            yield r | {"chance": a["confidence"] or 0.0, "verdict": a["verdict"], "faults": a["faults"]}


def main():
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("set", type=pathlib.Path, help="folder made by make_takes.py")
    parser.add_argument("answers", type=pathlib.Path, nargs="+", help="lines of gripline mark --json; cases that are not answered don't count")
    parser.add_argument("--by", choices=("family", "guitar", "kind"), default="family")
    parser.add_argument("--least", type=int, default=100, help="strums a row must have")
    parser.add_argument("--ordinary", action="store_true", help="leave out what is harder than hearing is promised for")
    parser.add_argument("--families", type=lambda names: names.split(","), help="these alone, joined by commas")
    arguments = parser.parse_args()
    rows = [r for path in arguments.answers for r in read(arguments.set, path)]
    rows = [r for r in rows if (not arguments.ordinary or ordinary(r)) and (not arguments.families or r["family"] in arguments.families)]
    groups = collections.defaultdict(list)
    for r in rows:
        groups["virtual" if arguments.by == "family" and r["family"].startswith("virtual") else r[arguments.by]].append(r)
    groups = {name: group for name, group in sorted(groups.items()) if len(group) >= arguments.least}
    head = None
    if not rows:
        parser.error(f"{arguments.answers[0]}: none of its answers belongs to a case that was asked for")
    for name, group in [*groups.items(), ("all", rows)]:
        values = rates(group)
        if head is None:
            head = list(values)
            print("| " + " | ".join(["guitar", *(h.replace("_", " ") for h in head)]) + " |\n" + "| --- " * (len(head) + 1) + "|")
        print("| " + " | ".join([name] + [str(values[h]) if h == "strums" else f"{values[h]:.3f}" if h == "calibration" else f"{100 * values[h]:.1f}" for h in head]) + " |")


if __name__ == "__main__":
    main()

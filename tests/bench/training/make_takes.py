#!/usr/bin/env python3
"""Strummed grips with exact truth, mixed string by string from note banks (make_notes.py).

    make_takes.py NOTES OUT --takes N --walks N [--seed S] [--part train|valid|all]

Writes OUT/takes, OUT/walks (FLAC), OUT/cases.csv, OUT/truth.csv and OUT/walks.csv.
"""
import argparse
import csv
import json
import pathlib

import numpy as np
import soundfile as sf

import grips
import mix
import play
from mix import RATE, Guitars, add, db, scrape, speech, thump, tick
from play import before, finish, stroke, strum

# Never heard in training: two families of recorded guitars and every sixth virtual one.
HELD_OUT = ("timgm-jazz", "freepats-steel")
RARE = {"overdriven": 0.25, "muted": 0.35, "hawaiian": 0.5}
HEAD_FROM_S, HEAD_CLEAR_S = 0.13, 0.15  # a silent head ends at the earliest, and so long ahead of the first strum
LISTENED_S = 0.37  # the judge's last look at a strum, a little more than that of the chain


def chosen_guitars(table, part):
    held = {table[g]["family"] for g in HELD_OUT if g in table}
    held |= {g for g in table if table[g]["kind"] == "virtual" and int(g.split("-")[1]) % 6 == 0}
    names = [g for g in sorted(table) if part == "all" or (table[g]["family"] in held) == (part == "valid")]
    size = {}
    for g in names:
        size[table[g]["family"]] = size.get(table[g]["family"], 0) + 1
    weights = []
    for kind, share in (("sampled", 0.54), ("recorded", 0.16), ("virtual", 0.30)):
        w = np.array([RARE.get(g.split("-")[1], 1.0) / size[table[g]["family"]] ** 0.5 * (table[g]["kind"] == kind)
                      for g in names])
        weights.append(share * w / max(w.sum(), 1e-9))
    return names, sum(weights)


def new_tune(rng, sound):
    detune = 0.0 if rng.random() < 0.5 else rng.uniform(-48, 48)
    sound["detune_cents"] = round(detune)
    return detune + rng.normal(0, 10 if rng.random() < 0.15 else 4, 6)


def cases_of(rng, played, how):
    """Near misses and the exact grip for what was played: (asked, expect, kind, string, frets)."""
    out = [(played, "right", "none", 0, 0)]
    for _ in range(int(grips.pick(rng, [1, 2, 3], [45, 37, 18]))):
        if miss := grips.near_miss(rng, played):
            kind, asked, string, frets = miss
            if asked not in [c[0] for c in out]:
                out.append((asked, "wrong", kind, string, frets))
    return out


def fault(rng, how, walking=False):
    """What is asked, what is played, and the cases, for one strum; sets the dead or the soft string in `how`."""
    asked = grips.draw(rng) if not walking else walking
    draw = rng.random()
    if draw < 0.13 and (made := grips.lose_a_string(rng, asked)):
        played, s = made
        if rng.random() < 0.45:
            how["dead"] = s
        cases = [(asked, "wrong", "missing_note", 6 - s, 0)]
        if how["dead"] is None and rng.random() < 0.5:
            cases += cases_of(rng, played, how)[:2]
        return asked, played, cases
    if draw < 0.35:
        doubling = rng.random() < 0.12
        for _ in range(8):
            if made := grips.add_open_string(rng, asked, doubling):
                played, s = made
                how["soft"], how["soft_db"] = s, rng.uniform(-16, -3.5)
                if doubling:
                    return asked, played, [(asked, "right", "none", 0, 0)]
                cases = [(asked, "wrong", "extra_note", 6 - s, 0)]
                if how["soft_db"] > -8 and rng.random() < 0.4:
                    cases.append((played, "right", "none", 0, 0))
                return asked, played, cases
    return asked, asked, cases_of(rng, asked, how)


def single(rng, guitars, guitar):
    onset, how, sound = rng.uniform(0.3, 0.6), stroke(rng), {}
    canvas = np.zeros(int((onset + rng.uniform(0.72, 1.0)) * RATE), np.float32)
    tune = new_tune(rng, sound)
    if rng.random() < 0.055:
        asked, played, onset = grips.draw(rng), (None,) * 6, 0.5
        cases = [(asked, "wrong", "nothing", 0, 0)]
        sound["nothing"] = grips.pick(rng, ["thump", "click", "dead strum", "still", "speech", "scrape"])
        if sound["nothing"] == "thump":
            add(canvas, thump(rng), onset, 4)
        elif sound["nothing"] == "click":
            add(canvas, tick(rng), onset, 4)
        elif sound["nothing"] == "scrape":
            add(canvas, scrape(rng), onset, 3)
        elif sound["nothing"] == "speech":
            add(canvas, speech(rng), rng.uniform(0.2, onset), 4)
        elif sound["nothing"] == "dead strum":
            for k in rng.choice(6, rng.integers(3, 7), replace=False):
                how["dead"] = int(k)
                strum(canvas, guitars, guitar, rng, played, onset + 0.008 * k, tune, how | {"sympathy": False})
    else:
        asked, played, cases = fault(rng, how)
        if rng.random() < 0.28:
            sound["before"] = True
            before(rng, canvas, guitars, guitar, onset, tune)
        strum(canvas, guitars, guitar, rng, played, onset, tune, how)
    if rng.random() < 0.05:
        add(canvas, speech(rng), rng.uniform(0, 0.5), db(rng.uniform(-24, -6)))
    beats = []
    if rng.random() < 0.25:
        sound.update(click=True, tick=tick(rng), tick_db=rng.uniform(-30, -4))
        beats = [onset + rng.normal(0, 0.04)] if rng.random() < 0.7 else [rng.uniform(0, onset), rng.uniform(onset, 1.2)]
    describe(sound, how)
    return finish(rng, canvas, [onset], sound, beats) + (played, onset, cases, sound)


def describe(sound, how):
    sound["spread_ms"] = round(1000 * how["spread"])
    if how["short_s"] is not None:
        sound["short_s"] = round(how["short_s"], 2)
    if how["sympathy"]:
        sound["sympathy"] = True
    if how["dead"] is not None:
        sound["dead"] = True
    if how["soft"] is not None:
        sound["soft_db"] = round(how["soft_db"], 1)
    if "soft_early_s" in how:
        sound["soft_early_s"] = round(how["soft_early_s"], 2)


def line(rng):
    """Sixteen shells walking through a sixth-diminished scale, with a slide of a fret before the turns; or, on one string, its notes."""
    if grips.single_notes and rng.random() < grips.single_notes:
        return walked(rng, grips.scale_on_a_string(rng))
    kind = "shell" if rng.random() < 0.8 else "drop3"
    family, root = grips.pick(rng, list(grips.FAMILIES)), int(rng.integers(12))
    steps = {g[0]: g for i in range(4) for chord, r in ((family, root), ((0, 3, 6, 9), root - 1))
             for g in grips.voiced(kind, chord, r % 12, i)}
    return walked(rng, [steps[f] for f in sorted(steps)])


def walked(rng, scale):
    at, way, out = int(rng.integers(len(scale))), int(grips.pick(rng, [-1, 1])), []
    for beat in range(16):
        out.append(scale[at])
        way = -way if rng.random() < 0.1 else way
        way = way if 0 <= at + way < len(scale) else -way
        at += way
        if beat % 8 == 6 and 0 < (out[-1][0] or 0) < 12:
            out[-1] = grips.shift(scale[at], -1) if min(f for f in scale[at] if f is not None) > 0 else out[-1]
    return out


def walk(rng, guitars, guitar):
    bpm, sound = int(rng.uniform(80, 261)), {}
    beat_s, rows, onsets = 60 / bpm, [], []
    canvas = np.zeros(int((1.0 + 16 * beat_s + 0.7) * RATE), np.float32)
    tune, share, push = new_tune(rng, sound), rng.uniform(0.45, 1.0), rng.normal(0, 0.008)
    length, ringing = [share * beat_s, None][int(share > 0.85)], None
    for beat, asked in enumerate(line(rng)):
        at, how = 1 + beat * beat_s, stroke(rng, beat_s) | {"short_s": length}
        onset = at + push + rng.normal(0, 0.012)
        if rng.random() < 0.06:
            rows.append((beat, at, asked, None, None, []))
            continue
        aim = asked
        if rng.random() < 0.2 and (miss := grips.near_miss(rng, asked, (60, 0, 0, 40))):
            aim = miss[1]  # the player slips; what is asked stays
        _, played, cases = fault(rng, how, aim)
        if aim != asked and not grips.same(asked, played):
            moved = [s for s in range(6) if asked[s] is not None and aim[s] != asked[s]]
            cases = [c for c in cases if c[0] != asked]
            if how["soft"] is None and played == aim:
                by = max(grips.pitches(aim)) - max(grips.pitches(asked)) if aim[moved[0]] is None else aim[moved[0]] - asked[moved[0]]
                cases.append((asked, "wrong", *(("wrong_note", 6 - moved[0], by) if len(moved) == 1 else ("shifted", 0, by))))
        strum(canvas, guitars, guitar, rng, played, onset, tune, how, beat_s * rng.uniform(0.96, 1.0) if length is None
              else min(length, beat_s * 0.97))
        ringing = onset
        onsets.append(ringing)
        describe(extra := {}, how)
        rows.append((beat, at, asked, played, onset, cases, extra))
    mark_struck_into(rows)
    beats = []
    if rng.random() < 0.4:
        sound.update(click=True, tick=tick(rng), tick_db=rng.uniform(-30, -4))
        beats = [1 + k * beat_s for k in range(16)]
    sound["bpm"] = bpm
    return finish(rng, canvas, onsets, sound, beats) + (rows, sound)


def mark_struck_into(rows):
    """A string struck ahead of its own strum sounds in the strums before it, which were not played so: their conditions say so, for they are neither right nor wrong."""
    for i, (_, _, _, _, onset, _, *extra) in enumerate(rows):
        if not extra or "soft_early_s" not in extra[0]:
            continue
        for _, _, _, _, earlier, _, *conditions in rows[:i]:
            if conditions and earlier + LISTENED_S > onset - extra[0]["soft_early_s"]:
                conditions[0]["struck_into"] = True


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("notes", type=pathlib.Path)
    parser.add_argument("out", type=pathlib.Path)
    parser.add_argument("--takes", type=int, default=600)
    parser.add_argument("--walks", type=int, default=0)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--part", choices=("train", "valid", "all"), default="all")
    parser.add_argument("--stretched", type=float, default=0.0, help="share of the takes whose guitar is made larger or smaller by one to five semitones: body, place of "
                        "the pick, decay and stiffness move along, so that it is another guitar")
    parser.add_argument("--single-notes", type=float, default=0.0, help="share of the takes and walks that ask for single notes, beside the few that are drawn anyway")
    parser.add_argument("--usual-bodies", type=float, default=0.0, help="share of the guitars' bodies that resonate where most are built to, in place of anywhere near")
    parser.add_argument("--slow-hands", type=float, default=0.0, help="share of the strums that take 0.06 to 0.2 s from the first string to the last (in walks at most three tenths of a beat)")
    parser.add_argument("--effects", type=float, default=0.0, help="share of the takes with reverberation, compression, chorus, tremolo or echo, as an amplifier has them")
    parser.add_argument("--silent-heads", type=float, default=0.0, help="share of the takes that begin with digital silence, up to a moment before the first strum: an input that is being opened")
    arguments = parser.parse_args()
    play.with_effects, play.slow_hands, grips.single_notes, mix.usual_bodies = arguments.effects, arguments.slow_hands, arguments.single_notes, arguments.usual_bodies
    out, guitars = arguments.out, Guitars(arguments.notes)
    names, weights = chosen_guitars(guitars.table, arguments.part)
    for folder in ("takes", "walks"):
        (out / folder).mkdir(parents=True, exist_ok=True)
    with (out / "cases.csv").open("w") as c, (out / "truth.csv").open("w") as t, (out / "walks.csv").open("w") as w:
        ask, truth, beats = (csv.writer(f, lineterminator="\n") for f in (c, t, w))
        ask.writerow(["case", "take", "from_s", "grip"])
        truth.writerow("case take guitar expect kind string frets played onset_s sound family".split())
        beats.writerow("take bpm beat beat_s grip played onset_s expect kind string frets".split())

        def row(case, take, guitar, played, onset, verdict, sound):
            asked, expect, kind, string, frets = verdict
            assert (expect == "right") == (grips.same(asked, played)), (asked, played, verdict)
            # Not so early that the strum before would answer: at 260 a minute it lies 0.23 s back.
            ask.writerow([case, take, f"{onset - min(0.2, 24 / sound.get('bpm', 60)):.3f}", grips.name(asked)])
            truth.writerow([case, take, guitar, expect, kind, string, frets, grips.name(played), f"{onset:.4f}",
                            json.dumps(sound, sort_keys=True), guitars.table[guitar]["family"]])

        count = 0
        for i in range(arguments.takes + arguments.walks):
            rng = np.random.default_rng([arguments.seed, i])
            guitar = names[int(rng.choice(len(names), p=weights / weights.sum()))]
            size = np.random.default_rng([arguments.seed, i, 1])
            guitars.stretched = int(size.integers(1, 6) * size.choice([-1, 1])) if size.random() < arguments.stretched else 0
            if i < arguments.takes:
                take = f"takes/t{i:05d}.flac"
                audio, rate, played, onset, verdicts, sound = single(rng, guitars, guitar)
                for verdict in verdicts:
                    count += 1
                    row(f"{count:06d}", take, guitar, played, onset, verdict, sound)
            else:
                take = f"walks/w{i - arguments.takes:03d}.flac"
                audio, rate, rows, sound = walk(rng, guitars, guitar)
                for beat, at, asked, played, onset, verdicts, *extra in rows:
                    own = next((v for v in verdicts if v[0] == asked), None)
                    head = [take, sound["bpm"], beat, f"{at:.4f}", grips.name(asked)]
                    if played is None:
                        beats.writerow(head + ["", "", "unheard", "none", 0, 0])
                    elif own:
                        beats.writerow(head + [grips.name(played), f"{onset:.4f}", *own[1:]])
                    else:  # two faults at once, or one that only doubles
                        expect = "right" if grips.same(asked, played) else "wrong"
                        beats.writerow(head + [grips.name(played), f"{onset:.4f}", expect,
                                               "none" if expect == "right" else "other", 0, 0])
                    for k, verdict in enumerate(verdicts):
                        row(f"{take[6:10]}-{beat:02d}-{k}", take, guitar, played, onset, verdict, sound | extra[0])
            head = np.random.default_rng([arguments.seed, i, 2])
            if head.random() < arguments.silent_heads:
                first = onset if i < arguments.takes else min((row[4] for row in rows if row[4] is not None), default=1.0)
                audio[:int(head.uniform(HEAD_FROM_S, max(HEAD_FROM_S, first - HEAD_CLEAR_S)) * rate)] = 0
            sf.write(out / take, audio, rate, subtype="PCM_16")


if __name__ == "__main__":
    main()

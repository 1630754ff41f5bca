#!/usr/bin/env python3
"""Practice as it sounds with both hands on the guitar, with and without gestures of muted strums.

    make_gestures.py NOTES OUT --takes N [--seed S] [--part train|valid|all]

Writes OUT/takes (FLAC, half a minute each) and OUT/gestures.csv: take, guitar, at_s, kind, sound. A row each of
`again` (two muted strums), `next` (three), `lone` (one), `many` (four to six, no gesture), `strum` (a grip),
`knock` (one or two knocks on the body, no strings), `mishap` (squeak, cough, click); at_s lists the starts.
Every second take has no gesture in it.
"""
import argparse
import csv
import json
import pathlib

import numpy as np
import soundfile as sf

import grips
from make_takes import chosen_guitars, describe, new_tune
from mix import RATE, Guitars, add, damp, db, scrape, speech, thump, tick
from play import finish, strum, stroke

LENGTH_S = 30.0
CHORD_LEVEL = 1.0


def muted_strum(rng, canvas, guitars, guitar, at, tune, hand):
    """The hand lies on the strings, the pick goes over them: each gives a thud of its own, and its winding a scrape."""
    count = int(rng.integers(4, 7))
    first = int(rng.integers(0, 7 - count))
    strings = list(range(first, first + count))
    if rng.random() < 0.3:
        strings.reverse()
    offsets = np.sort(rng.uniform(0, 1, count))
    offsets = (offsets - offsets[0]) / max(offsets[-1] - offsets[0], 1e-6) * hand["spread"] * rng.uniform(0.8, 1.25)
    gain = hand["level"] * db(rng.normal(0, 1.5))
    for s, late in zip(strings, offsets):
        pitch = grips.OPEN[s] + hand["fret"] + int(rng.integers(0, 3))
        tone, lead = guitars.note(guitar, pitch, tune[s] + rng.normal(0, 15), 0.5, rng)
        tone = damp(tone, lead + rng.uniform(0.003, 0.015), hand["release"] * rng.uniform(0.7, 1.4))
        add(canvas, tone, at + late - lead, gain * db(rng.normal(0, 3)))
    if hand["scrape"] is not None:
        size = int((hand["spread"] + 0.02) * RATE)
        noise = rng.normal(0, 1, size) * np.hanning(size) ** 0.5
        add(canvas, noise.astype(np.float32), at, gain * hand["scrape"])
    if rng.random() < hand["thump"]:
        add(canvas, thump(rng), at + rng.uniform(-0.01, 0.01), gain * db(rng.uniform(-15, 0)))
    if rng.random() < hand["chime"]:  # a string that the hand touches over a node rings on, softly
        s = int(rng.integers(0, 6))
        tone, lead = guitars.note(guitar, grips.OPEN[s] + int(grips.pick(rng, [12, 19])), tune[s], 1.2, rng)
        add(canvas, tone, at - lead, gain * db(rng.uniform(-36, -24)))


def draw_hand(rng):
    return {"spread": rng.uniform(0.005, 0.045), "release": rng.uniform(0.02, 0.09), "fret": int(rng.integers(1, 11)),
            "level": db(rng.uniform(-9, 3)), "scrape": db(rng.uniform(-20, 2)) if rng.random() < 0.6 else None,
            "thump": rng.uniform(0, 0.6), "chime": 0.3 if rng.random() < 0.3 else 0.0}


def take(rng, guitars, guitar, gestures):
    canvas, sound, rows = np.zeros(int(LENGTH_S * RATE), np.float32), {}, []
    tune, hand = new_tune(rng, sound), draw_hand(rng)
    at, first = rng.uniform(0.6, 1.2), None
    while at < LENGTH_S - 3.5:
        draw = rng.random()
        if gestures and draw < 0.45:
            at = max(at, rows[-1][1][-1] + 0.7) if rows else at  # a moment after whatever was played
            kind = str(grips.pick(rng, ["again", "next", "lone", "many"], [45, 35, 12, 8]))
            count = {"again": 2, "next": 3, "lone": 1}.get(kind) or int(rng.integers(4, 7))
            gap, starts = rng.uniform(0.22, 0.75), []
            for _ in range(count):
                muted_strum(rng, canvas, guitars, guitar, at, tune, hand)
                starts.append(at)
                at += gap * rng.uniform(0.88, 1.14)
            rows.append((kind, starts))
            at += rng.uniform(1.3, 2.5)
        elif draw < 0.85:
            how = stroke(rng)
            asked = grips.draw(rng)
            played = asked
            ring = float(rng.uniform(0.15, 2.0))
            under = np.zeros(int((ring + 0.6) * RATE), np.float32)
            strum(under, guitars, guitar, rng, played, 0.05, tune, how, ring)
            add(canvas, under, at - 0.05, CHORD_LEVEL)
            describe(sound, how)
            rows.append(("strum", [at]))
            first = at if first is None else first
            at += ring + (rng.uniform(0.02, 0.2) if rng.random() < 0.4 else rng.uniform(0.2, 1.5))
        elif draw < 0.92:
            count, gap, starts = int(grips.pick(rng, [1, 2], [60, 40])), rng.uniform(0.2, 0.9), []
            for _ in range(count):
                add(canvas, thump(rng), at, db(rng.uniform(-10, 6)))
                starts.append(at)
                at += gap
            rows.append(("knock", starts))
            at += rng.uniform(0.3, 1.2)
        else:
            make = (scrape, tick, lambda r: speech(r, r.uniform(0.3, 1.5)))[int(rng.integers(3))]
            add(canvas, make(rng), at, db(rng.uniform(-12, 6)))
            rows.append(("mishap", [at]))
            at += rng.uniform(0.3, 1.5)
    beats = []
    if rng.random() < 0.2:
        sound.update(click=True, tick=tick(rng), tick_db=rng.uniform(-30, -8))
        beats = list(np.arange(0.3, LENGTH_S, 60 / rng.uniform(60, 200)))
    for key in ("spread_ms", "short_s", "sympathy", "soft_db", "dead"):
        sound.pop(key, None)
    return finish(rng, canvas, [first or 1.0], sound, beats) + (rows, sound, hand)


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("notes", type=pathlib.Path)
    parser.add_argument("out", type=pathlib.Path)
    parser.add_argument("--takes", type=int, default=200)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--part", choices=("train", "valid", "all"), default="all")
    arguments = parser.parse_args()
    guitars = Guitars(arguments.notes)
    names, weights = chosen_guitars(guitars.table, arguments.part)
    (arguments.out / "takes").mkdir(parents=True, exist_ok=True)
    with (arguments.out / "gestures.csv").open("w") as file:
        table = csv.writer(file, lineterminator="\n")
        table.writerow(["take", "guitar", "at_s", "kind", "sound"])
        for i in range(arguments.takes):
            rng = np.random.default_rng([arguments.seed, i])
            guitar = names[int(rng.choice(len(names), p=weights / weights.sum()))]
            name = f"takes/g{i:04d}.flac"
            audio, rate, rows, sound, hand = take(rng, guitars, guitar, i % 2 == 0)
            sound |= {"release_ms": round(1000 * hand["release"]), "muted_spread_ms": round(1000 * hand["spread"])}
            for kind, starts in rows:
                table.writerow([name, guitar, " ".join(f"{s:.3f}" for s in starts), kind, json.dumps(sound, sort_keys=True)])
            sf.write(arguments.out / name, audio, rate, subtype="PCM_16")


if __name__ == "__main__":
    main()

#!/usr/bin/env python3
"""Sessions: one guitar through one chain (body, room, microphone, noise, hum) all along, first its set-up, then takes of strummed grips.

    make_sessions.py NOTES OUT --sessions N --takes N [--seed S] [--part train|valid|all]

A session is a guitar as one player has it on one input. OUT/setup/sNNN.flac holds what `gripline guitar set-up` asks for: a second and a half of
quiet, the open strings from the sixth to the first, then the seventh fret on each. OUT/cases.csv, truth.csv and takes are as make_takes.py writes them,
with a column `session`; OUT/sessions.csv names the guitars.
"""
import argparse
import csv
import json
import pathlib

import numpy as np
import soundfile as sf
from scipy.signal import sosfilt

import grips
from make_takes import chosen_guitars, describe, fault
from mix import RATE, Guitars, add, at_rate, body, damp, db, hum, microphone, noise, room, speech, tick
from play import before, coloured, strum, stroke

QUIET_S, NOTE_S, FRET = 1.5, 1.9, 7


class Chain:
    """What lies between the strings and the sound card, drawn once a session."""

    def __init__(self, rng):
        self.body = body(rng) if rng.random() < 0.5 else None
        self.room_s = round(rng.uniform(0.15, 0.6), 2) if rng.random() < 0.5 else None
        self.room_seed = int(rng.integers(1 << 30))
        self.mic = grips.pick(rng, ["direct", "mic", "laptop"], [4, 3, 3])
        self.sections = microphone(rng, self.mic)
        self.snr_db, self.noise = int(rng.uniform(24, 63)), grips.pick(rng, ["white", "pink", "room"], [1, 1.2, 1.5])
        self.hum_hz = int(grips.pick(rng, [50, 60])) if rng.random() < 0.25 else None
        self.hum_db, self.hum_seed = rng.uniform(-60, -30), int(rng.integers(1 << 30))
        self.rate = int(grips.pick(rng, [44100, 48000], [7, 3]))
        self.gain = None

    def sound(self, rng, canvas, detail):
        """The canvas as recorded; the first call sets noise and gain by what it hears, so the set-up comes first."""
        if self.body is not None:
            canvas = sosfilt(self.body, canvas)
        if self.room_s:
            canvas = room(np.random.default_rng(self.room_seed), canvas, self.room_s)
        canvas = sosfilt(self.sections, canvas)
        if self.gain is None:
            self.level = np.sqrt(np.mean(canvas[canvas != 0] ** 2))
            self.gain = db(-rng.uniform(9, 30)) / np.abs(canvas).max()
        canvas = canvas + self.level * db(-self.snr_db) * noise(rng, self.noise, len(canvas))
        if self.hum_hz:
            canvas = canvas + self.level * db(self.hum_db) * hum(np.random.default_rng(self.hum_seed), len(canvas), self.hum_hz)
        detail.update(mic=self.mic, snr_db=self.snr_db)
        return np.clip(at_rate(self.gain * canvas, self.rate), -1, 1 - 2 ** -15)


def set_up(rng, guitars, guitar, tune, chain):
    """The set-up's twelve notes, each plucked once, damped before the next."""
    canvas = np.zeros(int((QUIET_S + 12 * NOTE_S + 0.3) * RATE), np.float32)
    for i in range(12):
        s, fret = i % 6, FRET if i >= 6 else 0
        pitch, at = grips.OPEN[s] + fret, QUIET_S + i * NOTE_S
        tone, lead = guitars.note(guitar, pitch, tune[s], NOTE_S, rng)
        tone = coloured(rng, tone, pitch, stroke(rng) | {"fade_s": None})
        add(canvas, damp(tone, lead + NOTE_S - 0.12, 0.06), at - lead, db(rng.normal(0, 2)))
    return chain.sound(rng, canvas, {})


def take(rng, guitars, guitar, tune, chain):
    onset, how, detail = rng.uniform(0.3, 0.6), stroke(rng), {}
    canvas = np.zeros(int((onset + rng.uniform(0.72, 1.0)) * RATE), np.float32)
    asked, played, cases = fault(rng, how)
    if rng.random() < 0.28:
        detail["before"] = True
        before(rng, canvas, guitars, guitar, onset, tune)
    strum(canvas, guitars, guitar, rng, played, onset, tune, how)
    if rng.random() < 0.05:
        add(canvas, speech(rng), rng.uniform(0, 0.5), db(rng.uniform(-24, -6)))
    if rng.random() < 0.2:
        detail["click"] = True
        add(canvas, tick(rng), onset + rng.normal(0, 0.04), 3 * db(rng.uniform(-30, -10)))
    describe(detail, how)
    return chain.sound(rng, canvas, detail), played, onset, cases, detail


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("notes", type=pathlib.Path)
    parser.add_argument("out", type=pathlib.Path)
    parser.add_argument("--sessions", type=int, default=40)
    parser.add_argument("--takes", type=int, default=60, help="a session")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--spread", type=float, help="cents by which strings stray from the whole guitar (standard deviation); without it 4, one guitar in seven 10")
    parser.add_argument("--part", choices=("train", "valid", "all"), default="all")
    arguments = parser.parse_args()
    out, guitars = arguments.out, Guitars(arguments.notes)
    names, _ = chosen_guitars(guitars.table, arguments.part)
    names = [n for n in names if n.split("-")[1] not in ("overdriven", "muted", "hawaiian")]
    kinds = {k: [n for n in names if guitars.table[n]["kind"] == k] for k in ("sampled", "recorded", "virtual")}
    turns = [k for k in ("sampled", "sampled", "virtual", "recorded", "virtual") if kinds[k]]
    for folder in ("takes", "setup"):
        (out / folder).mkdir(parents=True, exist_ok=True)
    with (out / "cases.csv").open("w") as c, (out / "truth.csv").open("w") as t, (out / "sessions.csv").open("w") as s:
        ask, truth, sessions = (csv.writer(f, lineterminator="\n") for f in (c, t, s))
        ask.writerow("case take from_s grip session".split())
        truth.writerow("case take guitar expect kind string frets played onset_s sound family session".split())
        sessions.writerow("session guitar family kind set_up mic snr_db tune_cents".split())
        seen, count = {}, 0
        for i in range(arguments.sessions):
            rng = np.random.default_rng([arguments.seed, i])
            kind = turns[i % len(turns)]
            guitar = kinds[kind][seen.setdefault(kind, 0) % len(kinds[kind])]
            seen[kind] += 1
            family, session, chain = guitars.table[guitar]["family"], f"s{i:03d}", Chain(rng)
            detune = 0.0 if rng.random() < 0.5 else rng.uniform(-25, 25)
            spread, most = (10 if rng.random() < 0.15 else 4, 12) if arguments.spread is None else (arguments.spread, 38 - abs(detune))
            tune = detune + np.clip(rng.normal(0, spread, 6), -most, most)
            sf.write(out / f"setup/{session}.flac", set_up(rng, guitars, guitar, tune, chain), chain.rate, subtype="PCM_16")
            sessions.writerow([session, guitar, family, kind, f"setup/{session}.flac", chain.mic, chain.snr_db, " ".join(f"{x:.1f}" for x in tune)])
            for k in range(arguments.takes):
                drift = tune + rng.normal(0, 2, 6)
                audio, played, onset, verdicts, detail = take(rng, guitars, guitar, drift, chain)
                path = f"takes/{session}-{k:03d}.flac"
                sf.write(out / path, audio, chain.rate, subtype="PCM_16")
                for asked, expect, kind_of, string, frets in verdicts:
                    count += 1
                    ask.writerow([f"{count:06d}", path, f"{onset - 0.2:.3f}", grips.name(asked), session])
                    truth.writerow([f"{count:06d}", path, guitar, expect, kind_of, string, frets, grips.name(played), f"{onset:.4f}",
                                    json.dumps(detail, sort_keys=True), family, session])


if __name__ == "__main__":
    main()

#!/usr/bin/env python3
"""The open strings of the recorded guitars, a file a string, for bench_pitch.

    open_strings.py NOTES OUT

NOTES: made by make_notes.py. Writes OUT/GUITAR.LAYER.MIDI.flac: a tenth of a second of silence, then the note at -6 dB, for as long as the note bank holds it.
"""
import argparse
import json
import pathlib

import numpy as np
import soundfile as sf

from grips import OPEN
from mix import RATE


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("notes", type=pathlib.Path)
    parser.add_argument("out", type=pathlib.Path)
    given = parser.parse_args()
    given.out.mkdir(parents=True, exist_ok=True)
    count = 0
    for guitar, entry in sorted(json.loads((given.notes / "guitars.json").read_text()).items()):
        if entry["kind"] == "virtual":
            continue
        for layer in range(len(entry["cents"])):
            tones = np.load(given.notes / guitar / f"{layer}.npy", mmap_mode="r")
            for tone, midi in zip(tones, entry["notes"]):
                if midi in OPEN:
                    sound = np.concatenate([np.zeros(RATE // 10), tone / 32768 / 2])
                    sf.write(given.out / f"{guitar}.{layer}.{midi}.flac", sound, RATE, subtype="PCM_16")
                    count += 1
    print(f"{count} open strings")


if __name__ == "__main__":
    main()

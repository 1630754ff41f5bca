#!/usr/bin/env python3
"""The average guitar: bench_profile's notes of many set-ups to dsp/voice_reference.cpp.

    bench_profile SESSIONS --notes > notes.csv;  voice_reference.py notes.csv --table dsp/voice_reference.cpp

Each note's partials are averaged in dB over the sessions in which they stand out of the noise; one that does so in fewer than a third is left out.
"""
import argparse
import csv
import datetime

import numpy as np

LEAST_DB = -60.0


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("notes")
    parser.add_argument("--table")
    arguments = parser.parse_args()
    with open(arguments.notes) as file:
        rows = list(csv.DictReader(file))
    lines, sessions = [], {r["session"] for r in rows}
    for midi in sorted({int(r["midi"]) for r in rows}):
        level = np.array([[float(r[f"p{n}"]) for n in range(1, 13)] for r in rows if int(r["midi"]) == midi])
        there = level > LEAST_DB
        mean = np.where(there.mean(0) > 1 / 3, np.where(there, level, 0).sum(0) / np.maximum(there.sum(0), 1), LEAST_DB)
        lines.append(f"    {{{midi}, {{{', '.join(f'{x:.1f}F' for x in mean)}}}}},")
    text = ("// Partials of the average guitar, made by tests/bench/training (README); do not edit by hand.\n"
            f"// from {len(sessions)} set-ups, {datetime.date.today()}\n"
            '#include "dsp/guitar_voice.h"\n\nnamespace gripline::dsp {\n\n'
            "const std::array<ReferenceNote, kReferenceNotes> kVoiceReference{{\n" + "\n".join(lines) + "\n}};\n\n}  // namespace gripline::dsp\n")
    if arguments.table:
        open(arguments.table, "w").write(text)
    else:
        print(text)


if __name__ == "__main__":
    main()

#!/usr/bin/python3
"""Lines written by gripline, read by readers that are not ours: Debian's python3-mido (MIDI), abcmidi (ABC 2.1 to MIDI), xmllint.

usage: independent_readers.py GRIPLINE. The last line is "N passed, N failed".
"""
import json
import pathlib
import subprocess
import sys
import tempfile

import mido

gripline = sys.argv[1]
passed = failed = 0
NATURAL = {"C": 0, "D": 2, "E": 4, "F": 5, "G": 7, "A": 9, "B": 11}
COUNTS = {"six-eight": 6, "five-counts": 5, "waltz-steps": 3, "snow-on-the-mill": 3}  # of a bar; four in the others


def check(what, good):
    global passed, failed
    passed, failed = (passed + 1, failed) if good else (passed, failed + 1)
    if not good:
        print("FAILED:", what)


def midi(name):
    """'Bb3' -> 58"""
    return NATURAL[name[0]] + name.count("#") - name[1:].count("b") + 12 * (int(name.lstrip("ABCDEFGb#")) + 1)


def notes_of(file):
    """(start in quarters, to the nearest half: abcmidi spreads its chords by a few ticks; note) of every note but the percussion's."""
    out = []
    for track in file.tracks:
        tick = 0
        for message in track:
            tick += message.time
            if message.type == "note_on" and message.velocity > 0 and message.channel != 9:
                out.append((round(2 * tick / file.ticks_per_beat) / 2, message.note))
    return sorted(out)


def wanted_notes(name, beats):
    quarters = 0.5 if name == "six-eight" else 1.0
    counts = COUNTS.get(name, 4)
    return sorted((((beat["bar"] - 1) * counts + beat["beat"] - 1) * quarters, midi(note)) for beat in beats for note in beat["notes"])


def run(*words):
    return subprocess.run(words, capture_output=True, text=True, check=False)


charts = [row.split()[0] for row in run(gripline, "line", "--charts").stdout.splitlines()[1:]]
check("the library has charts", len(charts) >= 20)
with tempfile.TemporaryDirectory() as folder:
    for name in charts:
        path = {ending: str(pathlib.Path(folder) / (name + ending)) for ending in (".mid", ".abc", ".musicxml")}
        done = [run(gripline, "line", name, "--json", "--to", file) for file in path.values()]
        check(name + ": written", all(each.returncode == 0 for each in done))
        wanted = wanted_notes(name, [json.loads(line) for line in done[0].stdout.splitlines()])
        check(name + ": MIDI", notes_of(mido.MidiFile(path[".mid"])) == wanted)
        again = path[".abc"] + ".mid"
        said = run("abc2midi", path[".abc"], "-NGUI", "-o", again)
        check(name + ": ABC without a warning: " + said.stdout, "rror" not in said.stdout and "arning" not in said.stdout)
        check(name + ": ABC", notes_of(mido.MidiFile(again)) == wanted)
        check(name + ": MusicXML is XML", run("xmllint", "--noout", "--nonet", path[".musicxml"]).returncode == 0)
print(f"{passed} passed, {failed} failed")
sys.exit(failed != 0)

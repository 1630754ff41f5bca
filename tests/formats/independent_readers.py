#!/usr/bin/python3
"""Files written by gripline, read by readers that are not ours: Debian's python3-mido (MIDI), abcmidi (ABC 2.1 to MIDI), xmllint with the published schema of
MusicXML, unzip and Python's zipfile (.mxl), html.parser (HTML), wave (WAV).

usage: independent_readers.py GRIPLINE FIXTURES [--every-fifth-key], for a slow GRIPLINE. The last line is "N passed, N failed".
"""
import html.parser
import json
import os
import pathlib
import subprocess
import sys
import tempfile
import wave
import zipfile

import mido

gripline, fixtures = sys.argv[1], pathlib.Path(sys.argv[2])
passed = failed = 0
NATURAL = {"C": 0, "D": 2, "E": 4, "F": 5, "G": 7, "A": 9, "B": 11}
COUNTS = {"six-eight": 6, "five-counts": 5, "waltz-steps": 3, "snow-on-the-mill": 3}  # of a bar; four in the others
KEYS = ["C", "Db", "D", "Eb", "E", "F", "F#", "G", "Ab", "A", "Bb", "B"][::5 if "--every-fifth-key" in sys.argv else 1]
EVERY = str(fixtures / "charts" / "every-sign.chart")
VOID = {"meta", "line", "circle", "rect"}  # elements without an end tag in what is written here


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


def quarters_of_count(name):
    return 0.5 if name == "six-eight" else 1.0


def start_of(name, beat):
    return ((beat["bar"] - 1) * COUNTS.get(name, 4) + beat["beat"] - 1) * quarters_of_count(name)


def wanted_notes(name, beats):
    return sorted((start_of(name, beat), midi(note)) for beat in beats for note in beat["notes"])


def run(*words, **more):
    return subprocess.run(words, capture_output=True, text=True, check=False, **more)


def convert(*words):
    done = run(gripline, "convert", *words)
    check("convert " + " ".join(words) + ": " + done.stderr, done.returncode == 0)


def schema_faults(files):
    """What xmllint says of the files against the schema of MusicXML 3.0; what is valid by it is valid by 4.0."""
    schema = fixtures / "schema"
    done = run("xmllint", "--nonet", "--noout", "--schema", str(schema / "musicxml-3.0" / "musicxml.xsd"), *files, env={**os.environ, "XML_CATALOG_FILES": str(schema / "catalog.xml")})
    return [line for line in done.stderr.splitlines() if not line.endswith(" validates")] if done.returncode or len(done.stderr.splitlines()) != len(files) else []


class Page(html.parser.HTMLParser):
    """Whether every element ends where it should; elements and text by name."""

    def __init__(self):
        super().__init__()
        self.open, self.seen, self.good, self.words = [], [], True, ""

    def handle_starttag(self, tag, attrs):
        self.seen.append((tag, dict(attrs)))
        if tag not in VOID:
            self.open.append(tag)

    def handle_endtag(self, tag):
        if tag not in VOID:
            self.good = self.good and bool(self.open) and self.open.pop() == tag

    def handle_data(self, data):
        self.words += data


def check_midi(name, path, beats):
    """Notes, and what a Standard MIDI File says beside them."""
    file = mido.MidiFile(path)
    check(name + ": MIDI", notes_of(file) == wanted_notes(name, beats))
    check(name + ": MIDI is of format 1 with three tracks", file.type == 1 and [track.name for track in file.tracks][1:] == ["guitar", "click"])
    chords, tick, sounding = {}, 0, {}
    for message in file.tracks[0]:
        tick += message.time
        if message.type == "text":
            chords[tick / file.ticks_per_beat] = message.text
    for beat in beats:
        start = start_of(name, beat)
        sounding[start] = chords[max(place for place in chords if place <= start)]
    check(name + ": MIDI chords", all(sounding[start_of(name, beat)] == beat["chord"] for beat in beats))
    kinds = {message.type for message in file.tracks[0]}
    check(name + ": MIDI key, meter, tempo", {"key_signature", "time_signature", "set_tempo"} <= kinds)
    bars = max(beat["bar"] for beat in beats)
    clicks = [message for message in file.tracks[2] if message.type == "note_on" and message.velocity > 0]
    check(name + ": MIDI click", len(clicks) == bars * COUNTS.get(name, 4) and all(message.channel == 9 for message in clicks))
    by_place = {}
    for track in file.tracks[1:2]:
        tick = 0
        for message in track:
            tick += message.time
            if message.type == "note_on" and message.velocity > 0:
                by_place.setdefault(tick, []).append((message.note, message.velocity))
    check(name + ": MIDI bass accent", all(max(notes, key=lambda each: each[1])[0] == min(notes)[0] for notes in by_place.values()))


charts = [row.split()[0] for row in run(gripline, "line", "--charts").stdout.splitlines()[1:]]
check("the library has charts", len(charts) >= 20)
with tempfile.TemporaryDirectory() as folder:
    place = pathlib.Path(folder)
    scores = []
    for name in charts:
        path = {ending: str(place / (name + ending)) for ending in (".mid", ".abc", ".musicxml")}
        done = [run(gripline, "line", name, "--json", "--to", file) for file in path.values()]
        check(name + ": written", all(each.returncode == 0 for each in done))
        beats = [json.loads(line) for line in done[0].stdout.splitlines()]
        check_midi(name, path[".mid"], beats)
        again = path[".abc"] + ".mid"
        said = run("abc2midi", path[".abc"], "-NGUI", "-o", again)
        check(name + ": ABC without a warning: " + said.stdout, "rror" not in said.stdout and "arning" not in said.stdout)
        check(name + ": ABC", notes_of(mido.MidiFile(again)) == wanted_notes(name, beats))
        # The chart alone: abc2midi knows fewer chords than charts do, and says so; of all else it must not complain.
        convert(name, str(place / "chart.abc"), "--force")
        said = run("abc2midi", str(place / "chart.abc"), "-NGUI", "-o", again)
        complaints = [line for line in said.stdout.splitlines() if ("rror" in line or "arning" in line) and "chord name" not in line]
        check(name + ": chart in ABC: " + str(complaints), not complaints)
        # Every key, the chart and the line, against the schema.
        for key in KEYS:
            for kind in ([], ["--line"]):
                scores.append(str(place / f"{name}-{key}{len(kind)}.musicxml"))
                convert(name, scores[-1], "--key", key, *kind)
    for words in ([EVERY], [EVERY, "--line"], ["blues", "--line", "--tuning", "seven string A", "--capo", "2", "--strings", "6-4-3"], ["blues", "--line", "--steps", "1"]):
        scores.append(str(place / f"more-{len(scores)}.musicxml"))
        convert(words[0], scores[-1], *words[1:])
    faults = schema_faults(scores)
    check(f"{len(scores)} scores against the schema: " + "\n".join(faults[:20]), not faults)
    broken = place / "broken.musicxml"
    broken.write_text(pathlib.Path(scores[0]).read_text().replace("<fifths>", "<sharps>").replace("</fifths>", "</sharps>"))
    check("the schema finds a fault", schema_faults([str(broken)]))

    mxl = str(place / "every.mxl")
    convert(EVERY, mxl)
    convert(EVERY, str(place / "every.musicxml"))
    check("unzip tests the archive", run("unzip", "-t", mxl).returncode == 0)
    with zipfile.ZipFile(mxl) as archive:
        first = archive.infolist()[0]
        check("the media type first, stored", first.filename == "mimetype" and first.compress_type == zipfile.ZIP_STORED and archive.read(first) == b"application/vnd.recordare.musicxml")
        check("zipfile reads the score", archive.read("score.musicxml") == (place / "every.musicxml").read_bytes() and archive.testzip() is None)
        (place / "container.xml").write_bytes(archive.read("META-INF/container.xml"))
    check("the container is XML", run("xmllint", "--noout", str(place / "container.xml")).returncode == 0)
    unpacked = run("unzip", "-p", mxl, "score.musicxml").stdout
    check("standard input: a score out of unzip", run(gripline, "convert", "-", "-", "--from", "musicxml", "--to", "chart", input=unpacked).stdout == run(gripline, "convert", EVERY, "-", "--to", "chart").stdout)

    for name in ["blues", "six-eight", EVERY]:
        page, picture = str(place / "page.html"), str(place / "picture.svg")
        convert(name, page, "--force")
        convert(name, picture, "--force")
        read = Page()
        read.feed(pathlib.Path(page).read_text(encoding="utf-8"))
        check(name + ": page is whole", read.good and not read.open)
        grips = [json.loads(line)["grip"] for line in run(gripline, "line", name, "--json").stdout.splitlines()]
        check(name + ": page has every grip", [read.words.count(grip) >= grips.count(grip) for grip in set(grips)].count(False) == 0)
        check(name + ": no script, nothing from elsewhere", not any(tag == "script" or "href" in attrs or "src" in attrs for tag, attrs in read.seen))
        check(name + ": pictures have words", all(attrs.get("aria-label", "").startswith("Bar ") for tag, attrs in read.seen if tag == "svg"))
        check(name + ": picture is XML", run("xmllint", "--noout", "--nonet", picture).returncode == 0)

    sound = str(place / "blues.wav")
    convert("blues", sound, "--tempo", "120", "--click", "--choruses", "2")
    with wave.open(sound) as take:
        check("WAV: one channel of 16 bits at 44100", (take.getnchannels(), take.getsampwidth(), take.getframerate()) == (1, 2, 44100))
        check("WAV: a bar of clicks, two choruses, the tail", abs(take.getnframes() / 44100 - (25 * 4 * 0.5 + 0.8)) < 0.001)
print(f"{passed} passed, {failed} failed")
sys.exit(failed != 0)

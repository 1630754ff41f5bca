#!/usr/bin/env python3
"""drawn_again.py GRIPLINE [GRIPLINE...]: draws the questions of quizzes by a second implementation of the rules in DEVELOPERS.md
("How questions are drawn") and compares; and compares what several builds print byte by byte, and with the digest that was pinned.

What a quiz may ask comes from the program itself, part by part in fixed order; which of it, and in which order, is drawn here.
"""
import functools
import hashlib
import json
import os
import subprocess
import sys
import tempfile

MASK = (1 << 64) - 1
# SHA-256 of all that the quizzes below print, the same on every machine. Pinned on 2026-11-25 from g++ 12 on x86-64; clang 14 -O3 with unsigned
# characters, as ARM has them, gave it too. Another line over the chart, or another JSON, changes it; another drawing must not.
PINNED = "76b5b4676a496aedf02ce44db1a7e270a42d34a1f072c603c5b3893a6c128259"


class Draw:
    """SplitMix64 (Steele, Lea, Flood, OOPSLA 2014), and what is made of it."""

    def __init__(self, seed):
        self.state = seed & MASK

    def next(self):
        self.state = (self.state + 0x9E3779B97F4A7C15) & MASK
        z = self.state
        z = ((z ^ z >> 30) * 0xBF58476D1CE4E5B9) & MASK
        z = ((z ^ z >> 27) * 0x94D049BB133111EB) & MASK
        return z ^ z >> 31

    def below(self, n):
        while True:
            drawn = self.next()
            if drawn >= (1 << 64) % n:
                return drawn % n

    def shuffle(self, row):
        for i in range(len(row) - 1, 0, -1):
            j = self.below(i + 1)
            row[i], row[j] = row[j], row[i]


def fnv(text):
    """FNV-1a, 64 bits."""
    value = 0xCBF29CE484222325
    for byte in text.encode():
        value = ((value ^ byte) * 0x100000001B3) & MASK
    return value


class Deck:
    def __init__(self, cards, draw):
        self.cards, self.draw, self.at = list(cards), draw, 0
        draw.shuffle(self.cards)

    def deal(self):
        if self.at == len(self.cards):
            self.at = 0
            self.draw.shuffle(self.cards)
        self.at += 1
        return self.cards[self.at - 1]


def text(seed, order, parts):
    lines = ['format = "gripline quiz 1"', 'title = "Drawn again"', f"seed = {seed}", f'order = "{order}"']
    for part in parts:
        lines.append("[[part]]")
        lines += [f"{key} = {json.dumps(value)}" for key, value in part.items()]
    return "\n".join(lines) + "\n"


@functools.cache
def printed(gripline, folder, quiz, student):
    path = os.path.join(folder, "quiz.toml")
    with open(path, "w", encoding="utf-8") as file:
        file.write(quiz)
    return subprocess.run([gripline, "quiz", "check", path, "--student", student, "--json"], capture_output=True, check=True, timeout=30).stdout


def asked(out):
    return [(q["chord"], q["bass"], q["grip"]) for q in map(json.loads, out.decode().splitlines())]


def skills(gripline, folder, part):
    """The questions of each skill of a part, skills in the order in which they first come."""
    out = []
    for quality in part["qualities"]:
        for role in part["roles"]:
            sides = [[side] for side in ("below", "above")] if role == "approach" else [None]
            rows = []
            for side in sides:
                only = dict(part, qualities=[quality], roles=[role], number=400, **({"sides": side} if side else {}))
                row = asked(printed(gripline, folder, text(1, "fixed", [only]), ""))
                rows.append(row[:row.index(row[0], 1)])  # it begins again when all have come
            if len(rows) == 2:  # the side that the scale's first step has comes first
                both = asked(printed(gripline, folder, text(1, "fixed", [dict(part, qualities=[quality], roles=[role], number=2)]), ""))
                rows.sort(key=lambda row, first=both[0]: row[0] != first)
            out += rows
    return out


def part_drawn(gripline, folder, part, draw):
    if "qualities" in part:
        decks = [Deck(row, draw) for row in skills(gripline, folder, part)]
        order = Deck(range(len(decks)), draw)
        return [decks[order.deal()].deal() for _ in range(part["number"])]
    pool = asked(printed(gripline, folder, text(1, "fixed", [{key: value for key, value in part.items() if key != "number"}]), ""))
    if "grips" in part:
        draw.shuffle(pool)
    return pool[:part.get("number", len(pool))]


def drawn(gripline, folder, seed, order, parts, student):
    own = Draw(seed ^ fnv(" ".join(student.split()).lower())).next()
    seeds, own_seeds, out = Draw(own if order == "own questions" else seed), Draw(own), []
    for part in parts:
        questions = part_drawn(gripline, folder, part, Draw(seeds.next()))
        own_draw = Draw(own_seeds.next())
        if order == "own order" and "chart" not in part and "chart-text" not in part:
            own_draw.shuffle(questions)
        out += questions
    return out


SHELLS = {"qualities": ["7", "m7"], "keys": ["C", "F", "Bb"], "roles": ["chord", "passing", "approach"], "number": 16}
GRIPS = {"asked": "shown", "grips": ["8x89xx C7", "10-x-9-10-x-x Bdim7", "12-x-10-12-x-x C7", "3x23xx C7", "1x01xx C7"], "number": 4}
LINE = {"chart-text": "| F7 | Bb7 | F7 | C7 |", "tempo-bpm": 100.0, "number": 10}
QUIZZES = [(seed, order, parts) for seed in (7, 8, 9223372036854775807) for order in ("same", "own order", "own questions")
           for parts in ([SHELLS], [GRIPS, dict(SHELLS, number=30, qualities=["6", "7", "m7"]), LINE])]
STUDENTS = ["one", "  Student   Two ", "<script>"]


def main():
    builds, wrong, digest = sys.argv[1:], 0, hashlib.sha256()
    with tempfile.TemporaryDirectory() as folder:
        compared = draws = 0
        for seed, order, parts in QUIZZES:
            for student in STUDENTS:
                draws += 1
                outs = [printed(build, folder, text(seed, order, parts), student) for build in builds]
                digest.update(outs[0])
                again = drawn(builds[0], folder, seed, order, parts, student)
                compared += len(again)
                if asked(outs[0]) != again:
                    wrong += 1
                    print(f"seed {seed}, {order}, {len(parts)} parts, {student!r}: drawn otherwise here", file=sys.stderr)
                if any(out != outs[0] for out in outs):
                    wrong += 1
                    print(f"seed {seed}, {order}, {student!r}: two builds differ", file=sys.stderr)
    if digest.hexdigest() != PINNED:
        wrong += 1
        print("what is printed has the digest " + digest.hexdigest() + ", not the pinned one", file=sys.stderr)
    print(f"{compared} questions drawn again, {len(builds)} builds")
    print(f"{max(draws - wrong, 0)} passed, {wrong} failed")
    return 1 if wrong or compared < 1000 else 0


sys.exit(main())

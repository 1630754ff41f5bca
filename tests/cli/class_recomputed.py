#!/usr/bin/env python3
"""class_recomputed.py RUNS PAGE.html TABLE.csv CLASS.jsonl: recomputes a class's numbers from the result files alone, by other code and other
libraries (html.parser, json, csv of Python), and compares. Exit status 0 when all agree."""
import csv
import html.parser
import json
import math
import os
import sys


class Tables(html.parser.HTMLParser):
    """Rows of cells of every table that has an id."""

    def __init__(self):
        super().__init__()
        self.tables, self.name, self.cell = {}, None, None

    def handle_starttag(self, tag, attributes):
        if tag == "table":
            self.name = dict(attributes).get("id")
            if self.name:
                self.tables[self.name] = []
        elif tag == "tr" and self.name:
            self.tables[self.name].append([])
        elif tag in ("td", "th") and self.name:
            self.cell = ""

    def handle_data(self, data):
        if self.cell is not None:
            self.cell += data

    def handle_endtag(self, tag):
        if tag in ("td", "th") and self.cell is not None:
            self.tables[self.name][-1].append(self.cell)
            self.cell = None
        elif tag == "table":
            self.name = None


def wilson(right, of):
    """The two solutions p of (share - p)^2 = z^2 p (1 - p) / n: Wilson, J. American Statistical Association 22 (1927)."""
    z, share = 1.959963984540054, right / of
    a, b, c = 1 + z * z / of, -(2 * share + z * z / of), share * share
    root = math.sqrt(max(b * b - 4 * a * c, 0))
    return (-b - root) / (2 * a), (-b + root) / (2 * a)


def results(runs):
    out = {}
    for place, _, files in os.walk(runs):
        if "result.json" not in files or "altered" in place:
            continue
        with open(os.path.join(place, "result.json"), encoding="utf-8", errors="replace") as file:
            result = json.load(file)
        out.setdefault(result["run"], result)
    return list(out.values())


def percent(result):
    return 100 * sum(a["outcome"] == "right" for a in result["answers"]) / len(result["answers"])


def shown(name):
    return "".join(c for c in name if c >= " " and c != "\x7f")


def rounded(x):
    return math.floor(x + 0.5)


def question(a):
    text = "%s  %s with %s in the bass  %s" % (a["asked"], a["chord"], a["bass"], a["grip"])
    return text + ("  bar %d, beat %d" % (a["bar"], a["beat"]) if "bar" in a else "")


def main():
    runs, page, table, lines_of_json = sys.argv[1:]
    reader = Tables()
    with open(page, encoding="utf-8") as file:
        reader.feed(file.read())
    every = results(runs)
    newest = max(every, key=lambda r: r["started_ms"])["fingerprint"]
    now = {r["student"]: r for r in every if r["fingerprint"] == newest}
    before = {r["student"]: r for r in every if r["fingerprint"] != newest}
    wrong = []

    def same(what, a, b):
        if a != b:
            wrong.append("%s: the page has %r, recomputed %r" % (what, a, b))

    rows = {row[0]: row for row in reader.tables["students"][1:]}
    same("students", len(rows), len(now))
    for name, result in now.items():
        row, answers = rows[shown(name)], result["answers"]
        right = sum(a["outcome"] == "right" for a in answers)
        same(name + " right", row[1], "%d of %d" % (right, len(answers)))
        same(name + " per cent", row[2], str(rounded(percent(result))))
        passed = all(100 * sum(a["outcome"] == "right" for a in answers if a["part"] == i + 1) >= p["pass_percent"] * sum(a["part"] == i + 1 for a in answers) for i, p in enumerate(result["parts"]))
        same(name + " passed", row[3], "yes" if passed else "no")
        ear = sum(a["outcome"] in ("right", "wrong") and bool(a["tries"]) and 0.1 < a["tries"][-1]["confidence"] < 0.9 for a in answers)
        same(name + " unsure", row[-4], str(ear))
        change = rounded(percent(result) - percent(before[name])) if name in before else None
        same(name + " change", row[-3], "" if change is None else ("+" if change > 0 else "") + str(change))

    kinds = {
        "questions": question,
        "qualities": lambda a: a["quality"] + ", " + a["role"],
        "keys": lambda a: a["root"],
        "joints": lambda a: a.get("joint"),
        "directions": lambda a: "approach from " + a["from"] if "from" in a else {"up": "bass up", "down": "bass down", "same": "bass stays"}.get(a.get("motion")),
    }
    for name, kind in kinds.items():
        counts = {}
        for result in now.values():
            for a in result["answers"]:
                if kind(a):
                    right, of = counts.get(kind(a), (0, 0))
                    counts[kind(a)] = (right + (a["outcome"] == "right"), of + 1)
        rows = reader.tables.get(name, [])[1:]  # nothing to count, no table
        same(name, {row[0] for row in rows}, set(counts))
        shares = []
        for what, right_of, share, interval in rows:
            right, of = counts[what]
            low, high = wilson(right, of)
            same(name + " " + what, right_of, "%d of %d" % (right, of))
            same(name + " " + what + " share", share, "%d %%" % rounded(100 * right / of))
            same(name + " " + what + " interval", interval, "%d to %d %%" % (rounded(100 * low), rounded(100 * high)))
            shares.append(right / of)
        same(name + " order", shares, sorted(shares))

    with open(table, encoding="utf-8", errors="replace", newline="") as file:
        lines = list(csv.DictReader(file))
    same("rows of the table", len(lines), len(now))
    by_percent = sorted((int(line["right"]), int(line["of"])) for line in lines)
    same("marks of the table", by_percent, sorted((sum(a["outcome"] == "right" for a in r["answers"]), len(r["answers"])) for r in now.values()))
    with open(lines_of_json, encoding="utf-8") as file:
        *in_json, whole = [json.loads(line) for line in file]
    same("students of the JSON", {row["student"] for row in in_json}, set(now))
    for row in in_json:
        answers = now[row["student"]]["answers"]
        right = sum(a["outcome"] == "right" for a in answers)
        same(row["student"] + " in JSON", (row["right"], row["of"], row["percent"]), (right, len(answers), rounded(1000 * right / len(answers)) / 10))
        same(row["student"] + " parts in JSON", [part["of"] for part in row["parts"]], [sum(a["part"] == i + 1 for a in answers) for i in range(len(now[row["student"]]["parts"]))])
    for name, kind in kinds.items():
        for row in whole[name]:
            of = [a["outcome"] == "right" for result in now.values() for a in result["answers"] if kind(a) == row["what"]]
            low, high = wilson(sum(of), len(of))
            same(name + " in JSON, " + row["what"], (row["right"], row["of"]), (sum(of), len(of)))
            same(name + " intervals in JSON, " + row["what"], abs(row["low"] - low) < 1e-4 and abs(row["high"] - high) < 1e-4, True)
    same("answers in JSON", (whole["right"], whole["of"]), (sum(a["outcome"] == "right" for r in now.values() for a in r["answers"]), sum(len(r["answers"]) for r in now.values())))

    for sentence in wrong:
        print(sentence, file=sys.stderr)
    return 1 if wrong else 0


sys.exit(main())

"""What Python's own readers make of an export: sqlite3 reads the history, csv and json the files; all three must say the same of every attempt.

Usage: history_readers.py HISTORY.sqlite EXPORT.csv EXPORT.jsonl
"""
import csv
import datetime
import json
import sqlite3
import sys

MOTIONS = {-1: "down", 0: "same", 1: "up", None: None}


def kept(path):
    """id -> fields, straight from the tables."""
    base = sqlite3.connect(f"file:{path}?mode=ro", uri=True)
    base.row_factory = sqlite3.Row
    assert base.execute("PRAGMA integrity_check").fetchone()[0] == "ok"
    rows = {}
    for row in base.execute(
        "SELECT a.*, p.name AS player, g.label AS guitar, i.label AS input, q.*, s.* FROM attempts a JOIN players p USING (player_id) "
        "JOIN labels g ON g.label_id = guitar_id JOIN labels i ON i.label_id = input_id JOIN asked q USING (asked_id) JOIN skills s USING (skill_id)"):
        faults = base.execute("SELECT kind, string, frets, asked, heard, probability FROM faults WHERE attempt_no = ? ORDER BY place", (row["attempt_no"],))
        rows[row["id"].hex()] = {
            "at_ms": row["at_ms"], "offset": row["utc_offset_min"], "player": row["player"], "guitar": row["guitar"], "input": row["input"], "asking": row["asking"],
            "family": row["family"], "root": row["root"], "quality": row["quality"], "stage": row["stage"], "strings": row["strings"], "chord": row["chord"], "grip": row["grip"],
            "bass_degree": row["bass_degree"], "place": row["role"], "from": row["side"] or None, "motion": MOTIONS[row["motion"]], "tempo_bpm": row["tempo_bpm"],
            "question": row["question"], "verdict": row["verdict"], "confidence": row["confidence"], "heard": [int(n) for n in row["heard"].split()], "answered": row["answered"],
            "faults": [tuple(f) for f in faults], "off_ms": row["off_ms"], "answer_s": row["answer_s"], "try_number": row["try_number"], "helped": bool(row["helped"])}
    return rows


def time_of(text):
    at = datetime.datetime.fromisoformat(text)
    return round(at.timestamp() * 1000), at.utcoffset() // datetime.timedelta(minutes=1)


def from_json(fields):
    fields = dict(fields)
    fields["at_ms"], fields["offset"] = time_of(fields.pop("at"))
    fields["faults"] = [tuple(f[k] for k in ("kind", "string", "frets", "asked", "heard", "probability")) for f in fields["faults"]]
    return fields.pop("id"), fields


def from_csv(row):
    def number(text):
        return None if text in ("", "-") else float(text)

    fields = {k: v[1:] if v.startswith("'") else v for k, v in row.items()}
    fields["at_ms"], fields["offset"] = time_of(fields.pop("at"))
    for name in ("tempo_bpm", "confidence", "off_ms", "answer_s", "try_number"):
        fields[name] = number(row[name])
    for name in ("from", "motion"):
        fields[name] = fields[name] or None
    fields["heard"] = [int(n) for n in fields["heard"].split()]
    fields["helped"] = {"true": True, "false": False}[fields["helped"]]
    faults = [f.split() for f in fields["faults"].split(";") if f.strip()]
    fields["faults"] = [(f[0], *[number(n) for n in f[1:]]) for f in faults]
    return fields.pop("id"), fields


def main():
    want = kept(sys.argv[1])
    with open(sys.argv[2], newline="", encoding="utf-8") as file:
        table = dict(from_csv(row) for row in csv.DictReader(file, strict=True))
    with open(sys.argv[3], encoding="utf-8") as file:
        objects = dict(from_json(json.loads(line)) for line in file)
    assert table == want, next((want[k], table.get(k)) for k in want if want[k] != table.get(k))
    assert objects == want, next((want[k], objects.get(k)) for k in want if want[k] != objects.get(k))
    print(len(want))


main()

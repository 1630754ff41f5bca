#!/usr/bin/env python3
"""Takes played by another process into the live input are judged as `gripline mark` judges their files.

usage: live_test.py BUILD_FOLDER
With GRIPLINE_LIVE_CASES=cases.csv, recordings of a list of yours are played instead of rendered strums (GRIPLINE_LIVE_MOST of them, default 24).
"""
import csv
import json
import os
import subprocess
import sys
import threading
import time

from bench import Count, Folder, Screen, SoundServer, StampedOutput, fail, missing_tools
from class_part import class_part
from drill_part import drill_part
from guitar_part import guitar_part
from practice_part import practice_part
from quiz_walk_part import quiz_walk_part
from walk_part import walk_part
from ways_part import ways_part

LEAD_S = 0.4          # quiet room before each rendered strum
LENGTH_S = 1.3
MOST_EXTRA_S = 0.060  # wall time from strum to verdict, above the sound that it needed, decided_s - at_s

# What was asked, and what was played: right, and every kind of fault (grips of the C dominant-seventh and Bb major-sixth shells).
TAKES = [
    ("8x89xx", "8x89xx"), ("10-x-9-10-x-x", "10-x-9-10-x-x"), ("12-x-10-12-x-x", "12-x-10-12-x-x"), ("1x01xx", "1x01xx"),
    ("3x23xx", "3x23xx"), ("4x34xx", "4x34xx"), ("6x55xx", "6x55xx"), ("7x67xx", "7x67xx"),
    ("6x57xx", "6x57xx"), ("8x78xx", "8x78xx"), ("5x45xx", "5x45xx"), ("3x33xx", "3x33xx"),
    ("8x89xx", "8x88xx"), ("10-x-9-10-x-x", "10-x-8-10-x-x"), ("12-x-10-12-x-x", "11-x-10-12-x-x"), ("3x23xx", "3x24xx"),
    ("4x34xx", "4x44xx"), ("6x55xx", "7x55xx"), ("7x67xx", "8x78xx"), ("3x23xx", "2x12xx"),
    ("6x57xx", "6x5xxx"), ("8x78xx", "8xx8xx"), ("5x45xx", "505x5x"), ("3x33xx", "3x33x0"),
    ("8x89xx", "none"), ("6x55xx", "6x57xx"),
]


def render_takes(build, folder):
    rows = []
    for number, (asked, played) in enumerate(TAKES, 1):
        take = os.path.join(folder, f"t{number:02}.wav")
        subprocess.run([os.path.join(build, "tests/live/render_take"), take, played, str(LEAD_S), str(LENGTH_S), str(number)], check=True, timeout=20)
        rows.append({"case": f"c{number:02}", "take": take, "from_s": str(LEAD_S - 0.2), "grip": asked})
    return rows


def own_takes(path):
    """One row a take, its most right and wrong mixed as the list has them."""
    most = int(os.environ.get("GRIPLINE_LIVE_MOST", "24"))
    folder = os.path.dirname(os.path.abspath(path))
    with open(path, newline="", encoding="utf-8-sig") as file:
        rows, seen = [], {}
        for row in csv.DictReader(file):
            row["take"] = os.path.join(folder, row["take"])
            seen.setdefault(row["take"], []).append(row)
        for number, of_take in enumerate(seen.values()):
            rows.append(of_take[number % len(of_take)])  # the first of one take, the second of the next: right and wrong
    return rows[:most]


def write_list(rows, folder):
    path = os.path.join(folder, "cases.csv")
    with open(path, "w", newline="", encoding="utf-8") as file:
        writer = csv.DictWriter(file, list(rows[0]))
        writer.writeheader()
        writer.writerows(rows)
    return path


def short(answer):
    """Verdict and likeliest fault, for comparing."""
    faults = answer.get("faults") or [{}]
    first = faults[0]
    return (answer.get("verdict"), first.get("kind"), first.get("string"), first.get("frets"))


def play_rows(rows, server, printed):
    """Enter, then the take, row by row. Returns the live answers and the wall times from the take's first frame to the verdict."""
    answers, walls, place = [], [], 0
    for number, row in enumerate(rows, 1):
        asked = printed.wait(place, lambda line, n=number: line.startswith(f"{n} of "), 15)
        if asked is None:
            return answers, walls
        printed.screen.key("Enter")
        ready = printed.wait(asked[0], lambda line: line == "listening", 5)
        player, began = server.play(row["take"])
        answer = printed.wait(ready[0], lambda line: line.startswith("{"), 15) if ready else None
        player.wait(timeout=30)
        if answer is None:
            return answers, walls
        place = answer[0]
        answers.append(json.loads(answer[2]))
        walls.append(answer[1] - began)
    return answers, walls


def compare(count, files, lives, walls):
    count.check(len(lives) == len(files) and len(files) >= 24, f"{len(lives)} of {len(files)} takes were answered live (at least 24 wanted)")
    extra, other_look = [], 0
    for file, live, wall in zip(files, lives, walls):
        count.check(short(file) == short(live), f"case {file['case']}: file {short(file)}, live {short(live)}")
        if file.get("at_s") is not None and live.get("at_s") is not None:
            # The server's sound differs a little from the file's, and so may the look at which a verdict is safe: what was listened to is the live one's own.
            listened_s = live["decided_s"] - live["at_s"]
            extra.append((wall - file["at_s"] - listened_s, file["case"]))
            other_look += abs(listened_s - (file["decided_s"] - file["at_s"])) > 0.005
    extra.sort()
    if count.check(bool(extra), "strums to time"):
        print(f"wall time from strum to verdict beyond the sound that it needed: median {1000 * extra[len(extra) // 2][0]:.0f} ms, most {1000 * extra[-1][0]:.0f} ms")
        count.check(other_look <= len(extra) // 10, f"nine in ten settled at the same look as from the file ({other_look} of {len(extra)} did not)")
        count.check(extra[-1][0] <= MOST_EXTRA_S, f"every verdict at most 60 ms after the sound that it needed ({extra[-1][1]}: {1000 * extra[-1][0]:.0f} ms)")


def marked_part(count, build, folder, server):
    gripline = os.path.join(build, "src/gripline")
    own = os.environ.get("GRIPLINE_LIVE_CASES")
    rows = own_takes(own) if own else render_takes(build, folder)
    path = write_list(rows, folder)
    out = subprocess.run([gripline, "mark", path, "--json"], capture_output=True, text=True, timeout=120, check=False)
    files = [json.loads(line) for line in out.stdout.splitlines()]
    verdicts = [answer.get("verdict") for answer in files]
    count.check("right" in verdicts and "wrong" in verdicts, f"the files hold right and wrong strums ({verdicts.count('right')} and {verdicts.count('wrong')} of {len(files)})")
    screen = Screen(folder, server.env, 120, 40)
    try:
        printed = StampedOutput(folder, screen)
        printed.screen = screen
        screen.type(f"{gripline} mark {path} --live --step --json --patience-s 4")
        screen.key("Enter")
        lives, walls = play_rows(rows, server, printed)
        compare(count, files, lives, walls)
        lost = printed.wait(0, lambda line: line.startswith("lost frames: "), 5)
        count.check(lost is not None and lost[2] == "lost frames: 0", "no frame was lost" if lost is None else lost[2])
    finally:
        screen.close()


# Rows of parts side by side, each with a folder and a sound server of its own: they mostly wait for takes to be played. Later parts of a row find what earlier ones left.
ROWS = [(walk_part,), (marked_part, practice_part, class_part, quiz_walk_part), (drill_part, guitar_part), (ways_part,)]
# A row that fails beside others, or on a machine whose sound server slips, is played again alone, so often at most; its last run counts.
AGAIN = 2


def play_row(build, parts):
    """The row's count."""
    count = Count()
    with Folder() as folder:
        server = SoundServer(folder)
        try:
            server.start()
            for part in parts:
                began = time.monotonic()
                part(count, build, folder, server)
                print(f"{part.__name__}: {time.monotonic() - began:.0f} s", flush=True)
        except Exception as trouble:  # a test that breaks has failed, and the server must go down
            count.check(False, f"the live test broke: {trouble!r}")
        finally:
            server.stop()
    return count


def main():
    if len(sys.argv) != 2:
        fail("usage: live_test.py BUILD_FOLDER")
    if missing_tools():
        fail("these programs are missing: " + " ".join(missing_tools()))
    build, counts = os.path.abspath(sys.argv[1]), {}

    def keep(parts):
        counts[parts] = play_row(build, parts)

    rows = [threading.Thread(target=keep, args=(parts,)) for parts in ROWS]
    for row in rows:
        row.start()
    for row in rows:
        row.join()
    for _ in range(AGAIN):
        for parts in [parts for parts in ROWS if counts[parts].failed]:
            print(f"== again, alone: {', '.join(part.__name__ for part in parts)}; this run counts", flush=True)
            keep(parts)
    whole = Count()
    whole.passed, whole.failed = sum(c.passed for c in counts.values()), sum(c.failed for c in counts.values())
    sys.exit(whole.finish())


if __name__ == "__main__":
    main()

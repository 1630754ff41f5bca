"""Ways of asking that sound, live: what the tool plays through its output is recorded there by another program and heard by `gripline hear`, and the answer is played, or
given on the keyboard, from that alone.

The output goes to a sink of its own that the input does not hear.
"""
import array
import json
import os
import re
import subprocess
import time
import wave

from bench import Screen
from practice_part import FRET_STRING, Player
from walk_part import RATE, Recording, Room, pactl

# The worked table of the C dominant-seventh shells on strings 6-4-3, from the low end of the neck, by their bass (common practice, no source).
SHELLS = {"F": "1x01xx", "G": "3x23xx", "Ab": "4x34xx", "Bb": "6x55xx", "B": "7x67xx", "C": "8x89xx", "D": "10-x-9-10-x-x", "E": "12-x-10-12-x-x"}
FLATS = {"C#": "Db", "D#": "Eb", "F#": "Gb", "G#": "Ab", "A#": "Bb"}
NAMES = ["C", "Db", "D", "Eb", "E", "F", "Gb", "G", "Ab", "A", "Bb", "B"]
TEMPO = 100
IN_TIME_MS = 60   # as the program has it at this tempo
CLEAR_MS = 20     # nearer to that limit either answer may be right: the devices are not calibrated, and `hear` is some ms off
PLAYER_S = 0.015  # from starting the playing program to its first frame in the input, less the time in which the first click is noticed (measured, busy machine)
MOST_TRIES = 4
CLICK = 0.004     # louder than the room
APPROACH_COUNT = 7
WHO = "player W"


class Output:
    """What the tool sounds, taken down and heard."""

    def __init__(self, gripline, folder, server):
        self.gripline, self.folder, self.server = gripline, folder, server

    def strums_after(self, act, seconds):
        """The strums that sound within `seconds` of the act, as `hear` tells them."""
        path = os.path.join(self.folder, "sounded.wav")
        with open(path, "wb") as file:
            recorder = subprocess.Popen(["parec", "--device=spk.monitor", "--file-format=wav", "--format=s16le", "--channels=1", "--rate=48000", "--latency-msec=10", path], env=self.server.env, stdout=file)
            time.sleep(0.3)
            act()
            time.sleep(seconds)
            recorder.terminate()
            recorder.wait(timeout=5)
        out = subprocess.run([self.gripline, "hear", path, "--json"], capture_output=True, text=True, timeout=60, check=False)
        return [json.loads(line) for line in out.stdout.splitlines()]


def bass_of(strum):
    return FLATS.get(strum["bass"], strum["bass"])


def open_screen(folder, env, command):
    screen = Screen(folder, env, 100, 34)
    screen.type(f"cd {folder}; {command}")
    screen.key("Enter")
    screen.wait(r"(?i)hearing|Listening|Bar \d|Count|Sounding|Your answer", 10)
    if re.search(r"Hearing: headphones", screen.text()):
        screen.key("Enter")  # the cautions of the first start
    return screen


def end(screen):
    screen.type("q")
    screen.wait(r"^[#$] *$", 6)
    screen.close()


def right_follows(count, screen, player, grip, what):
    process = player.strum(grip) if grip else None
    found, _ = screen.wait(r"Right\.", 5)
    if not count.check(found is not None, what):
        print(screen.text())
    if process:
        process.wait(timeout=20)
    screen.wait(r"Listening|Sounding", 5)


def by_ear(count, gripline, folder, server, env, keep, player):
    output = Output(gripline, folder, server)
    screen = open_screen(folder, env, f"{gripline} practice --exercise by-ear --root C --family dominant-seventh --stage shell --strings 6-4-3 {keep}")
    try:
        for number in range(1, 4):
            screen.wait(r"Listening", 8)
            hidden = re.search(FRET_STRING, screen.text()) is None
            strums = output.strums_after(lambda: screen.type("h"), 2.2)
            grip = SHELLS.get(bass_of(strums[-1])) if strums else None
            count.check(hidden and grip is not None, f"by ear {number}: nothing is to be read, and what sounds is heard as {grip}")
            right_follows(count, screen, player, grip, f"by ear {number}: {grip}, as heard, is called right")
        cadence = output.strums_after(lambda: screen.type("k"), 4.5)
        count.check([bass_of(each) for each in cadence[:2]] == ["G", "C"], f"the key by a cadence: {[(each['bass'], each['pitch_classes']) for each in cadence]}")
    finally:
        end(screen)


def next_step(count, gripline, folder, server, env, keep, player):
    output = Output(gripline, folder, server)
    row = list(SHELLS.values())
    screen = open_screen(folder, env, f"{gripline} practice --exercise next-step --root C --family dominant-seventh --stage shell --strings 6-4-3 {keep}")
    try:
        for number in range(1, 4):
            found, _ = screen.wait(r"From here play the next step (up|down)", 8)
            screen.wait(r"Listening", 5)
            given = re.search(FRET_STRING, screen.text())
            if not count.check(found is not None and given is not None, f"next step {number}: a step and a direction are given"):
                print(screen.text())
                return
            strums = output.strums_after(lambda: screen.type("h"), 2.2)
            count.check(bool(strums) and SHELLS.get(bass_of(strums[-1])) == given.group(1), f"next step {number}: the step given, {given.group(1)}, sounds")
            answer = row[row.index(given.group(1)) + (1 if found.group(1) == "up" else -1)]
            right_follows(count, screen, player, answer, f"next step {number}: {answer} is called right")
    finally:
        end(screen)


def slid(grip, frets):
    places = grip.split("-") if "-" in grip else list(grip)
    places = [place if place == "x" else str(int(place) + frets) for place in places]
    return "-".join(places) if any(len(place) > 1 for place in places) else "".join(places)


def true_off_ms(gripline, folder, recording, count_s):
    """How far both strums lie from their counts, by the recording of the input, which holds the clicks too: to some ms, as `hear` finds strums."""
    with open(recording.path, "rb") as file:
        frames = array.array("f", file.read())
    first = next((i for i, frame in enumerate(frames) if abs(frame) > CLICK), None)
    path = os.path.join(folder, "pair-heard.wav")
    with wave.open(path, "wb") as out:
        out.setnchannels(1)
        out.setsampwidth(2)
        out.setframerate(RATE)
        out.writeframes(array.array("h", (int(max(-1.0, min(1.0, frame)) * 32767) for frame in frames)).tobytes())
    told = subprocess.run([gripline, "hear", path, "--json"], capture_output=True, text=True, timeout=60, check=False).stdout
    at_s = [json.loads(line)["at_s"] for line in told.splitlines()]
    if first is None or len(at_s) < 2:
        return None
    return [1000 * (at - first / RATE - count * count_s) for at, count in zip(at_s[-2:], (APPROACH_COUNT, APPROACH_COUNT + 1))]


def one_pair(count, build, gripline, folder, server, screen, number, late_s):
    """Counted in, played, told: what the screen says, and the truth."""
    lead_s, count_s = 0.1, 60 / TEMPO
    screen.type(" ")  # pause: no click
    screen.wait(r"Paused", 4)
    recording = Recording(server, os.path.join(folder, "pair.f32"))
    time.sleep(0.5)
    screen.type(" ")  # counts in anew, from now
    first = recording.first_sound(CLICK, 8)
    found, _ = screen.wait(r"In time from (below|above) into", 3)
    target = re.search(FRET_STRING, screen.text())
    if not count.check(first is not None and found is not None and target is not None, f"into the target {number}: a target, a side and a count-in"):
        print(screen.text())
        recording.stop()
        return "", None
    approach = slid(target.group(1), -1 if found.group(1) == "below" else 1)
    take = os.path.join(folder, f"pair{number}.wav")
    subprocess.run([os.path.join(build, "tests/live/render_take"), take, f"{approach},{target.group(1)}", str(lead_s), str(count_s), str(number)], check=True, timeout=20)
    time.sleep(max(first + APPROACH_COUNT * count_s + late_s - lead_s - PLAYER_S - time.monotonic(), 0))
    process, _ = server.play(take)
    told, _ = screen.wait(r"Right and in time: .*|(Approach|Target).*(early|late|on the beat).*|No strum heard.*", 6)
    process.wait(timeout=20)
    recording.stop()
    return told.group(0).strip() if told else "nothing", true_off_ms(gripline, folder, recording, count_s)


def told_ms(words):
    """The approach's time as the screen tells it, early negative; None when it tells none."""
    found = re.search(r"(?:Right and in time: approach|Approach: right notes,(?: not in time,)?) (?:(\d+) ms (early|late)|on the beat)", words)
    return None if found is None else 0 if found.group(1) is None else int(found.group(1)) * (-1 if found.group(2) == "early" else 1)


def into_target(count, build, gripline, folder, server, env, keep):
    """Three pairs with the clicks, and one 150 ms behind them. The clicks are in the input too, so that its recording is the truth. Returns the pairs played."""
    pactl(server, "set-default-sink", "gtr")
    screen = open_screen(folder, env, f"{gripline} practice --exercise into-the-target --tempo {TEMPO} --root C --family dominant-seventh --stage shell --strings 6-4-3 {keep}")
    pairs, slips = 0, []
    try:
        for number, late_s in enumerate((0.0, 0.0, 0.0, 0.15), 1):
            for _ in range(MOST_TRIES):
                said, true_ms = one_pair(count, build, gripline, folder, server, screen, number, late_s)
                pairs += 1
                told = told_ms(said)
                slip = None if told is None or true_ms is None else told - true_ms[0]
                if slip is not None and abs(slip) <= CLEAR_MS and abs(abs(true_ms[0]) - IN_TIME_MS) > CLEAR_MS:
                    break
                print(f"once more: \"{said}\", by the recording {true_ms}: the busy sound server slips, or it lies at the limit")
            if not count.check(slip is not None and abs(slip) <= CLEAR_MS, f"into the target {number}: {said} {true_ms[0] if true_ms else 0:.1f} ms by the recording"):
                print(screen.text())
                continue
            slips.append(slip)
            count.check(("not in time" in said) == (abs(true_ms[0]) > IN_TIME_MS), f"into the target {number} is judged so")
        print(f"times against the recording, devices not calibrated: {[round(each, 1) for each in slips]} ms")
    finally:
        end(screen)
        pactl(server, "set-default-sink", "spk")
    return pairs


def name_it(count, gripline, folder, server, env, keep):
    output = Output(gripline, folder, server)
    screen = open_screen(folder, env, f"{gripline} practice --exercise name-it --question bass-degree --question approach-direction --root C {keep}")
    degrees = {"1": 0, "2": 2, "b3": 3, "3": 4, "4": 5, "b5": 6, "5": 7, "b6": 8, "6": 9, "b7": 10, "7": 11}
    right = asked = 0
    try:
        for number in range(1, 9):
            if screen.wait(rf"question {number}\b", 10)[0] is None:
                break
            screen.wait(r"Your answer", 8)
            text = screen.text()
            sounds = 2 if "which side" in text else 1
            for _ in range(MOST_TRIES):
                strums = output.strums_after(lambda: screen.type(" "), 3.2)
                if len(strums) == sounds:
                    break
                print(f"once more: {len(strums)} strums were heard where {sounds} sounded: the busy sound server slips")
            choices = dict((words, key) for key, words in re.findall(r"^ +([a-h])  (from \w+|[b\d]\d?)(?= |$)", text, re.MULTILINE))
            answer = None
            if "which side" in text and len(strums) >= 2:
                rise = (NAMES.index(bass_of(strums[1])) - NAMES.index(bass_of(strums[0]))) % 12
                answer = choices.get("from below" if rise == 1 else "from above")
            elif strums:
                wanted = (NAMES.index(bass_of(strums[-1])) - NAMES.index("C")) % 12
                answer = next((key for words, key in choices.items() if degrees.get(words) == wanted), None)
            if answer is None:
                print(number, choices, [each["bass"] for each in strums])
                answer = "a"
            asked += 1
            screen.type(answer)
            found, _ = screen.wait(r"(Right|Wrong): .*", 3)
            right += found is not None and found.group(1) == "Right"
            screen.type("n")
        if not count.check(asked == 8 and right >= 7, f"name it: {right} of {asked} answered rightly by what another program heard"):
            print(screen.text())
    finally:
        end(screen)
    return asked, right


def ways_part(count, build, folder, server):
    gripline = os.path.join(build, "src/gripline")
    home = os.path.join(folder, "ways-home")
    os.makedirs(home, mode=0o700, exist_ok=True)
    env = dict(server.env, XDG_DATA_HOME=home, XDG_CONFIG_HOME=home, XDG_STATE_HOME=home)
    history = os.path.join(folder, "ways.sqlite")
    keep = f"--who '{WHO}' --history {history}"
    player = Player(build, folder, server)
    room = Room(build, folder, server)
    try:
        by_ear(count, gripline, folder, server, env, keep, player)
        next_step(count, gripline, folder, server, env, keep, player)
        played = into_target(count, build, gripline, folder, server, env, keep)
    finally:
        room.stop()
    asked, right = name_it(count, gripline, folder, server, env, keep)
    out = subprocess.run([gripline, "history", "export", "-", "--json", "--history", history], env=env, capture_output=True, text=True, timeout=20, check=False)
    rows = [json.loads(line) for line in out.stdout.splitlines()]
    by_way = lambda way: [row for row in rows if row["asking"] == way]
    count.check([row["verdict"] for row in by_way("by ear")] == ["right"] * 3 and not any(row["helped"] for row in by_way("by ear")), "the history holds three right answers by ear, unhelped")
    count.check([row["verdict"] for row in by_way("next step")] == ["right"] * 3, "three next steps")
    pairs = by_way("into the target")
    count.check(8 <= len(pairs) <= 2 * played and all(row["tempo_bpm"] == TEMPO for row in pairs) and [row["place"] for row in pairs] == ["approach", "chord"] * (len(pairs) // 2),
                f"{len(pairs)} strums of {played} pairs into the target, each with its tempo")
    count.check(all(row["verdict"] != "right" or abs(row["off_ms"]) <= IN_TIME_MS for row in pairs) and any(row["verdict"] == "wrong" and not row["faults"] for row in pairs),
                "those out of time are kept as wrong, without a fault")
    named = by_way("name it")
    count.check(len(named) == asked and sum(row["verdict"] == "right" for row in named) == right and all(row["input"] == "keyboard" for row in named), f"{len(named)} names with question and answer")

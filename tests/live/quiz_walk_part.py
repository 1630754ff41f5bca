"""A line walked in a quiz at the screen: its clicks come out of the output in time, and who plays with them is right and in time."""
import array
import json
import os
import subprocess
import threading
import time

from bench import Screen
from practice_part import Player, one_string_sharp

TEMPO_BPM = 90
COUNT_S = 60 / TEMPO_BPM
QUIZ = f"""format = "gripline quiz 1"
title = "A line"
[[part]]
title = "Walked"
chart-text = "| F7 | Bb7 |"
tempo-bpm = {TEMPO_BPM}
"""
WRONG = 2            # this beat is played with a string a fret sharp
LEAD_S = 0.1         # of each strum in its piece of the take
RATE_HZ = 48000
RISE = 20            # frames: accented clicks, being louder and higher, reach LOUD sooner
LOUD = 0.002         # weak clicks peak at -30 dB below full scale: 0.032


class Clicks:
    """What comes out of the tool's output, heard by another program: frames at which clicks begin."""

    def __init__(self, server):
        words = ["parec", "--device=spk.monitor", "--format=float32le", "--channels=1", f"--rate={RATE_HZ}", "--latency-msec=20"]
        self.process = subprocess.Popen(words, env=server.env, stdout=subprocess.PIPE)
        self.begins, self.first_s = [], None
        self.thread = threading.Thread(target=self.read, daemon=True)
        self.thread.start()

    def read(self):
        frame, quiet_until = 0, 0
        while block := self.process.stdout.read(4 * 480):
            for value in array.array("f", block[:len(block) // 4 * 4]):
                if abs(value) > LOUD:
                    if frame >= quiet_until:
                        self.begins.append(frame)
                        self.first_s = self.first_s or time.monotonic()
                    quiet_until = frame + RATE_HZ // 10
                frame += 1

    def close(self):
        self.process.terminate()
        self.process.wait(timeout=10)


def walk_with_the_clicks(count, clicks, server, take):
    """Begins the take so that its first strum falls on the fifth click."""
    until = time.monotonic() + 15
    while clicks.first_s is None and time.monotonic() < until:
        time.sleep(0.002)
    if not count.check(clicks.first_s is not None, "the count-in is heard"):
        return
    time.sleep(max(0.0, clicks.first_s + 4 * COUNT_S - LEAD_S - 0.02 - time.monotonic()))  # the player takes 9 to 47 ms to begin
    process, _ = server.play(take)
    process.wait(timeout=30)


def quiz_walk_part(count, build, folder, server):
    gripline, runs, player = os.path.join(build, "src/gripline"), os.path.join(folder, "walked"), Player(build, folder, server)
    quiz, take, room = (os.path.join(folder, name) for name in ("line.toml", "line.wav", "walk-room.wav"))
    player.number = 5000
    with open(quiz, "w", encoding="utf-8") as file:
        file.write(QUIZ)
    asked = subprocess.run([gripline, "quiz", "check", quiz, "--json"], capture_output=True, text=True, timeout=20, check=True)
    grips = [json.loads(line)["grip"] for line in asked.stdout.splitlines()]
    played = [one_string_sharp(grip)[0] if i == WRONG else grip for i, grip in enumerate(grips)]
    subprocess.run([player.tool, take, ",".join(played), str(LEAD_S), f"{COUNT_S:.6f}", "77"], check=True, timeout=30)
    subprocess.run([player.tool, room, "none", "0", "60", "2"], check=True, timeout=30)
    noise, _ = server.play(room)
    screen, clicks = Screen(folder, server.env, 80, 24), Clicks(server)
    try:
        screen.type(f"{gripline} quiz take {quiz} --into {runs} --student walker")
        screen.key("Enter")
        count.check(screen.wait("0 of 3", 8)[0] is not None, "the sound check asks for strums before the line")
        for _ in range(3):
            player.strum("3x23xx").wait(timeout=20)
        walk_with_the_clicks(count, clicks, server, take)
        if not count.check(screen.wait("Hand-in code", 8)[0] is not None, "the line ends by itself"):
            print(screen.text())
            return
    finally:
        noise.terminate()
        noise.wait(timeout=20)
        clicks.close()
        screen.close()
    with open(os.path.join(runs, os.listdir(runs)[0], "result.json"), encoding="utf-8") as file:
        answers = json.load(file)["answers"]
    got = [answer["outcome"] for answer in answers]
    count.check(got == ["wrong" if i == WRONG else "right" for i in range(len(grips))], f"each beat is judged as it was played ({' '.join(got)})")
    gaps = [b - a for a, b in zip(clicks.begins, clicks.begins[1:])]
    astray = [gap for gap in gaps if abs(gap - COUNT_S * RATE_HZ) > RISE]
    # On a loaded machine the sound server itself runs dry now and then, and puts in a block (one of four runs at a load of 6).
    count.check(len(clicks.begins) == 4 + len(grips) and len(astray) <= 1 and all(0 < gap - COUNT_S * RATE_HZ <= 1024 for gap in astray), f"{len(clicks.begins)} clicks, each a count after the other (frames between: {sorted(set(gaps))})")
    off_s = sorted(answer["tries"][0]["answer_s"] for answer in answers if answer["tries"])
    if count.check(len(off_s) == len(grips), "every beat has its strum"):
        print(f"strums against the clicks: {1000 * off_s[0]:.0f} to {1000 * off_s[-1]:.0f} ms")
        count.check(max(abs(off_s[0]), abs(off_s[-1])) < 0.08 and off_s[-1] - off_s[0] < 0.03, "who plays with the clicks is in time")

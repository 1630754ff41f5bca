"""The practice screen in a terminal: asked grips are played rightly and wrongly, the sound server dies and comes back, the terminal is given back."""
import os
import re
import subprocess
import time

from bench import Screen

# What the screen may show as a fret string: "8x89xx", "10-x-9-10-x-x".
FRET_STRING = r"(?<![\w-])((?:[0-9x]{6})|(?:(?:\d{1,2}|x)-){5}(?:\d{1,2}|x))(?![\w-])"
LEAD_S, LENGTH_S = 0.2, 1.6


def one_string_sharp(grip):
    """The grip with its middle sounding string a fret higher, and that string's number."""
    places = grip.split("-") if "-" in grip else list(grip)
    sounding = [i for i, place in enumerate(places) if place != "x"]
    middle = sounding[len(sounding) // 2]
    places[middle] = str(int(places[middle]) + 1)
    joined = "-".join(places) if any(len(place) > 1 for place in places) else "".join(places)
    return joined, len(places) - middle


class Player:
    def __init__(self, build, folder, server):
        self.tool, self.folder, self.server, self.number = os.path.join(build, "tests/live/render_take"), folder, server, 100

    def mute(self, strums, gap_s=0.45):
        """So many strums over damped strings, evenly."""
        return self.play(",".join(["muted"] * strums), 0.1, gap_s)

    def strum(self, grip):
        return self.play(grip, LEAD_S, LENGTH_S)

    def play(self, grips, lead_s, length_s):
        self.number += 1
        take = os.path.join(self.folder, f"p{self.number}.wav")
        subprocess.run([self.tool, take, grips, str(lead_s), str(length_s), str(self.number)], check=True, timeout=20)
        process, _ = self.server.play(take)
        return process


def asked_grip(screen, other_than=None, seconds=8):
    until = time.monotonic() + seconds
    while time.monotonic() < until:
        text = screen.text()
        found = re.search(FRET_STRING, text)
        if found and found.group(1) != other_than and re.search("Listening", text):
            return found.group(1)
        time.sleep(0.02)
    return None


def strums(count, screen, player):
    """Right moves on without a key; wrong is told with string and frets."""
    grip = asked_grip(screen)
    if not count.check(grip is not None, f"the practice screen asks a grip and listens ({grip})"):
        print(screen.text())
        return
    for _ in range(2):
        process = player.strum(grip)
        found, _ = screen.wait(r"Right\.", 4)
        if not count.check(found is not None, f"{grip} played rightly is called right on the screen"):
            print(screen.text())
        process.wait(timeout=20)
        after = asked_grip(screen, grip)
        count.check(after is not None, f"the next grip is asked without a key ({after})")
        grip = after or grip
    sharp, string = one_string_sharp(grip)
    process = player.strum(sharp)
    found, _ = screen.wait(rf"[Ss]tring {string}, one fret sharp", 4)
    if not count.check(found is not None, f"{sharp} for {grip} is called string {string}, one fret sharp"):
        print(screen.text())
    process.wait(timeout=20)


def server_dies_and_returns(count, screen, player, server):
    server.stop()
    lost, _ = screen.wait(r"(?i)lost|no sound|gone|unplugged|stopped", 6)
    if not count.check(lost is not None, "the dead sound server is told on the screen"):
        print(screen.text())
    server.start()
    until = time.monotonic() + 10
    back = False
    while time.monotonic() < until and not back:
        time.sleep(0.1)
        back = not re.search(r"(?i)lost|gone|unplugged|stopped", screen.text())
    count.check(back, "the sound comes back with the server")
    time.sleep(1.0)
    grip = asked_grip(screen)
    process = player.strum(grip) if grip else None
    found, _ = screen.wait(r"Right\.", 4)
    if not count.check(found is not None, f"a strum after that is judged again ({grip})"):
        print(screen.text())
    if process:
        process.wait(timeout=20)


def terminal_given_back(count, screen, gripline, end, what):
    """Starts the program anew, ends it and looks at the terminal it leaves."""
    screen.run("send-keys", "-t", "live", "-R")
    screen.type("clear; stty -g > before")
    screen.key("Enter")
    time.sleep(0.3)
    screen.type(gripline)
    screen.key("Enter")
    shown = asked_grip(screen)
    end()
    found, _ = screen.wait(r"^[#$] *$", 6)
    screen.type("stty -g > after; cmp before after && echo same-terminal")
    screen.key("Enter")
    same, _ = screen.wait(r"^same-terminal", 5)
    good = shown and found and same and screen.value("alternate_on") == "0" and screen.value("cursor_flag") == "1"
    if not count.check(bool(good), f"the terminal is given back after {what}"):
        print(shown, found, same, screen.value("alternate_on"), screen.value("cursor_flag"))
        print(screen.text())


def practice_part(count, build, folder, server):
    gripline = os.path.join(build, "src/gripline")
    screen = Screen(folder, server.env, 100, 30)
    player = Player(build, folder, server)
    try:
        screen.type(f"cd {folder}; {gripline} practice --root C --family dominant-seventh --stage shell --strings 6-4-3")
        screen.key("Enter")
        first, _ = screen.wait(r"(?i)hearing|Listening", 8)
        count.check(first is not None, "the practice screen opens, with the cautions at the first start")
        if not re.search("Listening", screen.text()):
            screen.key("Enter")
        strums(count, screen, player)
        server_dies_and_returns(count, screen, player, server)
        screen.type("q")
        screen.wait(r"^[#$] *$", 5)
        terminal_given_back(count, screen, gripline, lambda: screen.type("q"), "quitting")
        pid = lambda: subprocess.run(["pgrep", "-P", screen.value("pane_pid")], capture_output=True, text=True, check=False).stdout.split()
        terminal_given_back(count, screen, gripline, lambda: [os.kill(int(one), 15) for one in pid()], "a termination signal")
    finally:
        screen.close()

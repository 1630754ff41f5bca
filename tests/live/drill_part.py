"""A planned session of forty steps, hands on the guitar: what is played, with planted faults, is what the history holds; progress shows the weakness.

Two muted strums ask one step again, three leave one out; neither is an attempt. The player here misses every approach from above at the first try, by one fret on one string, and nothing else. In C no grip but one has an open string: what
is shown here is what is kept and counted, and an open E string's overtones were once heard as another string that rings (0x01xx, 2026-11-25).
"""
import json
import os
import re
import subprocess
import time

from bench import Screen
from practice_part import FRET_STRING, Player, one_string_sharp

STEPS = 40
AGAIN, NEXT = 5, 12  # steps at which two and three muted strums are played first
WHO = "player A"


def asked_step(screen, number, seconds=10):
    """The grip of step `number` once it is listened to, and the whole screen; (None, screen) when it never comes."""
    until = time.monotonic() + seconds
    text = ""
    while time.monotonic() < until:
        text = screen.text()
        if re.search(rf"\bstep {number}\b", text) and "Listening" in text and "Why this" in text:
            found = re.search(FRET_STRING, text)
            if found:
                return found.group(1), text
        time.sleep(0.02)
    return None, text


def gesture(count, screen, player, number, grip):
    """Muted strums are no answer: two ask the step again, three the next one. True: the step was left out."""
    strums, asks = (2, "Two muted strums: again") if number == AGAIN else (3, "Three muted strums: next")
    time.sleep(0.6)  # the strum before has died away
    player.mute(strums).wait(timeout=20)
    found, _ = screen.wait(asks, 5)
    if not count.check(found is not None, f"step {number}: {strums} muted strums are understood without a key"):
        print(screen.text())
    if strums == 2:
        same, _ = asked_step(screen, number)
        count.check(same == grip, f"and {grip} is asked again, uncounted")
        return False
    return found is not None


def play_session(count, screen, player):
    """No key is touched. What was played: [grip asked, verdict, (string, frets) or None, try]."""
    played, whys = [], []
    for number in range(1, STEPS + 1):
        grip, text = asked_step(screen, number)
        if grip is None:
            count.check(False, f"step {number} is asked without a key")
            print(text)
            return played, whys
        if number in (AGAIN, NEXT) and gesture(count, screen, player, number, grip):
            continue
        whys.append(re.search(r"Why this: (\w+)", text).group(1))
        tried = 1
        if "from above" in text:
            sharp, string = one_string_sharp(grip)
            process = player.strum(sharp)
            found, _ = screen.wait(rf"Wrong\. String {string}, one fret sharp", 5)
            if not found:
                count.check(False, f"step {number}: {sharp} for {grip} is called string {string}, one fret sharp")
                print(screen.text())
            played.append([grip, "wrong", (string, 1), tried])
            process.wait(timeout=20)
            again, _ = screen.wait(r"Again: ", 8)
            if not again:
                count.check(False, f"step {number} is asked again without a key")
            tried = 2
        process = player.strum(grip)
        found, _ = screen.wait(r"Right\.", 5)
        if not found:
            count.check(False, f"step {number}: {grip} is called right")
            print(screen.text())
        played.append([grip, "right", None, tried])
        process.wait(timeout=20)
    return played, whys


def kept(gripline, env, history):
    """The history's attempts, like those played."""
    out = subprocess.run([gripline, "history", "export", "-", "--json", "--history", history], env=env, capture_output=True, text=True, timeout=20, check=False)
    rows = [json.loads(line) for line in out.stdout.splitlines()]
    first = lambda row: (row["faults"][0]["string"], row["faults"][0]["frets"]) if row["verdict"] == "wrong" and row["faults"] else None
    return [[row["grip"], row["verdict"], first(row), row["try_number"]] for row in rows]


def weakness_shown(count, screen, gripline, env, history, expected):
    out = subprocess.run([gripline, "progress", "--who", WHO, "--history", history, "--json"], env=env, capture_output=True, text=True, timeout=20, check=False)
    lines = [json.loads(line) for line in out.stdout.splitlines()]
    cells = {line["place"]: line for line in lines if line["what"] == "cell" and line["quality"] == "7"}
    above = cells.get("from above", {})
    count.check((above.get("right"), above.get("of")) == (0, expected), f"progress counts 0 of {expected} first tries right from above: {above}")
    count.check(above.get("standing") == "weak", "approaches from above are called weak")
    others = [cell for place, cell in cells.items() if place != "from above"]
    count.check(all(cell["right"] == cell["of"] and cell["standing"] != "weak" for cell in others), f"nothing else is: {[(c['place'], c['right'], c['of'], c['standing']) for c in others]}")
    whole = next(line for line in lines if line["what"] == "all")
    count.check(whole["of"] == STEPS - 1, f"{STEPS - 1} first tries are counted ({whole['of']})")
    screen.type(f"clear; {gripline} progress --who '{WHO}' --history {history}")
    screen.key("Enter")
    row, _ = screen.wait(rf"^ 7 .* 0% .. of {expected}\b", 8)
    if not count.check(row is not None, "the progress screen shows it in the table"):
        print(screen.text())
    plan, _ = screen.wait(r"min: 7, from above.*weak, 0 % of ", 2)
    if not count.check(plan is not None, "and today's plan drills it"):
        print(screen.text())
    screen.type("q")


def drill_part(count, build, folder, server):
    gripline = os.path.join(build, "src/gripline")
    history = os.path.join(folder, "drill.sqlite")
    home = os.path.join(folder, "drill-home")
    os.makedirs(home, mode=0o700, exist_ok=True)
    env = dict(server.env, XDG_DATA_HOME=home, XDG_CONFIG_HOME=home, XDG_STATE_HOME=home)
    screen = Screen(folder, env, 100, 34)
    player = Player(build, folder, server)
    try:
        screen.type(f"cd {folder}; {gripline} practice --plan --steps {STEPS} --key C --quality 7 --stage shell --strings 6-4-3 --no-warm-up --who '{WHO}' --history {history}")
        screen.key("Enter")
        screen.wait(r"(?i)hearing|Listening", 10)
        if "Listening" not in screen.text():
            screen.key("Enter")  # the cautions of the first start
        began = time.monotonic()
        played, whys = play_session(count, screen, player)
        over, _ = screen.wait(r"The session is over", 6)
        took_s = time.monotonic() - began
        if not count.check(over is not None, f"after {STEPS} steps the session ends by itself, with a summary ({took_s:.0f} s)"):
            print(screen.text())
        first_wrong = sum(1 for each in played if each[1] == "wrong")
        summary = screen.text()
        count.check(f"right at the first try: {STEPS - 1 - first_wrong} of {STEPS - 1}" in summary and "approaches from above" in summary,
                    "the summary tells the first tries and what was missed most")
        count.check(set(whys) >= {"new"} and len(set(whys)) > 1, f"why each is asked is told: { {why: whys.count(why) for why in set(whys)} }")
        screen.key("Enter")
        screen.wait(r"^[#$] *$", 6)
        held = kept(gripline, env, history)
        if not count.check(held == played, f"the history holds exactly the {len(played)} attempts played, {first_wrong} planted faults with string and fret among them, in order"):
            print(len(held), [(want, got) for want, got in zip(played, held) if want != got][:5])
        weakness_shown(count, screen, gripline, env, history, first_wrong)
    finally:
        screen.close()

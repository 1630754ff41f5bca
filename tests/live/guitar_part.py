"""A guitar's set-up through the sound server, no key touched: every note heard, tuning within a cent; a flat string refused; Escape keeps nothing."""
import json
import os
import subprocess

from bench import Screen

CENTS = 2.0  # render_set_up.cpp: the whole guitar


def kept(gripline, env, name):
    out = subprocess.run([gripline, "guitar", "show", name, "--json"], env=env, capture_output=True, text=True, timeout=10, check=False)
    return json.loads(out.stdout) if out.returncode == 0 else None


def guitar_part(count, build, folder, server):
    gripline = os.path.join(build, "src/gripline")
    env = dict(server.env, XDG_DATA_HOME=os.path.join(folder, "guitars-data"), XDG_CONFIG_HOME=os.path.join(folder, "guitars-config"))
    take, flat = os.path.join(folder, "set-up.wav"), os.path.join(folder, "flat.wav")
    for path, more in ((take, []), (flat, ["-62"])):
        subprocess.run([os.path.join(build, "tests/live/render_set_up"), path, *more], check=True, timeout=60)
    screen = Screen(folder, env, 80, 24)
    try:
        screen.type(f"{gripline} guitar set-up archtop")
        screen.key("Enter")
        count.check(screen.wait("Damp all strings", 10)[0], "the set-up asks for quiet first")
        process, _ = server.play(take)
        count.check(screen.wait("Play string 6 at fret 7: B2", 20)[0], "the open strings are heard one after the other")
        done, _ = screen.wait("Done: all notes heard", 20)
        if not count.check(done, "all twelve notes are heard without a key"):
            print(screen.text())
        process.wait(timeout=20)
        count.check(screen.wait("archtop, set up", 15)[0], "what was found is kept and told without a key")
        found = kept(gripline, env, "archtop")
        if count.check(found is not None, "the guitar is kept"):
            worst = max(abs(string["open_cents"] - CENTS) for string in found["strings"])
            print(f"set-up through the sound server: worst open string {worst:.2f} cents off the truth")
            count.check(worst < 1.0, "every open string within a cent of what was played")
        screen.type(f"clear; {gripline} guitar set-up other")
        screen.key("Enter")
        screen.wait("Damp all strings", 10)
        process, _ = server.play(flat)
        count.check(screen.wait("String 3 is 62 cents flat: tune it", 15)[0], "a string 62 cents flat is refused by its number")
        screen.key("Escape")
        count.check(screen.wait("nothing was kept", 10)[0], "Escape leaves")
        count.check(kept(gripline, env, "other") is None, "and keeps nothing")
        process.kill()
        process.wait(timeout=20)
    finally:
        screen.close()

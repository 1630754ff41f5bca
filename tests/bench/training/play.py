"""How strums are played, and what becomes of them on the way to the sound card."""
import numpy as np
from scipy.signal import sosfilt

import grips
from mix import RATE, add, at_rate, body, damp, db, hum, microphone, noise, room, scrape, shelf, thump


def stroke(rng, walking=False):
    """How one strum is played."""
    spread = rng.uniform(0.005, 0.03 if walking else 0.045) if rng.random() < 0.85 else rng.uniform(0, 0.06)
    return {"spread": spread, "down": rng.random() < 0.82, "loud_db": rng.uniform(2, 4) if rng.random() < 0.85 else 5.5,
            "short_s": rng.uniform(0.12, 0.35) if rng.random() < 0.42 else None,
            "fade_s": 10 ** rng.uniform(-0.6, 0.3) if rng.random() < 0.35 else None,  # a quicker decay than the guitar's
            "colour": rng.uniform(0, 3.5) if rng.random() < 0.7 else 0.0, "thump": rng.random() < 0.25,
            "sympathy": rng.random() < 0.5, "dead": None, "soft": None, "soft_db": 0.0}


def coloured(rng, tone, pitch, how):
    """No two plucks are alike: another tilt, another place of the pick, another decay."""
    if how["colour"]:
        tone = sosfilt(shelf(10 ** rng.uniform(2.4, 3.4), rng.normal(0, how["colour"])), tone).astype(np.float32)
        late = int(rng.uniform(0.08, 0.4) * RATE / (440 * 2 ** ((pitch - 69) / 12)))
        comb = tone * 1.0
        comb[late:] -= rng.uniform(0, 0.16) * how["colour"] * tone[:-late]
        tone = comb / (np.sqrt(np.mean(comb[600:10000] ** 2)) + 1e-6)
    if how["fade_s"]:
        tone = tone * np.exp(-np.arange(len(tone)) / (how["fade_s"] * 10 ** rng.normal(0, 0.08) * RATE)).astype(np.float32)
    return tone


def strum(canvas, guitars, guitar, rng, played, onset, tune, how, end_s=None):
    """Adds the strings of a grip; end_s: when all are damped, after the onset."""
    length = len(canvas) / RATE - onset
    stop = min([s for s in (how["short_s"], end_s) if s is not None], default=None)
    release = rng.uniform(0.012, 0.045)
    strings = [s for s in range(6) if played[s] is not None or s == how["dead"]]
    if not how["down"]:
        strings.reverse()
    offsets = np.sort(rng.uniform(0, 1, len(strings)))
    offsets = (offsets - offsets[0]) / max(offsets[-1] - offsets[0], 1e-6) * how["spread"]
    for s, late in zip(strings, offsets):
        fret = played[s] if played[s] is not None else int(rng.integers(1, 13))
        tone, lead = guitars.note(guitar, grips.OPEN[s] + fret, tune[s], length, rng)
        tone = coloured(rng, tone, grips.OPEN[s] + fret, how)
        level, at = rng.normal(0, how["loud_db"]), onset + late - lead + 0.0015  # the rise begins before the bank's mark
        if s == how["dead"]:  # a thud: an attack and no body
            tone, level = damp(tone, lead + rng.uniform(0.008, 0.03), rng.uniform(0.02, 0.06)), level + rng.uniform(-8, 2)
        elif s == how["soft"]:
            level = how["soft_db"] + rng.normal(0, 0.5)
            if rng.random() < 0.3:
                at -= rng.uniform(0.05, 0.3)  # it was ringing already
        if stop is not None and s != how["dead"]:
            late_open = rng.uniform(0, 0.3) if s == how["soft"] and rng.random() < 0.6 else 0
            tone = damp(tone, onset + stop + late_open + rng.normal(0, 0.004) - at, release)
        add(canvas, tone, at, db(level))
    if how["sympathy"]:
        for s in [s for s in range(6) if played[s] is None and s != how["dead"]]:
            related = any(abs(p - grips.OPEN[s]) in (0, 5, 7, 12, 19, 24) for p in grips.pitches(played))
            if rng.random() < (0.75 if related else 0.35):
                tone, _ = guitars.note(guitar, grips.OPEN[s], tune[s], length, rng)
                tone = tone * (1 - np.exp(-np.arange(len(tone)) / (rng.uniform(0.02, 0.12) * RATE)))
                top = -20 if related else -26
                if end_s is not None:
                    tone = damp(tone, end_s + rng.uniform(0, 0.2), 0.1)
                add(canvas, tone, onset, db(rng.uniform(-45, top)))
    if stop is not None and rng.random() < 0.45:
        add(canvas, thump(rng), onset + stop + rng.uniform(-0.01, 0.01), db(rng.uniform(-22, 0)))
    if how["thump"]:
        add(canvas, thump(rng), onset + rng.uniform(0, 0.01), db(rng.uniform(-26, -4)))
    if rng.random() < 0.12:
        add(canvas, scrape(rng), onset - rng.uniform(0.02, 0.2), db(rng.uniform(-24, -4)))


def finish(rng, canvas, where, sound, beats=()):
    """Metronome, room, microphone, noise, sound card; fills in `sound`, the conditions."""
    for at in beats:
        add(canvas, sound["tick"], at, 3 * db(sound["tick_db"]))
    sound.pop("tick", None), sound.pop("tick_db", None)
    if rng.random() < 0.5:
        canvas = sosfilt(body(rng), canvas)
    if rng.random() < 0.5:
        sound["room"] = round(rng.uniform(0.15, 0.6), 2)
        canvas = room(rng, canvas, sound["room"])
    sound["mic"] = grips.pick(rng, ["direct", "mic", "laptop"], [4, 3, 3])
    canvas = sosfilt(microphone(rng, sound["mic"]), canvas)
    level = max([np.sqrt(np.mean(canvas[int(w * RATE):int((w + 0.25) * RATE)] ** 2)) for w in where] + [1e-3])
    if sound.get("nothing"):
        level = max(level, 1.0)
    sound["snr_db"] = int(rng.uniform(20, 63))
    kind = grips.pick(rng, ["white", "pink", "room"], [1, 1.2, 1.5])
    canvas = canvas + level * db(-sound["snr_db"]) * noise(rng, kind, len(canvas))
    if rng.random() < 0.25:
        sound["hum_hz"] = int(grips.pick(rng, [50, 60]))
        canvas = canvas + level * db(rng.uniform(-60, -22)) * hum(rng, len(canvas), sound["hum_hz"])
    peak = np.abs(canvas).max() + 1e-9
    if rng.random() < 0.07:
        sound["overdriven"], drive = True, db(rng.uniform(-3, 14))
        canvas = np.tanh(canvas / peak * drive) / np.tanh(drive) * peak
    if rng.random() < 0.06:
        sound["clipped"], limit = True, peak * db(-rng.uniform(1, 9))
        canvas = np.clip(canvas, -limit, limit) / limit * peak
    sound["peak_db"] = -int(rng.uniform(0, 24) if rng.random() < 0.85 else rng.uniform(0, 41))
    rate = int(grips.pick(rng, [44100, 48000, 22050, 16000, 96000], [68, 25, 3, 2.5, 1.5]))
    out = at_rate(canvas, rate)
    out = out / (np.abs(out).max() + 1e-9) * db(sound["peak_db"]) * 0.999
    if rng.random() < 0.06:
        sound["dc"] = round(float(rng.uniform(-0.05, 0.05)), 3)
        out = np.clip(out + sound["dc"], -1, 1 - 2 ** -15)
    return out, rate


def before(rng, canvas, guitars, guitar, onset, tune):
    """The chord before, damped at the change, or some of its strings dying away under the new one."""
    grip = grips.draw(rng)
    how = stroke(rng) | {"short_s": None, "sympathy": False}
    start = onset - rng.uniform(0.24, 0.7)
    under = np.zeros_like(canvas)
    gap = onset - start + (rng.uniform(-0.06, 0.015) if rng.random() < 0.6 else 0)
    if rng.random() < 0.3:  # slowly
        strum(under, guitars, guitar, rng, grip, start, tune, how)
        under = damp(under, onset - rng.uniform(0, 0.03), rng.uniform(0.08, 0.25))
    else:
        strum(under, guitars, guitar, rng, grip, start, tune, how, gap)
    canvas += db(rng.uniform(-8, 2)) * under

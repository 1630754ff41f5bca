"""How strums are played, and what becomes of them on the way to the sound card."""
import numpy as np
from scipy.signal import lfilter, sosfilt

import effects
import grips
from mix import RATE, add, at_rate, body, damp, db, hum, microphone, noise, room, scrape, shelf, thump


slow_hands = 0.0    # share of the strums that are raked, as in a ballad
with_effects = 0.0  # share of the takes with reverberation and the like in the amplifier


def stroke(rng, beat_s=None):
    """How one strum is played; beat_s: in a walk, to the next one."""
    spread = rng.uniform(0.005, 0.03 if beat_s else 0.045) if rng.random() < 0.85 else rng.uniform(0, 0.06)
    if slow_hands and rng.random() < slow_hands:
        spread = rng.uniform(0.06, min(0.2, 0.3 * (beat_s or 1)))
    return {"spread": spread, "down": rng.random() < 0.82, "loud_db": rng.uniform(2, 4) if rng.random() < 0.85 else 5.5,
            "short_s": rng.uniform(0.12, 0.35) + max(0.0, spread - 0.06) if rng.random() < 0.42 else None,
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


def in_sympathy(rng, struck, open_hz, coupling_db):
    """What a free string makes of the others' sound at the bridge: each of its partials is a resonator that the struck strings drive, so those that lie on
    partials of theirs grow for as long as these sound, and the others hold what the attack's shock gave them (Fletcher and Rossing 1998, The Physics of Musical
    Instruments, on strings coupled by a bridge; the decay times are a guitar's, 0.3 to 2 s for the ground tone and shorter upwards; from memory).
    coupling_db: a partial's level against the driving one once it has grown to the full, which takes it several decay times."""
    out, stiffness, lasting_s = np.zeros(len(struck)), 10 ** rng.uniform(-4.7, -3.7), 10 ** rng.uniform(-0.5, 0.3)
    for k in range(1, 15):
        hz = k * open_hz * np.sqrt(1 + stiffness * k * k)
        if hz > 5000:
            break
        turn, keep = 2 * np.pi * hz / RATE, np.exp(-(1 + 0.12 * (k - 1)) / (lasting_s * RATE))
        out += db(rng.normal(0, 3)) * lfilter([2 * np.sin(turn) * (1 - keep)], [1, -2 * keep * np.cos(turn), keep * keep], struck)
    return (db(coupling_db) * out).astype(np.float32)


def strum(canvas, guitars, guitar, rng, played, onset, tune, how, end_s=None):
    """Adds the strings of a grip; end_s: when all are damped, after the onset."""
    length = len(canvas) / RATE - onset
    stop = min([s for s in (how["short_s"], end_s) if s is not None], default=None)
    release = rng.uniform(0.012, 0.045)
    strings, own = [s for s in range(6) if played[s] is not None or s == how["dead"]], np.zeros_like(canvas)
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
                how["soft_early_s"] = rng.uniform(0.05, 0.3)  # it was ringing already
                at -= how["soft_early_s"]
        if stop is not None and s != how["dead"]:
            late_open = rng.uniform(0, 0.3) if s == how["soft"] and rng.random() < 0.6 else 0
            tone = damp(tone, onset + stop + late_open + rng.normal(0, 0.004) - at, release)
        add(own, tone, at, db(level))
    if how["sympathy"]:
        first = max(0, int((onset - 0.02) * RATE))
        last = len(canvas) if end_s is None else min(len(canvas), int((onset + end_s + 0.6) * RATE))
        struck = own[first:last] * 1.0
        for s in [s for s in range(6) if played[s] is None and s != how["dead"]]:
            if rng.random() < 0.35:  # touched by the hand
                continue
            if rng.random() < 0.5:
                tone = in_sympathy(rng, struck, 440 * 2 ** ((grips.OPEN[s] + tune[s] / 100 - 69) / 12), rng.uniform(-26, -4))
                at, level = first / RATE, 0
            else:  # brushed, or shaken awake as a whole, and so softly that it is no fault
                tone, lead = guitars.note(guitar, grips.OPEN[s], tune[s], length, rng)
                if rng.random() < 0.7:
                    tone = tone * (1 - np.exp(-np.arange(len(tone)) / (rng.uniform(0.02, 0.12) * RATE))).astype(np.float32)
                at, level = onset + rng.uniform(0, how["spread"]) - lead, rng.uniform(-45, -24)
            if end_s is not None:
                tone = damp(tone, onset + end_s + rng.uniform(0, 0.2) - at, 0.1)
            add(own, tone, at, db(level))
    canvas += own
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
    if with_effects and rng.random() < with_effects:
        sound["effect"], canvas = effects.some_effect(rng, canvas)
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

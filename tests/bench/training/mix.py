"""Strings into a strum, a strum into a room, a microphone and a sound card. Everything at 44.1 kHz until the end."""
import json

import numpy as np
from scipy.signal import butter, fftconvolve, lfilter, resample_poly, sosfilt

RATE = 44100
LEAD_S = 0.005  # of a bank's note, before its attack


def db(x):
    return 10 ** (x / 20)


class Guitars:
    """The note banks, read as needed."""

    def __init__(self, folder):
        self.folder, self.open = folder, {}
        self.stretched = 0  # semitones: notes are taken from so much higher up and slowed down (below 0: from below, sped up), as on a larger (smaller) guitar
        self.table = json.loads((folder / "guitars.json").read_text())

    def note(self, guitar, pitch, cents, seconds, rng):
        """A note of the guitar at this pitch and deviation, its level evened out."""
        entry = self.table[guitar]
        layer = int(rng.integers(len(entry["cents"])))
        key = guitar, layer
        if key not in self.open:
            self.open[key] = np.load(self.folder / guitar / f"{layer}.npy", mmap_mode="r")
        distance = np.abs(np.array(entry["notes"]) - pitch - self.stretched)
        if rng.random() < 0.25:  # another string's note, stretched by a semitone
            distance = np.where(distance == 1, -1, distance)
        row = int(np.argmin(distance + rng.random(len(distance)) * 0.1))
        ratio = 2 ** ((pitch - entry["notes"][row] + (cents - entry["cents"][layer][row]) / 100) / 12)
        data = self.open[key][row].astype(np.float32)
        at = np.arange(int(min(seconds * RATE, (len(data) - 4) / ratio))) * ratio
        whole = at.astype(int)
        t = (at - whole).astype(np.float32)
        a, b, c, d = (data[np.maximum(whole + k, 0)] for k in (-1, 0, 1, 2))
        tone = b + 0.5 * t * (c - a + t * (2 * a - 5 * b + 4 * c - d + t * (3 * (b - c) + d - a)))
        return tone / (np.sqrt(np.mean(tone[600:10000] ** 2)) + 1e-6), LEAD_S / ratio


def add(canvas, tone, at_s, gain=1.0):
    start = int(round(at_s * RATE))
    if start < 0:
        tone, start = tone[-start:], 0
    tone = tone[:max(0, len(canvas) - start)]
    canvas[start:start + len(tone)] += gain * tone


def damp(tone, at_s, release_s):
    """Silences a tone from at_s on (in its own time)."""
    start = max(0, int(at_s * RATE))
    if start < len(tone):
        tone = tone.copy()
        tone[start:] *= np.exp(-np.arange(len(tone) - start) / (release_s / 3 * RATE)).astype(np.float32)
    return tone


def peaking(hz, gain_db, q):
    a, w = db(gain_db / 2), 2 * np.pi * hz / RATE
    alpha = np.sin(w) / (2 * q)
    b0, a0 = 1 + alpha * a, 1 + alpha / a
    return np.array([[b0, -2 * np.cos(w), 1 - alpha * a, a0, -2 * np.cos(w), 1 - alpha / a]]) / a0


def shelf(hz, gain_db):
    """A first-order high shelf as a section."""
    k, g = np.tan(np.pi * hz / RATE), db(gain_db)
    return np.array([[(g + k) / (1 + k), (k - g) / (1 + k), 0, 1, (k - 1) / (k + 1), 0]])


def microphone(rng, kind):
    """Sections for scipy's sosfilt."""
    out = [shelf(10 ** rng.uniform(2.3, 3.3), rng.normal(0, 5)), peaking(10 ** rng.uniform(1.9, 3.6), rng.normal(0, 3), 0.7)]
    if kind == "mic":
        out += [peaking(rng.uniform(85, 480), rng.uniform(1, 9), rng.uniform(1.5, 7)) for _ in range(rng.integers(2, 5))]
        out.append(butter(2, rng.uniform(40, 90), "high", fs=RATE, output="sos"))
    if kind == "laptop":
        out.append(butter(int(rng.integers(1, 4)) + 1, rng.uniform(150, 260), "high", fs=RATE, output="sos"))
        out.append(butter(2, rng.uniform(6500, 11000), "low", fs=RATE, output="sos"))
        out += [peaking(10 ** rng.uniform(2.2, 3.8), rng.uniform(-8, 8), rng.uniform(1, 6)) for _ in range(6)]
    return np.concatenate(out)


usual_bodies = 0.0  # share of the bodies whose resonances lie where most guitars have them


def body(rng):
    """Resonances of a guitar's body as sections: the air in it, its top, and one or two more. They ring for 20 to 150 ms after a pluck, and lift the
    strings' partials that lie on them (air mode near 100 Hz, top near 200: Fletcher & Rossing, The Physics of Musical Instruments, ch. 9)."""
    sections, least_db = [], 3
    modes = ((86, 128, 0.9), (160, 265, 0.9), (300, 480, 0.5), (480, 900, 0.25))
    if usual_bodies and rng.random() < usual_bodies:
        # As most guitars are built: the air near 100 Hz and the top an octave above it, where the open fifth string has its first two partials (the same chapter; ranges from memory).
        modes, least_db = ((94, 114, 1.0), (188, 226, 1.0), (300, 480, 0.5), (480, 900, 0.25)), 6
    for low, high, share in modes:
        if rng.random() < share:
            gain_db, ringing = rng.uniform(least_db, 20 if high < 300 else 12), rng.uniform(8, 45)
            sections.append(peaking(rng.uniform(low, high), gain_db, ringing / 10 ** (gain_db / 40)))
    return np.concatenate(sections) if sections else np.array([[1, 0, 0, 1, 0, 0]], float)


def room(rng, sound, seconds):
    size = int(seconds * RATE)
    t = np.arange(size) / RATE
    tail = rng.normal(0, 1, size) * np.exp(-6.9 * t / seconds)
    tail = lfilter([1 - (p := rng.uniform(0.2, 0.8))], [1, -p], tail)
    tail[:int(rng.uniform(0.002, 0.02) * RATE)] = 0
    tail /= np.linalg.norm(tail)
    for _ in range(4):
        tail[int(rng.uniform(0.001, 0.03) * RATE)] += rng.uniform(-0.5, 0.5)
    return sound + db(rng.uniform(-20, -4)) * fftconvolve(sound, tail)[:len(sound)].astype(np.float32)


NOISES = {}


def noise(rng, kind, size):
    if not NOISES:
        made = np.random.default_rng(5)
        white = made.normal(0, 1, RATE * 40)
        NOISES["white"] = white
        spectrum = np.fft.rfft(made.normal(0, 1, RATE * 40))
        hz = np.fft.rfftfreq(RATE * 40, 1 / RATE) + 20
        NOISES["pink"] = np.fft.irfft(spectrum / np.sqrt(hz))
        NOISES["room"] = np.fft.irfft(spectrum / hz * (1 + 8 * np.exp(-((hz - 120) / 60) ** 2) + 0.02 * hz / 300))
        for k in NOISES:
            NOISES[k] = (NOISES[k] / NOISES[k].std()).astype(np.float32)
    start = int(rng.integers(0, RATE * 40 - size))
    return NOISES[kind][start:start + size]


def hum(rng, size, mains):
    t = np.arange(size) / RATE
    parts = sum(rng.normal(0, 1) * k ** -rng.uniform(0.2, 1.5) * np.sin(2 * np.pi * mains * k * t + rng.uniform(0, 7))
                for k in range(1, 11))
    return parts / (parts.std() + 1e-9)


def tick(rng):
    """A metronome's sound, its loudest sample 1."""
    size = int(rng.uniform(0.008, 0.06) * RATE)
    t = np.arange(size) / RATE
    kind, hz = rng.integers(4), 10 ** rng.uniform(2.6, 3.7)
    if kind == 0:
        tone = rng.normal(0, 1, size) * np.exp(-t / 0.004)
    elif kind == 1:
        tone = np.sin(2 * np.pi * hz * t) * np.hanning(size)
    elif kind == 2:
        tone = (np.sin(2 * np.pi * hz * t) + 0.6 * np.sin(2 * np.pi * hz * 2.71 * t)) * np.exp(-t / 0.012)
    else:
        tone = np.sign(np.sin(2 * np.pi * hz * t)) * np.exp(-t / 0.006)
    return tone / (np.abs(tone).max() + 1e-9)


def thump(rng):
    t = np.arange(int(0.25 * RATE)) / RATE
    tone = sum(rng.uniform(0.2, 1) * np.sin(2 * np.pi * rng.uniform(55, 320) * t + rng.uniform(0, 7))
               * np.exp(-t / rng.uniform(0.012, 0.07)) for _ in range(4))
    tone += rng.uniform(0, 0.5) * lfilter([0.1], [1, -0.9], rng.normal(0, 1, len(t))) * np.exp(-t / 0.02)
    tone[:30] *= np.linspace(0, 1, 30)
    return tone / np.abs(tone).max()


def scrape(rng):
    """A pick along a wound string, or a finger's squeak: noise through a gliding narrow band."""
    size = int(rng.uniform(0.04, 0.25) * RATE)
    hz = 10 ** rng.uniform(2.7, 3.6) * 2 ** (np.linspace(0, rng.normal(0, 0.6), size))
    carrier = np.sin(2 * np.pi * np.cumsum(hz) / RATE)
    rough = lfilter([0.2], [1, -0.8], rng.normal(0, 1, size))
    tone = (carrier * rng.uniform(0, 0.4) + rough * carrier + 0.3 * rng.normal(0, 1, size)) * np.hanning(size)
    return tone / np.abs(tone).max()


def speech(rng, seconds=0.8):
    """Voice-like: a gliding pulse train through moving formants, with breath."""
    size = int(seconds * RATE)
    pitch = rng.uniform(85, 240) * 2 ** (np.cumsum(rng.normal(0, 1, size)) / RATE ** 0.5 * 0.25)
    pulses = np.diff(np.floor(np.cumsum(pitch) / RATE), prepend=0) + 0.02 * rng.normal(0, 1, size)
    voice = np.zeros(size)
    for start in range(0, size, size // 4 + 1):
        part = slice(start, min(size, start + size // 4 + 1))
        filtered = pulses[part]
        for low, high in ((250, 900), (800, 2300), (2200, 3200)):
            filtered = filtered + 2 * sosfilt(peaking(rng.uniform(low, high), 24, 8), filtered)
        voice[part] = filtered * np.hanning(part.stop - part.start) ** 0.5
    return voice / np.abs(voice).max()


def at_rate(sound, rate):
    up, down = {44100: (1, 1), 48000: (160, 147), 22050: (1, 2), 16000: (160, 441), 96000: (320, 147)}[rate]
    return sound if up == down else resample_poly(sound, up, down)

"""What stands between a guitar and its amplifier, or in it: reverberation, compression, chorus, tremolo, echo. Ranges are common practice, no source."""
import numpy as np
from scipy.signal import butter, fftconvolve, sosfilt

from mix import RATE, db

KINDS = {"reverb": 0.45, "compressor": 0.2, "chorus": 0.15, "tremolo": 0.1, "echo": 0.1}


def reverb(rng, sound):
    """Springs, a plate or a hall: 0.6 to 2.5 s to -60 dB, the tail 16 to 4 dB below."""
    seconds = 0.6 * (2.5 / 0.6) ** rng.random()
    size = int(seconds * RATE)
    tail = rng.normal(0, 1, size) * np.exp(-6.9 * np.arange(size) / size)
    tail = sosfilt(butter(1, (rng.uniform(80, 350), rng.uniform(2500, 7000)), "bandpass", fs=RATE, output="sos"), tail)
    tail[:int(rng.uniform(0, 0.035) * RATE)] = 0
    return sound + db(rng.uniform(-16, -4)) * fftconvolve(sound, tail / np.linalg.norm(tail))[:len(sound)]


def compressor(rng, sound):
    """Twofold to eightfold above a threshold 8 to 30 dB below the loudest."""
    step = RATE // 1000
    level = np.abs(np.pad(sound, (0, -len(sound) % step))).reshape(-1, step).max(1)
    rise, fall = (1 - np.exp(-0.001 / s) for s in (10 ** rng.uniform(-2.7, -1.7), 10 ** rng.uniform(-1.3, -0.4)))
    followed, now = np.empty(len(level)), 0.0
    for i, value in enumerate(level):
        now += (value - now) * (rise if value > now else fall)
        followed[i] = now
    over_db = np.maximum(0, 20 * np.log10(followed / (level.max() + 1e-9) + 1e-6) + rng.uniform(8, 30))
    gain_db = -over_db * (1 - 1 / rng.uniform(2, 8))
    return sound * db(np.interp(np.arange(len(sound)), np.arange(len(level)) * step, gain_db))


def swaying(sound, delay_s):
    """The sound later by delay_s, which changes."""
    place = np.arange(len(sound)) - delay_s * RATE
    return np.where(place > 0, np.interp(place, np.arange(len(sound)), sound), 0.0)


def chorus(rng, sound):
    """One to three copies, 8 to 25 ms late, whose lateness sways by 0.3 to 2.5 ms at 0.2 to 1.5 Hz."""
    t, out = np.arange(len(sound)) / RATE, sound.copy()
    for _ in range(int(rng.integers(1, 4))):
        late = rng.uniform(0.008, 0.025) + rng.uniform(0.0003, 0.0025) * np.sin(2 * np.pi * (rng.uniform(0.2, 1.5) * t + rng.random()))
        out += rng.uniform(0.2, 0.6) * swaying(sound, late)
    return out


def tremolo(rng, sound):
    """The level sways by 2 to 9 dB, three to seven times a second."""
    t = np.arange(len(sound)) / RATE
    return sound * db(-rng.uniform(1, 4.5) * (1 + np.sin(2 * np.pi * (rng.uniform(3, 7) * t + rng.random()))))


def echo(rng, sound):
    """Repeats after 0.09 to 0.5 s, 24 to 10 dB below."""
    late, gain, again = int(rng.uniform(0.09, 0.5) * RATE), db(rng.uniform(-24, -10)), rng.uniform(0, 0.4)
    out = sound.copy()
    for k in range(1, min(5, (len(sound) - 1) // late) + 1):
        out[k * late:] += gain * again ** (k - 1) * sound[:-k * late]
    return out


def some_effect(rng, sound):
    """(its name, the sound with it)"""
    name = str(rng.choice(list(KINDS), p=list(KINDS.values())))
    return name, globals()[name](rng, sound).astype(np.float32)

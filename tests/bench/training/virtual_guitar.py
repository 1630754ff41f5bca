"""Virtual guitars: additive stiff strings (Fletcher 1964) through a random pick, pickup and body, drawn from a seed."""
import numpy as np
from scipy.signal import lfilter

LONGEST_S = 1.5


def draw(rng):
    """One guitar: everything that stays the same from note to note."""
    soft = rng.random() < 0.35  # nylon-like: quick decay, little stiffness
    return {
        "soft": soft,
        "stiffness": 10 ** rng.uniform(-5, -4.3 if soft else -3.75),      # of a middle string
        "pick": rng.uniform(0.06, 0.33),                                  # along the string, from the bridge
        "pickup": rng.uniform(0.04, 0.28) if not soft and rng.random() < 0.6 else None,
        "tilt": rng.uniform(0.35, 1.9),                                   # amplitude falls as n ** -tilt
        "thin": rng.uniform(0, 9) if rng.random() < 0.5 else 0.0,         # dB taken from what lies below 250 Hz
        "ring_s": 10 ** (rng.uniform(-0.55, 0.1) if soft else rng.uniform(-0.2, 0.75)),  # 60 Hz to 300 Hz, 1/e
        "damping": rng.uniform(0.4, 1.6),                                 # how much quicker high partials decay
        "ripple_db": rng.uniform(1, 4.5),
        "beating_cents": abs(rng.normal(0, 1.2)),
        "second": rng.uniform(0.1, 0.6),
        "glide_cents": abs(rng.normal(0, 4)),
        "noise": 10 ** (rng.uniform(-38, -12) / 20),
        "thump": 10 ** (rng.uniform(-40, -14) / 20),
        "body": [(rng.uniform(85, 500), rng.uniform(8, 40), rng.uniform(2, 10)) for _ in range(rng.integers(0, 7))],
        "wave": rng.normal(0, 1, 6) * rng.uniform(0, 3.5),                # a smooth random response in dB
        "top_hz": 10 ** rng.uniform(3.3, 4.0),
        "out_of_tune": rng.uniform(0, 3),
    }


def response(guitar, hz):
    """The body's or pickup's gain at each frequency."""
    octave = np.log2(hz / 80)
    db = sum(a * np.cos(np.pi * k * octave / 7 + a) for k, a in enumerate(guitar["wave"], 1))
    for centre, width, gain in guitar["body"]:
        db = db + gain / (1 + ((hz - centre) / width) ** 2)
    db = db - guitar["thin"] / (1 + (hz / 250) ** 3)
    return 10 ** (db / 20) / np.sqrt(1 + (hz / guitar["top_hz"]) ** 4)


def string_of(note, rng):
    """A string on which this note may lie: its open note, and its stiffness against a middle string's."""
    opens = [(40, 1.6), (45, 1.0), (50, 0.8), (55, 1.0), (59, 0.7), (64, 0.5)]
    fitting = [s for s in opens if s[0] <= note <= s[0] + 15] or [opens[0] if note < 60 else opens[-1]]
    return fitting[rng.integers(len(fitting))]


def pluck(guitar, note, hard, rng, rate, lead_s):
    size, lead = int(LONGEST_S * rate), int(lead_s * rate)
    off = rng.normal(0, guitar["out_of_tune"])
    f0 = 440 * 2 ** ((note - 69 + off / 100) / 12)
    opened, stiff = string_of(note, rng)
    length = 2 ** ((opened - note) / 12)
    b = np.clip(guitar["stiffness"] * stiff / length ** 2 * 0.8, 5e-6, 4e-4)
    n = np.arange(1, 71)
    hz = n * f0 * np.sqrt(1 + b * n * n)
    n, hz = n[hz < 9000], hz[hz < 9000]
    level = n ** -(guitar["tilt"] + (0.25 if not hard else 0.0))
    level *= np.abs(np.sin(np.pi * n * min(0.5, guitar["pick"] / length))) + 0.03
    if guitar["pickup"]:
        level *= np.abs(np.sin(np.pi * n * min(0.5, guitar["pickup"] / length))) + 0.03
    level *= response(guitar, hz) * 10 ** (rng.normal(0, guitar["ripple_db"], len(n)) / 20)
    ring = guitar["ring_s"] * (200 / f0) ** 0.35 / (1 + (hz / 900) ** guitar["damping"]) * 10 ** rng.normal(0, 0.1, len(n))
    glide = guitar["glide_cents"] * rng.uniform(0.3, 1.2) * (1.4 if hard else 0.7)
    tone = np.zeros(size)
    beat = 2 ** (guitar["beating_cents"] * rng.normal(0, 1) / 1200)
    impulse = np.zeros(size - lead)
    impulse[0] = 1.0
    for f, a, d in zip(hz, level, ring):
        for g, part, last in ((1.0, 1.0, 1.0), (beat, guitar["second"], rng.uniform(0.8, 2.5))):
            w, r = 2 * np.pi * f * g / rate, np.exp(-1 / (rate * max(0.02, d * last)))
            phase = rng.uniform(0, 2 * np.pi) if part < 1 else rng.normal(0, 0.6)
            # the impulse response of this section is a damped cosine
            tone[lead:] += a * part * lfilter([np.cos(phase), -r * np.cos(w - phase)], [1, -2 * r * np.cos(w), r * r], impulse)
    if glide > 0.5:  # the pitch starts sharp and settles
        t = np.arange(size) / rate
        shift = (2 ** (glide / 1200) - 1) * 0.06 * (1 - np.exp(-np.maximum(t - lead_s, 0) / 0.06))
        tone = np.interp(t + shift, t, tone)
    peak = np.abs(tone).max() + 1e-9
    noise_s = rng.uniform(0.004, 0.025)
    scrape = rng.normal(0, 1, size - lead) * np.exp(-np.arange(size - lead) / (noise_s * rate))
    tone[lead:] += peak * guitar["noise"] * lfilter([1, -rng.uniform(-0.5, 0.95)], [1], scrape)
    t = np.arange(size - lead) / rate
    knock = np.exp(-t / rng.uniform(0.015, 0.07)) * np.sin(2 * np.pi * rng.uniform(80, 220) * t)
    tone[lead:] += peak * guitar["thump"] * knock
    rise = int(rng.uniform(0.0003, 0.003) * rate)
    tone[lead:lead + rise] *= np.linspace(0, 1, rise)
    tone[-2205:] *= np.linspace(1, 0, 2205)
    return tone, off


def bank(folder, seed, notes, rate, lead_s):
    rng = np.random.default_rng(7000 + seed)
    guitar, cents = draw(rng), []
    folder.mkdir(parents=True, exist_ok=True)
    for layer in range(1 if seed % 2 else 2):
        plucked = [pluck(guitar, n, layer, rng, rate, lead_s) for n in notes]
        rows = np.stack([t / np.abs(t).max() * 32000 for t, _ in plucked])
        np.save(folder / f"{layer}.npy", np.round(rows).astype(np.int16))
        cents.append([round(off, 1) for _, off in plucked])
    print(folder.name, {k: np.round(v, 5).tolist() if not isinstance(v, (list, type(None), bool)) else v
                        for k, v in guitar.items() if k not in ("wave", "body")}, flush=True)
    return {"kind": "virtual", "notes": list(notes), "cents": cents}

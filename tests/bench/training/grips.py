"""Grips to strum and the near misses to ask for. A grip is a tuple of six frets, string 6 first, None a mute."""
import itertools

OPEN = (40, 45, 50, 55, 59, 64)
LAST_FRET = 15
# A note this far above another lies on one of its partials: it cannot be heard apart.
HIDDEN = {0, 12, 19, 24, 28, 31, 34, 36, 38, 40}
# An open string within a tone of a note that sounds is the hardest to hear apart, so it is drawn more often than chance would.
NEAR_SHARE = 0.4
FAMILIES = ((0, 4, 7, 9), (0, 3, 7, 9), (0, 4, 7, 10), (0, 4, 6, 10))
OTHERS = ((0, 3, 6, 9), (0, 4, 7, 11), (0, 3, 6, 10), (0, 3, 7, 11), (0, 4, 8, 10), (0, 5, 7, 10))
BARRES = ("022100", "022000", "020100", "020000", "x02220", "x02210", "x02020", "x02010", "x32010", "x32310", "320003",
          "320001", "xx0232", "xx0231", "xx0212", "x02120", "022130", "x3545x", "x35343", "133211", "131211", "133111",
          "x13331", "x13321", "x13131", "355433", "353433", "577555", "x46654", "x57775", "x7999x", "x5x555", "5x5555")
SETS = {"shell": (0, 2, 3), "shell5": (1, 3, 4), "drop3": (0, 2, 3, 4), "drop3_5": (1, 3, 4, 5),
        "drop2": (2, 3, 4, 5), "drop2_5": (1, 2, 3, 4)}
ORDER = {"shell": (0, 3, 1), "shell5": (0, 3, 1), "drop3": (0, 3, 1, 2), "drop3_5": (0, 3, 1, 2),
         "drop2": (0, 2, 3, 1), "drop2_5": (0, 2, 3, 1)}


def name(grip):
    marks = ["x" if f is None else str(f) for f in grip]
    return ("-" if any(len(m) > 1 for m in marks) else "").join(marks)


def parse(text):
    return tuple(None if m == "x" else int(m) for m in (text.split("-") if "-" in text else text))


def pitches(grip):
    return [o + f for o, f in zip(OPEN, grip) if f is not None]


def identity(grip):
    """What makes a grip right: its pitch classes and the pitch class of its bass."""
    sounding = pitches(grip)
    return frozenset(p % 12 for p in sounding), min(sounding) % 12 if sounding else None


def same(a, b):
    """Of two single notes the octave counts too."""
    alone_both = len(pitches(a)) == len(pitches(b)) == 1
    return pitches(a) == pitches(b) if alone_both else identity(a) == identity(b)


def playable(grip, span=5):
    frets = [f for f in grip if f is not None]
    fretted = [f for f in frets if f > 0]
    return bool(frets) and min(frets) >= 0 and max(frets) <= LAST_FRET and (
        not fretted or max(fretted) - min(fretted) <= span)


def hidden(note, others):
    return any(note - o in HIDDEN for o in others)


def voiced(kind, chord, root, inversion):
    """All places of a chord's inversion in one voicing; () where it falls off the neck."""
    tones = [(root + chord[(inversion + k) % 4]) % 12 for k in ORDER[kind]]
    for bass in range(tones[0], 70, 12):
        rising = [bass]
        for tone in tones[1:]:
            rising.append(rising[-1] + ((tone - rising[-1] - 1) % 12) + 1)
        grip = [None] * 6
        for string, pitch in zip(SETS[kind], rising):
            grip[string] = pitch - OPEN[string]
        if playable(grip, 4):
            yield tuple(grip)


def catalogue():
    found = {kind: set() for kind in SETS}
    for kind, chord, root, inversion in itertools.product(SETS, FAMILIES + OTHERS, range(12), range(4)):
        for grip in voiced(kind, chord, root, inversion):
            found[kind].add(grip)
    return {kind: sorted(grips, key=name) for kind, grips in found.items()}


def by_pitch_classes():
    """Every compact three- and four-note grip, by its pitch classes: the source of other basses."""
    index = {}
    for kind in SETS:
        strings = SETS[kind]
        for low in range(0, LAST_FRET - 2):
            for frets in itertools.product(range(low, low + 4), repeat=len(strings)):
                if min(frets) != low or max(frets) > LAST_FRET:
                    continue
                grip = [None] * 6
                for string, fret in zip(strings, frets):
                    grip[string] = fret
                index.setdefault(identity(grip)[0], []).append(tuple(grip))
    return index


CATALOGUE = catalogue()
INDEX = by_pitch_classes()


def pick(rng, items, weights=None):
    if weights is None:
        return items[int(rng.integers(len(items)))]
    total = sum(weights)
    return items[int(rng.choice(len(items), p=[w / total for w in weights]))]


single_notes = 0.0  # share of the draws that are single notes, beside those drawn anyway


def alone(string, fret):
    return tuple(fret if s == string else None for s in range(6))


def scale_on_a_string(rng):
    """The notes of a sixth-diminished scale on one string, upwards."""
    family, root, string = pick(rng, list(FAMILIES)), int(rng.integers(12)), int(rng.integers(6))
    notes = {(root + n) % 12 for n in family} | {(root - 1 + n) % 12 for n in (0, 3, 6, 9)}
    return [alone(string, fret) for fret in range(16) if (OPEN[string] + fret) % 12 in notes]


def draw(rng):
    if single_notes and rng.random() < single_notes:
        return alone(int(rng.integers(6)), int(rng.integers(16)))
    kind = pick(rng, ["shell", "shell5", "drop3", "drop3_5", "drop2", "drop2_5", "shape", "barre", "one", "two"],
                [54, 7, 8, 5, 6, 3, 7, 6, 2, 2])
    if kind in CATALOGUE:
        return pick(rng, CATALOGUE[kind])
    if kind == "barre":
        shape = parse(pick(rng, BARRES))
        if 0 in shape:
            return shape
        up = int(rng.integers(1 - min(f for f in shape if f is not None), 8))
        moved = shift(shape, up)
        return moved if playable(moved) else shape
    count = {"shape": 3 + int(rng.random() < 0.4), "one": 1, "two": 2}[kind]
    low = int(rng.integers(0, 12))
    while True:
        strings = (0, 2, 3) if kind == "shape" and rng.random() < 0.5 else rng.choice(6, count, replace=False)
        grip = [None] * 6
        for s in strings:
            grip[s] = low + int(rng.integers(0, 4))
        if len(identity(grip)[0]) == len(strings):
            return tuple(grip)


def shift(grip, by):
    return tuple(None if f is None else f + by for f in grip)


def step(rng, most=3):
    return int(pick(rng, [1, 2, 3][:most], [6, 2.5, 1.5][:most]) * pick(rng, [-1, 1]))


# Near misses: each gives (asked, string, frets) for what is played, or None.

def wrong_note(rng, played):
    strings = [s for s in range(6) if played[s] is not None]
    s, by = pick(rng, strings), step(rng)
    asked = tuple(f - by if k == s else f for k, f in enumerate(played))
    return (asked, 6 - s, by) if playable(asked, 7) else None


def wrong_bass(rng, played):
    options = [g for g in INDEX.get(identity(played)[0], []) if identity(g)[1] != identity(played)[1]]
    if not options:
        return None
    low = min(f for f in played if f is not None)
    near = [g for g in options if abs(min(f for f in g if f is not None) - low) <= 4]
    return pick(rng, near if near and rng.random() < 0.6 else options), 0, 0


def missing_note(rng, played):
    free = [s for s in range(6) if played[s] is None]
    fretted = [f for f in played if f]
    if not free or not fretted:
        return None
    s, fret = pick(rng, free), int(rng.integers(max(0, max(fretted) - 3), min(fretted) + 4))
    note = OPEN[s] + fret
    if note % 12 in identity(played)[0] and note > min(pitches(played)) or hidden(note, pitches(played)):
        return None
    return tuple(fret if k == s else f for k, f in enumerate(played)), 6 - s, 0


def shifted(rng, played):
    by = step(rng)
    asked = shift(played, -by)
    return (asked, 0, by) if playable(asked, 9) else None


MISSES = {"wrong_note": wrong_note, "wrong_bass": wrong_bass, "missing_note": missing_note, "shifted": shifted}


def octave_off(rng, played):
    """As the near misses, of a single note: asked an octave lower or higher, on any string."""
    by = int(pick(rng, [-12, 12]))
    asked = [alone(s, pitches(played)[0] - by - OPEN[s]) for s in range(6) if 0 <= pitches(played)[0] - by - OPEN[s] <= LAST_FRET]
    if not asked:
        return None
    grip = pick(rng, asked)
    return "wrong_note", grip, 6 - [f is not None for f in grip].index(True), by


def near_miss(rng, played, weights=(48, 22, 16, 14)):
    """(kind, asked, string, frets), certainly wrong by pitch classes or bass."""
    if single_notes and len(pitches(played)) == 1 and rng.random() < 0.3 and (made := octave_off(rng, played)):
        return made
    for _ in range(40):
        kind = pick(rng, list(MISSES), weights)
        made = MISSES[kind](rng, played)
        if made and playable(made[0], 9) and not same(made[0], played):
            return (kind, *made)
    return None


def lose_a_string(rng, asked):
    """(played, string) with one string of the grip silent and its note not hidden, or None."""
    strings = [s for s in range(6) if asked[s] is not None]
    s = pick(rng, strings)
    played = tuple(None if k == s else f for k, f in enumerate(asked))
    if len(strings) < 2 or same(asked, played) or hidden(OPEN[s] + asked[s], pitches(played)):
        return None
    return played, s


def add_open_string(rng, asked, doubling=False):
    """(played, string): an unasked open string rings. As a doubling, it only doubles a note: no fault."""
    free = [s for s in range(6) if asked[s] is None]
    if not free:
        return None
    near = [s for s in free if any(abs(p - OPEN[s]) <= 2 for p in pitches(asked))]
    s = pick(rng, near if near and rng.random() < NEAR_SHARE else free)
    played = tuple(0 if k == s else f for k, f in enumerate(asked))
    if same(asked, played) != doubling or (not doubling and hidden(OPEN[s], pitches(asked))):
        return None
    return played, s

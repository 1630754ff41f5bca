// The grips that may stand on a beat: steps of the chord's scale, approaches into the next chord, or one chosen by hand.
#pragma once

#include <array>
#include <cstdint>
#include <string>
#include <vector>

#include "fretboard/grip.h"
#include "theory/family.h"

namespace gripline {

/// Rules of walking that a line may have to break where the neck leaves nothing else; each is then said.
enum class Broken { none, other_side, other_quality, no_approach, starts_on_passing, stands_still, not_by_step };

/// What sounds on a beat.
enum class Sounds { chord, passing, approach };

struct Candidate {
    Grip grip;
    Sounds sounds = Sounds::chord;
    std::string chord;               ///< what it sounds as: "C7", "Bdim7"; an approach "Gb7"
    std::string called;              ///< a slid approach: the target's symbol a semitone away, "Bm7"; else empty
    std::vector<SpelledNote> notes;  ///< lowest string first
    int bass = 0;                    ///< MIDI number of the lowest note
    int hand = 0;                    ///< the lowest fretted fret, 0 when every string is open
    int stretch = 0;
    int set = 0;                     ///< index of the string set
    int step = -1;                   ///< of the scale, or -1
    bool by_hand = false;            ///< locked: no rule binds its joints
    int target = -1;                 ///< an approach: the index of its target on the next beat
    From from = From::below;         ///< an approach: its side
    Broken broken = Broken::none;    ///< a rule that this choice itself breaks
};

/// How the bass gets from one scale step to another.
enum class MoveKind { none, step, third };
struct Move {
    int to = 0;
    MoveKind kind = MoveKind::none;
    bool octave = false;  ///< and an octave the other way
    bool up = false;  ///< through the scale; an octave leap downwards still walks up
};

/// All candidates of a beat; those that break no rule first.
struct Choices {
    std::vector<Candidate> all;
    int unbroken = 0;                       ///< how many of them break no rule
    std::vector<std::vector<Move>> moves;   ///< scale steps only: where each can go within its chord
    int steps = 0;                          ///< of the scale, 8 or 4; 0 when these are no scale steps
};

}  // namespace gripline

// All that the walk screen shows, as words and numbers. Whoever fills it decides; the screen only draws.
#pragma once

#include <string>
#include <vector>

#include "ui/canvas.h"
#include "ui/practice_view.h"

namespace gripline {

/// A grip large enough to be read while playing.
struct GripPanel {
    std::string chord;                   ///< the chart's: "Bb7"; empty: nothing to show
    std::string sounds;                  ///< what the grip itself is, when it is not the chord: "Bdim7"
    std::vector<std::string> strings;    ///< numbers of the strings that sound, lowest first: "6", "4", "3"
    std::vector<std::string> frets;      ///< one for each
    std::string fret_string;             ///< "8x89xx"
};

/// A beat that has been judged, at a glance.
struct BeatMark {
    std::string place;    ///< "5.3"
    std::string verdict;  ///< "right", "wrong", "unheard"
    std::string off;      ///< "+12", "-4" ms, or empty
    Tone tone = Tone::plain;
};

struct BarCell {
    std::string chords;   ///< "F7 Bb7"
    std::string section;  ///< "A", or empty
    int number = 1;
    bool current = false;
    bool in_loop = true;
    std::string marks;    ///< at the end: one character a count (kMarkRight ...)
};

/// Marks of a count in the chart at the end.
inline constexpr char kMarkRight = 'o', kMarkEarly = '<', kMarkLate = '>', kMarkWrong = 'X', kMarkUnheard = '-', kMarkNone = ' ';

struct WalkView {
    // Where we are.
    std::string title;     ///< "Blues in F"
    std::string place;     ///< "chorus 2 of 4, bar 5 of 12"
    std::string tempo;     ///< "120 a minute"
    // What to play.
    std::string now_label, next_label;  ///< "now", "beat 1"; "next"
    GripPanel now, next;
    int counts = 4;        ///< of the bar
    int count = 0;         ///< that sounds, from 1; 0: none
    bool counting_in = false;
    std::string headline;  ///< "Count in", "You play", "Listen: the tool plays", "Space starts."
    Tone tone = Tone::plain;
    // How it went.
    std::vector<BeatMark> last;         ///< oldest first
    std::string last_word;              ///< the last fault in words, or empty
    // The chart.
    std::vector<BarCell> bars;
    // How things stand.
    std::string settings;  ///< "click 2 and 4 accented, you play, bars 5-8, steps of 5"
    std::string counts_words;  ///< "right 12  wrong 3  unheard 1"
    LevelView level;
    std::string source;
    std::string warning;
    std::string notice;
    std::vector<KeyWords> keys;
};

/// The page at the end of a walk.
struct WalkEndView {
    std::string title;
    std::string headline;               ///< "48 beats: 40 right, 6 wrong, 2 unheard."
    std::vector<BarCell> bars;          ///< with marks
    std::vector<std::string> lines;     ///< faults, time, joints; one sentence each
    std::string suggestion;
    std::string foot;                   ///< keys
    int scroll = 0;                     ///< lines left out at the top, from 0
};

}  // namespace gripline

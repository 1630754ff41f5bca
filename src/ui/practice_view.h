// All that the practice screen shows, as words and numbers. Whoever fills it decides; the screen only draws.
#pragma once

#include <string>
#include <vector>

#include "practice/verdict_words.h"
#include "ui/canvas.h"

namespace gripline {

/// A key and what it does: "h", "hear it".
struct KeyWords {
    std::string key;
    std::string does;
};

/// Input level as a meter shows it.
struct LevelView {
    double level_db = -120.0;  ///< RMS, dB below full scale
    double peak_db = -120.0;
    bool known = false;        ///< false: there is no input to measure
};

struct PracticeView {
    // What is practised.
    std::string exercise;  ///< "C dominant seventh, shell, strings 6-4-3, up"
    std::string place;     ///< "step 3 of 8"
    // What is asked. All empty when there is nothing to ask.
    std::string chord;        ///< symbol: "C7"
    std::string bass;         ///< "E"
    std::string fret_string;  ///< "12-x-10-12-x-x"
    std::vector<StringHeard> strings;   ///< lowest first
    std::vector<std::string> diagram;   ///< lines of the neck diagram, equally long
    // What was heard.
    std::string headline;  ///< the verdict, or what the player should do now
    Tone tone = Tone::plain;
    bool heard = false;    ///< `strings` tells what sounded, not only what is asked
    std::vector<std::string> details;
    std::string next;      ///< what comes by itself
    // How things stand.
    std::string state;     ///< one or two words: "Listening", "Paused"
    LevelView level;
    std::string source;    ///< "microphone (2 in, 48000 Hz)", "built-in player (no sound card found)"
    std::string warning;   ///< what is wrong with the input, and what to do
    std::string notice;    ///< the answer to the last key, or empty
    std::string brief_why; ///< why this is asked, for a screen that has no room for the details; empty: nothing to tell
    std::string gestures;  ///< "Muted strums: two again, three next."; empty where they ask for nothing
    std::string counts;    ///< "right 12  wrong 3  unheard 1"
    std::vector<KeyWords> keys;
};

}  // namespace gripline

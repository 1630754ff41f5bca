// All that the quiz screen shows, as words and numbers. Whoever fills it decides; the screen only draws.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "ui/practice_view.h"

namespace gripline {

/// A line of a page of words.
struct PageLine {
    std::string text;
    Tone tone = Tone::plain;
};

struct QuizView {
    std::string title;   ///< quiz and part: "Week three: shells by name"
    std::string place;   ///< "question 3 of 16"
    // A page of words, or, when there is none, a question.
    std::vector<PageLine> page;
    std::string chord;        ///< large; empty when it is asked by ear
    std::string bass;
    std::string fret_string;  ///< only when the grip is shown
    std::vector<std::string> diagram;
    std::string headline;     ///< what to do now, or what became of it
    Tone tone = Tone::plain;
    std::vector<std::string> details;
    // The clock.
    std::optional<double> left_share;  ///< of the question's time, 0 to 1
    std::string left;         ///< "12 s"
    std::string all_left;     ///< "4:05 in all", or empty
    // How things stand.
    std::string state;        ///< "Listening", "Paused"
    LevelView level;
    std::string source, warning, notice;
    std::vector<KeyWords> keys;
};

}  // namespace gripline

// The screen of "name it": a view struct in, a canvas out.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "ui/canvas.h"
#include "ui/practice_view.h"

namespace gripline {

struct NameItView {
    std::string title;     ///< "Name it, drop 3, strings 6-4-3-2"
    std::string place;     ///< "question 5"
    std::string headline;  ///< the question, or right or wrong and what it was
    Tone tone = Tone::plain;
    std::vector<std::string> details;
    std::vector<KeyWords> choices;       ///< a key and what it answers
    std::optional<std::size_t> right;    ///< after the answer
    std::optional<std::size_t> answered;
    // What it was; empty until answered.
    std::string chord, bass, fret_string;
    std::vector<std::string> diagram;
    std::string state;     ///< "Sounding", "Your answer"
    std::string counts;    ///< "quality 4 of 6  bass degree 1 of 1"
    std::string warning, notice;
    std::vector<KeyWords> keys;
};

/// Over the whole canvas: everything from 60 x 20 on, below that what fits, down to a row of words.
void draw_name_it(Canvas& canvas, const NameItView& view);

}  // namespace gripline

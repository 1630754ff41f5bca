// The picture of a guitar's set-up: what to play now, large; what was heard of each string; advice at the end.
#pragma once

#include <string>
#include <vector>

#include "practice/guitar_set_up.h"
#include "ui/canvas.h"

namespace gripline {

struct SetUpPicture {
    SetUpView set_up;
    std::string name;                 ///< the guitar's
    std::string tuning;               ///< "E2 A2 D3 G3 B3 E4"
    double a4_hz = 440.0;
    std::string source;               ///< what is listened to
    std::string trouble;              ///< of the source; empty when all is well
    std::vector<std::string> advice;  ///< when it is done
    bool replaces = false;            ///< an older set-up of that name
};

/// Any size; small ones keep the words, what was heard, and the strings.
void draw_set_up(const SetUpPicture& picture, Canvas& canvas);

}  // namespace gripline

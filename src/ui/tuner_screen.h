// The tuner's picture: words first, then a band that drifts while the string is out and stands still when it is in tune.
#pragma once

#include <string>

#include "practice/tuner.h"
#include "ui/canvas.h"

namespace gripline {

struct TunerPicture {
    TunerView tuner;
    std::string tuning;    ///< "E2 A2 D3 G3 B3 E4"
    double a4_hz = 440.0;
    std::string source;    ///< what is listened to
    std::string trouble;   ///< of the source; empty when all is well
    std::string keys = "q quit   r forget the strings";
};

/// Any size; small ones keep the words, then the strings, then the band.
void draw_tuner(const TunerPicture& picture, Canvas& canvas);

}  // namespace gripline

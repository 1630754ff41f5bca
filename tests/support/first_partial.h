// Leaves a string's first partial and little else, for peers that measure the period of a whole sound: on stiff strings the higher partials, which are sharp, pull that up.
#pragma once

#include <cmath>
#include <numbers>
#include <vector>

namespace gripline::test {

/// Four Butterworth low-passes in a row (bilinear sections of two poles), 48 dB an octave above `edge_hz`: with the edge a tenth above the first partial the second falls by 30 dB and more.
inline std::vector<float> below(std::vector<float> frames, double edge_hz, int rate_hz) {
    const double k = std::tan(std::numbers::pi * edge_hz / rate_hz), norm = 1.0 / (1.0 + std::numbers::sqrt2 * k + k * k);
    for (int pass = 0; pass < 4; ++pass) {
        double x1 = 0.0, x2 = 0.0, y1 = 0.0, y2 = 0.0;
        for (float& frame : frames) {
            const double x = static_cast<double>(frame);
            const double y = norm * (k * k * (x + 2.0 * x1 + x2) - 2.0 * (k * k - 1.0) * y1 - (1.0 - std::numbers::sqrt2 * k + k * k) * y2);
            x2 = x1;
            x1 = x;
            y2 = y1;
            y1 = y;
            frame = static_cast<float>(y);
        }
    }
    return frames;
}

}  // namespace gripline::test

// Takes away what lies above all that the listener looks at: the tool's own clicks (src/audio/metronome.h).
#pragma once

#include <array>
#include <cmath>

namespace gripline::dsp {

/// An elliptic low-pass of order 6 at kAnalysisRateHz: flat within 0.3 dB up to 4.45 kHz, 50 dB down from 4.9 kHz on. It delays strings by 0.1 to 0.7 ms.
class ClickFilter {
public:
    /// The next sample (what is no number is heard as 0).
    [[nodiscard]] double push(double x) noexcept {
        if (!std::isfinite(x)) x = 0.0;
        for (Section& s : sections_) {
            const double y = s.b0 * x + s.z1;
            s.z1 = s.b1 * x - s.a1 * y + s.z2;
            s.z2 = s.b2 * x - s.a2 * y;
            x = y;
        }
        return x;
    }
    void reset() noexcept {
        for (Section& s : sections_) s.z1 = s.z2 = 0.0;
    }

private:
    struct Section {
        double b0, b1, b2, a1, a2;
        double z1 = 0.0, z2 = 0.0;
    };
    // scipy 1.10.1: signal.ellip(6, 0.3, 50, 4450, fs=12000, output="sos")
    std::array<Section, 3> sections_{{{0.23094062297, 0.451329271424, 0.23094062297, 0.2698118371, 0.161836487146},
                                      {1, 1.73749560443, 1, 1.0283040209, 0.689680688101},
                                      {1, 1.60680311002, 1, 1.34552854568, 0.929315872187}}};
};

}  // namespace gripline::dsp

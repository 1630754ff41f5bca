// render_take OUT.wav FRETSTRING LEAD_S LENGTH_S SEED: one strum of the plucked string after LEAD_S of a quiet room, 48 kHz.
// "none" instead of a FRETSTRING gives the quiet room alone, "muted" a strum over all strings under a damping hand. Several, with commas between, give one such piece after the other, with seeds that count up.
#include <cstdlib>
#include <iostream>
#include <sstream>
#include <string>
#include <vector>

#include "audio/noise.h"
#include "audio/strum.h"
#include "support/wav_file.h"

using namespace gripline;

namespace {

constexpr int kRate_hz = 48000;
constexpr float kRoom = 0.0003F;  // -70 dB below full scale
constexpr double kPeak_db = -9.0;

int fail(const std::string& what) {
    std::cerr << "render_take: " << what << '\n';
    return 1;
}

/// One piece of the take; an error in words, or nothing.
std::string render(const std::string& fret_string, double lead_s, double length_s, std::uint32_t seed, std::vector<float>& out) {
    std::vector<float> frames(static_cast<std::size_t>(length_s * kRate_hz));
    Noise noise(seed + 1);
    for (float& frame : frames) frame = kRoom * noise.next();
    if (fret_string != "none") {
        const bool muted = fret_string == "muted";
        const auto grip = Grip::parse(muted ? "000000" : fret_string);
        if (!grip) return grip.error().message;
        auto strum = plan_strum(*grip, Tuning(), 0, muted ? std::optional(PlannedFault{PlannedFaultKind::dead_strum}) : std::nullopt);
        if (!strum) return strum.error().message;
        strum->seed = seed;
        strum->spread_s = 0.005 + 0.005 * (seed % 6);
        strum->down = seed % 3 != 0;
        strum->brightness = 0.3 + 0.1 * (seed % 5);
        const auto sound = render_strum(*strum, kRate_hz, length_s - lead_s - 0.05, kPeak_db);
        const auto lead = static_cast<std::size_t>(lead_s * kRate_hz);
        for (std::size_t i = 0; i < sound.size() && lead + i < frames.size(); ++i) frames[lead + i] += sound[i];
    }
    out.insert(out.end(), frames.begin(), frames.end());
    return {};
}

}  // namespace

int main(int argc, char** argv) {
    if (argc != 6) return fail("OUT.wav FRETSTRING[,FRETSTRING...] LEAD_S LENGTH_S SEED are wanted");
    auto seed = static_cast<std::uint32_t>(std::atoi(argv[5]));
    std::vector<float> frames;
    std::istringstream list(argv[2]);
    for (std::string one; std::getline(list, one, ',');)
        if (const std::string trouble = render(one, std::atof(argv[3]), std::atof(argv[4]), seed++, frames); !trouble.empty()) return fail(trouble);
    test::write_wav(argv[1], frames, kRate_hz);
    return 0;
}

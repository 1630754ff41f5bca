// Onsets against an independent program's: Debian's libaubio 0.4.9 on the same takes. An onset counts as found within 50 ms (the MIREX onset task).
#include <aubio/aubio.h>
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "dsp/strums.h"

using namespace gripline;
using namespace gripline::test;

namespace {

constexpr uint_t kRate_hz = 44100, kWindow = 512, kHop = 256;

/// libaubio's onsets, s, by its spectral difference (Foote & Uchihashi 2001): of its methods the one that hears every strum of these takes once;
/// the others take some hands that damp the strings for onsets..
std::vector<double> peer_onsets(const std::vector<float>& take) {
    aubio_onset_t* onset = new_aubio_onset("specdiff", kWindow, kHop, kRate_hz);
    REQUIRE(onset != nullptr);
    fvec_t* in = new_fvec(kHop);
    fvec_t* out = new_fvec(1);
    std::vector<double> found;
    for (std::size_t i = 0; i + kHop <= take.size(); i += kHop) {
        std::copy_n(take.begin() + static_cast<std::ptrdiff_t>(i), kHop, in->data);
        aubio_onset_do(onset, in, out);
        if (out->data[0] != 0.0F) found.push_back(static_cast<double>(aubio_onset_get_last_s(onset)));
    }
    del_fvec(in);
    del_fvec(out);
    del_aubio_onset(onset);
    return found;
}

}  // namespace

TEST_CASE("every onset lies within 50 ms of libaubio's, half of them within 10 ms, and neither finds more") {
    std::vector<double> differences;
    const char* const grips[] = {"8x89xx", "10-x-9-10-x-x", "3x23xx", "1x01xx", "6x55xx", "x32010", "4x34xx", "12-x-10-12-x-x"};
    for (const double bpm : {60.0, 100.0, 140.0, 180.0, 240.0}) {
        std::vector<PlannedStrum> played;
        for (int i = 0; i < 16; ++i)
            played.push_back({.at_s = 0.5 + i * 60.0 / bpm, .grip = grips[i % 8], .spread_s = 0.005 + 0.001 * (i * 7 % 25), .ring_s = 0.85 * 60.0 / bpm, .down = i % 3 != 0});
        const auto take = play(played, 1.0 + 16 * 60.0 / bpm, static_cast<int>(kRate_hz));
        const auto ours = onsets(evidence_of(take, static_cast<int>(kRate_hz)));
        const auto theirs = peer_onsets(take);
        CAPTURE(bpm);
        CHECK(ours.size() == 16);
        CHECK(theirs.size() == 16);
        for (const double at : ours) {
            double nearest = 9.0;
            for (const double peer : theirs) nearest = std::min(nearest, std::abs(peer - at));
            CHECK(nearest < 0.050);
            differences.push_back(nearest);
        }
    }
    REQUIRE(!differences.empty());
    std::nth_element(differences.begin(), differences.begin() + static_cast<std::ptrdiff_t>(differences.size() / 2), differences.end());
    const double median_s = differences[differences.size() / 2];
    MESSAGE("median distance to libaubio's onset: " << 1000.0 * median_s << " ms");
    CHECK(median_s < 0.010);
}

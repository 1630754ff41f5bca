// The tuner's pitch on recorded open strings against libaubio's (yinfast, de Cheveigne & Kawahara 2002), which measures the period of the whole sound.
//   bench_pitch FILE...      made by training/open_strings.py: GUITAR.LAYER.MIDI.flac
// A recorded string isn't strictly periodic: its body pulls single partials aside by some cents, beating and chorus move them, and pitch falls as it decays.
// So the peer's own spread is told too: from its first look to its last, and from the whole sound to the first partial alone. Where these agree within
// kAgree_cents the peer has one pitch to compare with; elsewhere it has two, and a tuner can be near one of them only.
#include <aubio/aubio.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <string>
#include <vector>

#include "audio/file_source.h"
#include "dsp/pitch.h"
#include "support/first_partial.h"

using namespace gripline;

namespace {

constexpr double kAgree_cents = 2.0;
constexpr double kSettled_s = 0.4, kEarlyEnd_s = 0.8, kLateStart_s = 1.1;  // of each file

struct Reading {
    double at_s = 0.0, hz = 0.0;
};

/// Of the readings from `from_s` up to `to_s`; 0: there are none.
double median_hz(const std::vector<Reading>& readings, double from_s = kSettled_s, double to_s = 1e9) {
    std::vector<double> hz;
    for (const Reading& r : readings)
        if (r.hz > 0.0 && r.at_s >= from_s && r.at_s < to_s) hz.push_back(r.hz);
    if (hz.empty()) return 0.0;
    const auto middle = hz.begin() + static_cast<std::ptrdiff_t>(hz.size() / 2);
    std::nth_element(hz.begin(), middle, hz.end());
    return *middle;
}

double cents_apart(double a_hz, double b_hz) { return a_hz > 0.0 && b_hz > 0.0 ? std::abs(1200.0 * std::log2(a_hz / b_hz)) : 1e9; }

std::vector<Reading> peer(const std::vector<float>& frames, int rate_hz) {
    constexpr uint_t kWindow = 4096, kHop = 512;
    aubio_pitch_t* pitch = new_aubio_pitch("yinfast", kWindow, kHop, static_cast<uint_t>(rate_hz));
    fvec_t* in = new_fvec(kHop);
    fvec_t* out = new_fvec(1);
    std::vector<Reading> found;
    for (std::size_t i = 0; i + kHop <= frames.size(); i += kHop) {
        std::copy_n(frames.begin() + static_cast<std::ptrdiff_t>(i), kHop, in->data);
        aubio_pitch_do(pitch, in, out);
        found.push_back({static_cast<double>(i + kHop) / rate_hz, out->data[0] > 30.0F ? static_cast<double>(out->data[0]) : 0.0});
    }
    del_fvec(in);
    del_fvec(out);
    del_aubio_pitch(pitch);
    return found;
}

std::vector<Reading> ours(const std::vector<float>& frames, int rate_hz) {
    dsp::PitchEstimator estimator({.rate_hz = rate_hz});
    std::vector<Reading> found;
    dsp::PitchReading reading;
    for (std::size_t i = 0; i < frames.size(); i += 1024) {
        estimator.process(std::span(frames).subspan(i, std::min<std::size_t>(1024, frames.size() - i)));
        while (estimator.take(reading)) found.push_back({reading.at_s, reading.hz});
    }
    return found;
}

struct Row {
    double apart = 0.0;        ///< ours from the peer's, cents
    double apart_first = 0.0;  ///< ours from the peer's of the first partial
    bool agrees = false;       ///< the peer with itself
    bool between = false;      ///< ours lies between the peer's two pitches, or within kAgree_cents of one
};

void print(const char* what, const std::vector<Row>& rows, bool agrees) {
    std::vector<double> apart;
    std::size_t near = 0, near_either = 0, between = 0;
    for (const Row& row : rows) {
        if (row.agrees != agrees) continue;
        apart.push_back(row.apart);
        near += row.apart <= kAgree_cents ? 1U : 0U;
        near_either += std::min(row.apart, row.apart_first) <= kAgree_cents ? 1U : 0U;
        between += row.between ? 1U : 0U;
    }
    if (apart.empty()) return;
    std::sort(apart.begin(), apart.end());
    std::printf("%s: %zu strings; ours from libaubio's: median %.2f cents, 95 %% within %.1f; within 2 cents %zu, of the whole or the first partial %zu, of these or between them %zu\n", what, apart.size(),
                apart[apart.size() / 2], apart[apart.size() * 95 / 100], near, near_either, between);
}

}  // namespace

int main(int argc, char** argv) {
    if (argc < 2) {
        std::fprintf(stderr, "bench_pitch FILE...: recorded open strings, made by training/open_strings.py\n");
        return 2;
    }
    std::vector<Row> rows;
    for (int i = 1; i < argc; ++i) {
        const std::string path = argv[i];
        const auto dot = path.rfind('.', path.size() - 6);
        const int midi = dot == std::string::npos ? 0 : std::atoi(path.c_str() + dot + 1);
        auto source = FileSource::open(path);
        if (!source || midi < 20 || midi > 100) {
            std::fprintf(stderr, "%s: %s\n", path.c_str(), source ? "its name doesn't end in .MIDI.flac" : source.error().message.c_str());
            return 1;
        }
        std::vector<float> frames;
        std::vector<float> part(4096);
        while (const std::size_t count = (*source)->read(part)) frames.insert(frames.end(), part.begin(), part.begin() + static_cast<std::ptrdiff_t>(count));
        const int rate_hz = (*source)->rate_hz();
        const double nominal_hz = 440.0 * std::exp2((midi - 69) / 12.0);
        const auto whole = peer(frames, rate_hz), first = peer(test::below(frames, 1.1 * nominal_hz, rate_hz), rate_hz);
        const double our_hz = median_hz(ours(frames, rate_hz)), whole_hz = median_hz(whole), first_hz = median_hz(first);
        const auto drift = [](const std::vector<Reading>& r) { return cents_apart(median_hz(r, kSettled_s, kEarlyEnd_s), median_hz(r, kLateStart_s)); };
        const double slack = std::exp2(kAgree_cents / 1200.0);
        rows.push_back({cents_apart(our_hz, whole_hz), cents_apart(our_hz, first_hz),
                        cents_apart(whole_hz, first_hz) <= kAgree_cents && drift(whole) <= kAgree_cents && drift(first) <= kAgree_cents,
                        our_hz >= std::min(whole_hz, first_hz) / slack && our_hz <= std::max(whole_hz, first_hz) * slack});
    }
    print("libaubio agrees with itself within 2 cents", rows, true);
    print("it doesn't", rows, false);
    return 0;
}

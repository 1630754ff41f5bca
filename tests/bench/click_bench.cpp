// What the tool's own clicks cost when the microphone hears them, as they are and left out (dsp/click_filter.h): walks of training/make_takes.py without a metronome (its finish() given no beats), mixed with the
// clicks of src/audio/metronome.h through a loudspeaker and a room, peak against the strums' median peak.
//   bench_clicks SET [--walks N]
#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <fstream>
#include <optional>
#include <random>
#include <string>
#include <vector>

#include "audio/metronome.h"
#include "dsp/click_filter.h"
#include "dsp/resampler.h"
#include "dsp/strum_chain.h"
#include "dsp/strums.h"
#include "formats/csv.h"
#include "judge/judge.h"
#include "support/click_room.h"
#include "training/take_sound.h"

using namespace gripline;
using namespace gripline::training;
using namespace gripline::test;

namespace {

constexpr int kCountIn = 4;
constexpr double kNear_s = 0.05;  // an onset counts as found within 50 ms (the MIREX onset task),
constexpr double kBeat_s = 0.11;  // and still goes to its beat within half a count at 260 a minute (WalkAlong)

struct Beat {
    double at_s = 0.0;
    std::string grip;
    std::optional<double> onset_s;  ///< of the strum; nothing: left out
    bool right = false;
};

struct Walk {
    std::string file;
    double count_s = 0.5;
    std::vector<Beat> beats;
};

std::vector<Walk> read_walks(const std::string& folder) {
    std::ifstream file(folder + "/walks.csv", std::ios::binary);
    CsvReader reader(file);
    (void)reader.next();
    std::vector<Walk> out;
    for (auto row = reader.next(); row && *row; row = reader.next()) {
        const auto& f = (*row)->fields;
        if (out.empty() || out.back().file != f[0]) out.push_back({f[0], 60.0 / std::atof(f[1].c_str()), {}});
        Beat beat{std::atof(f[3].c_str()), f[4], std::nullopt, f[7] == "right"};
        if (!f[6].empty()) beat.onset_s = std::atof(f[6].c_str());
        out.back().beats.push_back(beat);
    }
    return out;
}

/// The walk behind a count-in of room noise: what the first 0.8 s hold, there and back.
std::vector<float> with_count_in(const TakeSound& take, double count_s) {
    const auto count_in = static_cast<std::size_t>(kCountIn * count_s * take.rate_hz), quiet = static_cast<std::size_t>(0.8 * take.rate_hz);
    std::vector<float> out(count_in);
    for (std::size_t i = 0; i < count_in; ++i) {
        const std::size_t back = count_in - i, turn = (back / quiet) % 2, at = back % quiet;
        out[i] = take.frames[std::min(turn == 0 ? at : quiet - at, take.frames.size() - 1)];
    }
    out.insert(out.end(), take.frames.begin(), take.frames.end());
    return out;
}

struct Tally {
    int strums = 0, missed = 0, misplaced = 0, stray = 0, stray_in_count_in = 0, right = 0, called_wrong = 0;
    std::vector<double> off_ms;
};

struct Onset {
    double at_s = 0.0;
    std::vector<dsp::StrumEvidence> looks;
    bool taken = false;
};

std::vector<Onset> listen(const std::vector<float>& sound, int rate_hz, bool left_out) {
    std::vector<Onset> out;
    dsp::StrumChain chain({.rate_hz = rate_hz});
    chain.leave_out_clicks(left_out);
    for_each_evidence(chain, sound, [&](const dsp::StrumEvidence& evidence) {
        if (out.empty() || evidence.strum != out.back().looks.back().strum) out.push_back({evidence.onset_s, {}});
        out.back().looks.push_back(evidence);
    });
    return out;
}

bool called_right(const std::vector<dsp::StrumEvidence>& looks, const std::string& grip) {
    Judge judge;
    Target target;
    target.grip = Grip::parse(grip).value();
    judge.ask(target);
    for (const auto& look : looks)
        if (const auto verdict = judge.consider(look)) return verdict->kind == VerdictKind::right;
    return !looks.empty() && judge.verdict_now(looks.back()).kind == VerdictKind::right;
}

void tally(const std::vector<float>& sound, int rate_hz, bool left_out, const Walk& walk, Tally& out) {
    auto onsets = listen(sound, rate_hz, left_out);
    const double before_s = kCountIn * walk.count_s;
    for (const Beat& beat : walk.beats) {
        if (!beat.onset_s) continue;
        ++out.strums;
        const double at_s = before_s + *beat.onset_s;
        const auto best = std::min_element(onsets.begin(), onsets.end(), [&](const Onset& a, const Onset& b) { return std::abs(a.at_s - at_s) < std::abs(b.at_s - at_s); });
        if (best == onsets.end() || best->taken || std::abs(best->at_s - at_s) >= kBeat_s) {
            ++out.missed;
            continue;
        }
        best->taken = true;
        if (std::abs(best->at_s - at_s) >= kNear_s) ++out.misplaced;
        out.off_ms.push_back(1000.0 * (best->at_s - at_s));
        if (!beat.right) continue;
        ++out.right;
        if (!called_right(best->looks, beat.grip)) ++out.called_wrong;
    }
    for (const Onset& onset : onsets)
        if (!onset.taken) ++(onset.at_s < before_s + 0.5 ? out.stray_in_count_in : out.stray);
}

void print(const std::string& what, const Tally& t) {
    std::vector<double> sorted = t.off_ms, size;
    std::sort(sorted.begin(), sorted.end());
    for (const double off : sorted) size.push_back(std::abs(off));
    std::sort(size.begin(), size.end());
    if (size.empty()) return;
    std::printf("  %-18s strums %4d missed %3d misplaced %3d stray %3d (count-in %2d)  onset bias %+5.2f  |error| median %5.2f  90%% %5.2f  95%% %5.2f  98%% %5.2f ms   right %4d called wrong %3d\n", what.c_str(), t.strums, t.missed, t.misplaced, t.stray,
                t.stray_in_count_in, sorted[sorted.size() / 2], size[size.size() / 2], size[size.size() * 90 / 100], size[size.size() * 95 / 100], size[size.size() * 98 / 100], t.right, t.called_wrong);
}

/// How far the filter takes down a click as it arrives, dB, of what the chain would hear of it.
double taken_down_db(const std::vector<double>& arrived, int rate_hz) {
    dsp::Resampler resampler({.from_hz = rate_hz, .to_hz = dsp::kAnalysisRateHz});
    dsp::ClickFilter filter;
    std::vector<float> made(resampler.max_out());
    double before = 1e-20, after = 1e-20;
    for (const double x : arrived)
        for (std::size_t i = 0, count = resampler.push(static_cast<float>(x), made); i < count; ++i) {
            const double y = filter.push(made[i]);
            before += static_cast<double>(made[i]) * made[i];
            after += y * y;
        }
    return 10.0 * std::log10(before / after);
}

/// Median peak of the strums, in the 0.2 s after each.
double strum_peak(const std::vector<float>& sound, int rate_hz, const Walk& walk) {
    std::vector<double> peaks;
    for (const Beat& beat : walk.beats) {
        if (!beat.onset_s) continue;
        const auto from = static_cast<std::size_t>((kCountIn * walk.count_s + *beat.onset_s) * rate_hz), to = std::min(sound.size(), from + static_cast<std::size_t>(0.2 * rate_hz));
        double peak = 0.0;
        for (std::size_t i = from; i < to; ++i) peak = std::max(peak, static_cast<double>(std::fabs(sound[i])));
        peaks.push_back(peak);
    }
    if (peaks.empty()) return 0.0;
    std::sort(peaks.begin(), peaks.end());
    return peaks[peaks.size() / 2];
}

/// The clicks of a walk in a room of its own: jitter of 0.1 ms, gain wandering by 0.3 dB.
class Clicks {
public:
    Clicks(const Walk& walk, int rate_hz, std::uint32_t seed) : rate_hz_(rate_hz) {
        std::mt19937 random(seed);
        std::uniform_real_distribution<double> even(0.0, 1.0);
        std::normal_distribution<double> normal;
        const ClickRoom room({.rate_hz = rate_hz, .reverberation_s = 0.15 + 0.35 * even(random), .tail_db = -18.0 + 15.0 * even(random), .reflections = 3 + static_cast<int>(6.0 * even(random)),
                              .low_hz = 120.0 + 400.0 * even(random), .bent = 0.06 * even(random), .seed = seed});
        for (const bool accent : {false, true}) kinds_[accent ? 1 : 0] = room.arrive(render_click(rate_hz, accent));
        for (int count = -kCountIn; count < static_cast<int>(walk.beats.size()); ++count)
            sounded_.push_back({kCountIn * walk.count_s + walk.beats.front().at_s + count * walk.count_s + 1e-4 * normal(random), std::pow(10.0, 0.3 * normal(random) / 20.0), (count + kCountIn) % 2 == 1});
    }
    void add(double peak, std::vector<float>& sound) const {
        for (const Sounded& each : sounded_) add_at(kinds_[each.accent ? 1 : 0], each.at_s * rate_hz_, each.gain * peak, sound);
    }
    [[nodiscard]] double taken_down_db() const { return std::min(::taken_down_db(kinds_[0], rate_hz_), ::taken_down_db(kinds_[1], rate_hz_)); }

private:
    struct Sounded {
        double at_s, gain;
        bool accent;
    };
    int rate_hz_;
    std::array<std::vector<double>, 2> kinds_;
    std::vector<Sounded> sounded_;
};

}  // namespace

int main(int words, char** word) {
    if (words < 2) return 2;
    std::size_t most = 1000;
    for (int i = 2; i + 1 < words; ++i)
        if (std::strcmp(word[i], "--walks") == 0) most = static_cast<std::size_t>(std::atoi(word[i + 1]));
    const std::string folder = word[1];
    auto walks = read_walks(folder);
    if (walks.size() > most) walks.resize(most);
    constexpr double kNone_db = -200.0;
    constexpr std::array<double, 6> kLevels_db{kNone_db, 6.0, 0.0, -6.0, -12.0, -18.0};
    std::array<std::array<Tally, kLevels_db.size()>, 2> tallies;
    std::vector<double> down_db;
    std::uint32_t seed = 0;
    for (const Walk& walk : walks) {
        const auto take = read_sound(folder + "/" + walk.file);
        if (!take) {
            std::fprintf(stderr, "%s\n", take.error().message.c_str());
            continue;
        }
        const std::vector<float> dry = with_count_in(*take, walk.count_s);
        const double peak = strum_peak(dry, take->rate_hz, walk);
        const Clicks clicks(walk, take->rate_hz, ++seed);
        down_db.push_back(clicks.taken_down_db());
        for (std::size_t level = 0; level < kLevels_db.size(); ++level) {
            std::vector<float> mixed = dry;
            if (kLevels_db[level] > kNone_db) clicks.add(peak * std::pow(10.0, kLevels_db[level] / 20.0), mixed);
            for (const bool left_out : {false, true}) tally(mixed, take->rate_hz, left_out, walk, tallies[left_out ? 1 : 0][level]);
        }
    }
    if (down_db.empty()) return 1;
    for (const bool left_out : {false, true}) {
        std::printf(left_out ? "clicks left out\n" : "as they are\n");
        for (std::size_t level = 0; level < kLevels_db.size(); ++level)
            print(kLevels_db[level] > kNone_db ? "clicks at " + std::to_string(static_cast<int>(kLevels_db[level])) + " dB" : "no clicks", tallies[left_out ? 1 : 0][level]);
    }
    std::sort(down_db.begin(), down_db.end());
    std::printf("a click is taken down by %.1f dB, at least %.1f\n", down_db[down_db.size() / 2], down_db.front());
    return 0;
}

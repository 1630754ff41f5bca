// Writes the measures of every candidate for a strum's start in a set's takes, for fit_onset.py.
#include <CLI/CLI.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <fstream>
#include <string>
#include <vector>

#include "dsp/first_string.h"
#include "dsp/history.h"
#include "dsp/onset.h"
#include "dsp/resampler.h"
#include "dsp/rumble_filter.h"
#include "dsp/strum_evidence.h"
#include "training/take_sound.h"
#include "training/training_set.h"

using namespace gripline;
using namespace gripline::training;

namespace {

// As in dsp/strum_chain.cpp.
constexpr std::size_t kHistoryFrames = 16384, kShownFrames = 4096;
constexpr double kSilenceAfter_s = 0.3;  // enough to look at a candidate in the last moments

/// Take's number, seconds, measures, picture band by band: a row of OUT.onsets.
using Row = std::array<float, 2 + dsp::kOnsetMeasures + dsp::kOnsetBands * dsp::kOnsetHops>;

/// Take's number, seconds of the window's first block, blocks band by band: a row of OUT.starts.
using StartRow = std::array<float, 2 + dsp::kStartBands * dsp::kStartBlocks>;

struct Candidates {
    std::vector<Row> onsets;
    std::vector<StartRow> starts;
};

/// Of the candidate that `detector` has just looked at, with `now` samples heard.
StartRow start_row(const dsp::OnsetDetector& detector, std::int64_t now, int take) {
    const std::int64_t rise = dsp::OnsetDetector::rise_of_candidate(now);
    StartRow row{static_cast<float>(take), static_cast<float>(static_cast<double>(rise - dsp::FirstString::kBlocksBefore * dsp::FirstString::kStartBlockFrames) / dsp::kAnalysisRateHz)};
    auto at = row.begin() + 2;
    for (const auto& band : detector.first_string().blocks()) at = std::copy(band.begin(), band.end(), at);
    return row;
}

Candidates candidates(const TakeSound& sound, int take) {
    dsp::Resampler resampler({.from_hz = sound.rate_hz, .to_hz = dsp::kAnalysisRateHz});
    std::vector<float> made(resampler.max_out());
    dsp::History history(kHistoryFrames);
    dsp::OnsetDetector detector({.place_all = true});
    Candidates out;
    const auto hop = [&] {
        detector.process(history.last(kShownFrames), history.now());
        if (!detector.candidate()) return;
        Row row{static_cast<float>(take), static_cast<float>(static_cast<double>(detector.candidate()->first_sound) / dsp::kAnalysisRateHz)};
        auto at = std::copy(detector.candidate()->measures.begin(), detector.candidate()->measures.end(), row.begin() + 2);
        for (const auto& band : detector.candidate()->picture) at = std::copy(band.begin(), band.end(), at);
        out.onsets.push_back(row);
        out.starts.push_back(start_row(detector, history.now(), take));
    };
    dsp::RumbleFilter rumble(sound.rate_hz);
    const auto frames = sound.frames.size() + static_cast<std::size_t>(std::ceil(kSilenceAfter_s * sound.rate_hz));
    for (std::size_t i = 0; i < frames; ++i) {
        const double in = i < sound.frames.size() ? static_cast<double>(sound.frames[i]) : 0.0;
        const std::size_t count = resampler.push(static_cast<float>(rumble.push(in)), made);
        for (std::size_t k = 0; k < count; ++k) {
            history.push(made[k]);
            if (history.now() % dsp::OnsetDetector::kHopFrames == 0) hop();
        }
    }
    return out;
}

int fail(const std::string& message) {
    std::fprintf(stderr, "%s\n", message.c_str());
    return 1;
}

int run(const std::string& set, const std::string& out, int every) {
    const auto files = read_take_files(set);
    if (!files) return fail(files.error().message);
    std::ofstream onsets(out + ".onsets", std::ios::binary), starts(out + ".starts", std::ios::binary), takes(out + ".takes");
    int number = 0;
    for (std::size_t i = static_cast<std::size_t>(every) - 1; i < files->size(); i += static_cast<std::size_t>(every)) {
        const auto sound = read_sound(set + "/" + (*files)[i]);
        if (!sound) return fail(sound.error().message);
        const Candidates found = candidates(*sound, number);
        for (const Row& row : found.onsets) onsets.write(reinterpret_cast<const char*>(row.data()), sizeof row);
        for (const StartRow& row : found.starts) starts.write(reinterpret_cast<const char*>(row.data()), sizeof row);
        takes << (*files)[i] << '\n';
        if (++number % 100 == 0) std::fprintf(stderr, "take %zu of %zu\n", i + 1, files->size());
    }
    return onsets.good() && starts.good() && takes.good() ? 0 : fail(out + ".onsets, " + out + ".starts and " + out + ".takes can't be written");
}

}  // namespace

int main(int argc, char** argv) {
    std::string set, out;
    int every = 1;
    CLI::App app{"Writes the measures of every candidate for a strum's start: OUT.onsets and OUT.starts (numbers) and OUT.takes (which takes)."};
    app.add_option("set", set, "folder made by make_takes.py")->required()->check(CLI::ExistingDirectory);
    app.add_option("out", out, "what the files' names begin with")->required();
    app.add_option("--every", every, "only each so-manieth take")->check(CLI::PositiveNumber);
    CLI11_PARSE(app, argc, argv);
    return run(set, out, every);
}

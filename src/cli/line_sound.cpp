#include "cli/line_sound.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

#include "audio/file_source.h"
#include "audio/metronome.h"
#include "audio/strum.h"
#include "formats/line_times.h"

namespace gripline {

namespace {

constexpr double kGain = 0.5;                        // the strings peak near -12 dB: quiet, headphone and amplifier levels being unknown
constexpr double kBass_db = 3.0, kHeavy_db = 2.0;    // accents, as strong as those of line_midi.cpp (from memory: 16 of 127 velocity are 2 to 3 dB)
constexpr double kStrum_s = 0.012;                   // first string to last: a quick wrist
constexpr double kTail_s = 0.8;                      // until the last stroke has died away

/// What happens at a frame: a strum, or a click.
struct Event {
    std::uint64_t frame;
    const LineBeat* beat;  ///< nullptr: a click
    bool heavy;            ///< of a strum: a little louder; of a click: higher
    double count_s;
};

double eighth_s(const Chart& chart) { return 30.0 / quarters_a_minute(chart); }

/// Eighths that pass before the line begins: a bar of clicks.
int lead_eighths(const std::vector<TimedBar>& bars, const LineSoundConfig& config) { return config.click && !bars.empty() ? bars.front().length : 0; }
int length_eighths(const std::vector<TimedBar>& bars) { return bars.empty() ? 0 : bars.back().start + bars.back().length; }

std::vector<Event> events_of(const Chart& chart, const std::vector<TimedBar>& bars, const LineSoundConfig& config) {
    std::vector<Event> out;
    const double step_s = eighth_s(chart);
    const auto frame = [&](int eighths) { return static_cast<std::uint64_t>(std::llround(eighths * step_s * config.rate_hz)); };
    const auto clicks = [&](const TimedBar& bar, int start) {
        for (int count = 0; config.click && count * bar.count < bar.length; ++count) out.push_back({frame(start + count * bar.count), nullptr, count == 0, 0.0});
    };
    int start = lead_eighths(bars, config);
    if (start > 0) clicks(bars.front(), 0);
    for (int chorus = 0; chorus < config.choruses; ++chorus) {
        for (const TimedBar& bar : bars) {
            clicks(bar, start + bar.start);
            for (const TimedBeat& beat : bar.beats) out.push_back({frame(start + beat.start), beat.beat, is_heavy(bar, beat.beat->beat), bar.count * step_s});
        }
        start += length_eighths(bars);
    }
    std::stable_sort(out.begin(), out.end(), [](const Event& a, const Event& b) { return a.frame < b.frame; });
    return out;
}

/// Mixes strings and clicks, block by block.
class LineMixer {
public:
    LineMixer(WavWriter& file, const Neck& neck, const LineSoundConfig& config)
        : file_(file), neck_(neck), config_(config), bank_(config.rate_hz), click_(render_click(config.rate_hz, false)), accent_(render_click(config.rate_hz, true)) {}

    /// Sounds up to a frame.
    std::optional<Error> run_to(std::uint64_t frame) {
        while (now_ < frame) {
            const std::size_t count = static_cast<std::size_t>(std::min<std::uint64_t>(frame - now_, block_.size()));
            const std::span<float> block(block_.data(), count);
            std::fill(block.begin(), block.end(), 0.0F);
            bank_.process(block);
            for (float& each : block) {
                each *= static_cast<float>(kGain);
                if (sounding_ && click_at_ < sounding_->size()) each += (*sounding_)[click_at_++];
            }
            if (auto bad = file_.write(block)) return bad;
            now_ += count;
        }
        return std::nullopt;
    }

    std::optional<Error> begin(const Event& event) {
        if (!event.beat) {
            sounding_ = event.heavy ? &accent_ : &click_;
            click_at_ = 0;
            return std::nullopt;
        }
        auto strum = plan_strum(event.beat->grip, neck_.tuning, neck_.capo);
        if (!strum) return strum.error();
        strum->spread_s = kStrum_s;
        strum->ring_s = event.count_s * kStrokeTenths / 10.0;
        strum->a4_hz = config_.a4_hz;
        strum->seed = ++seed_;
        for (int i = 0; i < strum->count; ++i) strum->struck[static_cast<std::size_t>(i)].level_db = (i == 0 ? kBass_db : 0.0) - kBass_db + (event.heavy ? kHeavy_db : 0.0);
        bank_.strike(*strum);
        return std::nullopt;
    }

private:
    WavWriter& file_;
    const Neck& neck_;
    const LineSoundConfig& config_;
    StringBank bank_;
    std::vector<float> click_, accent_;
    const std::vector<float>* sounding_ = nullptr;  // a click
    std::size_t click_at_ = 0;
    std::array<float, 4096> block_{};
    std::uint64_t now_ = 0;
    std::uint32_t seed_ = 0;
};

}  // namespace

std::vector<double> sound_starts_s(const Chart& chart, const Line& line, const LineSoundConfig& config) {
    std::vector<double> out;
    const auto bars = timed_bars(chart, line);
    for (const Event& event : events_of(chart, bars, config))
        if (event.beat) out.push_back(static_cast<double>(event.frame) / config.rate_hz);
    return out;
}

std::optional<Error> write_line_sound(const std::string& path, const Chart& chart, const Line& line, const Neck& neck, const LineSoundConfig& config) {
    const auto bars = timed_bars(chart, line);
    const double length_s = (lead_eighths(bars, config) + static_cast<double>(config.choruses) * length_eighths(bars)) * eighth_s(chart) + kTail_s;
    if (length_s > kLongestSound_s)
        return Error{path + ": the line would sound for " + std::to_string(std::lround(length_s)) + " s, at most " + std::to_string(std::lround(kLongestSound_s)) + "; fewer choruses, or a faster tempo"};
    auto file = WavWriter::create(path, config.rate_hz);
    if (!file) return file.error();
    LineMixer mixer(*file, neck, config);
    for (const Event& event : events_of(chart, bars, config)) {
        if (auto bad = mixer.run_to(event.frame)) return bad;
        if (auto bad = mixer.begin(event)) return bad;
    }
    if (auto bad = mixer.run_to(static_cast<std::uint64_t>(std::llround(length_s * config.rate_hz)))) return bad;
    return file->close();
}

}  // namespace gripline

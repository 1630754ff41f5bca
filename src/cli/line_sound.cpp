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

/// All that happens in the file, and how long it lasts.
struct Schedule {
    std::vector<Event> events;
    double length_s = 0.0;
};

int length_eighths(const std::vector<TimedBar>& bars) { return bars.empty() ? 0 : bars.back().start + bars.back().length; }

/// Places strums and clicks in time, chorus after chorus.
class Scheduler {
public:
    Scheduler(const Chart& chart, const Line& line, const LineSoundConfig& config) : chart_(chart), config_(config), bars_(timed_bars(chart, line)) {}

    Schedule schedule() {
        if (bars_.empty()) return {};
        if (config_.click) {
            clicks(bars_.front(), 0);
            start_s_ = bars_.front().length * eighth_s(0);
        } else {
            start_s_ = kLeadIn_s;
        }
        for (chorus_ = 0; chorus_ < config_.choruses; ++chorus_) {
            const bool plays = !config_.answer || chorus_ % 2 == 0;
            for (const TimedBar& bar : bars_) {
                if (config_.click) clicks(bar, bar.start);
                for (const TimedBeat& beat : bar.beats)
                    if (plays) add(beat.start, beat.beat, is_heavy(bar, beat.beat->beat), bar.count * eighth_s(chorus_));
            }
            start_s_ += length_eighths(bars_) * eighth_s(chorus_);
        }
        std::stable_sort(out_.events.begin(), out_.events.end(), [](const Event& a, const Event& b) { return a.frame < b.frame; });
        out_.length_s = start_s_ + kTail_s;
        return std::move(out_);
    }

private:
    const Chart& chart_;
    const LineSoundConfig& config_;
    std::vector<TimedBar> bars_;
    Schedule out_;
    int chorus_ = 0;
    double start_s_ = 0.0;  // of the chorus

    [[nodiscard]] double eighth_s(int chorus) const {
        Chart played;
        played.meter = chart_.meter;
        played.tempo_bpm = std::min(chart_.tempo_bpm + chorus * config_.faster_bpm, std::max(chart_.tempo_bpm, kMostTempo_bpm));
        return 30.0 / quarters_a_minute(played);
    }
    void add(int eighths, const LineBeat* beat, bool heavy, double count_s) {
        out_.events.push_back({static_cast<std::uint64_t>(std::llround((start_s_ + eighths * eighth_s(chorus_)) * config_.rate_hz)), beat, heavy, count_s});
    }
    void clicks(const TimedBar& bar, int start) {
        for (int count = 0; count * bar.count < bar.length; ++count) add(start + count * bar.count, nullptr, count == 0, 0.0);
    }
};

/// Mixes strings and clicks, block by block.
class LineMixer {
public:
    LineMixer(WavWriter& file, const Neck& neck, const LineSoundConfig& config)
        : file_(file), neck_(neck), config_(config), bank_(config.rate_hz), click_(render_click(config.rate_hz, false, kQuietPeak_db - kAccent_db)), accent_(render_click(config.rate_hz, true)) {}

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
    for (const Event& event : Scheduler(chart, line, config).schedule().events)
        if (event.beat) out.push_back(static_cast<double>(event.frame) / config.rate_hz);
    return out;
}

std::optional<Error> write_line_sound(const std::string& path, const Chart& chart, const Line& line, const Neck& neck, const LineSoundConfig& config) {
    const Schedule schedule = Scheduler(chart, line, config).schedule();
    const double length_s = schedule.length_s;
    if (length_s > kLongestSound_s)
        return Error{path + ": the line would sound for " + std::to_string(std::lround(length_s)) + " s, at most " + std::to_string(std::lround(kLongestSound_s)) + "; fewer choruses, or a faster tempo"};
    auto file = WavWriter::create(path, config.rate_hz);
    if (!file) return file.error();
    LineMixer mixer(*file, neck, config);
    for (const Event& event : schedule.events) {
        if (auto bad = mixer.run_to(event.frame)) return bad;
        if (auto bad = mixer.begin(event)) return bad;
    }
    if (auto bad = mixer.run_to(static_cast<std::uint64_t>(std::llround(length_s * config.rate_hz)))) return bad;
    return file->close();
}

}  // namespace gripline

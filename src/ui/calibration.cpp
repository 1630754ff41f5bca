#include "ui/calibration.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace gripline {

namespace {

/// The sound devices' clocks are known by then, and a hand has let go of the key.
constexpr double kFirst_s = 1.2;
/// Uneven, so that no click can be taken for its neighbour: no two gaps alike, each longer than the delays that are looked for.
constexpr std::array<double, 9> kGaps_s = {0.71, 0.83, 0.62, 0.94, 0.68, 0.88, 0.65, 0.79, 0.74};
/// To clap along one needs an even beat: 90 a minute, four of them to get into it.
constexpr double kClapGap_s = 60.0 / 90.0;
constexpr int kClapsBefore = 4, kClaps = 12;
/// A clap's delay holds the player's own earliness.
constexpr DelayRange kClapRange{-200.0, 400.0};
constexpr double kTail_s = 0.8;
constexpr std::size_t kBlock_frames = 1024;
constexpr double kQuiet_db = -60.0;

}  // namespace

Calibration::Calibration(WalkSound& sound, CalibrationWay way) : sound_(sound), way_(way), band_(sound.rate_hz()), block_(kBlock_frames) {
    double at_s = kFirst_s;
    if (way == CalibrationWay::clicks) {
        starts_s_.push_back(at_s);
        for (const double gap_s : kGaps_s) starts_s_.push_back(at_s += gap_s);
    } else {
        measured_from_ = kClapsBefore;
        for (int i = 0; i < kClapsBefore + kClaps; ++i, at_s += kClapGap_s) starts_s_.push_back(at_s);
    }
    length_s_ = starts_s_.back() + kTail_s;
    for (const double start_s : starts_s_) band_.click(static_cast<std::uint64_t>(std::llround(start_s * sound.rate_hz())), Click::alike);
    recorded_.reserve(static_cast<std::size_t>((length_s_ + 2.0) * sound.input_rate_hz()));
    sound_.set_delay(std::nullopt);
    sound_.listen_plainly(true);
    sound_.begin_music();
}

Calibration::~Calibration() {
    sound_.end_music();
    sound_.listen_plainly(false);
}

void Calibration::record() {
    while (const std::size_t count = sound_.read_plain(block_)) recorded_.insert(recorded_.end(), block_.begin(), block_.begin() + static_cast<std::ptrdiff_t>(count));
}

bool Calibration::step() {
    sound_.look();
    for (std::size_t wanted = sound_.wanted_frames(); wanted > 0;) {
        const std::span<float> frames(block_.data(), std::min(wanted, block_.size()));
        band_.process(frames);
        sound_.write(frames);
        wanted -= frames.size();
    }
    record();
    if (const auto origin_s = sound_.input_origin_s()) origins_s_.push_back(*origin_s);
    return sound_.heard_s() < length_s_;
}

int Calibration::sounded() const {
    const double now_s = sound_.heard_s();
    return static_cast<int>(std::count_if(starts_s_.begin(), starts_s_.end(), [&](double start_s) { return start_s <= now_s; }));
}

double Calibration::peak_db() const {
    float peak = 0.0F;
    for (const float each : recorded_) peak = std::max(peak, std::abs(each));
    return peak > 0.0F ? 20.0 * std::log10(static_cast<double>(peak)) : -120.0;
}

std::string Calibration::advice() const {
    if (peak_db() <= -119.0) return "; the input is wholly silent: check cable, mute and the choice of input (--device)";
    if (way_ == CalibrationWay::claps) return "; clap or strike damped strings once with each click, near the microphone, and leave none out";
    if (peak_db() < kQuiet_db) return "; the input is very quiet: bring microphone and headphone nearer to each other, or make the clicks louder (--volume-db 6)";
    return "; bring microphone and headphone nearer to each other, keep the room quiet, close other programs; or clap along (--by-hand)";
}

Result<MeasuredDelay> Calibration::result() {
    if (!sound_.hears()) return Error{"there is no input to measure with"};
    if (!sound_.sounds()) return Error{"there is no output to measure with"};
    if (origins_s_.empty()) return Error{"the sound devices tell no times, so the delay can't be measured; choose others (gripline devices lists them)"};
    if (sound_.gap_frames() > 0) return Error{"the sound broke off while it was measured (the machine was too busy); close other programs and measure again"};
    // The middle one: the clocks are known best after a while, and a last moment's hiccup moves nothing.
    std::nth_element(origins_s_.begin(), origins_s_.begin() + static_cast<std::ptrdiff_t>(origins_s_.size() / 2), origins_s_.end());
    const double origin_s = origins_s_[origins_s_.size() / 2];
    std::vector<double> starts_s;
    for (std::size_t i = measured_from_; i < starts_s_.size(); ++i) starts_s.push_back(origin_s + starts_s_[i]);
    const bool clicks = way_ == CalibrationWay::clicks;
    found_ = clicks ? find_clicks(recorded_, sound_.input_rate_hz(), starts_s) : find_claps(recorded_, sound_.input_rate_hz(), starts_s, kClapRange);
    if (const auto bad = check_delays(found_, clicks ? kClickLimits : kClapLimits)) return Error{(clicks ? "clicks: " : "claps: ") + bad->message + advice()};
    return MeasuredDelay{found_.delay_ms, found_.spread_ms, !clicks};
}

}  // namespace gripline

#include "audio/strum.h"

#include <algorithm>
#include <cmath>

namespace gripline {
namespace {

/// RMS of a single string at its beginning, full scale = 1: three together then peak near -12 dB (measured, 2026-07).
constexpr double kString_rms = 0.05;
/// Strings left out of a strum fall by 60 dB in this time; a whole hand laid on the strings is a little slower.
constexpr double kFrettingHandFall_s = 0.08, kDampingHandFall_s = 0.12;
/// A dead string: a thud that is gone in 25 ms, 8 dB softer.
constexpr double kDeadFall_s = 0.025, kDeadLevel_db = -8.0;
constexpr double kFadeIn_s = 0.002, kFadeOut_s = 0.03;
/// A seven-string's low A is MIDI 33, 55 Hz; a tone lower still fits.
constexpr double kLowest_hz = 45.0;

double from_db(double db) { return std::pow(10.0, db / 20.0); }

}  // namespace

StringBank::StringBank(int rate_hz)
    : rate_hz_(rate_hz), strings_(kMaxStrings, PluckedString({.rate_hz = rate_hz, .lowest_hz = kLowest_hz})) {}

void StringBank::strike(const Strum& strum) noexcept {
    strum_ = strum;
    strum_.count = std::clamp(strum.count, 0, kMaxStrings);
    std::array<bool, kMaxStrings> used{};
    for (int i = 0; i < strum_.count; ++i) {
        const auto index = static_cast<std::size_t>(i);
        const int order = strum.down ? i : strum_.count - 1 - i;
        const double share = strum_.count > 1 ? static_cast<double>(order) / (strum_.count - 1) : 0.0;
        due_frame_[index] = static_cast<std::size_t>(std::lround(std::max(0.0, strum.spread_s) * share * rate_hz_));
        plucked_[index] = false;
        used[static_cast<std::size_t>(strum.struck[index].string.number() - 1)] = true;
    }
    for (std::size_t i = 0; i < strings_.size(); ++i)
        if (!used[i]) strings_[i].damp(kFrettingHandFall_s);
    frame_ = 0;
    damp_frame_ = static_cast<std::size_t>(std::lround(std::max(0.0, strum.ring_s) * rate_hz_));
    damped_ = false;
}

void StringBank::pluck_due() noexcept {
    for (int i = 0; i < strum_.count; ++i) {
        const auto index = static_cast<std::size_t>(i);
        if (plucked_[index] || due_frame_[index] > frame_) continue;
        const StruckString& struck = strum_.struck[index];
        PluckedString& string = strings_[static_cast<std::size_t>(struck.string.number() - 1)];
        const double level_db = struck.level_db + (struck.dead ? kDeadLevel_db : 0.0);
        string.pluck(frequency_hz(struck.note, strum_.a4_hz), kString_rms * from_db(level_db), strum_.brightness,
                     strum_.seed * 31U + static_cast<std::uint32_t>(struck.string.number()));
        if (struck.dead) string.damp(kDeadFall_s);
        plucked_[index] = true;
    }
    if (!damped_ && frame_ >= damp_frame_) {
        for (PluckedString& string : strings_) string.damp(kDampingHandFall_s);
        damped_ = true;
    }
}

std::size_t StringBank::frames_to_next() const noexcept {
    std::size_t next = damped_ ? SIZE_MAX : damp_frame_ - frame_;
    for (int i = 0; i < strum_.count; ++i) {
        const auto index = static_cast<std::size_t>(i);
        if (!plucked_[index]) next = std::min(next, due_frame_[index] - frame_);
    }
    return next;
}

void StringBank::process(std::span<float> frames) noexcept {
    while (!frames.empty()) {
        pluck_due();
        const std::size_t count = std::min(frames.size(), frames_to_next());
        for (PluckedString& string : strings_) string.process(frames.first(count));
        frame_ += count;
        frames = frames.subspan(count);
    }
}

void StringBank::reset() noexcept {
    for (PluckedString& string : strings_) string.reset();
    strum_.count = 0;
    damped_ = true;
}

bool StringBank::at_rest() const noexcept {
    return frames_to_next() == SIZE_MAX && std::all_of(strings_.begin(), strings_.end(), [](const PluckedString& s) { return s.at_rest(); });
}

std::vector<float> render_strum(const Strum& strum, int rate_hz, double length_s, double peak_db) {
    std::vector<float> frames(static_cast<std::size_t>(std::lround(std::max(0.0, length_s) * rate_hz)), 0.0F);
    StringBank bank(rate_hz);
    bank.strike(strum);
    bank.process(frames);
    const std::size_t size = frames.size();
    const double fade_in = kFadeIn_s * rate_hz, fade_out = kFadeOut_s * rate_hz;
    float peak = 0.0F;
    for (std::size_t i = 0; i < size; ++i) {
        const double fade = std::min({1.0, static_cast<double>(i) / fade_in, static_cast<double>(size - 1 - i) / fade_out});
        frames[i] *= static_cast<float>(fade);
        peak = std::max(peak, std::fabs(frames[i]));
    }
    const auto scale = peak > 0.0F ? static_cast<float>(from_db(peak_db)) / peak : 0.0F;
    for (float& frame : frames) frame *= scale;
    return frames;
}

}  // namespace gripline

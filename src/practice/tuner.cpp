#include "practice/tuner.h"

#include <algorithm>
#include <cmath>

namespace gripline {

namespace {

constexpr double kSteady_cents = 2.0;
constexpr double kReach_cents = 250.0;   // beyond the outer strings; between strings the nearest is taken
constexpr int kSilentReadings = 12;      // half a second without a pitch: the string is gone
constexpr std::size_t kShown = 5;        // the median of so many readings is shown
constexpr double kMagnify = 4.0;         // turns a second for each Hz: as the fourth partial would show it
constexpr double kJump_cents = 30.0;     // further than a peg turns between two readings: another note

double cents_above(double hz, double target_hz) { return 1200.0 * std::log2(hz / target_hz); }

}  // namespace

Tuner::Tuner(const TunerConfig& config) {
    for (int number = config.tuning.strings(); number >= 1; --number) {
        const MidiNote note = config.tuning.open(StringNumber(number)).up(config.capo);
        view_.strings.push_back({.string = StringNumber(number), .note = note, .target_hz = frequency_hz(note, config.a4_hz), .cents = std::nullopt});
    }
}

void Tuner::forget_string() noexcept {
    view_.sounding.reset();
    view_.steady = false;
    view_.hz = view_.cents = 0.0;
    count_ = 0;
}

void Tuner::reset() {
    forget_string();
    for (TunerString& string : view_.strings) string.cents.reset();
    view_.turn = 0.0;
    silent_ = 0;
    last_at_s_ = 0.0;
}

void Tuner::await_pluck() {
    forget_string();
    awaits_pluck_ = true;
    rang_ = false;
}

bool Tuner::still_rings(const dsp::PitchReading& reading) noexcept {
    if (!awaits_pluck_) return false;
    silent_ = reading.hz > 0.0 ? 0 : silent_ + 1;
    // A reading's window begins anew at each pluck, and is empty until there is enough of the new sound.
    const bool plucked = rang_ && reading.window_s == 0.0;
    rang_ = rang_ || reading.window_s > 0.0;
    if (plucked || silent_ >= kSilentReadings) awaits_pluck_ = false;
    return awaits_pluck_;
}

void Tuner::take(const dsp::PitchReading& reading) {
    const double step_s = std::clamp(reading.at_s - last_at_s_, 0.0, 0.2);
    last_at_s_ = reading.at_s;
    if (still_rings(reading)) return;
    if (reading.hz <= 0.0) {
        if (++silent_ >= kSilentReadings) forget_string();
        return;
    }
    silent_ = 0;
    const auto nearest = std::min_element(view_.strings.begin(), view_.strings.end(), [&](const TunerString& a, const TunerString& b) {
        return std::abs(cents_above(reading.hz, a.target_hz)) < std::abs(cents_above(reading.hz, b.target_hz));
    });
    const double cents = cents_above(reading.hz, nearest->target_hz);
    if (std::abs(cents) > kReach_cents) {
        forget_string();
        return;
    }
    const bool jumped = count_ > 0 && std::abs(cents - last_cents_[(count_ - 1) % kSpan]) > kJump_cents;
    if (!view_.sounding || *view_.sounding != nearest->string || jumped) forget_string();
    view_.sounding = nearest->string;
    last_cents_[count_++ % kSpan] = cents;

    std::array<double, kSpan> sorted{};
    const std::size_t shown = std::min(count_, kShown);
    for (std::size_t i = 0; i < shown; ++i) sorted[i] = last_cents_[(count_ - 1 - i) % kSpan];
    std::sort(sorted.begin(), sorted.begin() + static_cast<std::ptrdiff_t>(shown));
    view_.cents = sorted[shown / 2];
    view_.hz = nearest->target_hz * std::exp2(view_.cents / 1200.0);
    const double turn = view_.turn + kMagnify * (view_.hz - nearest->target_hz) * step_s;
    view_.turn = turn - std::floor(turn);
    const auto [least, most] = std::minmax_element(last_cents_.begin(), last_cents_.end());
    view_.steady = count_ >= kSpan && *most - *least < kSteady_cents;
    if (view_.steady) nearest->cents = view_.cents;
}

std::string cents_words(double cents) {
    if (std::abs(cents) < kInTune_cents) return "in tune";
    const long whole = std::lround(std::abs(cents));
    return std::to_string(whole) + (whole == 1 ? " cent " : " cents ") + (cents < 0.0 ? "flat" : "sharp");
}

std::string tuner_words(const TunerView& view) {
    for (const TunerString& string : view.strings)
        if (view.sounding && *view.sounding == string.string)
            return "String " + std::to_string(string.string.number()) + ", " + plain_name(string.note) + ": " + cents_words(view.cents);
    return "Play one string";
}

std::optional<std::string> tuning_refusal(const TunerView& view) {
    std::string out;
    for (const TunerString& string : view.strings) {
        if (!string.cents || std::abs(*string.cents) <= kTooFarOut_cents) continue;
        out += (out.empty() ? "string " : ", string ") + std::to_string(string.string.number()) + " is " + cents_words(*string.cents);
    }
    if (out.empty()) return std::nullopt;
    return out + ": tune before practising";
}

}  // namespace gripline

#include "audio/click_delay.h"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "audio/metronome.h"

namespace gripline {

namespace {

/// A click's highest match stands so far above the root mean square of the matches around it; white noise alone reaches 4.5 in a stretch of half a second
/// (tested).
constexpr double kStandsOut = 8.0;
/// The earliest match of this share of the highest is the click: later ones are reflections of the room.
constexpr double kFirstShare = 0.6;
/// The match reaches that share up to 6 ms before its top, for the click is long: hundredths of its length within which the top is looked for.
constexpr std::size_t kHill = 40;
/// A clap begins where its energy rises over this share of its peak, and its peak stands so far above the median around it.
constexpr double kClapRise = 0.1, kClapStandsOut = 30.0;
constexpr double kClapWindow_s = 0.002;
constexpr double kStrayShare = 0.1;

/// Twice differenced: falls by 12 dB an octave towards low frequencies.
std::vector<double> differenced(std::span<const float> sound) {
    std::vector<double> out(sound.size(), 0.0);
    for (std::size_t i = 2; i < sound.size(); ++i) out[i] = static_cast<double>(sound[i]) - 2.0 * static_cast<double>(sound[i - 1]) + static_cast<double>(sound[i - 2]);
    return out;
}

/// The part of a recording in which a click may lie: frames from `first` on, as many as `size`.
struct Stretch {
    std::ptrdiff_t first = 0;
    std::size_t size = 0;
};

Stretch stretch_of(double start_s, int rate_hz, const DelayRange& range, std::size_t frames, std::size_t tail) {
    const auto from = std::max<std::ptrdiff_t>(static_cast<std::ptrdiff_t>(std::floor((start_s + range.least_ms / 1000.0) * rate_hz)), 0);
    const auto until = std::min<std::ptrdiff_t>(static_cast<std::ptrdiff_t>(std::ceil((start_s + range.most_ms / 1000.0) * rate_hz)), static_cast<std::ptrdiff_t>(frames) - static_cast<std::ptrdiff_t>(tail));
    return {from, until > from ? static_cast<std::size_t>(until - from) : 0};
}

/// The first place whose value is at least `share` of the highest.
std::size_t first_high(const std::vector<double>& values, double share) {
    const double highest = *std::max_element(values.begin(), values.end());
    return static_cast<std::size_t>(std::find_if(values.begin(), values.end(), [&](double value) { return value >= share * highest; }) - values.begin());
}

/// From the first high place on up to the top of its hill.
std::size_t hilltop(const std::vector<double>& values, std::size_t at, std::size_t reach) {
    return static_cast<std::size_t>(std::max_element(values.begin() + static_cast<std::ptrdiff_t>(at), values.begin() + static_cast<std::ptrdiff_t>(std::min(at + reach, values.size()))) - values.begin());
}

/// How well the click matches at every place of a stretch, of either sign. Four places at once: one sum alone would wait for its own last addition.
std::vector<double> matches_in(const std::vector<double>& sound, const Stretch& stretch, const std::vector<double>& click) {
    std::vector<double> matches(stretch.size);
    const double* const from = sound.data() + stretch.first;
    std::size_t at = 0;
    for (; at + 4 <= stretch.size; at += 4) {
        double sums[4] = {};
        const double* place = from + at;
        for (const double each : click) {
            for (std::size_t k = 0; k < 4; ++k) sums[k] += each * place[k];
            ++place;
        }
        for (std::size_t k = 0; k < 4; ++k) matches[at + k] = std::abs(sums[k]);
    }
    for (; at < stretch.size; ++at) matches[at] = std::abs(std::inner_product(click.begin(), click.end(), from + at, 0.0));
    return matches;
}

std::optional<std::size_t> match_in(const std::vector<double>& sound, const Stretch& stretch, const std::vector<double>& click) {
    if (stretch.size == 0) return std::nullopt;
    const std::vector<double> matches = matches_in(sound, stretch, click);
    const double squares = std::inner_product(matches.begin(), matches.end(), matches.begin(), 0.0);
    const double highest = *std::max_element(matches.begin(), matches.end());
    // The click's own hill is left out of what it must stand out of.
    const std::size_t top = hilltop(matches, first_high(matches, kFirstShare), kHill * click.size() / 100);
    double own = 0.0;
    std::size_t others = 0;
    for (std::size_t at = 0; at < matches.size(); ++at) {
        if (at + click.size() >= top && at <= top + 2 * click.size()) own += matches[at] * matches[at];
        else ++others;
    }
    if (others < matches.size() / 4 || highest <= 0.0) return std::nullopt;
    const double rest = std::sqrt(std::max(squares - own, 0.0) / static_cast<double>(others));
    if (matches[top] < kStandsOut * rest) return std::nullopt;
    return top;
}

std::optional<std::size_t> clap_in(const std::vector<double>& sound, const Stretch& stretch, std::size_t window) {
    if (stretch.size < 4 * window) return std::nullopt;
    std::vector<double> energy(stretch.size, 0.0);
    double sum = 0.0;
    for (std::size_t at = 0; at < stretch.size; ++at) {
        const double now = sound[static_cast<std::size_t>(stretch.first) + at];
        sum += now * now;
        if (at >= window) {
            const double old = sound[static_cast<std::size_t>(stretch.first) + at - window];
            sum -= old * old;
        }
        energy[at] = std::max(sum, 0.0);
    }
    std::vector<double> sorted = energy;
    std::nth_element(sorted.begin(), sorted.begin() + static_cast<std::ptrdiff_t>(sorted.size() / 2), sorted.end());
    const double middle = sorted[sorted.size() / 2], highest = *std::max_element(energy.begin(), energy.end());
    if (highest <= 1e-12 || highest < kClapStandsOut * middle) return std::nullopt;
    return first_high(energy, kClapRise);
}

void summarise(ClickDelays& out) {
    std::vector<double> found;
    for (const auto& each : out.single_ms)
        if (each) found.push_back(*each);
    out.found = static_cast<int>(found.size());
    if (found.empty()) return;
    std::sort(found.begin(), found.end());
    const std::size_t half = found.size() / 2;
    out.delay_ms = found.size() % 2 == 1 ? found[half] : (found[half - 1] + found[half]) / 2.0;
    std::sort(found.begin(), found.end(), [&](double a, double b) { return std::abs(a - out.delay_ms) < std::abs(b - out.delay_ms); });
    found.resize(found.size() - static_cast<std::size_t>(kStrayShare * static_cast<double>(found.size())));
    double squares = 0.0;
    for (const double each : found) squares += (each - out.delay_ms) * (each - out.delay_ms);
    out.spread_ms = std::sqrt(squares / static_cast<double>(std::max<std::size_t>(found.size() - 1, 1)));
}

std::string shown(double value) {
    const long tenths = std::lround(value * 10.0);
    return std::to_string(tenths / 10) + "." + std::to_string(std::labs(tenths) % 10);
}

}  // namespace

ClickDelays find_clicks(std::span<const float> sound, int rate_hz, std::span<const double> starts_s, const DelayRange& range) {
    const std::vector<double> clean = differenced(sound);
    const std::vector<float> click = render_click(rate_hz, false);
    const std::vector<double> pattern = differenced(click);
    ClickDelays out;
    for (const double start_s : starts_s) {
        const Stretch stretch = stretch_of(start_s, rate_hz, range, sound.size(), pattern.size());
        const auto at = match_in(clean, stretch, pattern);
        out.single_ms.push_back(at ? std::optional(1000.0 * (static_cast<double>(stretch.first + static_cast<std::ptrdiff_t>(*at)) / rate_hz - start_s)) : std::nullopt);
    }
    summarise(out);
    return out;
}

ClickDelays find_claps(std::span<const float> sound, int rate_hz, std::span<const double> starts_s, const DelayRange& range) {
    const std::vector<double> clean = differenced(sound);
    const auto window = static_cast<std::size_t>(kClapWindow_s * rate_hz);
    ClickDelays out;
    for (const double start_s : starts_s) {
        const Stretch stretch = stretch_of(start_s, rate_hz, range, sound.size(), 0);
        const auto at = clap_in(clean, stretch, window);
        out.single_ms.push_back(at ? std::optional(1000.0 * (static_cast<double>(stretch.first + static_cast<std::ptrdiff_t>(*at)) / rate_hz - start_s)) : std::nullopt);
    }
    summarise(out);
    return out;
}

std::optional<Error> check_delays(const ClickDelays& delays, const DelayLimits& limits) {
    const auto asked = static_cast<double>(delays.single_ms.size());
    if (delays.found < limits.heard_share * asked)
        return Error{std::to_string(delays.found) + " of " + std::to_string(delays.single_ms.size()) + " were heard, " + std::to_string(static_cast<int>(std::ceil(limits.heard_share * asked))) + " are needed"};
    if (delays.spread_ms > limits.most_spread_ms) return Error{"the single delays lie " + shown(delays.spread_ms) + " ms apart (standard deviation), at most " + shown(limits.most_spread_ms) + " are allowed"};
    return std::nullopt;
}

}  // namespace gripline

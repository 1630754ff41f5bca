#include "lines/costs.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <numeric>

#include "base/text.h"

namespace gripline {

namespace {

constexpr std::array<CostRow, kCosts> kRows{{
    {"hand-travel", 1.0, "fret that the hand moves from one grip to the next"},
    {"stretch", 0.5, "fret between the lowest and the highest fretted string"},
    {"bass-leap", 0.5, "semitone that the bass leaps beyond a whole tone"},
    {"standing-still", 50.0, "time that the bass stands still, where nothing else is left"},
    // With region 1 0.44 % of the library's beats (four keys) lie outside the wanted frets, with 3 0.02 %; their other costs stay 1.98 a beat.
    {"region", 3.0, "fret that the hand lies outside the wanted part of the neck"},
    {"turn", 2.0, "time that the bass changes its direction"},
    {"strong-beat", 20.0, "strong beat without the chord itself"},
    {"repeated-bar", 3.0, "bar that begins on the grip that the bar before began on"},
    {"octave-leap", 4.0, "leap of an octave where the neck ends"},
    {"other-strings", 2.0, "grip that is not on the first string set"},
    {"other-bass", 2.0, "chord that begins over another bass than its root"},
    {"slash-bass", 200.0, "chord that begins over another bass than the one behind its slash, where the scale's chord holds that"},
    {"opening", 5.0, "line that begins over another bass than its first chord's root"},
}};

std::string hundredths_text(std::int64_t value) {
    char out[32];
    return {out, std::to_chars(out, out + sizeof out, static_cast<double>(value) / 100.0).ptr};
}

}  // namespace

std::span<const CostRow, kCosts> cost_rows() noexcept { return kRows; }

Costs::Costs() {
    std::transform(kRows.begin(), kRows.end(), values_.begin(), [](const CostRow& row) { return std::llround(100.0 * row.usual); });
}

Result<Costs> Costs::with(std::string_view name, double value) const {
    const auto row = std::find_if(kRows.begin(), kRows.end(), [&](const CostRow& each) { return each.name == name; });
    if (row == kRows.end()) {
        std::string names;
        for (const CostRow& each : kRows) names += (names.empty() ? "" : ", ") + std::string(each.name);
        return Error{"unknown cost " + quoted(name) + "; costs are " + names};
    }
    if (!(value >= 0.0 && value <= kMostCost)) return Error{"cost " + std::string(name) + " is out of range; it may be 0 to 1000"};
    Costs out = *this;
    out.values_[static_cast<std::size_t>(row - kRows.begin())] = std::llround(100.0 * value);
    return out;
}

Result<Costs> Costs::with(std::string_view settings) const {
    Costs out = *this;
    while (!settings.empty()) {
        const std::size_t end = std::min(settings.find(','), settings.size());
        const std::string_view one = trimmed(settings.substr(0, end));
        settings.remove_prefix(std::min(end + 1, settings.size()));
        const std::size_t sign = std::min(one.find('='), one.size());
        const std::string_view number = sign < one.size() ? trimmed(one.substr(sign + 1)) : std::string_view{};
        double value = 0.0;
        const auto [stop, trouble] = std::from_chars(number.data(), number.data() + number.size(), value);
        if (trouble != std::errc() || stop != number.data() + number.size()) return Error{"cost " + quoted(one) + " is not understood; write it as turn=3"};
        const auto set = out.with(trimmed(one.substr(0, sign)), value);
        if (!set) return set.error();
        out = *set;
    }
    return out;
}

std::int64_t CostItems::total() const noexcept { return std::accumulate(hundredths.begin(), hundredths.end(), std::int64_t{0}); }

std::string CostItems::text() const {
    std::string out;
    for (std::size_t i = 0; i < kCosts; ++i)
        if (hundredths[i] != 0) out += (out.empty() ? "" : ", ") + std::string(kRows[i].name) + " " + hundredths_text(hundredths[i]);
    return out.empty() ? "nothing" : out;
}

}  // namespace gripline

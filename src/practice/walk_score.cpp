#include "practice/walk_score.h"

#include <algorithm>
#include <charconv>

#include "base/text.h"

namespace gripline {

namespace {

/// A whole number and nothing else; nothing otherwise.
std::optional<int> number(std::string_view text) {
    int value = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (text.empty() || error != std::errc() || end != text.data() + text.size()) return std::nullopt;
    return value;
}

/// The beat as these bars have it.
const ScoreBeat& as_in(const WalkScore& score, BarRange range, const ScoreBeat& beat) noexcept {
    const bool leads_back = score.loop_end && score.loop_end->last_bar == range.last && score.loop_end->beat.count == beat.count;
    return leads_back ? score.loop_end->beat : beat;
}

}  // namespace

BarRange all_bars(const WalkScore& score) noexcept { return {1, static_cast<int>(score.bars.size())}; }

BarRange within(const WalkScore& score, BarRange range) noexcept {
    const int bars = static_cast<int>(score.bars.size());
    range.first = std::clamp(range.first, 1, bars);
    range.last = std::clamp(range.last, range.first, bars);
    return range;
}

Result<BarRange> parse_bars(const std::string& text, const WalkScore& score) {
    const int bars = static_cast<int>(score.bars.size());
    const std::size_t dash = text.find('-');
    const auto first = number(std::string_view(text).substr(0, dash));
    const auto last = dash == std::string::npos ? first : number(std::string_view(text).substr(dash + 1));
    if (!first || !last || *first < 1 || *last < *first || *last > bars)
        return Error{quoted(text) + " names no bars of the chart; bars as played are 1 to " + std::to_string(bars) + ": say 3-6, or one bar such as 3"};
    const BarRange range{*first, *last};
    if (timed_beats(score, range, 0.0, 1.0).empty()) return Error{quoted(text) + ": there is nothing to play in these bars"};
    return range;
}

const ScoreBeat* beat_from(const WalkScore& score, BarRange range, int count) noexcept {
    const auto later = std::lower_bound(score.beats.begin(), score.beats.end(), count, [](const ScoreBeat& each, int at) { return each.count < at; });
    for (auto each = later; each != score.beats.end() && each->beat.bar <= range.last; ++each)
        if (each->beat.bar >= range.first) return &as_in(score, range, *each);
    return nullptr;
}

const ScoreBeat* beat_on(const WalkScore& score, BarRange range, int count) noexcept {
    auto after = std::upper_bound(score.beats.begin(), score.beats.end(), count, [](int at, const ScoreBeat& each) { return at < each.count; });
    if (after == score.beats.begin()) return nullptr;
    const ScoreBeat& beat = *(after - 1);
    if (beat.beat.bar < range.first || beat.beat.bar > range.last || count >= beat.count + beat.length_counts) return nullptr;
    return &as_in(score, range, beat);
}

const ScoreBar& bar_on(const WalkScore& score, int count) noexcept {
    const auto after = std::upper_bound(score.bars.begin(), score.bars.end(), count, [](int at, const ScoreBar& bar) { return at < bar.first_count; });
    return after == score.bars.begin() ? score.bars.front() : *(after - 1);
}

int first_count(const WalkScore& score, BarRange range) noexcept { return score.bars[static_cast<std::size_t>(range.first - 1)].first_count; }

int counts_of(const WalkScore& score, BarRange range) noexcept {
    const ScoreBar& last = score.bars[static_cast<std::size_t>(range.last - 1)];
    return last.first_count + last.counts - first_count(score, range);
}

std::vector<double> count_places(const WalkScore& score, BarRange range) {
    std::vector<double> out{0.0};
    for (int bar = range.first; bar <= range.last; ++bar) {
        const ScoreBar& each = score.bars[static_cast<std::size_t>(bar - 1)];
        for (int count = 0; count < each.counts; ++count) out.push_back(out.back() + each.share);
    }
    return out;
}

std::vector<WalkBeat> timed_beats(const WalkScore& score, BarRange range, double start_s, double count_s) {
    std::vector<WalkBeat> out;
    const int origin = first_count(score, range);
    const std::vector<double> places = count_places(score, range);
    for (const ScoreBeat& each : score.beats) {
        if (each.beat.bar < range.first || each.beat.bar > range.last) continue;
        out.push_back(as_in(score, range, each).beat);
        out.back().at_s = start_s + places[static_cast<std::size_t>(each.count - origin)] * count_s;
    }
    return out;
}

}  // namespace gripline

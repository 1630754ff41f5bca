#include "lines/walk_plan.h"

#include <algorithm>
#include <optional>
#include <set>
#include <string>

namespace gripline {

namespace {

/// A count of the played chart and the chord on it.
struct Count {
    int bar;
    int written_bar;
    int beat;
    const PlacedChord* chord;
};

std::vector<Count> counts_of(const Chart& chart, const std::vector<int>& played) {
    std::vector<Count> out;
    for (std::size_t i = 0; i < played.size(); ++i)
        for (const PlacedChord& chord : chart.bars[static_cast<std::size_t>(played[i])].chords)
            for (int beat = 0; beat < chord.beats; ++beat) out.push_back({static_cast<int>(i) + 1, played[i], chord.beat + beat, &chord});
    return out;
}

bool same_chord(const PlacedChord& a, const PlacedChord& b) {
    if (&a == &b) return true;
    return a.symbol && b.symbol && a.symbol->text == b.symbol->text && a.scale == b.scale;
}

Serving scale_for(const PlacedChord& chord, const LineSettings& settings) {
    if (chord.scale) return {chord.scale->root, chord.scale->family, "chosen in the chart"};
    for (const ScaleForChord& chosen : settings.scales)
        if (chosen.chord == chord.text() || chosen.chord == chord.symbol->chart_text()) return {chosen.scale.root, chosen.scale.family, "chosen by hand"};
    return serving(*chord.symbol);
}

/// Whether the note is one of the four of the scale's own chord.
bool holds(const Serving& scale, PitchClass note) {
    const auto tones = harmonised_scale(scale.root, scale.family).front().tones;
    return std::any_of(tones.begin(), tones.end(), [&](NoteName tone) { return tone.pitch_class() == note; });
}

class Planner {
public:
    Planner(const Chart& chart, const LineSettings& settings) : chart_(chart), settings_(settings) {}

    WalkPlan plan(const std::vector<Count>& counts) {
        const bool joins = settings_.comes_again && !counts.empty();  // the end and the beginning
        for (std::size_t at = 0; at < counts.size();) {
            std::size_t end = at + 1;
            while (end < counts.size() && same_chord(*counts[at].chord, *counts[end].chord)) ++end;
            const PlacedChord* before = at > 0 ? counts[at - 1].chord : joins ? counts.back().chord : nullptr;
            const PlacedChord* next = end < counts.size() ? counts[end].chord : joins && !same_chord(*counts[at].chord, *counts.front().chord) ? counts.front().chord : nullptr;
            const bool changes = next != nullptr && next->symbol;
            const bool after_rest = before == nullptr || !before->symbol;
            if (counts[at].chord->symbol) add_run({counts.data() + at, end - at}, changes, after_rest);
            at = end;
        }
        mark_bars();
        return std::move(plan_);
    }

private:
    const Chart& chart_;
    const LineSettings& settings_;
    WalkPlan plan_;

    [[nodiscard]] const Meter& meter(int written_bar) const { return chart_.bars[static_cast<std::size_t>(written_bar)].meter; }

    /// Whether a scale step falls on this count of the bar.
    [[nodiscard]] bool wanted(const Count& count) const {
        if (settings_.steps == Steps::four || count.beat == 1) return true;
        if (settings_.steps == Steps::one) return false;
        const Meter& in = meter(count.written_bar);
        return count.beat == (in.counts() == 3 ? 3 : in.strong_counts().back());
    }

    [[nodiscard]] bool strong(const Count& count) const {
        const auto beats = meter(count.written_bar).strong_counts();
        return count.beat == 1 || (settings_.steps == Steps::four && std::find(beats.begin(), beats.end(), count.beat) != beats.end());
    }

    void add_run(std::span<const Count> counts, bool changes, bool after_rest) {
        const ChordSymbol& symbol = *counts.front().chord->symbol;
        Serving scale = scale_for(*counts.front().chord, settings_);
        const bool slash = symbol.bass && holds(scale, symbol.bass->pitch_class());
        const PitchClass bass = (slash ? *symbol.bass : symbol.root).pitch_class();
        Run run{counts.front().chord, std::move(scale), bass, slash, static_cast<int>(plan_.slots.size()), 0, static_cast<int>(counts.size()), changes, after_rest};
        const bool approached = changes && counts.size() >= 2;
        const int number = static_cast<int>(plan_.runs.size());
        for (std::size_t i = 0; i < counts.size(); ++i) {
            const bool last = approached && i + 1 == counts.size();
            if (i > 0 && !last && !wanted(counts[i])) continue;
            if (last && settings_.steps == Steps::two) give_way(counts[i], run.first_slot);
            Slot slot{counts[i].bar, counts[i].written_bar, counts[i].beat, number, i == 0, last, strong(counts[i]), false, false};
            plan_.slots.push_back(slot);
        }
        run.slots = static_cast<int>(plan_.slots.size()) - run.first_slot;
        plan_.runs.push_back(std::move(run));
    }

    /// Of two steps in a bar the second moves to the approach's count.
    void give_way(const Count& approach, int first_slot) {
        const Slot& before = plan_.slots.back();
        if (static_cast<int>(plan_.slots.size()) > first_slot + 1 && before.bar == approach.bar && before.beat != 1) plan_.slots.pop_back();
    }

    void mark_bars() {
        auto& slots = plan_.slots;
        for (std::size_t i = 0; i < slots.size(); ++i) slots[i].bar_start = i == 0 || slots[i - 1].bar != slots[i].bar;
        int next_start_run = -1;  // the run in which the next bar begins, -1 where its first step is an approach
        for (std::size_t i = slots.size(); i-- > 0;) {
            slots[i].remembers = next_start_run == slots[i].run && !slots[i].approach;
            if (slots[i].bar_start) next_start_run = slots[i].approach ? -1 : slots[i].run;
        }
    }
};

/// A scale that is chosen for a chord which the chart does not hold, or nothing.
std::optional<Error> scale_without_chord(const Chart& chart, const LineSettings& settings) {
    constexpr std::size_t kMostNamed = 24;  // of the chart's chords: three rows of a terminal
    std::vector<std::string> chords;
    std::set<std::string> known;
    for (const Bar& bar : chart.bars)
        for (const PlacedChord& chord : bar.chords) {
            if (!chord.symbol) continue;
            if (std::find(chords.begin(), chords.end(), chord.text()) == chords.end()) chords.push_back(chord.text());
            known.insert({chord.text(), chord.symbol->chart_text()});
        }
    for (const ScaleForChord& chosen : settings.scales) {
        if (known.contains(chosen.chord)) continue;
        std::string names;
        for (std::size_t i = 0; i < std::min(chords.size(), kMostNamed); ++i) names += (names.empty() ? "" : ", ") + chords[i];
        return Error{"a scale is chosen for " + chosen.chord + ", but the chart has no " + chosen.chord + "; its chords are " + names + (chords.size() > kMostNamed ? " and others" : "")};
    }
    return std::nullopt;
}

}  // namespace

Result<WalkPlan> plan_walk(const Chart& chart, const LineSettings& settings) {
    const auto played = played_bars(chart);
    if (!played) return played.error();
    if (auto bad = scale_without_chord(chart, settings)) return *bad;
    WalkPlan plan = Planner(chart, settings).plan(counts_of(chart, *played));
    if (plan.slots.empty()) return Error{"the chart holds no chord to walk on"};
    return plan;
}

}  // namespace gripline

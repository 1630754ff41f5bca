#include "formats/chart_import.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <utility>

#include "base/text.h"

namespace gripline {

namespace {

constexpr std::size_t kMostRemarks = 20;     // a screenful
constexpr std::size_t kMostSection_bytes = 12;  // as chart_text.cpp reads them
constexpr std::size_t kMostChords = 6 * static_cast<std::size_t>(kMostBars);  // one on every count of the longest bar
constexpr double kOnCount = 1e-6;            // counts: below the finest division of any format

std::string decimal_count(double counts) {
    char out[32];
    return {out, std::to_chars(out, out + sizeof out, std::round(counts * 100.0) / 100.0).ptr};
}

std::string bar_text_of(int index) { return "bar " + std::to_string(index + 1) + ": "; }

/// Bytes of the UTF-8 character that `text` begins with, 0 when it begins with none.
std::size_t utf8_bytes(std::string_view text) {
    const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
    const std::size_t bytes = byte(0) < 0x80 ? 1 : byte(0) >= 0xC2 && byte(0) < 0xE0 ? 2 : byte(0) >= 0xE0 && byte(0) < 0xF0 ? 3 : byte(0) >= 0xF0 && byte(0) < 0xF5 ? 4 : 0;
    if (bytes == 0 || bytes > text.size()) return 0;
    for (std::size_t i = 1; i < bytes; ++i)
        if ((byte(i) & 0xC0U) != 0x80U) return 0;
    return bytes;
}

}  // namespace

std::optional<double> number_of(std::string_view text) {
    double number = 0.0;
    if (text.starts_with('+')) text.remove_prefix(1);
    const auto [end, trouble] = std::from_chars(text.data(), text.data() + text.size(), number);
    if (trouble != std::errc() || end != text.data() + text.size() || !std::isfinite(number)) return std::nullopt;
    return number;
}

std::string clean_text(std::string_view text, std::size_t most_bytes) {
    std::string out;
    for (text = trimmed(text); !text.empty();) {
        const std::size_t bytes = utf8_bytes(text);
        const std::string_view next = bytes == 0 ? std::string_view("\uFFFD") : text.substr(0, bytes);
        if (out.size() + next.size() > most_bytes) break;
        const bool ascii_control = next.size() == 1 && (static_cast<unsigned char>(next[0]) < 0x20 || next[0] == 0x7f);
        const bool control = ascii_control || (next >= "\u0080" && next <= "\u009F");  // some terminals obey the second set too
        if (control) out += ' ';
        else out += next;
        text.remove_prefix(std::max<std::size_t>(bytes, 1));
    }
    return std::string(trimmed(out));
}

std::string clean_section(std::string_view text) {
    std::string out = clean_text(text);
    std::erase_if(out, [](char c) { return c == '[' || c == ']' || c == '|' || c == '#'; });
    return clean_text(out, kMostSection_bytes);
}

std::optional<Error> ChartBuilder::open_bar(const Meter& meter) {
    if (chart.bars.size() >= static_cast<std::size_t>(kMostBars)) return Error{"a chart has at most " + std::to_string(kMostBars) + " bars"};
    if (chart.bars.empty()) chart.meter = meter;
    chart.bars.emplace_back();
    bar().meter = meter;
    bar().starts_row = chart.bars.size() == 1;
    return std::nullopt;
}

void ChartBuilder::drop_bar() {
    const int last = static_cast<int>(chart.bars.size()) - 1;
    while (!placed_.empty() && placed_.back().bar == last) placed_.pop_back();
    chart.bars.pop_back();
}

std::string ChartBuilder::place(double counts) const { return "bar " + std::to_string(chart.bars.size()) + ", beat " + decimal_count(counts + 1.0) + ": "; }

void ChartBuilder::say(const std::string& what) {
    if (remarks_.size() < kMostRemarks) remarks_.push_back(what);
    else ++unsaid_;
}

void ChartBuilder::remark(const std::string& what) { say(chart.bars.empty() ? what : bar_text_of(static_cast<int>(chart.bars.size()) - 1) + what); }

std::optional<Error> ChartBuilder::put(double counts, std::optional<ChordSymbol> symbol, std::optional<ChosenScale> scale) {
    const int length = bar().meter.counts();
    if (counts < -kOnCount) return Error{place(counts) + "a chord before the bar begins"};
    if (counts > length - kOnCount) return Error{place(counts) + "a chord behind the end of its bar of " + std::to_string(length) + " counts (" + bar().meter.text() + ")"};
    if (placed_.size() >= kMostChords) return Error{place(counts) + "more than " + std::to_string(kMostChords) + " chords; split the file"};
    PlacedChord chord;
    chord.symbol = std::move(symbol);
    chord.scale = scale;
    const int count = static_cast<int>(std::floor(counts + 0.5 + kOnCount));
    const bool exact = std::abs(counts - count) < kOnCount;
    if (!exact) remark(chord.text() + " on beat " + decimal_count(counts + 1.0) + " goes to the nearest count, " + (count < length ? std::to_string(count + 1) : "1 of the next bar"));
    placed_.push_back({static_cast<int>(chart.bars.size()) - 1, count + 1, !exact, std::move(chord)});
    return std::nullopt;
}

void ChartBuilder::fill() {
    for (Placed& each : placed_) {  // pushed over the bar line
        const Bar& bar = chart.bars[static_cast<std::size_t>(each.bar)];
        if (each.beat <= bar.meter.counts()) continue;
        ++each.bar;
        each.beat = 1;
    }
    const auto before = [](const Placed& a, const Placed& b) { return std::pair(a.bar, a.beat) < std::pair(b.bar, b.beat); };
    std::stable_sort(placed_.begin(), placed_.end(), before);
    PlacedChord last;  // N.C.
    std::size_t next = 0;
    for (std::size_t i = 0; i < chart.bars.size(); ++i) {
        Bar& bar = chart.bars[i];
        const int counts = bar.meter.counts(), number = static_cast<int>(i);
        for (; next < placed_.size() && placed_[next].bar == number; ++next) {
            const Placed& each = placed_[next];
            if (bar.chords.empty() && each.beat > 1) bar.chords.push_back(last);
            const bool taken = !bar.chords.empty() && bar.chords.back().beat == each.beat;
            if (taken && each.chord.text() != bar.chords.back().text())
                say(bar_text_of(number) + "two chords on beat " + std::to_string(each.beat) + "; " + (each.pushed ? each.chord : bar.chords.back()).text() + " is left out");
            if (taken && each.pushed) continue;  // the chord that stands there keeps its place
            if (taken) bar.chords.pop_back();
            bar.chords.push_back(each.chord);
            bar.chords.back().beat = each.beat;
        }
        if (bar.chords.empty()) bar.chords.push_back(last);
        for (std::size_t k = 0; k < bar.chords.size(); ++k) bar.chords[k].beats = (k + 1 < bar.chords.size() ? bar.chords[k + 1].beat : counts + 1) - bar.chords[k].beat;
        last = bar.chords.back();
        last.beat = 1;
        const bool same = i > 0 && chart.bars[i - 1].meter == bar.meter && chart.bars[i - 1].chords == bar.chords;
        bar.repeats_last = bar.repeats_last && same;
    }
}

Result<ImportedChart> ChartBuilder::finish() {
    fill();
    if (!chart.bars.empty()) chart.meter = chart.bars.front().meter;
    const auto sounds = [](const Bar& bar) { return std::any_of(bar.chords.begin(), bar.chords.end(), [](const PlacedChord& chord) { return chord.symbol.has_value(); }); };
    if (std::none_of(chart.bars.begin(), chart.bars.end(), sounds)) return Error{"no chord symbols were found; a chart is made from chord symbols, not from notes"};
    for (Bar& bar : chart.bars) bar.starts_row = bar.starts_row || !bar.section.empty() || !bar.comments.empty();  // as a chart's text has them
    if (const auto played = played_bars(chart); !played) return played.error();
    if (unsaid_ > 0) remarks_.push_back("and " + std::to_string(unsaid_) + " more such remarks");
    return ImportedChart{std::move(chart), std::move(remarks_)};
}

}  // namespace gripline

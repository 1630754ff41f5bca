#include "chart/bar_text.h"

#include <algorithm>
#include <optional>
#include <string>

#include "base/text.h"

namespace gripline {

namespace {

std::vector<std::string_view> words_of(std::string_view text) {
    constexpr std::string_view kBlank = " \t\r";
    std::vector<std::string_view> out;
    for (std::size_t at = text.find_first_not_of(kBlank); at != std::string_view::npos;) {
        const std::size_t end = std::min(text.find_first_of(kBlank, at), text.size());
        out.push_back(text.substr(at, end - at));
        at = text.find_first_not_of(kBlank, end);
    }
    return out;
}

bool is_meter(std::string_view word) { return word.size() == 3 && word[1] == '/' && word[0] >= '0' && word[0] <= '9' && word[2] >= '0' && word[2] <= '9'; }
/// What other charts write and this one does not, with what is written here; or nothing.
std::optional<Error> foreign_sign(std::string_view word) {
    if (word == "%%" || word == "//" || word == "\u2016") return Error{quoted(word) + " would repeat two bars; here every bar is repeated by itself: write them out, or % for the bar before"};
    if (word.size() == 3 && word.front() == '[' && word[1] >= '1' && word[1] <= '9' && word.back() == ']') return Error{quoted(word) + " stands for an ending? It is written behind the bar line, with a point: |" + std::string(1, word[1]) + ". "};
    return std::nullopt;
}

bool is_silence(std::string_view word) { return word == "N.C." || word == "NC" || word == "n.c."; }

/// "Cm7{Eb6}": a chord, and perhaps its scale.
Result<PlacedChord> parse_placed(std::string_view word) {
    PlacedChord out;
    if (is_silence(word)) return out;
    const auto brace = word.find('{');
    const auto symbol = parse_chart_symbol(word.substr(0, brace));
    if (!symbol) return symbol.error();
    out.symbol = *symbol;
    if (brace == std::string_view::npos) return out;
    if (!word.ends_with('}')) return Error{"the scale in " + quoted(word) + " never closes; write it as Cm7{Eb6}"};
    const auto scale = ChosenScale::parse(word.substr(brace + 1, word.size() - brace - 2));
    if (!scale) return scale.error();
    out.scale = *scale;
    return out;
}

Error at_beat(int beat, const Error& error) { return {"beat " + std::to_string(beat) + ": " + error.message}; }

/// The first count of every word: one count each when there are slashes, else shared.
Result<std::vector<int>> beats_of(const std::vector<std::string_view>& words, const Meter& meter) {
    const int count = static_cast<int>(words.size()), counts = meter.counts();
    const bool slashes = std::find(words.begin(), words.end(), "/") != words.end();
    if (count > counts) return at_beat(counts + 1, Error{std::to_string(count) + (slashes ? " chords and slashes" : " chords") + " in a bar of " + std::to_string(counts) + " counts (" + meter.text() + ")"});
    if (slashes && count < counts) return at_beat(count + 1, Error{"with slashes every count is written: " + std::to_string(counts) + " in " + meter.text() + ", here " + std::to_string(count)});
    std::vector<int> beats{1};
    for (const int each : slashes ? std::vector<int>(words.size(), 1) : shared_counts(count, counts)) beats.push_back(beats.back() + each);
    return beats;
}

Result<Bar> repeated(Bar bar, const Bar* last) {
    if (!last) return at_beat(1, Error{"% repeats the bar before, but there is none"});
    if (last->meter != bar.meter) return at_beat(1, Error{"% can't repeat a bar of " + last->meter.text() + " in " + bar.meter.text()});
    bar.chords = last->chords;
    bar.repeats_last = true;
    return bar;
}

}  // namespace

std::vector<int> shared_counts(int chords, int counts) {
    std::vector<int> out(static_cast<std::size_t>(chords), counts / chords);
    for (int i = 0; i < counts % chords; ++i) ++out[static_cast<std::size_t>(i)];
    return out;
}

Result<Bar> parse_bar(std::string_view text, Bar bar, const Bar* last) {
    std::vector<std::string_view> words = words_of(text);
    if (!words.empty() && is_meter(words.front())) {
        const auto meter = Meter::parse(words.front());
        if (!meter) return at_beat(1, meter.error());
        bar.meter = *meter;
        words.erase(words.begin());
    }
    if (words.empty()) return at_beat(1, Error{"the bar is empty; write a chord, % to repeat the bar before, or N.C. for no chord"});
    for (const std::string_view word : words)
        if (auto bad = foreign_sign(word)) return at_beat(1, *bad);
    if (words.size() == 1 && words.front() == "%") return repeated(std::move(bar), last);
    const auto beats = beats_of(words, bar.meter);
    if (!beats) return beats.error();
    for (std::size_t i = 0; i < words.size(); ++i) {
        const int beat = (*beats)[i], length = (*beats)[i + 1] - beat;
        if (words[i] == "/" && !bar.chords.empty()) {
            bar.chords.back().beats += length;
            continue;
        }
        if (words[i] == "/" && !last) return at_beat(beat, Error{"a slash holds the chord before, but there is none"});
        const auto chord = words[i] == "/" ? Result<PlacedChord>(last->chords.back()) : parse_placed(words[i]);
        if (!chord) return at_beat(beat, chord.error());
        bar.chords.push_back(*chord);
        bar.chords.back().beat = beat;
        bar.chords.back().beats = length;
    }
    return bar;
}

std::string bar_text(const Bar& bar) {
    if (bar.repeats_last) return "%";
    const auto shared = shared_counts(static_cast<int>(bar.chords.size()), bar.meter.counts());
    const bool even = std::equal(shared.begin(), shared.end(), bar.chords.begin(), [](int beats, const PlacedChord& chord) { return beats == chord.beats; });
    std::string out;
    for (const PlacedChord& chord : bar.chords) {
        out += (out.empty() ? "" : " ") + chord.text() + (chord.scale ? "{" + chord.scale->text() + "}" : "");
        for (int beat = 1; !even && beat < chord.beats; ++beat) out += " /";
    }
    return out;
}

}  // namespace gripline

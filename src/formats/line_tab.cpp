#include "formats/line_tab.h"

#include <algorithm>
#include <vector>

#include "formats/line_times.h"

namespace gripline {

namespace {

constexpr std::size_t kPage_columns = 80;

/// Columns of a count: two digits and a gap, or as many as the chord symbols above need.
std::size_t count_columns(const Bar& bar) {
    std::size_t out = 4;
    for (const PlacedChord& chord : bar.chords) out = std::max(out, (chord.text().size() + 1 + static_cast<std::size_t>(chord.beats) - 1) / static_cast<std::size_t>(chord.beats));
    return out;
}

/// Rows of text of equal width: the chords, then the strings from 1 down.
using Picture = std::vector<std::string>;

Picture bar_picture(const TimedBar& bar, int strings, std::string& last_chord) {
    const std::size_t columns = count_columns(*bar.bar);
    const auto counts = static_cast<std::size_t>(bar.length / bar.count);
    Picture out(static_cast<std::size_t>(strings) + 1, std::string(counts * columns + 1, '-'));
    out[0].assign(out[0].size() + 1, ' ');
    for (std::size_t i = 1; i < out.size(); ++i) out[i] += '|';
    for (const PlacedChord& chord : bar.bar->chords) {
        if (chord.text() == last_chord) continue;
        last_chord = chord.text();
        const std::size_t at = 1 + static_cast<std::size_t>(chord.beat - 1) * columns;
        out[0].replace(at, chord.text().size(), chord.text());
    }
    for (const TimedBeat& beat : bar.beats) {
        const std::size_t at = 1 + static_cast<std::size_t>(beat.beat->beat - 1) * columns;
        for (int string = 1; string <= strings; ++string)
            if (const auto fret = beat.beat->grip.fret(StringNumber(string))) {
                const std::string number = std::to_string(fret->number());
                out[static_cast<std::size_t>(string)].replace(at, number.size(), number);
            }
    }
    std::size_t width = 0;  // a long symbol at the end of a bar widens it
    for (const auto& row : out) width = std::max(width, row.size());
    for (std::size_t i = 0; i < out.size(); ++i) {
        const char closing = out[i].back();
        if (i > 0) out[i].back() = '-';
        out[i].resize(width, i > 0 ? '-' : ' ');
        if (i > 0) out[i].back() = closing;
    }
    return out;
}

void flush(std::string& out, Picture& row) {
    for (std::size_t i = 0; i < row.size(); ++i) {
        row[i].erase(row[i].find_last_not_of(' ') + 1);
        out += row[i] + "\n";
    }
    out += row.empty() ? "" : "\n";
    row.clear();
}

}  // namespace

std::string line_tab(const Chart& chart, const Line& line) {
    std::string out = chart.title.empty() ? "" : chart.title + "\n\n";
    const int strings = line.beats.empty() ? 6 : line.beats.front().grip.strings();
    Picture row;
    std::string last_chord;
    for (const TimedBar& bar : timed_bars(chart, line)) {
        const Picture next = bar_picture(bar, strings, last_chord);
        if (!row.empty() && row[1].size() + next[1].size() > kPage_columns) flush(out, row);
        if (row.empty()) {
            row.assign(next.size(), "|");
            row[0] = " ";
        }
        for (std::size_t i = 0; i < next.size(); ++i) row[i] += next[i];
    }
    flush(out, row);
    return out;
}

}  // namespace gripline

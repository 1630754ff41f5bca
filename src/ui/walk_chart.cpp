#include "ui/walk_chart.h"

#include <algorithm>

#include "ui/text_layout.h"

namespace gripline {

namespace {

/// The least a bar needs: a line, a mark, and two short chords.
constexpr int kLeastBarColumns = 9;

/// The marks stand in a row of their own below the chords.
bool marked(const std::vector<BarCell>& bars) {
    return std::any_of(bars.begin(), bars.end(), [](const BarCell& bar) { return !bar.marks.empty(); });
}

int rows_each(const std::vector<BarCell>& bars) { return marked(bars) ? 2 : 1; }

}  // namespace

int bars_a_row(const std::vector<BarCell>& bars, int columns) {
    for (const int each : {4, 2})
        if (columns / each >= kLeastBarColumns && static_cast<int>(bars.size()) > each / 2) return each;
    return 1;
}

int chart_rows(const std::vector<BarCell>& bars, int columns) {
    const int each = bars_a_row(bars, columns);
    return (static_cast<int>(bars.size()) + each - 1) / each * rows_each(bars);
}

int chart_row_to_show(const std::vector<BarCell>& bars, int columns, int rows) {
    const int all = chart_rows(bars, columns);
    if (all <= rows) return 0;
    const auto current = std::find_if(bars.begin(), bars.end(), [](const BarCell& bar) { return bar.current; });
    const int row = current == bars.end() ? 0 : static_cast<int>(current - bars.begin()) / bars_a_row(bars, columns);
    // A whole page of rows at a time, so that the chart stands still while it is read.
    return rows > 1 ? std::clamp(row / (rows - 1) * (rows - 1), 0, all - rows) : row;
}

void draw_chart(Canvas& canvas, int x, int y, int columns, int first_row, int rows, const std::vector<BarCell>& bars) {
    const int each = bars_a_row(bars, columns);
    const int width = columns / each;
    const int high = rows_each(bars);
    for (std::size_t i = 0; i < bars.size(); ++i) {
        const BarCell& bar = bars[i];
        const int row = static_cast<int>(i) / each * high - first_row;
        const int left = x + static_cast<int>(i) % each * width;
        const Tone tone = bar.current ? Tone::strong : bar.in_loop ? Tone::plain : Tone::quiet;
        if (row >= 0 && row < rows) {
            const std::string words = (bar.section.empty() ? "" : bar.section + ": ") + bar.chords;
            canvas.put(left, y + row, U'│', Tone::quiet);
            canvas.put(left + 1, y + row, bar.current ? U'>' : U' ', Tone::strong);
            const int used = canvas.text(left + 2, y + row, words, tone, width - 3);
            if (bar.current && used + 3 <= width) canvas.put(left + 2 + used, y + row, U'<', Tone::strong);
        }
        if (high == 2 && row + 1 >= 0 && row + 1 < rows) {
            canvas.put(left, y + row + 1, U'│', Tone::quiet);
            int at = left + 2;
            for (const char mark : bar.marks) {
                const Tone marked_tone = mark == kMarkWrong || mark == kMarkUnheard ? Tone::bad : mark == kMarkRight ? Tone::good : Tone::warning;
                if (at < left + width) canvas.put(at, y + row + 1, static_cast<char32_t>(mark), mark == kMarkNone ? Tone::plain : marked_tone);
                ++at;
            }
        }
    }
}

}  // namespace gripline

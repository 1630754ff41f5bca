#include "ui/practice_screen.h"

#include <algorithm>

#include "ui/block_letters.h"
#include "ui/practice_screen_reduced.h"
#include "ui/text_layout.h"
#include "ui/widgets.h"

namespace gripline {
namespace {

constexpr int kFullColumns = 72;
constexpr int kFullRows = 22;
constexpr int kMargin = 1;
/// Rows below the large letters: bass and grip, strings (4), rule, verdict (3), next, rule, level, source, keys (2); and two above.
constexpr int kFixedRows = 17;

int diagram_columns(const PracticeView& view) { return view.diagram.empty() ? 0 : columns_of(view.diagram.front()); }

void draw_head(Canvas& canvas, const PracticeView& view) {
    canvas.text(kMargin, 0, view.exercise, Tone::heading, canvas.columns() - columns_of(view.place) - 3 * kMargin);
    canvas.text_right(canvas.columns() - kMargin, 0, view.place, Tone::heading);
    canvas.rule(0, 1, canvas.columns());
}

/// Chord symbol, bass, grip and strings on the left, the diagram on the right. Returns the first free row.
int draw_asked(Canvas& canvas, const PracticeView& view, int y, int letter_rows) {
    const int diagram_x = canvas.columns() - diagram_columns(view) - 2 * kMargin;
    const int left_columns = diagram_x - 2 * kMargin;
    const int used = draw_chord_symbol(canvas, kMargin, y, left_columns, letter_rows, view.chord, Tone::strong);
    const int below = y + std::max(used, std::min(letter_rows, kBlockDots));
    if (!view.fret_string.empty()) {
        const int column = kMargin + canvas.text(kMargin, below, "Bass ", Tone::quiet) + 1;
        const int end = column - 1 + canvas.text(column - 1, below, view.bass, Tone::strong);
        const int grip = end + 4;
        canvas.text(grip + canvas.text(grip, below, "Grip ", Tone::quiet), below, view.fret_string, Tone::strong);
        draw_strings(canvas, kMargin, below + 1, view.strings, view.heard);
    }
    const int rows = below + 5 - y;
    const int spare = std::max(rows - static_cast<int>(view.diagram.size()), 0) / 2;
    for (std::size_t i = 0; i < view.diagram.size() && static_cast<int>(i) < rows; ++i) {
        canvas.text(diagram_x, y + spare + static_cast<int>(i), view.diagram[i]);
    }
    return below + 5;
}

void draw_verdict(Canvas& canvas, const PracticeView& view, int y, int rows) {
    const int columns = canvas.columns() - 2 * kMargin;
    int row = y;
    for (const std::string& line : wrap(view.headline, columns)) {
        if (row >= y + rows) return;
        for (int x = 0; x < canvas.columns(); ++x) canvas.put(x, row, U' ', view.tone);
        canvas.text(kMargin, row++, line, view.tone);
    }
    for (const std::string& detail : view.details) {
        for (const std::string& line : wrap(detail, columns)) {
            if (row >= y + rows) return;
            canvas.text(kMargin, row++, line);
        }
    }
}

/// Level and counts, and below them what is wrong, or the answer to a key, or the input. Returns the first free row.
int draw_standing(Canvas& canvas, const PracticeView& view, int y) {
    constexpr int kStateColumns = 12;
    canvas.text(kMargin, y, view.state, Tone::strong, kStateColumns);
    const int counts_x = canvas.columns() - columns_of(view.counts) - kMargin;
    draw_level(canvas, kMargin + kStateColumns + 1, y, std::clamp(counts_x - kStateColumns - 4, 12, 50), view.level);
    canvas.text(counts_x, y, view.counts, Tone::plain);
    const bool warn = !view.warning.empty();
    const std::string& words = warn ? view.warning : view.notice;
    const int columns = canvas.columns() - 2 * kMargin;
    if (words.empty()) {
        const int gestures = view.gestures.empty() ? 0 : columns_of(view.gestures) + 2;
        canvas.text(kMargin, y + 1, "Input: " + view.source, Tone::quiet, columns - gestures);
        canvas.text_right(canvas.columns() - kMargin, y + 1, view.gestures, Tone::quiet);
        return y + 2;
    }
    const auto lines = wrap(words, columns);
    const int shown = std::min(static_cast<int>(lines.size()), canvas.rows() - y - 1);  // long ones take the rows of the keys
    for (int row = 0; row < shown; ++row) canvas.text(kMargin, y + 1 + row, lines[static_cast<std::size_t>(row)], warn ? Tone::warning : Tone::plain);
    return y + 1 + shown;
}

void draw_full(Canvas& canvas, const PracticeView& view) {
    const int rows = canvas.rows();
    const int letter_rows = std::clamp(rows - kFixedRows, kBlockDots - 2, 2 * kBlockDots);
    const bool roomy = rows >= kFullRows + 10;
    draw_head(canvas, view);
    int y = draw_asked(canvas, view, 2 + (roomy ? 1 : 0), letter_rows) + (roomy ? 1 : 0);
    const int standing = rows - 4;
    canvas.rule(0, y++, canvas.columns());
    if (roomy) ++y;
    canvas.rule(0, standing - 1, canvas.columns());
    const int next = std::min(y + (roomy ? 5 : 3), standing - 2);
    draw_verdict(canvas, view, y, next - y);
    canvas.text(kMargin, next, view.next, Tone::quiet, canvas.columns() - 2 * kMargin);
    const int keys = draw_standing(canvas, view, standing);
    draw_keys(canvas, kMargin, keys, canvas.columns() - 2 * kMargin, rows - keys, view.keys);
}

}  // namespace

void draw_practice(Canvas& canvas, const PracticeView& view) {
    if (canvas.columns() >= kFullColumns && canvas.rows() >= kFullRows) draw_full(canvas, view);
    else draw_practice_reduced(canvas, view);
}

}  // namespace gripline

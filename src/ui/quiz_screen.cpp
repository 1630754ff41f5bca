#include "ui/quiz_screen.h"

#include <algorithm>
#include <cmath>

#include "ui/block_letters.h"
#include "ui/text_layout.h"
#include "ui/widgets.h"

namespace gripline {
namespace {

constexpr int kMargin = 1;
constexpr int kFullColumns = 60, kFullRows = 20;

void draw_head(Canvas& canvas, const QuizView& view) {
    const int place = columns_of(view.place);
    canvas.text(kMargin, 0, view.title, Tone::heading, std::max(canvas.columns() - place - 3 * kMargin, 0));
    canvas.text_right(canvas.columns() - kMargin, 0, view.place, Tone::heading);
}

/// The time left as a bar that grows shorter, and as a number.
void draw_clock(Canvas& canvas, const QuizView& view, int y) {
    if (!view.left_share) return;
    const int number_x = canvas.columns() - kMargin - columns_of(view.left);
    canvas.text(number_x, y, view.left, Tone::strong);
    const int cells = number_x - 2 * kMargin - 2;
    if (cells < 4) return;
    canvas.put(kMargin, y, U'[', Tone::quiet);
    canvas.put(kMargin + cells + 1, y, U']', Tone::quiet);
    const int filled = static_cast<int>(std::ceil(std::clamp(*view.left_share, 0.0, 1.0) * cells));
    for (int i = 0; i < cells; ++i) canvas.put(kMargin + 1 + i, y, i < filled ? U'█' : U'·', i < filled ? Tone::plain : Tone::quiet);
}

/// Lines wrapped into the rows there are; returns the first free row.
int draw_lines(Canvas& canvas, const std::vector<PageLine>& lines, int y, int end) {
    for (const PageLine& line : lines) {
        if (line.text.empty()) ++y;
        for (const std::string& part : wrap(line.text, std::max(canvas.columns() - 2 * kMargin, 1))) {
            if (y >= end) return y;
            canvas.text(kMargin, y++, part, line.tone);
        }
    }
    return y;
}

int draw_words(Canvas& canvas, const QuizView& view, int y, int end) {
    std::vector<PageLine> lines{{view.headline, view.tone}};
    for (const std::string& detail : view.details) lines.push_back({detail, Tone::plain});
    return draw_lines(canvas, lines, y, end);
}

void draw_standing(Canvas& canvas, const QuizView& view, int y) {
    constexpr int kStateColumns = 13;
    const int right = columns_of(view.all_left);
    canvas.text(kMargin, y, view.state, Tone::strong, kStateColumns);
    canvas.text_right(canvas.columns() - kMargin, y, view.all_left, Tone::plain);
    const int columns = canvas.columns() - kStateColumns - right - 4 * kMargin;
    if (columns >= 12) draw_level(canvas, kMargin + kStateColumns, y, std::min(columns, 50), view.level);
    if (y + 1 >= canvas.rows()) return;
    const bool warn = !view.warning.empty();
    const std::string words = warn ? view.warning : !view.notice.empty() ? view.notice : "Input: " + view.source;
    canvas.text(kMargin, y + 1, words, warn ? Tone::warning : view.notice.empty() ? Tone::quiet : Tone::plain, canvas.columns() - 2 * kMargin);
    draw_keys(canvas, kMargin, y + 2, canvas.columns() - 2 * kMargin, canvas.rows() - y - 2, view.keys);
}

void draw_full(Canvas& canvas, const QuizView& view) {
    const int rows = canvas.rows(), standing = rows - 4;
    draw_head(canvas, view);
    canvas.rule(0, 1, canvas.columns());
    canvas.rule(0, standing - 1, canvas.columns());
    draw_standing(canvas, view, standing);
    if (!view.page.empty()) {
        draw_lines(canvas, view.page, 3, standing - 1);
        return;
    }
    const int words = std::max(standing - 6, 4);
    const int diagram_columns = view.diagram.empty() ? 0 : columns_of(view.diagram.front());
    const int left = canvas.columns() - diagram_columns - 4 * kMargin;
    const int used = draw_chord_symbol(canvas, kMargin, 3, left, std::clamp(words - 6, 1, 2 * kBlockDots), view.chord, Tone::strong);
    int y = 3 + std::max(used, 1) + 1;
    if (!view.bass.empty()) canvas.text(kMargin + canvas.text(kMargin, y, "Bass ", Tone::quiet), y, view.bass, Tone::strong);
    if (!view.fret_string.empty()) canvas.text(kMargin + 10 + canvas.text(kMargin + 10, y, "Grip ", Tone::quiet), y, view.fret_string, Tone::strong);
    for (std::size_t i = 0; i < view.diagram.size() && 2 + static_cast<int>(i) < words - 1; ++i)
        canvas.text(canvas.columns() - diagram_columns - 2 * kMargin, 2 + static_cast<int>(i), view.diagram[i]);
    draw_clock(canvas, view, words - 1);
    draw_words(canvas, view, words + 1, standing - 1);
}

/// Small terminals: what to do, the time, then the rest.
void draw_small(Canvas& canvas, const QuizView& view) {
    const int rows = canvas.rows();
    int y = 0;
    if (rows >= 5) {
        draw_head(canvas, view);
        ++y;
    }
    const int foot = rows >= 8 ? rows - 2 : rows;
    if (!view.page.empty()) {
        y = draw_lines(canvas, view.page, y, foot);
    } else {
        y = draw_words(canvas, view, y, std::max(foot - 1, 1));
        if (rows >= 8 && y < foot - 2 && (!view.chord.empty() || !view.fret_string.empty())) {
            const int end = kMargin + canvas.text(kMargin, y, view.chord, Tone::strong);
            const int bass = end + canvas.text(end, y, view.bass.empty() ? "" : "  bass " + view.bass);
            canvas.text(bass + 2, y++, view.fret_string, Tone::strong);
        }
        if (y < rows) draw_clock(canvas, view, std::min(y, rows - 1));
    }
    if (foot == rows) return;
    const bool warn = !view.warning.empty();
    canvas.text(kMargin, foot, warn ? view.warning : view.notice.empty() ? view.state + "  " + view.all_left : view.notice, warn ? Tone::warning : Tone::quiet, canvas.columns() - 2 * kMargin);
    draw_keys(canvas, kMargin, foot + 1, canvas.columns() - 2 * kMargin, 1, view.keys);
}

}  // namespace

void draw_quiz(Canvas& canvas, const QuizView& view) {
    if (canvas.columns() >= kFullColumns && canvas.rows() >= kFullRows) draw_full(canvas, view);
    else draw_small(canvas, view);
}

}  // namespace gripline

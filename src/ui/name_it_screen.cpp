#include "ui/name_it_screen.h"

#include <algorithm>

#include "ui/block_letters.h"
#include "ui/text_layout.h"
#include "ui/widgets.h"

namespace gripline {
namespace {

constexpr int kMargin = 1;
constexpr int kFullColumns = 60, kFullRows = 20;

void draw_head(Canvas& canvas, const NameItView& view) {
    canvas.text(kMargin, 0, view.title, Tone::heading, std::max(canvas.columns() - columns_of(view.place) - 3 * kMargin, 0));
    canvas.text_right(canvas.columns() - kMargin, 0, view.place, Tone::heading);
}

/// "a  6, major sixth"; the right one and a wrong answer are marked in front, once they are known.
std::string choice_text(const NameItView& view, std::size_t i) {
    const char* mark = view.right == i ? "= " : view.answered == i ? "x " : "  ";
    return mark + view.choices[i].key + "  " + view.choices[i].does;
}

Tone choice_tone(const NameItView& view, std::size_t i) {
    if (view.right == i) return Tone::good;
    if (view.answered == i) return Tone::bad;
    return view.right ? Tone::quiet : Tone::strong;
}

/// In as many columns as the rows ask for. Returns the rows used.
int draw_choices(Canvas& canvas, const NameItView& view, int y, int columns, int rows) {
    if (rows < 1 || view.choices.empty()) return 0;
    const int count = static_cast<int>(view.choices.size());
    const int across = (count + rows - 1) / rows, down = (count + across - 1) / across;
    const int width = std::max((columns - kMargin) / across, 1);
    for (int i = 0; i < count; ++i) {
        const auto each = static_cast<std::size_t>(i);
        canvas.text(kMargin + i / down * width, y + i % down, choice_text(view, each), choice_tone(view, each), width - 1);
    }
    return down;
}

int draw_words(Canvas& canvas, const std::vector<std::string>& words, Tone tone, int y, int end) {
    for (const std::string& each : words) {
        for (const std::string& line : wrap(each, std::max(canvas.columns() - 2 * kMargin, 1))) {
            if (y >= end) return y;
            canvas.text(kMargin, y++, line, tone);
        }
    }
    return y;
}

std::string said(const NameItView& view) { return view.warning.empty() ? view.notice : view.warning; }

/// What it was, beside the choices.
void draw_answer(Canvas& canvas, const NameItView& view, int x, int y, int rows) {
    if (view.chord.empty()) return;
    const int diagram = view.diagram.empty() ? 0 : columns_of(view.diagram.front());
    const int columns = canvas.columns() - x - diagram - 3 * kMargin;
    const int used = draw_chord_symbol(canvas, x, y, columns, std::min(kBlockDots, rows - 2), view.chord, Tone::strong);
    const int below = y + used + 1;
    canvas.text(x + canvas.text(x, below, "Bass ", Tone::quiet), below, view.bass, Tone::strong);
    canvas.text(x + canvas.text(x, below + 1, "Grip ", Tone::quiet), below + 1, view.fret_string, Tone::strong);
    for (std::size_t i = 0; i < view.diagram.size() && static_cast<int>(i) < rows; ++i)
        canvas.text(canvas.columns() - diagram - 2 * kMargin, y + static_cast<int>(i), view.diagram[i]);
}

void draw_full(Canvas& canvas, const NameItView& view) {
    const int rows = canvas.rows(), standing = rows - 4;
    draw_head(canvas, view);
    canvas.rule(0, 1, canvas.columns());
    int y = draw_words(canvas, {view.headline}, view.tone == Tone::plain ? Tone::strong : view.tone, 3, standing - 1);
    y = draw_words(canvas, view.details, Tone::plain, y, standing - 1) + 1;
    constexpr int kChoiceColumns = 34;
    draw_choices(canvas, view, y, kChoiceColumns, std::max(standing - 1 - y, 1));
    draw_answer(canvas, view, kChoiceColumns + 2 * kMargin, y, standing - 1 - y);
    canvas.rule(0, standing - 1, canvas.columns());
    const int counts = columns_of(view.counts);
    canvas.text(kMargin, standing, view.state, Tone::strong, std::max(canvas.columns() - counts - 3 * kMargin, 0));
    canvas.text_right(canvas.columns() - kMargin, standing, view.counts);
    const int words = draw_words(canvas, {said(view)}, view.warning.empty() ? Tone::plain : Tone::warning, standing + 1, rows - 1);
    const int keys = std::max(words, standing + 2);
    draw_keys(canvas, kMargin, keys, canvas.columns() - 2 * kMargin, rows - keys, view.keys);
}

/// Small terminals: right or wrong first, then the choices, then the rest.
void draw_small(Canvas& canvas, const NameItView& view) {
    const int rows = canvas.rows();
    int y = 0;
    if (rows >= 6) {
        draw_head(canvas, view);
        ++y;
    }
    const int foot = rows >= 8 ? rows - 3 : rows;
    y = draw_words(canvas, {view.headline}, view.tone == Tone::plain ? Tone::strong : view.tone, y, std::max(foot - 1, 1));
    if (view.right && rows >= 8) {  // the choices have served
        y = draw_words(canvas, view.details, Tone::plain, y, foot);
        if (y < foot) canvas.text(kMargin, y, view.fret_string.empty() ? "" : view.chord + "  bass " + view.bass + "  " + view.fret_string, Tone::strong);
    } else {
        y += draw_choices(canvas, view, y, canvas.columns(), foot - y);
        (void)draw_words(canvas, view.details, Tone::plain, y, foot);
    }
    if (rows < 8) return;
    const std::string words = said(view);
    canvas.text(kMargin, foot, words.empty() ? view.state : words, view.warning.empty() ? Tone::strong : Tone::warning);
    canvas.text(kMargin, foot + 1, view.counts);
    draw_keys(canvas, kMargin, foot + 2, canvas.columns() - 2 * kMargin, 1, view.keys);
}

}  // namespace

void draw_name_it(Canvas& canvas, const NameItView& view) {
    if (canvas.columns() < 1 || canvas.rows() < 1) return;
    if (canvas.columns() >= kFullColumns && canvas.rows() >= kFullRows) draw_full(canvas, view);
    else draw_small(canvas, view);
}

}  // namespace gripline

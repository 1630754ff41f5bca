#include "ui/walk_screen.h"

#include <algorithm>

#include "ui/block_letters.h"
#include "ui/text_layout.h"
#include "ui/walk_chart.h"
#include "ui/walk_screen_reduced.h"
#include "ui/widgets.h"

namespace gripline {

namespace {

constexpr int kFullColumns = 72, kFullRows = 22;
constexpr int kFullRowsOfLetters = kFullRows + 8;  // letters in ASCII are twice as high: from here on the frets are large too
constexpr int kMostMessageRows = 2;                // of the standing: what is longer is cut
constexpr int kMargin = 1;
constexpr int kMarkColumns = 9;

void draw_head(Canvas& canvas, const WalkView& view) {
    const std::string right = view.place + "  " + view.tempo;
    canvas.text(kMargin, 0, view.title, Tone::heading, canvas.columns() - columns_of(right) - 3 * kMargin);
    canvas.text_right(canvas.columns() - kMargin, 0, right, Tone::heading);
    canvas.rule(0, 1, canvas.columns());
}

/// How large the two grips are shown.
struct PanelSize {
    int columns, chord_rows, fret_rows;
    int scale = 1;
};

/// The frets as text, the string's number below each.
void draw_small_frets(Canvas& canvas, int x, int y, int columns, const GripPanel& panel, Tone tone) {
    constexpr int kEach = 6;
    canvas.text(x, y, "fret", Tone::quiet, columns);
    canvas.text(x, y + 1, "string", Tone::quiet, columns);
    int end = x + 9;
    for (std::size_t i = 0; i < panel.frets.size(); ++i, end += kEach) {
        canvas.text_right(end, y, panel.frets[i], tone);
        canvas.text_right(end, y + 1, panel.strings[i], Tone::quiet);
    }
}

/// Chord large, then the frets with the string's number below each, large where there is room.
void draw_panel(Canvas& canvas, int x, int y, const PanelSize& of, const std::string& label, const GripPanel& panel, Tone tone) {
    const int columns = of.columns;
    int scale = of.scale;
    canvas.text(x, y, label, Tone::quiet, columns);
    if (panel.chord.empty() && panel.frets.empty()) return;
    if (!panel.sounds.empty()) canvas.text(x + columns_of(label) + 2, y, panel.sounds, tone, columns - columns_of(label) - 2);
    draw_chord_symbol(canvas, x, y + 1, columns - 2, of.chord_rows, panel.chord, tone);
    const int top = y + 1 + of.chord_rows + (scale > 1 ? 1 : 0);
    if (of.fret_rows < of.chord_rows) return draw_small_frets(canvas, x, top, columns, panel, tone);
    const auto width = [&](int dots) {
        int sum = 0;
        for (const std::string& fret : panel.frets) sum += std::max(block_columns(fret, {dots}), 2) + 3 * dots;
        return sum;
    };
    while (scale > 1 && width(scale) - 3 * scale > columns - 8) --scale;
    const BlockSize size{scale};
    const int high = block_rows(canvas.characters(), size);
    const int wide = width(scale);
    const bool large = wide - 3 * scale <= columns - 8;
    int at = x + 7;
    canvas.text(x, top + high, "string", Tone::quiet, columns);
    for (std::size_t i = 0; i < panel.frets.size(); ++i) {
        const int used = large ? draw_block(canvas, at, top, panel.frets[i], size, tone) : canvas.text(at, top + high - 1, panel.frets[i], tone, columns);
        canvas.text(at, top + high, panel.strings[i], Tone::quiet, columns);
        at += std::max(used, 2) + 3 * scale;
    }
}

/// "1  2 [3] 4", the count that sounds in brackets.
int draw_counts(Canvas& canvas, int x, int y, const WalkView& view) {
    int at = x;
    for (int count = 1; count <= view.counts; ++count) {
        const bool now = count == view.count;
        const std::string text = (now ? "[" : " ") + std::to_string(count) + (now ? "]" : " ");
        at += canvas.text(at, y, text, now ? Tone::strong : Tone::quiet) + 1;
    }
    return at - x;
}

/// The last beats in the rest of a row, the newest last: "right +4", "!wrong -12".
void draw_marks_briefly(Canvas& canvas, int x, int y, const WalkView& view) {
    constexpr int kColumns = 13;
    const int fit = (canvas.columns() - x + 1) / kColumns;
    int at = x;
    for (std::size_t i = static_cast<std::size_t>(std::max(static_cast<int>(view.last.size()) - fit, 0)); i < view.last.size(); ++i) {
        const BeatMark& mark = view.last[i];
        const std::string text = (mark.tone == Tone::bad ? "!" : "") + mark.verdict + (mark.off.empty() ? "" : " " + mark.off);
        canvas.text(at, y, text, mark.tone, kColumns - 1);
        at += kColumns;
    }
}

/// The last beats: place, verdict and time in three rows, the newest last.
void draw_marks(Canvas& canvas, int y, const WalkView& view) {
    const int fit = std::max((canvas.columns() - 2 * kMargin) / kMarkColumns, 1);
    const int from = std::max(static_cast<int>(view.last.size()) - fit, 0);
    int at = kMargin;
    for (std::size_t i = static_cast<std::size_t>(from); i < view.last.size(); ++i) {
        const BeatMark& mark = view.last[i];
        const bool bad = mark.tone == Tone::bad;
        canvas.text(at, y, mark.place, Tone::quiet, kMarkColumns - 1);
        canvas.text(at, y + 1, (bad ? "!" : "") + mark.verdict, mark.tone, kMarkColumns - 1);
        canvas.text(at, y + 2, mark.off.empty() ? "" : mark.off + " ms", Tone::plain, kMarkColumns - 1);
        at += kMarkColumns;
    }
}

void draw_standing(Canvas& canvas, const WalkView& view, int y) {
    const int counts_x = canvas.columns() - columns_of(view.counts_words) - kMargin;
    if (view.level.known) draw_level(canvas, kMargin, y, std::clamp(counts_x / 2 - 2, 14, 40), view.level);
    const int settings_x = std::clamp(counts_x / 2, 16, 42), room = counts_x - settings_x - 2;
    const bool fits = columns_of(view.settings) <= room;
    if (fits) canvas.text(settings_x, y, view.settings, Tone::quiet, room);
    canvas.text(counts_x, y, view.counts_words);
    const std::string& words = view.warning.empty() ? view.notice : view.warning;
    const Tone tone = words.empty() ? Tone::quiet : view.warning.empty() ? Tone::plain : Tone::warning;
    const int columns = canvas.columns() - 2 * kMargin;
    const auto lines = wrap(!words.empty() ? words : fits ? view.source : view.settings + "; " + view.source, columns);
    const int shown = std::min(static_cast<int>(lines.size()), kMostMessageRows);
    for (int row = 0; row < shown; ++row) canvas.text(kMargin, y + 1 + row, lines[static_cast<std::size_t>(row)], tone, columns);
    const int keys_y = y + 1 + std::max(shown, 1);
    draw_keys(canvas, kMargin, keys_y, columns, canvas.rows() - keys_y, view.keys);
}

void draw_full(Canvas& canvas, const WalkView& view) {
    const bool roomy = canvas.rows() >= 34 && canvas.columns() >= 100;
    const int scale = roomy ? 2 : 1;
    const int chord_rows = block_rows(canvas.characters(), {scale});
    const bool small_frets = canvas.characters() == CharacterSet::ascii && canvas.rows() < kFullRowsOfLetters;
    const int half = canvas.columns() / 2;
    const PanelSize panel{half - 2, chord_rows, small_frets ? 1 : chord_rows, scale};
    draw_head(canvas, view);
    const int top = 2 + (roomy ? 1 : 0);
    draw_panel(canvas, kMargin, top, panel, view.now_label, view.now, Tone::strong);
    draw_panel(canvas, half + kMargin, top, panel, view.next_label, view.next, Tone::plain);
    int y = top + 2 + panel.chord_rows + panel.fret_rows + (roomy ? 2 : 0);
    canvas.rule(0, y++, canvas.columns());
    const int used = draw_counts(canvas, kMargin, y, view);
    const int said = canvas.text(kMargin + used + 2, y, view.headline, view.tone, canvas.columns() - used - 4);
    if (!roomy) draw_marks_briefly(canvas, kMargin + used + said + 4, y, view);
    y += roomy ? 2 : 1;
    if (roomy) draw_marks(canvas, y, view);
    else canvas.text(kMargin, y, view.last_word, Tone::plain, canvas.columns() - 2);
    y += roomy ? 3 : 1;
    const int standing = canvas.rows() - (roomy ? 5 : 4);
    if (!view.last_word.empty() && roomy) canvas.text(kMargin, y++, view.last_word, Tone::plain, canvas.columns() - 2);
    canvas.rule(0, y++, canvas.columns());
    const int rows = std::max(standing - 1 - y, 1);
    const int columns = canvas.columns() - 2 * kMargin;
    draw_chart(canvas, kMargin, y, columns, chart_row_to_show(view.bars, columns, rows), rows, view.bars);
    canvas.rule(0, standing - 1, canvas.columns());
    draw_standing(canvas, view, standing);
}

struct EndLine {
    std::string text;
    Tone tone = Tone::plain;
    int chart_row = -1;  ///< instead of the text
};

std::vector<EndLine> end_lines(const WalkEndView& view, int columns) {
    std::vector<EndLine> out;
    const auto add = [&](const std::string& text, Tone tone) {
        for (std::string& line : wrap(text, columns)) out.push_back({std::move(line), tone});
    };
    add(view.headline, Tone::strong);
    add("Next: " + view.suggestion, Tone::good);
    for (const std::string& line : view.lines) add(line, Tone::plain);
    out.emplace_back();
    for (int row = 0; row < chart_rows(view.bars, columns); ++row) out.push_back({"", Tone::plain, row});
    add("o right  < early  > late  X wrong  - unheard", Tone::quiet);
    return out;
}

/// Rows of text between title and foot.
int end_rows(int rows) { return std::max(rows - (rows > 6 ? 3 : 1), 1); }

}  // namespace

void draw_walk(Canvas& canvas, const WalkView& view) {
    if (canvas.columns() >= kFullColumns && canvas.rows() >= kFullRows) draw_full(canvas, view);
    else draw_walk_reduced(canvas, view);
}

int walk_end_scrolls(const WalkEndView& view, int columns, int rows) {
    return std::max(static_cast<int>(end_lines(view, std::max(columns - 2, 1)).size()) - end_rows(rows), 0);
}

void draw_walk_end(Canvas& canvas, const WalkEndView& view) {
    if (canvas.columns() < 1 || canvas.rows() < 1) return;
    const int columns = std::max(canvas.columns() - 2, 1);
    const auto lines = end_lines(view, columns);
    const bool framed = canvas.rows() > 6;
    const int each = end_rows(canvas.rows());
    const int first = std::clamp(view.scroll, 0, std::max(static_cast<int>(lines.size()) - each, 0));
    int y = framed ? 2 : 0;
    for (int i = first; i < std::min(first + each, static_cast<int>(lines.size())); ++i, ++y) {
        const EndLine& line = lines[static_cast<std::size_t>(i)];
        if (line.chart_row < 0) canvas.text(1, y, line.text, line.tone);
        else draw_chart(canvas, 1, y, columns, line.chart_row, 1, view.bars);
    }
    if (framed) {
        canvas.text(1, 0, view.title, Tone::heading);
        canvas.rule(0, 1, canvas.columns());
    }
    const bool more = first + each < static_cast<int>(lines.size());
    if (canvas.rows() > 1) canvas.text(1, canvas.rows() - 1, view.foot + (more ? "  down: more" : ""), Tone::strong, columns);
}

}  // namespace gripline

#include "ui/walk_screen_reduced.h"

#include <algorithm>
#include <functional>
#include <vector>

#include "ui/block_letters.h"
#include "ui/text_layout.h"
#include "ui/walk_chart.h"
#include "ui/widgets.h"

namespace gripline {

namespace {

/// A strip of rows over the whole width; 0 is the rank that matters most.
struct WalkStrip {
    int rank, rows;
    std::function<void(int y)> draw;
};

constexpr int kMarksRank = 6;

/// Words in at most two rows.
WalkStrip sentence(Canvas& canvas, int rank, const std::string& words, Tone tone) {
    auto lines = wrap(words, canvas.columns());
    if (lines.size() > 2) lines.resize(2);
    return {rank, static_cast<int>(lines.size()), [&canvas, lines, tone](int y) {
        for (const std::string& each : lines) canvas.text(0, y++, each, tone);
    }};
}

std::string brief(const GripPanel& panel) {
    std::string text = panel.chord;
    if (!panel.sounds.empty()) text += " (" + panel.sounds + ")";
    return text.empty() ? panel.fret_string : text + "  " + panel.fret_string;
}

/// The frets of the grip as large letters, the chord beside them where it fits.
WalkStrip frets_strip(Canvas& canvas, const WalkView& view) {
    int wide = 0;
    for (const std::string& fret : view.now.frets) wide += block_columns(fret, {1}) + 3;
    const bool fits = !view.now.frets.empty() && wide <= canvas.columns();
    return {3, fits ? block_rows(canvas.characters(), {1}) : 0, [&canvas, &view, wide](int y) {
        int x = 0;
        for (const std::string& fret : view.now.frets) x += draw_block(canvas, x, y, fret, {1}, Tone::strong) + 3;
        const int left = wide + 2;
        const int room = canvas.columns() - left;
        if (has_block_letters(view.now.chord) && block_columns(view.now.chord, {1}) <= room) draw_block(canvas, left, y, view.now.chord, {1}, Tone::plain);
    }};
}

/// The newest beats, as many as fit: "right +4  !wrong -12".
std::string marks_line(const WalkView& view, int columns) {
    std::string line;
    for (auto mark = view.last.rbegin(); mark != view.last.rend(); ++mark) {
        const std::string text = (mark->tone == Tone::bad ? "!" : "") + mark->verdict + (mark->off.empty() ? "" : " " + mark->off);
        if (columns_of(line) + columns_of(text) + 2 > columns) break;
        line = line.empty() ? text : text + "  " + line;
    }
    return line;
}

std::string count_line(const WalkView& view) {
    std::string line;
    for (int count = 1; count <= view.counts; ++count) line += count == view.count ? "[" + std::to_string(count) + "]" : " " + std::to_string(count) + " ";
    return line;
}

}  // namespace

void draw_walk_reduced(Canvas& canvas, const WalkView& view) {
    if (canvas.columns() < 1 || canvas.rows() < 1) return;
    const int columns = canvas.columns();
    const auto line = [&](int rank, const std::string& text, Tone tone) {
        return WalkStrip{rank, text.empty() ? 0 : 1, [&canvas, text, tone](int y) { canvas.text(0, y, text, tone); }};
    };
    bool marks_shown = false;  // where they have no row of their own, the newest stand behind the counts
    const auto counts = [&](int y) {
        const int used = canvas.text(0, y, (view.count > 0 ? count_line(view) + " " : "") + view.headline, view.tone) + 2;
        if (!marks_shown) canvas.text(used, y, marks_line(view, columns - used));
    };
    const std::string& words = view.warning.empty() ? view.notice : view.warning;
    const int chart = std::min(chart_rows(view.bars, columns), std::clamp(canvas.rows() - 11, 1, 6));
    const std::string head = view.place + "  " + view.tempo;
    const WalkStrip marks = line(kMarksRank, marks_line(view, columns), Tone::plain);
    std::vector<WalkStrip> strips = {
        line(7, head, Tone::heading),
        frets_strip(canvas, view),
        line(0, (view.now_label.empty() ? "" : "Now  ") + brief(view.now), Tone::strong),
        line(2, view.next.frets.empty() ? "" : "Next " + brief(view.next), Tone::plain),
        {1, 1, counts},
        marks,
        sentence(canvas, 5, view.last_word, Tone::plain),
        {8, view.bars.empty() ? 0 : chart, [&canvas, &view, columns, chart](int y) { draw_chart(canvas, 0, y, columns, chart_row_to_show(view.bars, columns, chart), chart, view.bars); }},
        sentence(canvas, 4, words, view.warning.empty() ? Tone::plain : Tone::warning),
        line(10, view.counts_words, Tone::quiet),
        {9, 1, [&canvas, &view, columns](int y) { draw_keys(canvas, 0, y, columns, 1, view.keys); }},
        line(11, view.title, Tone::quiet),
        sentence(canvas, 12, view.settings, Tone::quiet),
    };
    std::vector<std::size_t> order(strips.size());
    for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
    std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) { return strips[a].rank < strips[b].rank; });
    std::vector<bool> shown(strips.size(), false);
    int left = canvas.rows();
    for (const std::size_t i : order) {
        if (strips[i].rows == 0 || strips[i].rows > left) continue;
        shown[i] = true;
        left -= strips[i].rows;
        marks_shown = marks_shown || strips[i].rank == kMarksRank;
    }
    int y = 0;
    for (std::size_t i = 0; i < strips.size(); ++i) {
        if (!shown[i]) continue;
        strips[i].draw(y);
        y += strips[i].rows;
    }
}

}  // namespace gripline

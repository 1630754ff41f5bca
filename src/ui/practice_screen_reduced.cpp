#include "ui/practice_screen_reduced.h"

#include <algorithm>
#include <functional>
#include <utility>
#include <vector>

#include "ui/block_letters.h"
#include "ui/text_layout.h"
#include "ui/widgets.h"

namespace gripline {
namespace {

/// A notice is shown whole where it takes no more than this part of the rows, else its beginning in one (judgement).
constexpr int kNoticeShare = 3;

/// A strip of rows over the whole width.
struct Strip {
    int rank;  ///< 0 matters most
    int rows;
    std::function<void(Canvas&, int y, int rows)> draw;
};

void draw_lines(Canvas& canvas, int y, int rows, const std::vector<std::string>& lines, Tone tone, bool fill) {
    for (int row = 0; row < std::min(rows, static_cast<int>(lines.size())); ++row) {
        if (fill) {
            for (int x = 0; x < canvas.columns(); ++x) canvas.put(x, y + row, U' ', tone);
        }
        canvas.text(0, y + row, lines[static_cast<std::size_t>(row)], tone);
    }
}

Strip line(int rank, std::string text, Tone tone) {
    return {rank, text.empty() ? 0 : 1, [text = std::move(text), tone](Canvas& canvas, int y, int) { canvas.text(0, y, text, tone); }};
}

Strip head(const PracticeView& view) {
    return {6, 1, [&view](Canvas& canvas, int y, int) {
        const int place = columns_of(view.place);
        canvas.text(0, y, view.exercise, Tone::heading, std::max(canvas.columns() - place - 1, 0));
        canvas.text_right(canvas.columns(), y, view.place, Tone::heading);
    }};
}

Strip standing(const PracticeView& view) {
    return {3, 1, [&view](Canvas& canvas, int y, int) {
        const int used = canvas.text(0, y, view.state, Tone::strong);
        if (canvas.columns() - used - 1 >= 14) draw_level(canvas, used + 1, y, canvas.columns() - used - 1, view.level);
    }};
}

/// The large symbol, or nothing where the rows or columns are too few for it.
Strip symbol(const Canvas& canvas, const PracticeView& view) {
    const bool fits = has_block_letters(view.chord) && !view.chord.empty() && block_columns(view.chord, {1}) <= canvas.columns();
    return {2, fits ? block_rows(canvas.characters(), {1}) : 0,
            [&view](Canvas& to, int y, int rows) { draw_chord_symbol(to, 0, y, to.columns(), rows, view.chord, Tone::strong); }};
}

/// Chord, bass and grip, as many words as the columns allow; the grip is never cut for the sake of words.
std::string asked_line(const PracticeView& view, int columns) {
    if (view.chord.empty()) return "";
    const std::string full = view.chord + "  bass " + view.bass + "  " + view.fret_string;
    if (columns_of(full) <= columns) return full;
    const std::string brief = view.chord + "/" + view.bass + " " + view.fret_string;
    return columns_of(brief) <= columns ? brief : view.fret_string;
}

/// What was asked and heard, or what was heard alone where both are too long.
std::string compared_line(const PracticeView& view, int columns) {
    if (view.fret_string.empty()) return "";
    if (!view.heard) return asked_text(view.strings);
    const std::string both = asked_text(view.strings) + "   " + heard_text(view.strings);
    return columns_of(both) <= columns ? both : heard_text(view.strings);
}

/// Rows given to each strip: in the order of rank, each whole or not at all; the verdict's may be cut.
std::vector<int> share_rows(const std::vector<Strip>& strips, int rows) {
    std::vector<std::size_t> order;
    for (std::size_t i = 0; i < strips.size(); ++i) order.push_back(i);
    std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) { return strips[a].rank < strips[b].rank; });
    std::vector<int> given(strips.size(), 0);
    for (const std::size_t i : order) {
        const int want = strips[i].rank == 0 ? std::min(strips[i].rows, std::max(rows - 1, 1)) : strips[i].rows;
        if (want > rows) continue;
        given[i] = want;
        rows -= want;
    }
    return given;
}

}  // namespace

void draw_practice_reduced(Canvas& canvas, const PracticeView& view) {
    if (canvas.columns() < 1 || canvas.rows() < 1) return;
    const auto verdict = wrap(view.headline, canvas.columns());
    std::vector<std::string> details;
    for (const std::string& detail : view.details) {
        if (!view.brief_why.empty()) break;
        for (std::string& text : wrap(detail, canvas.columns())) details.push_back(std::move(text));
    }
    const std::string asked = asked_line(view, canvas.columns());
    const std::string& words = view.warning.empty() ? view.notice : view.warning;
    const std::string compared = compared_line(view, canvas.columns());
    const auto notice = wrap(view.notice, canvas.columns());
    const bool whole = view.warning.empty() && notice.size() > 1 && static_cast<int>(notice.size()) <= canvas.rows() / kNoticeShare;
    const Strip said = whole ? Strip{4, static_cast<int>(notice.size()), [&](Canvas& to, int y, int rows) { draw_lines(to, y, rows, notice, Tone::plain, false); }}
                             : line(4, words, view.warning.empty() ? Tone::plain : Tone::warning);
    const std::vector<Strip> strips = {
        head(view),
        symbol(canvas, view),
        line(1, asked, Tone::strong),
        line(5, compared, Tone::plain),
        {0, static_cast<int>(verdict.size()), [&](Canvas& to, int y, int rows) { draw_lines(to, y, rows, verdict, view.tone, true); }},
        {8, static_cast<int>(details.size()), [&](Canvas& to, int y, int rows) { draw_lines(to, y, rows, details, Tone::plain, false); }},
        line(8, view.brief_why, Tone::plain),
        line(9, view.next, Tone::quiet),
        standing(view),
        said,
        line(7, view.counts + (view.keys.empty() ? "" : "  " + view.keys.front().key + " " + view.keys.front().does), Tone::quiet),
        line(10, words.empty() ? view.gestures : "", Tone::quiet),
        line(11, words.empty() ? "Input: " + view.source : "", Tone::quiet),
        {12, 1, [&](Canvas& to, int y, int) { draw_keys(to, 0, y, to.columns(), 1, view.keys); }},
    };
    const std::vector<int> given = share_rows(strips, canvas.rows());
    int y = 0;
    for (std::size_t i = 0; i < strips.size(); ++i) {
        if (given[i] > 0) strips[i].draw(canvas, y, given[i]);
        y += given[i];
    }
}

}  // namespace gripline

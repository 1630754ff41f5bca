// The second picture of progress_screen.h: strings by frets off, names given to what was heard, tempos reached.
#include <algorithm>
#include <cstdlib>

#include "base/text.h"
#include "ui/progress_screen.h"
#include "ui/text_layout.h"

namespace gripline {
namespace {

constexpr int kRoomy_columns = 72, kWordy_columns = 96;  // the latter: "3+ sharp" in every column
constexpr int kColumns = 2 * kFretsOffShown + 2;  // frets off, missing, extra

std::string heading(int column, bool roomy) {
    if (column == kColumns - 2) return roomy ? "silent" : "sil";
    if (column == kColumns - 1) return roomy ? "unasked" : "un";
    const int off = column < kFretsOffShown ? column - kFretsOffShown : column - kFretsOffShown + 1;
    const std::string many = std::to_string(std::abs(off)) + (std::abs(off) == kFretsOffShown ? "+" : "");
    return roomy ? many + (off < 0 ? " flat" : " sharp") : (off < 0 ? "-" : "+") + many;
}

std::int64_t count_in(const StringFaults& row, int column) {
    if (column == kColumns - 2) return row.missing;
    if (column == kColumns - 1) return row.extra;
    return row.by_frets[static_cast<std::size_t>(column < kFretsOffShown ? column : column + 1)];
}

int draw_strings(const Progress& progress, Canvas& canvas, int y) {
    const bool roomy = canvas.columns() >= kRoomy_columns;
    const int first = roomy ? 8 : 3, width = std::max(4, (canvas.columns() - first - 1) / kColumns);
    if (progress.strings.empty()) {
        canvas.text(1, y, "No single string was heard off yet.", Tone::quiet, canvas.columns() - 2);
        return y + 1;
    }
    canvas.text(1, y, roomy ? "String" : "", Tone::heading);
    for (int c = 0; c < kColumns; ++c) canvas.text_right(first + (c + 1) * width, y, heading(c, canvas.columns() >= kWordy_columns), Tone::heading);
    std::int64_t most = 0;
    for (const StringFaults& row : progress.strings)
        for (int c = 0; c < kColumns; ++c) most = std::max(most, count_in(row, c));
    for (const StringFaults& row : progress.strings) {
        canvas.text(1, ++y, std::to_string(row.string), Tone::plain);
        for (int c = 0; c < kColumns; ++c) {
            const std::int64_t count = count_in(row, c);
            canvas.text_right(first + (c + 1) * width, y, count > 0 ? std::to_string(count) : "-", count > 0 && count == most ? Tone::strong : count > 0 ? Tone::plain : Tone::quiet);
        }
    }
    return y + 1;
}

}  // namespace

void draw_progress_details(const ProgressView& view, Canvas& canvas) {
    const Progress& progress = view.progress;
    const int rows = canvas.rows(), columns = canvas.columns();
    const bool tall = rows >= 20;
    canvas.text(1, 0, (columns >= kRoomy_columns ? "Progress of " : "") + plain_line(progress.player) + ": " + progress.part.text(), Tone::heading, columns - 2);
    int y = 1;
    if (tall) canvas.rule(0, y++, columns);
    if (tall) canvas.text(1, y++, "Strings by frets off (- flat, + sharp), by each answer's likeliest fault", Tone::quiet, columns - 2);
    y = draw_strings(progress, canvas, y);
    if (tall) canvas.rule(0, y++, columns);
    const int last = rows - 1;
    if (!progress.questions.empty() && y < last) {
        canvas.text(1, y++, "Naming what is heard", Tone::heading, columns - 2);
        for (const ProgressQuestion& question : progress.questions)
            if (y < last) canvas.text(1, y++, question.text(), Tone::plain, columns - 2);
        if (tall) canvas.rule(0, y++, columns);
    }
    if (y < last) canvas.text(1, y++, tall ? "Tempo reached: surely 80 % right at that or faster" : "Tempo reached", Tone::heading, columns - 2);
    if (progress.tempos.empty() && y < last) canvas.text(1, y++, "Nothing was asked in time yet: walk, or into the target.", Tone::quiet, columns - 2);
    std::size_t told = 0;
    for (const ProgressTempo& tempo : progress.tempos) {
        const auto lines = wrap(tempo.text(), std::max(1, columns - 2));
        const bool more = told + 1 < progress.tempos.size();
        if (y + static_cast<int>(lines.size()) + (more ? 1 : 0) > last) break;
        for (const std::string& line : lines) canvas.text(1, y++, line, Tone::plain);
        ++told;
    }
    if (told < progress.tempos.size() && y < last) canvas.text(1, y, "and " + std::to_string(progress.tempos.size() - told) + " more", Tone::quiet, columns - 2);
    canvas.text(1, rows - 1, "f back   " + view.leave, Tone::quiet, columns - 2);
}

}  // namespace gripline

#include "ui/progress_screen.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>

#include "base/text.h"
#include "ui/text_layout.h"

namespace gripline {

namespace {

constexpr int kRoomy_columns = 72;  // twelve keys of six columns each

std::string per_cent(const RateCount& count) { return count.attempts > 0 ? std::to_string(std::lround(100.0 * count.rate())) + "%" : "-"; }

Tone tone_of(Standing standing) {
    if (standing == Standing::weak) return Tone::bad;
    return standing == Standing::strong ? Tone::good : Tone::plain;
}

/// Rate, shade and number of answers, as far as there is room.
void draw_cell(Canvas& canvas, int x, int y, int columns, const RateCount& count, bool marked) {
    const Standing said = standing(count);
    const int inner = columns - 1;
    canvas.text(x, y, marked ? ">" : " ", Tone::strong);
    const Tone tone = marked ? Tone::strong : tone_of(said);
    canvas.text_right(x + 5, y, per_cent(count), tone);
    canvas.text(x + 6, y, shade_of(said, canvas.characters()), tone_of(said));
    if (inner >= 13 && count.attempts > 0) canvas.text(x + 9, y, "of " + std::to_string(count.attempts), Tone::quiet, columns - 10);
}

int draw_table(const ProgressView& view, Canvas& canvas, int y, int most_rows) {
    const auto& rows = view.progress.rows;
    const bool roomy = canvas.columns() >= kRoomy_columns;
    const int first = roomy ? 12 : 7, width = (canvas.columns() - first - 1) / static_cast<int>(kProgressColumns);
    constexpr std::array kShort{"chord", "pass", "below", "above"};
    canvas.text(1, y, roomy ? "Quality" : "", Tone::heading);
    for (std::size_t c = 0; c < kProgressColumns; ++c)
        canvas.text(first + static_cast<int>(c) * width + 1, y, roomy ? std::string(word(static_cast<ProgressColumn>(c))) : kShort[c], Tone::heading, width - 1);
    ++y;
    const int shown = std::min(static_cast<int>(rows.size()), std::max(1, most_rows - 1));
    const int top = view.mark.on_keys ? 0 : std::clamp(view.mark.row - shown + 1, 0, std::max(0, static_cast<int>(rows.size()) - shown));
    if (rows.empty()) canvas.text(1, y++, "Nothing was asked yet.", Tone::quiet);
    for (int r = top; r < std::min(static_cast<int>(rows.size()), top + shown); ++r, ++y) {
        const ProgressRow& row = rows[static_cast<std::size_t>(r)];
        canvas.text(1, y, row.quality.empty() ? "major" : row.quality, Tone::plain, first - 2);
        for (std::size_t c = 0; c < kProgressColumns; ++c)
            draw_cell(canvas, first + static_cast<int>(c) * width, y, width, row.cells[c].count, !view.mark.on_keys && view.mark.row == r && view.mark.column == static_cast<int>(c));
    }
    return y;
}

int draw_keys_row(const ProgressView& view, Canvas& canvas, int y) {
    const int in_a_row = canvas.columns() >= kRoomy_columns ? 12 : 6, width = (canvas.columns() - 1) / in_a_row;
    for (int place = 0; place < 12; ++place) {
        const int x = 1 + place % in_a_row * width;
        if (place == in_a_row) y += 2;
        const PitchClass key = key_at(place);
        const RateCount& count = view.progress.keys[static_cast<std::size_t>(key.value())].count;
        const bool marked = view.mark.on_keys && view.mark.column == place;
        const std::string shade = shade_of(standing(count), canvas.characters());
        canvas.text(x, y, (marked ? ">" : "") + plain_name(key) + " ", marked ? Tone::strong : Tone::heading);
        canvas.text(x + 3 + (marked ? 1 : 0), y, shade.substr(0, shade.size() / 2), tone_of(standing(count)));
        canvas.text(x, y + 1, per_cent(count), marked ? Tone::strong : tone_of(standing(count)), width - 1);
    }
    return y + 2;
}

std::string legend(CharacterSet characters) {
    const auto each = [&](Standing said, const char* words) { return shade_of(said, characters) + " " + words + "   "; };
    return each(Standing::weak, "weak") + each(Standing::between, "in between") + each(Standing::strong, "strong") + "no shade: under " + std::to_string(kLeastAttemptsToJudge) + " answers";
}

/// Lines of words below the tables, the most wanted first.
std::vector<std::pair<std::string, Tone>> told(const ProgressView& view, const Canvas& canvas) {
    const Progress& progress = view.progress;
    std::vector<std::pair<std::string, Tone>> out;
    if (!view.notice.empty()) out.emplace_back(view.notice, Tone::warning);
    out.emplace_back("This week " + rate_words(progress.this_week) + "; last week " + rate_words(progress.last_week) + ": " + std::string(week_words(progress)) + ".", Tone::plain);
    const int weeks = std::clamp(canvas.columns() - 12, 4, kWeeksShown);
    out.emplace_back(week_bars(progress, canvas.characters(), weeks) + " " + std::to_string(weeks) + (canvas.characters() == CharacterSet::ascii ? " weeks, in tenths" : " weeks"), Tone::plain);
    out.emplace_back("Trend " + trend_words(progress) + ".", Tone::plain);
    std::string more;
    if (progress.answer_s) {
        char time[32];
        std::snprintf(time, sizeof time, "%.1f s", *progress.answer_s);
        more += "Time to answer " + std::string(time) + ". ";
    }
    if (progress.most_tempo_bpm > 0.0) more += "Fastest right at " + std::to_string(std::lround(progress.most_tempo_bpm)) + ". ";
    for (std::size_t i = 0; i < progress.faults.size(); ++i) more += (i == 0 ? "Commonest faults: " : "; ") + progress.faults[i];
    if (!more.empty()) out.emplace_back(more + (progress.faults.empty() ? "" : "."), Tone::plain);
    return out;
}

/// What is told in words, the plan last: each line as wide as the canvas allows.
std::vector<std::pair<std::string, Tone>> told_lines(const ProgressView& view, const Canvas& canvas) {
    const int columns = std::max(1, canvas.columns() - 2);
    std::vector<std::pair<std::string, Tone>> out;
    const auto add = [&](const std::string& text, Tone tone) {
        for (const std::string& line : wrap(text, columns)) out.emplace_back(line, tone);
    };
    for (const auto& [text, tone] : told(view, canvas)) add(text, tone);
    if (!view.plan.empty()) add("Today, ten minutes", Tone::heading);
    for (const PlanItem& item : view.plan) add(item.words, Tone::plain);
    return out;
}

/// Tables, and below them what there is room for. True: something of the words or the plan was left out.
bool draw_tables(const ProgressView& view, Canvas& canvas) {
    const Progress& progress = view.progress;
    const int rows = canvas.rows(), columns = canvas.columns();
    const bool tall = rows >= 20, roomy = columns >= kRoomy_columns;
    int y = 1;
    if (tall) canvas.rule(0, y++, columns);
    const int keys_height = roomy ? 2 : 4, foot = 1;
    const int wanted = tall ? static_cast<int>(view.plan.size()) + 9 : roomy ? 2 : 0;  // rows kept for words and plan
    const int table_rows = std::clamp(static_cast<int>(progress.rows.size()) + 1, 2, std::max(2, rows - y - keys_height - foot - wanted));
    y = draw_table(view, canvas, y, table_rows);
    if (tall) canvas.rule(0, y++, columns);
    if (y + keys_height < rows) y = draw_keys_row(view, canvas, y);
    if (tall) {
        canvas.text(1, y++, legend(canvas.characters()), Tone::quiet, columns - 2);
        canvas.rule(0, y++, columns);
    }
    bool left_out = false;
    const int plan_rows = tall ? static_cast<int>(view.plan.size()) + 2 : 0;
    for (const auto& [text, tone] : told(view, canvas)) {
        for (const std::string& line : wrap(text, std::max(1, columns - 2))) {
            if (y < rows - foot - plan_rows) canvas.text(1, y++, line, tone);
            else left_out = true;
        }
    }
    if (view.plan.empty()) return left_out;
    if (!tall || y >= rows - foot - 1) return true;
    canvas.text(1, y++, "Today, ten minutes", Tone::heading);
    for (const PlanItem& item : view.plan) {
        if (y < rows - foot) canvas.text(1, y++, item.words, Tone::plain, columns - 2);
        else left_out = true;
    }
    return left_out;
}

}  // namespace

std::string shade_of(Standing standing, CharacterSet characters) {
    const bool ascii = characters == CharacterSet::ascii;
    switch (standing) {
        case Standing::weak: return ascii ? "##" : "██";
        case Standing::between: return ascii ? "++" : "▒▒";
        case Standing::strong: return ascii ? ".." : "░░";
        case Standing::too_few: return "  ";
    }
    return "";
}

std::string week_bars(const Progress& progress, CharacterSet characters, int weeks) {
    constexpr std::array<const char*, 8> kBars{"▁", "▂", "▃", "▄", "▅", "▆", "▇", "█"};
    std::string out;
    const std::size_t from = progress.weeks.size() - std::min(progress.weeks.size(), static_cast<std::size_t>(std::max(0, weeks)));
    for (std::size_t i = from; i < progress.weeks.size(); ++i) {
        const RateCount& count = progress.weeks[i].count;
        if (count.attempts == 0) out += ".";
        else if (characters == CharacterSet::ascii) out += std::to_string(std::min(9L, static_cast<long>(count.rate() * 10.0)));
        else out += kBars[std::min<std::size_t>(7, static_cast<std::size_t>(count.rate() * 8.0))];
    }
    return out;
}

std::string trend_words(const Progress& progress) {
    if (!progress.trend) return "can't be told yet: " + progress.no_trend;
    const auto asked = std::find_if(progress.weeks.begin(), progress.weeks.end(), [](const WeekCount& week) { return week.count.attempts > 0; });
    const auto then = static_cast<double>(asked->week), now = static_cast<double>(progress.weeks.back().week);
    const auto share = [](double rate) { return std::to_string(std::lround(100.0 * rate)); };
    const RateInterval band = progress.trend->band(now);
    return std::string(trend_word(*progress.trend)) + ": " + share(progress.trend->rate(then)) + " % in the first week shown, " + share(progress.trend->rate(now)) + " % now (" + share(band.low) + " to " + share(band.high) + " %)";
}

void draw_progress(const ProgressView& view, Canvas& canvas) {
    if (view.details) return draw_progress_details(view, canvas);
    const Progress& progress = view.progress;
    const int rows = canvas.rows(), columns = canvas.columns(), a_page = rows - 2;
    const bool roomy = columns >= kRoomy_columns;
    Canvas tables = canvas;
    const bool more = draw_tables(view, tables) && a_page > 0;
    const auto lines = told_lines(view, canvas);
    const int pages = more ? (static_cast<int>(lines.size()) + a_page - 1) / a_page : 0;
    const int page = view.page % (pages + 1);
    if (page == 0) canvas = tables;
    for (int i = 0; page > 0 && i < a_page; ++i) {
        const auto line = static_cast<std::size_t>((page - 1) * a_page + i);
        if (line < lines.size()) canvas.text(1, 1 + i, lines[line].first, lines[line].second);
    }
    canvas.text(1, 0, (roomy ? "Progress of " : "") + plain_line(progress.player) + ": " + progress.part.text(), Tone::heading, columns - 2);
    if (roomy) canvas.text_right(columns - 1, 0, "  " + date_text(progress.today) + "  " + std::to_string(progress.attempts) + " tries", Tone::quiet);
    const bool whole = !progress.part.quality && !progress.part.column && !progress.part.key;
    std::string keys = roomy ? std::string("arrows move   enter look closer   f faults, tempo   ") + (more ? "n more   " : "") + (whole ? "" : "escape wider   ") : std::string(more ? "n more  " : "") + "arrows  enter/esc  f  ";
    if (page > 0) keys = "page " + std::to_string(page) + " of " + std::to_string(pages) + "   n " + (page < pages ? "next" : "tables") + "   ";
    canvas.text(1, rows - 1, keys + view.leave, Tone::quiet, columns - 2);
}

}  // namespace gripline

#include "formats/progress_page.h"

#include <cmath>
#include <cstdlib>
#include <numbers>
#include <ostream>

#include "formats/markup.h"

namespace gripline {

namespace {

/// Black on white; hatching and words say what colour would.
constexpr std::string_view kHead =
    "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
    "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'\">\n"
    "<meta name=\"viewport\" content=\"width=device-width\">\n<style>\n"
    "body{font:16px/1.45 sans-serif;max-width:60em;margin:1.5em auto;padding:0 1em;color:#111;background:#fff}\n"
    "table{border-collapse:collapse;margin:.6em 0}th,td{text-align:left;padding:.3em .8em;border:1px solid #999;vertical-align:top}\n"
    "td.weak{border:3px solid #111;font-weight:bold}td.strong{border-style:dotted}small{display:block;color:#444}\n"
    "svg{max-width:100%;height:auto;font:13px sans-serif}.pair{display:flex;flex-wrap:wrap;gap:2em}\n"
    "@media print{body{margin:0;max-width:none;font-size:11pt}h2,svg,table{break-inside:avoid}h2{break-after:avoid}}\n"
    "</style>\n";

std::string whole(double number) { return std::to_string(std::lround(number)); }

/// One decimal place, a point whatever the locale.
std::string place(double number) {
    const long tenths = std::lround(number * 10.0);
    return (tenths < 0 ? "-" : "") + std::to_string(std::abs(tenths) / 10) + "." + std::to_string(std::abs(tenths) % 10);
}

std::string interval_text(const RateCount& count) {
    const RateInterval interval = count.interval();
    return whole(100.0 * interval.low) + " to " + whole(100.0 * interval.high) + " %";
}

const char* fill_of(Standing said) {
    switch (said) {
        case Standing::weak: return "url(#dense)";
        case Standing::between: return "url(#loose)";
        case Standing::strong: return "#fff";
        case Standing::too_few: return "#fff";
    }
    return "#fff";
}

/// Text on a white ground, so that hatching behind it does not blur it.
void label(std::ostream& out, double x, double y, const std::string& text, const char* more = "") {
    out << "<text x=\"" << place(x) << "\" y=\"" << place(y) << "\" text-anchor=\"middle\" paint-order=\"stroke\" stroke=\"#fff\" stroke-width=\"4\"" << more << ">" << text << "</text>\n";
}

constexpr std::string_view kHatching =
    "<defs><pattern id=\"dense\" width=\"4\" height=\"4\" patternUnits=\"userSpaceOnUse\" patternTransform=\"rotate(45)\"><rect width=\"4\" height=\"4\" fill=\"#fff\"/><rect width=\"2.6\" height=\"4\" fill=\"#111\"/></pattern>"
    "<pattern id=\"loose\" width=\"8\" height=\"8\" patternUnits=\"userSpaceOnUse\" patternTransform=\"rotate(45)\"><rect width=\"8\" height=\"8\" fill=\"#fff\"/><rect width=\"1.6\" height=\"8\" fill=\"#555\"/></pattern></defs>\n";

/// The twelve keys on the circle of fourths.
void write_ring(const Progress& progress, std::ostream& out) {
    constexpr double kMiddle = 180.0, kRing = 135.0, kDisc = 33.0;
    out << "<svg id=\"keys\" role=\"img\" aria-label=\"Rates of the twelve keys\" viewBox=\"0 0 360 360\" width=\"360\" height=\"360\">\n" << kHatching;
    for (int step = 0; step < 12; ++step) {
        const PitchClass key(step * 5);
        const RateCount& count = progress.keys[static_cast<std::size_t>(key.value())].count;
        const Standing said = standing(count);
        const double angle = 2.0 * std::numbers::pi * step / 12.0, x = kMiddle + kRing * std::sin(angle), y = kMiddle - kRing * std::cos(angle);
        out << "<circle cx=\"" << place(x) << "\" cy=\"" << place(y) << "\" r=\"" << kDisc << "\" fill=\"" << fill_of(said) << "\" stroke=\"#111\" stroke-width=\"" << (said == Standing::weak ? 3 : 1) << "\""
            << (said == Standing::too_few ? " stroke-dasharray=\"3 4\"" : "") << "/>\n";
        label(out, x, y - 10, plain_name(key), " font-weight=\"bold\"");
        label(out, x, y + 6, count.attempts > 0 ? whole(100.0 * count.rate()) + " %" : "-");
        if (count.attempts > 0) label(out, x, y + 20, "of " + std::to_string(count.attempts), " font-size=\"11\"");
    }
    label(out, kMiddle, kMiddle - 22, "dense: weak");
    label(out, kMiddle, kMiddle - 2, "lines: in between");
    label(out, kMiddle, kMiddle + 18, "white: strong");
    label(out, kMiddle, kMiddle + 38, "dashed: too few");
    out << "</svg>\n";
}

/// Weeks with their intervals, and the trend with its band.
void write_weeks(const Progress& progress, std::ostream& out) {
    constexpr double kLeft = 50.0, kTop = 14.0, kWidth = 560.0, kHeight = 220.0;
    const auto first = progress.weeks.front().week;
    const double step = kWidth / static_cast<double>(progress.weeks.size());
    const auto x_of = [&](double week) { return kLeft + step * (week - static_cast<double>(first) + 0.5); };
    const auto y_of = [&](double rate) { return kTop + kHeight * (1.0 - rate); };
    out << "<svg id=\"weeks\" role=\"img\" aria-label=\"Rate of right first tries week by week\" viewBox=\"0 0 620 262\" width=\"620\" height=\"262\">\n";
    for (int tenths = 0; tenths <= 10; tenths += 2) {
        const double y = y_of(tenths / 10.0);
        out << "<line x1=\"" << kLeft << "\" x2=\"" << kLeft + kWidth << "\" y1=\"" << place(y) << "\" y2=\"" << place(y) << "\" stroke=\"#ccc\"/><text x=\"" << kLeft - 6 << "\" y=\"" << place(y + 4) << "\" text-anchor=\"end\">" << tenths * 10 << " %</text>\n";
    }
    if (progress.trend) {
        std::string upper, lower, middle;
        bool begun = false;  // nothing is drawn before the first week with answers
        for (const WeekCount& week : progress.weeks) {
            begun = begun || week.count.attempts > 0;
            if (!begun) continue;
            const auto at = static_cast<double>(week.week);
            const RateInterval band = progress.trend->band(at);
            const std::string x = place(x_of(at)) + ",";
            upper += x + place(y_of(band.high)) + " ";
            lower = x + place(y_of(band.low)) + " " + lower;
            middle += x + place(y_of(progress.trend->rate(at))) + " ";
        }
        out << "<polygon points=\"" << upper << lower << "\" fill=\"#ddd\"/><polyline points=\"" << middle << "\" fill=\"none\" stroke=\"#111\" stroke-dasharray=\"7 4\"/>\n";
    }
    for (std::size_t i = 0; i < progress.weeks.size(); ++i) {
        const WeekCount& week = progress.weeks[i];
        const double x = x_of(static_cast<double>(week.week));
        if (i % 4 == 1) out << "<text x=\"" << place(x) << "\" y=\"254\" text-anchor=\"middle\">" << date_text(monday_of(week.week)).substr(5) << "</text>\n";
        if (week.count.attempts == 0) continue;
        const RateInterval interval = week.count.interval();
        out << "<g><title>" << date_text(monday_of(week.week)) << ": " << rate_words(week.count) << "</title><line x1=\"" << place(x) << "\" x2=\"" << place(x) << "\" y1=\"" << place(y_of(interval.low)) << "\" y2=\"" << place(y_of(interval.high))
            << "\" stroke=\"#111\"/><circle cx=\"" << place(x) << "\" cy=\"" << place(y_of(week.count.rate())) << "\" r=\"4\" fill=\"#111\"/></g>\n";
    }
    out << "</svg>\n<p>Weeks by their Monday. Dot: rate; line: 95 % interval; dashed with grey: trend and its 95 % band.</p>\n";
}

void write_table(const Progress& progress, std::ostream& out) {
    out << "<table id=\"cells\">\n<tr><th>Quality</th>";
    for (std::size_t c = 0; c < kProgressColumns; ++c) out << "<th>" << word(static_cast<ProgressColumn>(c)) << "</th>";
    out << "</tr>\n";
    for (const ProgressRow& row : progress.rows) {
        out << "<tr><th>" << (row.quality.empty() ? "major" : escaped(row.quality)) << "</th>";
        for (const ProgressCell& cell : row.cells) {
            const Standing said = standing(cell.count);
            if (cell.count.attempts == 0) out << "<td>-</td>";
            else out << "<td class=\"" << (said == Standing::weak ? "weak" : said == Standing::strong ? "strong" : "") << "\">" << whole(100.0 * cell.count.rate()) << " % of " << cell.count.attempts << "<small>" << interval_text(cell.count) << "; "
                     << (said == Standing::too_few ? "too few to say" : said == Standing::between ? "in between" : std::string(word(said))) << "</small></td>";
        }
        out << "</tr>\n";
    }
    out << "</table>\n";
}

/// What each string did instead, by the frets it was off.
void write_strings(const Progress& progress, std::ostream& out) {
    out << "<h2>Strings and frets off</h2>\n<table id=\"strings\">\n<tr><th scope=\"col\">String</th>";
    for (int off = -kFretsOffShown; off <= kFretsOffShown; ++off)
        if (off != 0) out << "<th scope=\"col\">" << std::abs(off) << (off < 0 ? " flat" : " sharp") << (std::abs(off) == kFretsOffShown ? " or more" : "") << "</th>";
    out << "<th scope=\"col\">not sounding</th><th scope=\"col\">unasked</th></tr>\n";
    const auto cell = [&out](std::int64_t count) { out << "<td>" << (count > 0 ? std::to_string(count) : "-") << "</td>"; };
    for (const StringFaults& row : progress.strings) {
        out << "<tr><th scope=\"row\">" << row.string << "</th>";
        for (int off = -kFretsOffShown; off <= kFretsOffShown; ++off)
            if (off != 0) cell(row.by_frets[static_cast<std::size_t>(off + kFretsOffShown)]);
        cell(row.missing);
        cell(row.extra);
        out << "</tr>\n";
    }
    out << "</table>\n";
}

void write_tempos(const Progress& progress, std::ostream& out) {
    out << "<h2>Tempo reached</h2>\n<ul id=\"tempos\">\n";
    for (const ProgressTempo& tempo : progress.tempos) out << "<li>" << escaped(tempo.text()) << "</li>\n";
    out << "</ul>\n<p>The fastest tempo at which, with all answers at that tempo or faster, surely (95 %) " << whole(100.0 * kStandingBorder) << " per cent are right.</p>\n";
}

/// Name-it, question by question.
void write_questions(const Progress& progress, std::ostream& out) {
    out << "<h2>Naming what is heard</h2>\n<ul id=\"questions\">\n";
    for (const ProgressQuestion& question : progress.questions) out << "<li>" << escaped(question.text()) << "</li>\n";
    out << "</ul>\n";
}

}  // namespace

void write_progress_page(const Progress& progress, const std::vector<PlanItem>& plan, std::ostream& out) {
    const std::string title = "Progress of " + escaped(progress.player) + ", " + date_text(progress.today);
    out << kHead << "<title>" << title << "</title>\n</head>\n<body>\n<h1>" << title << "</h1>\n<p id=\"summary\">" << escaped(progress.part.text()) << ": " << progress.attempts << " tries; right at the first try, without help: " << rate_words(progress.all)
        << ". This week " << rate_words(progress.this_week) << ", last week " << rate_words(progress.last_week) << ": " << week_words(progress) << ".</p>\n";
    if (!plan.empty()) {
        out << "<h2>Today, ten minutes</h2>\n<ol id=\"plan\">\n";
        for (const PlanItem& item : plan) out << "<li>" << escaped(item.words) << "</li>\n";
        out << "</ol>\n";
    }
    out << "<h2>Qualities and places in the line</h2>\n";
    write_table(progress, out);
    out << "<div class=\"pair\"><section><h2>Keys</h2>\n";
    write_ring(progress, out);
    out << "</section><section><h2>Weeks</h2>\n";
    write_weeks(progress, out);
    out << "<p>Trend: " << (progress.trend ? std::string(trend_word(*progress.trend)) : "can't be told yet, " + escaped(progress.no_trend)) << ".</p></section></div>\n";
    if (progress.most_tempo_bpm > 0.0) out << "<p id=\"tempo\">The fastest right answer in time: at " << whole(progress.most_tempo_bpm) << " counts a minute.</p>\n";
    if (!progress.tempos.empty()) write_tempos(progress, out);
    if (!progress.questions.empty()) write_questions(progress, out);
    if (!progress.strings.empty()) write_strings(progress, out);
    if (!progress.faults.empty()) {
        out << "<h2>Commonest faults</h2>\n<ul id=\"faults\">\n";
        for (const std::string& fault : progress.faults) out << "<li>" << escaped(fault) << "</li>\n";
        out << "</ul>\n";
    }
    out << "<p>Shares stand with Wilson's 95 per cent interval. Nothing is called weak or strong from fewer than " << kLeastAttemptsToJudge << " answers, nor while the interval holds " << whole(100.0 * kStandingBorder)
        << " per cent. Stop at pain and rest often; a teacher or a clinician knows better than a program.</p>\n</body>\n</html>\n";
}

}  // namespace gripline

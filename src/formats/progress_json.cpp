#include <cstdio>
#include <ostream>

#include "formats/csv.h"
#include "formats/progress_page.h"
#include "formats/verdict_fields.h"

namespace gripline {

namespace {

using Json = nlohmann::ordered_json;

constexpr int kPlaces = 4;

void put_count(Json& out, const RateCount& count) {
    const RateInterval interval = count.interval();
    out["right"] = count.right;
    out["of"] = count.attempts;
    out["rate"] = count.attempts > 0 ? rounded(count.rate(), kPlaces) : Json(nullptr);
    out["low"] = rounded(interval.low, kPlaces);
    out["high"] = rounded(interval.high, kPlaces);
    out["standing"] = word(standing(count));
}

Json trend_object(const Progress& progress) {
    Json out;
    out["word"] = progress.trend ? std::string(trend_word(*progress.trend)) : "too few";
    if (!progress.trend) {
        out["why"] = progress.no_trend;
        return out;
    }
    const auto now = static_cast<double>(progress.weeks.back().week);
    const RateInterval band = progress.trend->band(now);
    out["slope_logits_a_week"] = rounded(progress.trend->slope, kPlaces);
    out["slope_error"] = rounded(progress.trend->slope_error, kPlaces);
    out["now"] = rounded(progress.trend->rate(now), kPlaces);
    out["low"] = rounded(band.low, kPlaces);
    out["high"] = rounded(band.high, kPlaces);
    return out;
}

void csv_row(std::ostream& out, const std::string& what, const std::string& quality, std::string_view place, const std::string& key, const std::string& monday, const RateCount& count, const std::string& tempo = "", const std::string& question = "") {
    const RateInterval interval = count.interval();
    const auto number = [](double value) { return rounded(value, kPlaces).dump(); };
    out << what << ',' << (what == "cell" || what == "tempo" ? csv_field(quality) : "") << ',' << place << ',' << key << ',' << monday << ',' << count.right << ',' << count.attempts << ',' << (count.attempts > 0 ? number(count.rate()) : "") << ','
        << number(interval.low) << ',' << number(interval.high) << ',' << word(standing(count)) << ",,,," << tempo << ',' << question << "\r\n";
}

/// String by fault: frets off, "missing", "extra"; with how often.
void csv_string(std::ostream& out, const StringFaults& row) {
    const auto line = [&](const std::string& fault, std::int64_t times) { out << "string,,,,,,,,,,," << row.string << ',' << fault << ',' << times << ",,\r\n"; };
    for (int off = -kFretsOffShown; off <= kFretsOffShown; ++off)
        if (off != 0) line((off > 0 ? "+" : "") + std::to_string(off), row.by_frets[static_cast<std::size_t>(off + kFretsOffShown)]);
    line("missing", row.missing);
    line("extra", row.extra);
}

}  // namespace

void write_progress_json(const Progress& progress, const std::vector<PlanItem>& plan, std::ostream& out) {
    Json all{{"what", "all"}, {"player", progress.player}, {"date", date_text(progress.today)}, {"part", progress.part.text()}, {"tries", progress.attempts}};
    put_count(all, progress.all);
    all["trend"] = trend_object(progress);
    all["since_last_week"] = week_words(progress);
    all["answer_s"] = progress.answer_s ? rounded(*progress.answer_s, 2) : Json(nullptr);
    all["most_tempo_bpm"] = progress.most_tempo_bpm > 0.0 ? rounded(progress.most_tempo_bpm, 1) : Json(nullptr);
    all["faults"] = progress.faults;
    out << dumped(all) << '\n';
    for (const ProgressRow& row : progress.rows) {
        for (std::size_t c = 0; c < kProgressColumns; ++c) {
            Json cell{{"what", "cell"}, {"quality", row.quality}, {"place", word(static_cast<ProgressColumn>(c))}};
            put_count(cell, row.cells[c].count);
            out << dumped(cell) << '\n';
        }
    }
    for (int key = 0; key < 12; ++key) {
        Json each{{"what", "key"}, {"key", plain_name(PitchClass(key))}};
        put_count(each, progress.keys[static_cast<std::size_t>(key)].count);
        out << dumped(each) << '\n';
    }
    for (const StringFaults& row : progress.strings) {
        Json frets = Json::object();
        for (int off = -kFretsOffShown; off <= kFretsOffShown; ++off)
            if (off != 0) frets[(off > 0 ? "+" : "") + std::to_string(off)] = row.by_frets[static_cast<std::size_t>(off + kFretsOffShown)];
        out << dumped(Json{{"what", "string"}, {"string", row.string}, {"frets_off", std::move(frets)}, {"missing", row.missing}, {"extra", row.extra}}) << '\n';
    }
    for (const ProgressTempo& tempo : progress.tempos) {
        Json each{{"what", "tempo"}, {"quality", tempo.quality}, {"place", word(tempo.column)}, {"in_time", tempo.in_time.attempts}, {"fastest_bpm", tempo.fastest_bpm}};
        each["reached_bpm"] = tempo.reached ? rounded(tempo.reached->tempo_bpm, 0) : Json(nullptr);
        put_count(each, tempo.reached ? tempo.reached->count : tempo.in_time);
        out << dumped(each) << '\n';
    }
    for (const ProgressQuestion& question : progress.questions) {
        Json each{{"what", "question"}, {"question", question.question}};
        put_count(each, question.count);
        each["mixed_up"] = Json::array();
        for (const AnswerTally& one : question.mixed_up) each["mixed_up"].push_back(Json{{"asked", one.asked}, {"answered", one.answered}, {"times", one.count}});
        out << dumped(each) << '\n';
    }
    for (const WeekCount& week : progress.weeks) {
        Json each{{"what", "week"}, {"monday", date_text(monday_of(week.week))}};
        put_count(each, week.count);
        out << dumped(each) << '\n';
    }
    for (const PlanItem& item : plan) out << dumped(Json{{"what", "plan"}, {"minutes", item.minutes}, {"words", item.words}}) << '\n';
}

void write_progress_csv(const Progress& progress, std::ostream& out) {
    out << "what,quality,place,key,monday,right,of,rate,low,high,standing,string,fault,times,tempo_bpm,question\r\n";
    csv_row(out, "all", "", "", "", "", progress.all);
    for (const ProgressRow& row : progress.rows)
        for (std::size_t c = 0; c < kProgressColumns; ++c) csv_row(out, "cell", row.quality, word(static_cast<ProgressColumn>(c)), "", "", row.cells[c].count);
    for (int key = 0; key < 12; ++key) csv_row(out, "key", "", "", plain_name(PitchClass(key)), "", progress.keys[static_cast<std::size_t>(key)].count);
    for (const WeekCount& week : progress.weeks) csv_row(out, "week", "", "", "", date_text(monday_of(week.week)), week.count);
    for (const StringFaults& row : progress.strings) csv_string(out, row);
    for (const ProgressTempo& tempo : progress.tempos)
        csv_row(out, "tempo", tempo.quality, word(tempo.column), "", "", tempo.reached ? tempo.reached->count : tempo.in_time, tempo.reached ? std::to_string(static_cast<int>(tempo.reached->tempo_bpm)) : "");
    for (const ProgressQuestion& question : progress.questions) csv_row(out, "question", "", "", "", "", question.count, "", csv_field(question.question));
}

}  // namespace gripline

#include "practice/progress.h"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <functional>
#include <map>

namespace gripline {

namespace {

RateCount first_tries(const PracticeTally& tally) { return {static_cast<long>(tally.first_right + tally.first_wrong), static_cast<long>(tally.first_right)}; }

void add(ProgressCell& cell, const PracticeTally& tally) {
    cell.count += first_tries(tally);
    cell.last_ms = std::max(cell.last_ms, tally.last_ms);
}

std::string fault_name(const FaultTally& fault) {
    const std::string string = "string " + std::to_string(fault.string) + ", ";
    switch (fault.kind) {
        case FaultKind::wrong_note: return string + frets_words(fault.frets);
        case FaultKind::missing_note: return string + "not sounding";
        case FaultKind::extra_note: return fault.string > 0 ? string + "ringing unasked" : "a note that was not asked";
        case FaultKind::wrong_bass: return "another bass";
        case FaultKind::shifted: return "the whole grip " + frets_words(fault.frets);
        case FaultKind::nothing: return "no notes heard";
    }
    return "";
}

std::vector<std::string> commonest_faults(const ProgressSource& source, const ProgressPart& part) {
    constexpr std::size_t kMost = 3;
    std::map<std::string, std::int64_t> counts;
    for (const FaultTally& fault : source.faults)
        if (part.holds(fault.skill)) counts[fault_name(fault)] += fault.count;
    std::vector<std::pair<std::string, std::int64_t>> order(counts.begin(), counts.end());
    std::stable_sort(order.begin(), order.end(), [](const auto& a, const auto& b) { return a.second > b.second; });
    std::vector<std::string> out;
    for (const auto& [name, count] : order)
        if (out.size() < kMost) out.push_back(name + ": " + std::to_string(count));
    return out;
}

std::vector<StringFaults> faults_by_string(const ProgressSource& source, const ProgressPart& part) {
    std::map<int, StringFaults, std::greater<>> rows;  // string 6 lies lowest
    for (const FaultTally& fault : source.faults) {
        if (fault.string <= 0 || !part.holds(fault.skill)) continue;
        StringFaults& row = rows[fault.string];
        row.string = fault.string;
        if (fault.kind == FaultKind::missing_note) row.missing += fault.count;
        else if (fault.kind == FaultKind::extra_note) row.extra += fault.count;
        else if (fault.kind == FaultKind::wrong_note && fault.frets != 0) row.by_frets[static_cast<std::size_t>(std::clamp(fault.frets, -kFretsOffShown, kFretsOffShown) + kFretsOffShown)] += fault.count;
    }
    std::vector<StringFaults> out;
    for (const auto& [string, row] : rows)
        if (row.sum() > 0) out.push_back(row);
    return out;
}

void count_weeks(const ProgressSource& source, Progress& out) {
    const std::int64_t last = week_of(source.today);
    for (int i = kWeeksShown - 1; i >= 0; --i) out.weeks.push_back({last - i, {}});
    for (const SkillTally& week : source.weeks) {
        const std::int64_t place = week_of(week.day) - (last - kWeeksShown + 1);
        if (place < 0 || place >= kWeeksShown || !out.part.holds(week.skill)) continue;
        out.weeks[static_cast<std::size_t>(place)].count += first_tries(week.tally);
    }
    out.this_week = out.weeks.back().count;
    out.last_week = out.weeks[out.weeks.size() - 2].count;
    if (auto trend = fit_trend(out.weeks)) out.trend = *trend;
    else out.no_trend = trend.error().message;
}

}  // namespace

Result<ProgressSource> read_progress(History& history, const std::string& player, std::int64_t today) {
    ProgressSource out;
    out.player = player;
    out.today = today;
    auto totals = skill_totals(history, player);
    if (!totals) return totals.error();
    auto weeks = skill_weeks(history, player, monday_of(week_of(today) - kWeeksShown + 1), monday_of(week_of(today) + 1));
    if (!weeks) return weeks.error();
    auto faults = fault_totals(history, player);
    if (!faults) return faults.error();
    out.totals = std::move(*totals);
    out.weeks = std::move(*weeks);
    out.faults = std::move(*faults);
    auto tempos = tempo_totals(history, player);
    if (!tempos) return tempos.error();
    out.tempos = std::move(*tempos);
    auto answers = answer_totals(history, player);
    if (!answers) return answers.error();
    out.answers = std::move(*answers);
    return out;
}

std::int64_t StringFaults::sum() const noexcept {
    std::int64_t all = missing + extra;
    for (const std::int64_t each : by_frets) all += each;
    return all;
}

std::string_view word(ProgressColumn column) noexcept {
    switch (column) {
        case ProgressColumn::chord: return "chord";
        case ProgressColumn::passing: return "passing";
        case ProgressColumn::below: return "from below";
        case ProgressColumn::above: return "from above";
    }
    return "";
}

ProgressColumn column_of(const Skill& skill) noexcept {
    if (skill.role == Sounds::passing) return ProgressColumn::passing;
    if (skill.role != Sounds::approach || !skill.from) return ProgressColumn::chord;
    return *skill.from == From::below ? ProgressColumn::below : ProgressColumn::above;
}

bool ProgressPart::holds(const Skill& skill) const {
    return (!quality || *quality == skill.quality) && (!column || *column == column_of(skill)) && (!key || *key == skill.key);
}

std::string ProgressPart::text() const {
    std::string out = quality ? (quality->empty() ? "major" : *quality) : "";
    const auto add_part = [&out](const std::string& words) { out += (out.empty() ? "" : ", ") + words; };
    if (column) add_part(std::string(word(*column)));
    if (key) add_part("key " + plain_name(*key));
    return out.empty() ? "everything" : out;
}

Progress count_progress(const ProgressSource& source, const ProgressPart& part) {
    Progress out;
    out.player = source.player;
    out.today = source.today;
    out.part = part;
    std::map<std::string, ProgressRow> rows;
    std::int64_t answers = 0;
    double answer_ln = 0.0;
    for (const SkillTally& each : source.totals) {
        if (!part.holds(each.skill)) continue;
        ProgressRow& row = rows[each.skill.quality];
        row.quality = each.skill.quality;
        add(row.cells[static_cast<std::size_t>(column_of(each.skill))], each.tally);
        add(out.keys[static_cast<std::size_t>(each.skill.key.value())], each.tally);
        out.all += first_tries(each.tally);
        out.attempts += static_cast<long>(each.tally.right + each.tally.wrong + each.tally.unheard);
        answers += each.tally.answers;
        answer_ln += each.tally.answer_ln;
        out.most_tempo_bpm = std::max(out.most_tempo_bpm, each.tally.most_tempo_bpm);
    }
    for (auto& [quality, row] : rows) out.rows.push_back(std::move(row));
    const auto asked = [](const ProgressRow& row) {
        long sum = 0;
        for (const ProgressCell& cell : row.cells) sum += cell.count.attempts;
        return sum;
    };
    std::stable_sort(out.rows.begin(), out.rows.end(), [&](const ProgressRow& a, const ProgressRow& b) { return asked(a) > asked(b); });
    if (answers > 0) out.answer_s = std::exp(answer_ln / static_cast<double>(answers));
    out.faults = commonest_faults(source, part);
    out.strings = faults_by_string(source, part);
    out.tempos = tempos_reached(source, out);
    if (!part.quality && !part.column && !part.key) out.questions = questions_answered(source);
    count_weeks(source, out);
    return out;
}

std::string_view week_words(const Progress& progress) noexcept {
    if (std::min(progress.this_week.attempts, progress.last_week.attempts) < kLeastAttemptsToJudge) return "too few to compare";
    if (!differ(progress.this_week, progress.last_week)) return "no clear change since last week";
    return progress.this_week.rate() > progress.last_week.rate() ? "better than last week" : "worse than last week";
}

std::string date_text(std::int64_t day) {
    constexpr std::int64_t kFarthest = 10'000'000;  // chrono's years end at 32767
    const std::chrono::year_month_day date{std::chrono::sys_days{std::chrono::days{std::clamp(day, -kFarthest, kFarthest)}}};
    const auto two = [](unsigned number) { return (number < 10 ? "0" : "") + std::to_string(number); };
    return std::to_string(static_cast<int>(date.year())) + "-" + two(static_cast<unsigned>(date.month())) + "-" + two(static_cast<unsigned>(date.day()));
}

}  // namespace gripline

#include "practice/history_totals.h"

#include <unordered_map>

#include "practice/history_words.h"

namespace gripline {
namespace {

/// The order that `tally_in` reads; skill and day stand before.
constexpr const char* kTally =
    "right_n, wrong_n, unheard_n, first_right_n, first_wrong_n, answers_n, answer_s, answer_ln, beats_n, off_ms, off_square, most_tempo_bpm, last_ms ";
constexpr const char* kOfPlayer = " WHERE t.player_id = (SELECT player_id FROM players WHERE name = ?1) ";

PracticeTally tally_in(const Statement& row, int first) {
    PracticeTally tally;
    std::int64_t* const counts[] = {&tally.right, &tally.wrong, &tally.unheard, &tally.first_right, &tally.first_wrong, &tally.answers};
    int column = first;
    for (std::int64_t* count : counts) *count = row.integer(column++);
    tally.answer_s = row.real(column++);
    tally.answer_ln = row.real(column++);
    tally.beats = row.integer(column++);
    tally.off_ms = row.real(column++);
    tally.off_square = row.real(column++);
    tally.most_tempo_bpm = row.real(column++);
    tally.last_ms = row.integer(column);
    return tally;
}

/// All rows of `sql`, each made a Row by `read`; `bind` binds what comes after the player.
template <class Row, class Bind, class Read>
Result<std::vector<Row>> rows_of(History& history, const std::string& sql, const std::string& player, Bind bind, Read read) {
    auto rows = history.database().prepare(sql);
    if (!rows) return rows.error();
    rows->bind(1, std::string_view(player));
    bind(*rows);
    std::vector<Row> out;
    while (rows->step()) out.push_back(read(*rows));
    if (rows->failed()) return history.database().error();
    return out;
}

/// Skills are few, rows many: each skill's words are read once.
using SkillsByRow = std::unordered_map<std::int64_t, Skill>;
Result<SkillsByRow> all_skills(History& history) {
    auto rows = history.database().prepare("SELECT skill_id, quality, role, side, key, strings, asking FROM skills");
    if (!rows) return rows.error();
    SkillsByRow skills;
    while (rows->step()) skills.emplace(rows->integer(0), skill_in(*rows, 1));
    if (rows->failed()) return history.database().error();
    return skills;
}

/// Rows of skill, day, tally.
template <class Bind>
Result<std::vector<SkillTally>> skill_rows(History& history, const std::string& sql, const std::string& player, Bind bind) {
    const auto skills = all_skills(history);
    if (!skills) return skills.error();
    auto rows = rows_of<SkillTally>(history, sql, player, bind, [&skills](const Statement& row) {
        const auto skill = skills->find(row.integer(0));
        return skill == skills->end() ? SkillTally{} : SkillTally{skill->second, row.integer(1), tally_in(row, 2)};
    });
    // A skill that another process added between the two questions: its first attempts come with the next look.
    if (rows) std::erase_if(*rows, [](const SkillTally& one) { return one.tally.last_ms == 0; });
    return rows;
}

void nothing_more(Statement&) {}

}  // namespace

Result<std::vector<SkillTally>> skill_totals(History& history, const std::string& player) {
    const std::string sql = std::string("SELECT skill_id, 0, ") + kTally + "FROM skill_totals t JOIN skills s USING (skill_id)" + kOfPlayer +
                            "ORDER BY s.quality, s.role, s.side, s.key, s.strings, s.asking";
    return skill_rows(history, sql, player, nothing_more);
}

Result<std::vector<SkillTally>> skill_days(History& history, const std::string& player, std::int64_t from_day, std::int64_t before_day) {
    const std::string sql = std::string("SELECT skill_id, day, ") + kTally + "FROM skill_days t" + kOfPlayer + "AND day >= ?2 AND day < ?3 ORDER BY day";
    return skill_rows(history, sql, player, [=](Statement& rows) { rows.bind(2, from_day).bind(3, before_day); });
}

Result<std::vector<SkillTally>> skill_weeks(History& history, const std::string& player, std::int64_t from_day, std::int64_t before_day) {
    const std::string sql = std::string("SELECT skill_id, week, ") + kTally + "FROM skill_weeks t" + kOfPlayer + "AND week > ?2 - 7 AND week < ?3 ORDER BY week";
    return skill_rows(history, sql, player, [=](Statement& rows) { rows.bind(2, from_day).bind(3, before_day); });
}

Result<std::vector<SkillTally>> days_of_skill(History& history, const std::string& player, const Skill& skill) {
    const std::string sql = std::string("SELECT skill_id, day, ") + kTally + "FROM skill_days t" + kOfPlayer +
                            "AND t.skill_id = (SELECT skill_id FROM skills WHERE quality = ?2 AND role = ?3 AND side = ?4 AND key = ?5 AND strings = ?6 AND asking = ?7) ORDER BY day";
    const auto bind = [&skill](Statement& rows) {
        rows.bind(2, std::string_view(skill.quality)).bind(3, word(skill.role)).bind(4, skill.from ? word(*skill.from) : std::string_view());
        rows.bind(5, skill.key.value()).bind(6, std::string_view(skill.strings)).bind(7, word(skill.asking));
    };
    return skill_rows(history, sql, player, bind);
}

Result<std::vector<DayTally>> day_totals(History& history, const std::string& player) {
    const std::string sql = std::string("SELECT day, right_n, wrong_n, unheard_n FROM day_totals t") + kOfPlayer + "ORDER BY day";
    return rows_of<DayTally>(history, sql, player, nothing_more,
                             [](const Statement& row) { return DayTally{row.integer(0), row.integer(1), row.integer(2), row.integer(3)}; });
}

Result<std::vector<FaultTally>> fault_totals(History& history, const std::string& player) {
    const std::string sql = std::string("SELECT kind, string, frets, n, s.quality, s.role, s.side, s.key, s.strings, s.asking "
                                        "FROM fault_totals t JOIN skills s USING (skill_id)") + kOfPlayer + "ORDER BY n DESC, kind, string, frets";
    return rows_of<FaultTally>(history, sql, player, nothing_more, [](const Statement& row) {
        return FaultTally{skill_in(row, 4), fault_kind_of(row.text(0)), static_cast<int>(row.integer(1)), static_cast<int>(row.integer(2)), row.integer(3)};
    });
}

Result<std::vector<TempoTally>> tempo_totals(History& history, const std::string& player) {
    const std::string sql = std::string("SELECT tempo_bpm, right_n, wrong_n, s.quality, s.role, s.side, s.key, s.strings, s.asking "
                                        "FROM tempo_totals t JOIN skills s USING (skill_id)") + kOfPlayer + "ORDER BY t.skill_id, tempo_bpm";
    return rows_of<TempoTally>(history, sql, player, nothing_more, [](const Statement& row) {
        return TempoTally{skill_in(row, 3), static_cast<int>(row.integer(0)), row.integer(1), row.integer(2)};
    });
}

Result<std::vector<AnswerTally>> answer_totals(History& history, const std::string& player) {
    const std::string sql = std::string("SELECT question, asked, answered, n FROM answer_totals t") + kOfPlayer + "ORDER BY question, asked, answered";
    return rows_of<AnswerTally>(history, sql, player, nothing_more,
                                [](const Statement& row) { return AnswerTally{row.text(0), row.text(1), row.text(2), row.integer(3)}; });
}

}  // namespace gripline

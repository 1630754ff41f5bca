#include "practice/history_schema.h"

#include <string>

namespace gripline {
namespace {

// What was asked repeats itself: it is kept once, in `asked`, and attempts point to it.
constexpr const char* kAttempts = R"sql(
CREATE TABLE players (player_id INTEGER PRIMARY KEY, name TEXT NOT NULL UNIQUE) STRICT;
CREATE TABLE labels (label_id INTEGER PRIMARY KEY, label TEXT NOT NULL UNIQUE) STRICT;  -- guitars and inputs
CREATE TABLE skills (
  skill_id INTEGER PRIMARY KEY,
  quality TEXT NOT NULL, role TEXT NOT NULL, side TEXT NOT NULL, key INTEGER NOT NULL, strings TEXT NOT NULL, asking TEXT NOT NULL,
  UNIQUE (quality, role, side, key, strings, asking)) STRICT;
CREATE TABLE asked (
  asked_id INTEGER PRIMARY KEY, skill_id INTEGER NOT NULL REFERENCES skills,
  family TEXT NOT NULL, root TEXT NOT NULL, stage TEXT NOT NULL, chord TEXT NOT NULL, grip TEXT NOT NULL, bass_degree TEXT NOT NULL, question TEXT NOT NULL,
  UNIQUE (skill_id, grip, chord, family, root, stage, bass_degree, question)) STRICT;
CREATE TABLE attempts (
  attempt_no INTEGER PRIMARY KEY,
  id BLOB NOT NULL UNIQUE CHECK (length(id) = 16),
  at_ms INTEGER NOT NULL, utc_offset_min INTEGER NOT NULL,
  player_id INTEGER NOT NULL REFERENCES players, guitar_id INTEGER NOT NULL REFERENCES labels, input_id INTEGER NOT NULL REFERENCES labels,
  asked_id INTEGER NOT NULL REFERENCES asked, motion INTEGER, tempo_bpm REAL,
  verdict TEXT NOT NULL CHECK (verdict IN ('right', 'wrong', 'unheard')), confidence REAL NOT NULL, heard TEXT NOT NULL, answered TEXT NOT NULL,
  off_ms REAL, answer_s REAL, try_number INTEGER NOT NULL, helped INTEGER NOT NULL) STRICT;
CREATE INDEX attempts_of_player ON attempts (player_id, at_ms);
CREATE TABLE faults (
  attempt_no INTEGER NOT NULL REFERENCES attempts ON DELETE CASCADE, place INTEGER NOT NULL,
  kind TEXT NOT NULL, string INTEGER, frets INTEGER NOT NULL, asked INTEGER, heard INTEGER, probability REAL NOT NULL,
  PRIMARY KEY (attempt_no, place)) STRICT, WITHOUT ROWID;
)sql";

// Running totals, so that no page ever counts attempts. What an attempt adds is said once, in the view `tallies`: triggers and counting
// anew both read it. A fault counts when it is its attempt's likeliest. A week is the day of its Monday; day 0, 1970-01-01, was a Thursday.
const std::string kSumColumns =
    "right_n INTEGER NOT NULL, wrong_n INTEGER NOT NULL, unheard_n INTEGER NOT NULL, first_right_n INTEGER NOT NULL, first_wrong_n INTEGER NOT NULL,\n"
    "  answers_n INTEGER NOT NULL, answer_s REAL NOT NULL, answer_ln REAL NOT NULL,\n"
    "  beats_n INTEGER NOT NULL, off_ms REAL NOT NULL, off_square REAL NOT NULL, most_tempo_bpm REAL NOT NULL, last_ms INTEGER NOT NULL";
const std::string kSumNames =
    "right_n, wrong_n, unheard_n, first_right_n, first_wrong_n, answers_n, answer_s, answer_ln, beats_n, off_ms, off_square, most_tempo_bpm, last_ms";
const std::string kSums =
    "sum(right_n), sum(wrong_n), sum(unheard_n), sum(first_right_n), sum(first_wrong_n), sum(answers_n), sum(answer_s), sum(answer_ln),\n"
    "  sum(beats_n), sum(off_ms), sum(off_square), max(most_tempo_bpm), max(last_ms)";
const std::string kAddUp =
    "right_n = right_n + excluded.right_n, wrong_n = wrong_n + excluded.wrong_n, unheard_n = unheard_n + excluded.unheard_n,\n"
    "    first_right_n = first_right_n + excluded.first_right_n, first_wrong_n = first_wrong_n + excluded.first_wrong_n, answers_n = answers_n + excluded.answers_n,\n"
    "    answer_s = answer_s + excluded.answer_s, answer_ln = answer_ln + excluded.answer_ln, beats_n = beats_n + excluded.beats_n, off_ms = off_ms + excluded.off_ms,\n"
    "    off_square = off_square + excluded.off_square, most_tempo_bpm = max(most_tempo_bpm, excluded.most_tempo_bpm), last_ms = max(last_ms, excluded.last_ms)";

/// A table of sums under `keys`, which are player_id, skill_id and perhaps a day.
std::string sum_table(const std::string& table, const std::string& more_columns, const std::string& keys) {
    return "CREATE TABLE " + table + " (\n  player_id INTEGER NOT NULL, skill_id INTEGER NOT NULL, " + more_columns + kSumColumns + ",\n  PRIMARY KEY (" + keys + ")) STRICT, WITHOUT ROWID;\n";
}

/// Inside the trigger on attempts: the new one is added to its row. `keys` are in the order of the table's columns.
std::string add_to(const std::string& table, const std::string& keys) {
    return "  INSERT INTO " + table + " SELECT " + keys + ", " + kSumNames + " FROM tallies WHERE attempt_no = NEW.attempt_no\n    ON CONFLICT DO UPDATE SET " + kAddUp + ";\n";
}

const std::string kTotals =
    sum_table("skill_days", "day INTEGER NOT NULL, ", "player_id, day, skill_id") + "CREATE INDEX days_of_skill ON skill_days (player_id, skill_id, day);\n" +
    sum_table("skill_weeks", "week INTEGER NOT NULL, ", "player_id, week, skill_id") + sum_table("skill_totals", "", "player_id, skill_id") + R"sql(
CREATE TABLE day_totals (
  player_id INTEGER NOT NULL, day INTEGER NOT NULL, right_n INTEGER NOT NULL, wrong_n INTEGER NOT NULL, unheard_n INTEGER NOT NULL,
  PRIMARY KEY (player_id, day)) STRICT, WITHOUT ROWID;
CREATE TABLE fault_totals (
  player_id INTEGER NOT NULL, skill_id INTEGER NOT NULL, kind TEXT NOT NULL, string INTEGER NOT NULL, frets INTEGER NOT NULL, n INTEGER NOT NULL,
  PRIMARY KEY (player_id, skill_id, kind, string, frets)) STRICT, WITHOUT ROWID;
CREATE TABLE answer_totals (
  player_id INTEGER NOT NULL, question TEXT NOT NULL, asked TEXT NOT NULL, answered TEXT NOT NULL, n INTEGER NOT NULL,
  PRIMARY KEY (player_id, question, asked, answered)) STRICT, WITHOUT ROWID;
CREATE VIEW tallies AS SELECT *, (day + 3) / 7 * 7 - 3 AS week FROM (SELECT
  a.attempt_no, a.player_id, q.skill_id, (a.at_ms + a.utc_offset_min * 60000) / 86400000 AS day,
  a.verdict = 'right' AS right_n, a.verdict = 'wrong' AS wrong_n, a.verdict = 'unheard' AS unheard_n,
  a.verdict = 'right' AND a.try_number = 1 AND NOT a.helped AS first_right_n, a.verdict = 'wrong' AND a.try_number = 1 AND NOT a.helped AS first_wrong_n,
  a.verdict <> 'unheard' AND ifnull(a.answer_s, 0) > 0 AS answers_n, iif(a.verdict <> 'unheard' AND a.answer_s > 0, a.answer_s, 0.0) AS answer_s,
  iif(a.verdict <> 'unheard' AND a.answer_s > 0, ln(a.answer_s), 0.0) AS answer_ln,
  a.off_ms IS NOT NULL AS beats_n, ifnull(a.off_ms, 0.0) AS off_ms, ifnull(a.off_ms * a.off_ms, 0.0) AS off_square,
  iif(a.verdict = 'right', ifnull(a.tempo_bpm, 0.0), 0.0) AS most_tempo_bpm, a.at_ms AS last_ms,
  q.question, CASE q.question WHEN 'quality' THEN s.quality WHEN 'bass degree' THEN q.bass_degree ELSE s.side END AS answer, a.answered
  FROM attempts a JOIN asked q USING (asked_id) JOIN skills s USING (skill_id));
CREATE TRIGGER count_attempt AFTER INSERT ON attempts BEGIN
)sql" + add_to("skill_days", "player_id, skill_id, day") + add_to("skill_weeks", "player_id, skill_id, week") + add_to("skill_totals", "player_id, skill_id") + R"sql(
  INSERT INTO day_totals SELECT player_id, day, right_n, wrong_n, unheard_n FROM tallies WHERE attempt_no = NEW.attempt_no
    ON CONFLICT DO UPDATE SET right_n = right_n + excluded.right_n, wrong_n = wrong_n + excluded.wrong_n, unheard_n = unheard_n + excluded.unheard_n;
  INSERT INTO answer_totals SELECT player_id, question, answer, answered, 1 FROM tallies WHERE attempt_no = NEW.attempt_no AND question <> ''
    ON CONFLICT DO UPDATE SET n = n + 1;
END;
CREATE TRIGGER count_fault AFTER INSERT ON faults WHEN NEW.place = 0 BEGIN
  INSERT INTO fault_totals SELECT player_id, skill_id, NEW.kind, ifnull(NEW.string, 0), NEW.frets, 1 FROM tallies WHERE attempt_no = NEW.attempt_no
    ON CONFLICT DO UPDATE SET n = n + 1;
END;
)sql";

const std::string kCountAnew =
    "DELETE FROM skill_days; DELETE FROM skill_weeks; DELETE FROM skill_totals; DELETE FROM day_totals; DELETE FROM fault_totals; DELETE FROM answer_totals;\n"
    "INSERT INTO skill_days SELECT player_id, skill_id, day, " + kSums + " FROM tallies GROUP BY player_id, skill_id, day;\n"
    "INSERT INTO skill_weeks SELECT player_id, skill_id, (day + 3) / 7 * 7 - 3, " + kSums + " FROM skill_days GROUP BY 1, 2, 3;\n"
    "INSERT INTO skill_totals SELECT player_id, skill_id, " + kSums + " FROM skill_days GROUP BY player_id, skill_id;\n"
    "INSERT INTO day_totals SELECT player_id, day, sum(right_n), sum(wrong_n), sum(unheard_n) FROM skill_days GROUP BY player_id, day;\n"
    "INSERT INTO fault_totals SELECT t.player_id, t.skill_id, f.kind, ifnull(f.string, 0), f.frets, count(*)\n"
    "  FROM faults f JOIN tallies t USING (attempt_no) WHERE f.place = 0 GROUP BY 1, 2, 3, 4, 5;\n"
    "INSERT INTO answer_totals SELECT player_id, question, answer, answered, count(*) FROM tallies WHERE question <> '' GROUP BY 1, 2, 3, 4;\n";

// Answers in time by their tempo: what tempo was reached is told from these.
const std::string kTempos = R"sql(
CREATE TABLE tempo_totals (
  player_id INTEGER NOT NULL, skill_id INTEGER NOT NULL, tempo_bpm INTEGER NOT NULL, right_n INTEGER NOT NULL, wrong_n INTEGER NOT NULL,
  PRIMARY KEY (player_id, skill_id, tempo_bpm)) STRICT, WITHOUT ROWID;
CREATE TRIGGER count_tempo AFTER INSERT ON attempts WHEN NEW.tempo_bpm > 0 AND NEW.verdict <> 'unheard' AND NEW.try_number = 1 AND NOT NEW.helped BEGIN
  INSERT INTO tempo_totals SELECT NEW.player_id, skill_id, CAST(round(NEW.tempo_bpm) AS INTEGER), NEW.verdict = 'right', NEW.verdict = 'wrong' FROM asked WHERE asked_id = NEW.asked_id
    ON CONFLICT DO UPDATE SET right_n = right_n + excluded.right_n, wrong_n = wrong_n + excluded.wrong_n;
END;
)sql";

const std::string kCountTemposAnew =
    "DELETE FROM tempo_totals;\n"
    "INSERT INTO tempo_totals SELECT a.player_id, q.skill_id, CAST(round(a.tempo_bpm) AS INTEGER), sum(a.verdict = 'right'), sum(a.verdict = 'wrong')\n"
    "  FROM attempts a JOIN asked q USING (asked_id) WHERE a.tempo_bpm > 0 AND a.verdict <> 'unheard' AND a.try_number = 1 AND NOT a.helped GROUP BY 1, 2, 3;\n";

const std::string kSteps[] = {kAttempts, kTotals, kTempos};
constexpr int kTotalsSince = 2, kTemposSince = 3;  // the versions that have these running totals

}  // namespace

std::span<const std::string> history_steps() noexcept { return kSteps; }

std::optional<Error> migrate(Database& database, int version) {
    Transaction all(database);
    if (!all.begun()) return database.error();
    const auto from = database.number("PRAGMA user_version");  // inside: another process may have been quicker
    if (!from) return from.error();
    for (int at = static_cast<int>(*from); at < version; ++at) {
        if (auto error = database.run(kSteps[at])) return error;
        if (at + 1 == kTotalsSince) {
            if (auto error = database.run(kCountAnew)) return error;
        }
        if (at + 1 == kTemposSince) {
            if (auto error = database.run(kCountTemposAnew)) return error;
        }
    }
    if (*from < version) {
        const std::string mark = "PRAGMA application_id = " + std::to_string(kHistoryMark) + "; PRAGMA user_version = " + std::to_string(version);
        if (auto error = database.run(mark)) return error;
    }
    return all.commit();
}

std::optional<Error> rebuild_totals(Database& database) { return database.run(kCountAnew + kCountTemposAnew); }

}  // namespace gripline

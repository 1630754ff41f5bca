// Reading and removing what history.h keeps.
#include <algorithm>
#include <charconv>

#include "practice/attempt_id.h"
#include "practice/history.h"
#include "practice/history_words.h"

namespace gripline {
namespace {

constexpr const char* kPlayers =
    "SELECT p.name, ifnull((SELECT sum(right_n + wrong_n + unheard_n) FROM day_totals d WHERE d.player_id = p.player_id), 0), "
    "ifnull((SELECT max(at_ms) FROM attempts a WHERE a.player_id = p.player_id), 0) FROM players p ORDER BY p.name";

/// The order of `Column`.
constexpr const char* kAttempts =
    "SELECT a.attempt_no, a.id, a.at_ms, a.utc_offset_min, p.name, g.label, i.label, s.asking, q.family, q.root, s.quality, q.stage, s.strings, q.chord, q.grip, "
    "q.bass_degree, s.role, s.side, a.motion, a.tempo_bpm, q.question, a.verdict, a.confidence, a.heard, a.answered, a.off_ms, a.answer_s, a.try_number, a.helped "
    "FROM attempts a JOIN players p USING (player_id) JOIN labels g ON g.label_id = a.guitar_id JOIN labels i ON i.label_id = a.input_id "
    "JOIN asked q USING (asked_id) JOIN skills s USING (skill_id) ";
enum Column { c_no, c_id, c_at, c_offset, c_player, c_guitar, c_input, c_asking, c_family, c_root, c_quality, c_stage, c_strings, c_chord, c_grip,
              c_bass, c_role, c_side, c_motion, c_tempo, c_question, c_verdict, c_confidence, c_heard, c_answered, c_off, c_answer_s, c_try, c_helped };

constexpr const char* kFaults = "SELECT kind, string, frets, asked, heard, probability FROM faults WHERE attempt_no = ?1 ORDER BY place";

std::vector<MidiNote> notes_of(const std::string& text) {
    std::vector<MidiNote> notes;
    const char* at = text.data();
    const char* const end = at + text.size();
    while (at < end) {
        int number = 0;
        const auto [next, trouble] = std::from_chars(at, end, number);
        if (trouble != std::errc()) break;
        notes.emplace_back(number);
        at = next + 1;
    }
    return notes;
}

int strings_of(const std::string& fret_string) {
    const auto dashes = std::count(fret_string.begin(), fret_string.end(), '-');
    return dashes > 0 ? static_cast<int>(dashes) + 1 : static_cast<int>(fret_string.size());
}

Fault fault_of(const Statement& row) {
    Fault fault;
    fault.kind = fault_kind_of(row.text(0));
    if (!row.is_null(1)) fault.string = StringNumber(static_cast<int>(row.integer(1)));
    fault.frets = static_cast<int>(row.integer(2));
    if (!row.is_null(3)) fault.asked = MidiNote(static_cast<int>(row.integer(3)));
    if (!row.is_null(4)) fault.heard = MidiNote(static_cast<int>(row.integer(4)));
    fault.probability = row.real(5);
    return fault;
}

/// What was asked. False when a word is none of ours: the row was written by hand.
bool read_asked(const Statement& row, Attempt& attempt) {
    const auto asking = parse_asking(row.text(c_asking));
    const auto family = parse_family(row.text(c_family));
    const auto root = NoteName::parse(row.text(c_root));
    const auto stage = parse_stage_kind(row.text(c_stage));
    const auto strings = StringSet::parse(row.text(c_strings));
    const std::string fret_string = row.text(c_grip);
    const auto grip = Grip::parse(fret_string, strings_of(fret_string));
    if (!asking || !family || !root || !stage || !strings || !grip) return false;
    attempt.asking = *asking;
    attempt.family = *family;
    attempt.root = *root;
    attempt.stage = *stage;
    attempt.strings = *strings;
    attempt.grip = *grip;
    attempt.quality = row.text(c_quality);
    attempt.chord = row.text(c_chord);
    attempt.bass_degree = row.text(c_bass);
    attempt.place = role_of(row.text(c_role));
    attempt.from = side_of(row.text(c_side));
    attempt.question = row.text(c_question);
    return true;
}

bool read_attempt(const Statement& row, Attempt& attempt) {
    AttemptId id{};
    const auto bytes = row.bytes(c_id);
    std::copy_n(bytes.begin(), std::min(bytes.size(), id.size()), id.begin());
    attempt.id = text_of(id);
    attempt.at_ms = row.integer(c_at);
    attempt.utc_offset_min = static_cast<int>(row.integer(c_offset));
    attempt.player = row.text(c_player);
    attempt.guitar = row.text(c_guitar);
    attempt.input = row.text(c_input);
    if (!row.is_null(c_motion)) attempt.motion = static_cast<int>(row.integer(c_motion));
    if (!row.is_null(c_tempo)) attempt.tempo_bpm = row.real(c_tempo);
    const std::string verdict = row.text(c_verdict);
    attempt.verdict = verdict == "right" ? VerdictKind::right : verdict == "wrong" ? VerdictKind::wrong : VerdictKind::unheard;
    attempt.confidence = row.real(c_confidence);
    attempt.heard = notes_of(row.text(c_heard));
    attempt.answered = row.text(c_answered);
    if (!row.is_null(c_off)) attempt.off_ms = row.real(c_off);
    if (!row.is_null(c_answer_s)) attempt.answer_s = row.real(c_answer_s);
    attempt.try_number = static_cast<int>(row.integer(c_try));
    attempt.helped = row.integer(c_helped) != 0;
    return read_asked(row, attempt);
}

}  // namespace

Result<std::vector<PlayerRow>> History::players() {
    auto rows = database_->prepare(kPlayers);
    if (!rows) return rows.error();
    std::vector<PlayerRow> players;
    while (rows->step()) players.push_back({rows->text(0), rows->integer(1), rows->integer(2)});
    if (rows->failed()) return database_->error();
    return players;
}

Result<std::int64_t> History::attempts() { return database_->number("SELECT ifnull(sum(right_n + wrong_n + unheard_n), 0) FROM day_totals"); }

Result<std::int64_t> History::read(const AttemptFilter& filter, const std::function<bool(const Attempt&)>& take) {
    std::string where = "WHERE 1";
    if (!filter.player.empty()) where += " AND a.player_id = (SELECT player_id FROM players WHERE name = ?1)";
    if (filter.from_ms) where += " AND a.at_ms >= ?2";
    if (filter.before_ms) where += " AND a.at_ms < ?3";
    // The latest are found from the index's end, then put in order.
    std::string sql = kAttempts;
    std::string order = filter.player.empty() ? " ORDER BY a.player_id, a.at_ms, a.attempt_no" : " ORDER BY a.at_ms, a.attempt_no";
    if (filter.order != AttemptFilter::Order::of_time) order = filter.order == AttemptFilter::Order::as_stored ? " ORDER BY a.attempt_no" : " ORDER BY a.attempt_no DESC";
    if (filter.latest) sql += "WHERE a.attempt_no IN (SELECT a.attempt_no FROM attempts a " + where + " ORDER BY a.at_ms DESC, a.attempt_no DESC LIMIT ?4)" + order;
    else sql += where + order;
    auto rows = database_->prepare(sql);
    if (!rows) return rows.error();
    auto faults = database_->prepare(kFaults);
    if (!faults) return faults.error();
    if (!filter.player.empty()) rows->bind(1, std::string_view(filter.player));
    if (filter.from_ms) rows->bind(2, *filter.from_ms);
    if (filter.before_ms) rows->bind(3, *filter.before_ms);
    if (filter.latest) rows->bind(4, *filter.latest);
    std::int64_t count = 0;
    while (rows->step()) {
        Attempt attempt;
        if (!read_attempt(*rows, attempt)) return Error{"attempt " + attempt.id + " of the history holds words that gripline does not know; it was written by something else"};
        faults->bind(1, rows->integer(c_no));
        while (faults->step()) attempt.faults.push_back(fault_of(*faults));
        if (faults->failed()) return database_->error();
        faults->reset();
        ++count;
        if (!take(attempt)) return count;
    }
    if (rows->failed()) return database_->error();
    return count;
}

Result<std::int64_t> History::delete_player(const std::string& name) {
    std::int64_t count = 0;
    {
        Transaction all(*database_);
        if (!all.begun()) return database_->error();
        auto found = database_->prepare("SELECT player_id FROM players WHERE name = ?1");
        if (!found) return found.error();
        found->bind(1, std::string_view(name));
        if (!found->step()) return found->failed() ? database_->error() : Error{"there is no player \"" + name + "\" in the history"};
        const std::string id = std::to_string(found->integer(0));
        found->reset();
        for (const char* table : {"skill_days", "skill_weeks", "skill_totals", "day_totals", "fault_totals", "answer_totals", "tempo_totals"}) {
            if (auto error = database_->run(std::string("DELETE FROM ") + table + " WHERE player_id = " + id)) return *error;
        }
        if (auto error = database_->run("DELETE FROM attempts WHERE player_id = " + id)) return *error;
        count = database_->changed();
        // Names that only this player used go too.
        if (auto error = database_->run("DELETE FROM players WHERE player_id = " + id + ";"
                                        "DELETE FROM labels WHERE label_id NOT IN (SELECT guitar_id FROM attempts UNION SELECT input_id FROM attempts);"
                                        "DELETE FROM asked WHERE asked_id NOT IN (SELECT asked_id FROM attempts);"
                                        "DELETE FROM skills WHERE skill_id NOT IN (SELECT skill_id FROM asked)")) return *error;
        if (auto error = all.commit()) return *error;
    }
    if (auto error = database_->run("VACUUM")) return *error;
    if (auto error = database_->run("PRAGMA wal_checkpoint(TRUNCATE)")) return *error;
    return count;
}

}  // namespace gripline

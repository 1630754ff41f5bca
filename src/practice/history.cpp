#include "practice/history.h"

#include "practice/attempt_check.h"
#include "practice/attempt_id.h"
#include "practice/history_schema.h"
#include "practice/skill.h"

namespace gripline {
namespace {

enum Prepared : std::size_t { find_player, add_player, find_label, add_label, find_skill, add_skill, find_asked, add_asked, add_attempt, add_fault };

constexpr const char* kSql[] = {
    "SELECT player_id FROM players WHERE name = ?1",
    "INSERT INTO players (name) VALUES (?1)",
    "SELECT label_id FROM labels WHERE label = ?1",
    "INSERT INTO labels (label) VALUES (?1)",
    "SELECT skill_id FROM skills WHERE quality = ?1 AND role = ?2 AND side = ?3 AND key = ?4 AND strings = ?5 AND asking = ?6",
    "INSERT INTO skills (quality, role, side, key, strings, asking) VALUES (?1, ?2, ?3, ?4, ?5, ?6)",
    "SELECT asked_id FROM asked WHERE skill_id = ?1 AND family = ?2 AND root = ?3 AND stage = ?4 AND chord = ?5 AND grip = ?6 AND bass_degree = ?7 AND question = ?8",
    "INSERT INTO asked (skill_id, family, root, stage, chord, grip, bass_degree, question) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8)",
    "INSERT INTO attempts (id, at_ms, utc_offset_min, player_id, guitar_id, input_id, asked_id, motion, tempo_bpm, verdict, confidence, heard, answered, off_ms, answer_s, "
    "try_number, helped) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13, ?14, ?15, ?16, ?17) ON CONFLICT (id) DO NOTHING",
    "INSERT INTO faults (attempt_no, place, kind, string, frets, asked, heard, probability) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8)",
};

std::string numbers_of(const std::vector<MidiNote>& notes) {
    std::string text;
    for (const MidiNote note : notes) text += (text.empty() ? "" : " ") + std::to_string(note.number());
    return text;
}

std::optional<int> number_of(const std::optional<MidiNote>& note) { return note ? std::optional(note->number()) : std::nullopt; }

/// The row that `find` finds with what `bind` binds, or the one that `add` makes.
template <class Bind>
Result<std::int64_t> row_of(Database& database, Statement& find, Statement& add, Bind bind) {
    bind(find);
    const bool found = find.step();
    const std::int64_t row = found ? find.integer(0) : 0;
    const bool failed = find.failed();
    if (failed) {
        const Error error = database.error();
        find.reset();
        return error;
    }
    find.reset();
    if (found) return row;
    bind(add);
    if (auto error = add.run()) return *error;
    return database.last_row();
}

}  // namespace

Result<std::unique_ptr<History>> History::on(std::unique_ptr<Database> database) {
    std::unique_ptr<History> history(new History(std::move(database)));
    if (auto error = history->prepare()) return *error;
    return history;
}

Result<std::unique_ptr<History>> History::in_memory() {
    auto database = Database::open(":memory:", Database::Access::read_write);
    if (!database) return database.error();
    if (auto error = (*database)->run("PRAGMA foreign_keys = ON")) return *error;
    if (auto error = migrate(**database)) return *error;
    return on(std::move(*database));
}

std::optional<Error> History::prepare() {
    for (const char* sql : kSql) {
        auto statement = database_->prepare(sql);
        if (!statement) return statement.error();
        statements_.push_back(std::move(*statement));
    }
    return std::nullopt;
}

Result<std::int64_t> History::name_row(Statement& find, Statement& add, const std::string& name) {
    return row_of(*database_, find, add, [&name](Statement& statement) { statement.bind(1, std::string_view(name)); });
}

Result<std::int64_t> History::skill_row(const Attempt& attempt) {
    const Skill skill = skill_of(attempt);
    return row_of(*database_, statements_[find_skill], statements_[add_skill], [&skill](Statement& statement) {
        statement.bind(1, std::string_view(skill.quality)).bind(2, word(skill.role)).bind(3, skill.from ? word(*skill.from) : std::string_view());
        statement.bind(4, skill.key.value()).bind(5, std::string_view(skill.strings)).bind(6, word(skill.asking));
    });
}

Result<std::int64_t> History::asked_row(const Attempt& attempt) {
    const auto skill = skill_row(attempt);
    if (!skill) return skill;
    const std::string root = attempt.root.text(), grip = attempt.grip.text();
    return row_of(*database_, statements_[find_asked], statements_[add_asked], [&](Statement& statement) {
        statement.bind(1, *skill).bind(2, name(attempt.family)).bind(3, std::string_view(root)).bind(4, name(attempt.stage));
        statement.bind(5, std::string_view(attempt.chord)).bind(6, std::string_view(grip)).bind(7, std::string_view(attempt.bass_degree));
        statement.bind(8, std::string_view(attempt.question));
    });
}

/// Inside a transaction. False: its id is known.
Result<bool> History::insert(const Attempt& attempt) {
    if (auto error = check(attempt)) return *error;
    const auto player = name_row(statements_[find_player], statements_[add_player], attempt.player);
    if (!player) return player.error();
    const auto guitar = name_row(statements_[find_label], statements_[add_label], attempt.guitar);
    if (!guitar) return guitar.error();
    const auto input = name_row(statements_[find_label], statements_[add_label], attempt.input);
    if (!input) return input.error();
    const auto asked = asked_row(attempt);
    if (!asked) return asked.error();
    const AttemptId id = attempt.id.empty() ? new_attempt_id(attempt.at_ms) : parse_attempt_id(attempt.id).value();
    const std::string heard = numbers_of(attempt.heard);
    Statement& add = statements_[add_attempt];
    add.bind(1, std::span<const std::uint8_t>(id)).bind(2, attempt.at_ms).bind(3, attempt.utc_offset_min).bind(4, *player).bind(5, *guitar).bind(6, *input);
    add.bind(7, *asked).bind(8, attempt.motion).bind(9, attempt.tempo_bpm).bind(10, std::string_view(word(attempt.verdict))).bind(11, attempt.confidence);
    add.bind(12, std::string_view(heard)).bind(13, std::string_view(attempt.answered)).bind(14, attempt.off_ms).bind(15, attempt.answer_s);
    add.bind(16, attempt.try_number).bind(17, attempt.helped ? 1 : 0);
    if (auto error = add.run()) return *error;
    if (database_->changed() == 0) return false;
    const std::int64_t row = database_->last_row();
    for (std::size_t place = 0; place < attempt.faults.size(); ++place) {
        const Fault& fault = attempt.faults[place];
        Statement& one = statements_[add_fault];
        one.bind(1, row).bind(2, static_cast<std::int64_t>(place)).bind(3, std::string_view(word(fault.kind)));
        one.bind(4, fault.string ? std::optional(fault.string->number()) : std::nullopt).bind(5, fault.frets);
        one.bind(6, number_of(fault.asked)).bind(7, number_of(fault.heard)).bind(8, fault.probability);
        if (auto error = one.run()) return *error;
    }
    return true;
}

Result<AddedCounts> History::add(const Attempt& attempt) { return add(std::span(&attempt, 1)); }

Result<AddedCounts> History::add(std::span<const Attempt> attempts) {
    AddedCounts counts;
    Transaction all(*database_);
    if (!all.begun()) return database_->error();
    for (const Attempt& attempt : attempts) {
        const auto added = insert(attempt);
        if (!added) return added.error();
        ++(*added ? counts.added : counts.already_there);
    }
    if (auto error = all.commit()) return *error;
    return counts;
}

std::optional<Error> History::check_whole() {
    const auto answer = database_->text("PRAGMA integrity_check");
    if (!answer) return answer.error();
    if (*answer != "ok") return Error{"the history is damaged: " + *answer};
    return std::nullopt;
}

void History::settle() { (void)database_->run("PRAGMA wal_checkpoint(PASSIVE)"); }

}  // namespace gripline

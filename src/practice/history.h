// What is remembered of practice: every attempt of every player, in one SQLite file.
#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "base/result.h"
#include "practice/attempt.h"
#include "practice/database.h"

namespace gripline {

/// A player's name and how much is kept of them.
struct PlayerRow {
    std::string name;
    std::int64_t attempts = 0;
    std::int64_t last_ms = 0;  ///< UTC, of the latest attempt; 0: none
};

/// Which attempts are meant. Empty members bind nothing.
struct AttemptFilter {
    std::string player;
    std::optional<std::int64_t> from_ms, before_ms;
    std::optional<std::int64_t> latest;  ///< only so many, the latest
    /// As stored asks no index, so that more of a damaged file can be read; from its other end when `backwards`.
    enum class Order { of_time, as_stored, backwards } order = Order::of_time;
};

/// What became of many attempts that were handed in together.
struct AddedCounts {
    std::int64_t added = 0;
    std::int64_t already_there = 0;  ///< their ids were known
};

/// For one thread; other threads and processes may have the same file open. Failures leave the file as it was.
class History {
public:
    /// On a database of this version (history_schema.h). Prepares all that storing needs.
    static Result<std::unique_ptr<History>> on(std::unique_ptr<Database> database);
    /// One that is gone with the object.
    static Result<std::unique_ptr<History>> in_memory();

    /// Keeps it, whole or not at all, running totals included. An empty id is given; a known one changes nothing. An error when the
    /// attempt passes a limit (attempt_check.h) or the file can't be written: see trouble().
    [[nodiscard]] Result<AddedCounts> add(const Attempt& attempt);
    /// Keeps all or none.
    [[nodiscard]] Result<AddedCounts> add(std::span<const Attempt> attempts);

    [[nodiscard]] Result<std::vector<PlayerRow>> players();
    /// The number of attempts kept of all players.
    [[nodiscard]] Result<std::int64_t> attempts();
    /// Hands attempts over one by one in the order of their time (of each player) until `take` says false. How many there were.
    [[nodiscard]] Result<std::int64_t> read(const AttemptFilter& filter, const std::function<bool(const Attempt&)>& take);
    /// Removes a player and all their attempts for good: overwritten in the file, which is then packed. How many attempts there were.
    [[nodiscard]] Result<std::int64_t> delete_player(const std::string& name);
    /// Reads the whole file for damage. Nothing: sound.
    [[nodiscard]] std::optional<Error> check_whole();
    /// Writes what is in the log into the file itself and to the disk; a moment without attempts is a good one.
    void settle();

    [[nodiscard]] DatabaseTrouble trouble() const noexcept { return database_->trouble(); }
    [[nodiscard]] Database& database() noexcept { return *database_; }

private:
    explicit History(std::unique_ptr<Database> database) : database_(std::move(database)) {}
    [[nodiscard]] std::optional<Error> prepare();
    [[nodiscard]] Result<bool> insert(const Attempt& attempt);
    [[nodiscard]] Result<std::int64_t> asked_row(const Attempt& attempt);
    [[nodiscard]] Result<std::int64_t> skill_row(const Attempt& attempt);
    [[nodiscard]] Result<std::int64_t> name_row(Statement& find, Statement& add, const std::string& name);

    std::unique_ptr<Database> database_;
    std::vector<Statement> statements_;  // after database_: they go first
};

}  // namespace gripline

// SQLite behind a narrow door: a file, statements, and failures as values. Only this file pair sees the library.
#pragma once

#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "base/result.h"

struct sqlite3;
struct sqlite3_stmt;

namespace gripline {

/// What kind of failure it was, as far as somebody can do something about it.
enum class DatabaseTrouble { none, busy, full, read_only, damaged, other };

class Database;

/// A prepared statement. Values are bound from place 1, columns read from 0. The first failure is kept and every later step fails with it;
/// so bind, step, and look once.
class Statement {
public:
    Statement& bind(int place, std::int64_t value);
    Statement& bind(int place, int value) { return bind(place, std::int64_t{value}); }
    Statement& bind(int place, double value);
    Statement& bind(int place, std::string_view text);
    Statement& bind(int place, std::span<const std::uint8_t> bytes);
    Statement& bind_null(int place);
    template <class Value>
    Statement& bind(int place, const std::optional<Value>& value) { return value ? bind(place, *value) : bind_null(place); }

    /// True: there is a row to read. False: done, or failed; `failed()` tells.
    [[nodiscard]] bool step();
    /// Runs a statement that gives no rows, and resets it. What went wrong, or nothing.
    [[nodiscard]] std::optional<Error> run();
    /// Ready to be bound and stepped again; values bound before are gone.
    void reset();
    [[nodiscard]] bool failed() const noexcept { return failed_; }

    [[nodiscard]] bool is_null(int column) const;
    [[nodiscard]] std::int64_t integer(int column) const;
    [[nodiscard]] double real(int column) const;
    [[nodiscard]] std::string text(int column) const;
    /// Valid until the next step.
    [[nodiscard]] std::span<const std::uint8_t> bytes(int column) const;

private:
    friend class Database;
    struct Close { void operator()(sqlite3_stmt* statement) const noexcept; };
    Statement(Database& database, sqlite3_stmt* statement) : database_(&database), statement_(statement) {}
    Statement& checked(int code);

    Database* database_;
    std::unique_ptr<sqlite3_stmt, Close> statement_;
    bool failed_ = false;
};

/// One connection, for one thread. Statements must not outlive it, and it does not move while there are any.
class Database {
public:
    /// still: nobody writes to it meanwhile; for folders where not even a log can be kept.
    enum class Access { read_write, read_only, still };
    /// The file must exist and may be empty (":memory:" for one that lives in memory alone). Waits for other processes up to five seconds.
    static Result<std::unique_ptr<Database>> open(const std::filesystem::path& file, Access access);
    ~Database();
    Database(const Database&) = delete;
    Database& operator=(const Database&) = delete;

    /// Runs any number of statements.
    [[nodiscard]] std::optional<Error> run(const std::string& sql);
    [[nodiscard]] Result<Statement> prepare(std::string_view sql);
    /// The first column of the first row.
    [[nodiscard]] Result<std::int64_t> number(std::string_view sql);
    [[nodiscard]] Result<std::string> text(std::string_view sql);
    /// Rows that the last statement changed.
    [[nodiscard]] std::int64_t changed() const noexcept;
    [[nodiscard]] std::int64_t last_row() const noexcept;
    /// Kind of the last failure.
    [[nodiscard]] DatabaseTrouble trouble() const noexcept { return trouble_; }
    /// The last failure, with the file before it.
    [[nodiscard]] Error error() const;

private:
    friend class Statement;
    explicit Database(std::string name) : name_(std::move(name)) {}
    void note(int code);

    std::string name_;
    sqlite3* handle_ = nullptr;
    DatabaseTrouble trouble_ = DatabaseTrouble::none;
    std::string words_;
};

/// All or nothing: rolls back unless committed.
class Transaction {
public:
    explicit Transaction(Database& database) : database_(database), begun_(!database.run("BEGIN IMMEDIATE")) {}
    ~Transaction() { if (begun_) (void)database_.run("ROLLBACK"); }
    Transaction(const Transaction&) = delete;
    Transaction& operator=(const Transaction&) = delete;
    [[nodiscard]] bool begun() const noexcept { return begun_; }
    [[nodiscard]] std::optional<Error> commit();

private:
    Database& database_;
    bool begun_;
};

}  // namespace gripline

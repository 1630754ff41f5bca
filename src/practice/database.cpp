#include "practice/database.h"

#include <sqlite3.h>

namespace gripline {
namespace {

constexpr int kBusyWait_ms = 5000;  // a migration's copy of a usual history takes less (bench of history, 2026-11)

DatabaseTrouble trouble_of(int code) noexcept {
    switch (code & 0xFF) {
        case SQLITE_OK:
        case SQLITE_ROW:
        case SQLITE_DONE: return DatabaseTrouble::none;
        case SQLITE_BUSY:
        case SQLITE_LOCKED: return DatabaseTrouble::busy;
        case SQLITE_FULL: return DatabaseTrouble::full;
        case SQLITE_READONLY:
        case SQLITE_PERM:
        case SQLITE_CANTOPEN: return DatabaseTrouble::read_only;
        case SQLITE_CORRUPT:
        case SQLITE_NOTADB: return DatabaseTrouble::damaged;
        case SQLITE_IOERR: return code == SQLITE_IOERR_WRITE || code == SQLITE_IOERR_FSYNC || code == SQLITE_IOERR_SHMSIZE ? DatabaseTrouble::full : DatabaseTrouble::other;
        default: return DatabaseTrouble::other;
    }
}

/// A path as SQLite's URI file names have it: what has a meaning there is escaped.
std::string uri_path(const std::string& path) {
    std::string out;
    for (const char c : path) {
        if (c == '%') out += "%25";
        else if (c == '?') out += "%3f";
        else if (c == '#') out += "%23";
        else out += c;
    }
    return out;
}

}  // namespace

void Statement::Close::operator()(sqlite3_stmt* statement) const noexcept { sqlite3_finalize(statement); }

Statement& Statement::checked(int code) {
    if (code != SQLITE_OK && !failed_) {
        failed_ = true;
        database_->note(code);
    }
    return *this;
}

Statement& Statement::bind(int place, std::int64_t value) { return checked(sqlite3_bind_int64(statement_.get(), place, value)); }
Statement& Statement::bind(int place, double value) { return checked(sqlite3_bind_double(statement_.get(), place, value)); }
Statement& Statement::bind_null(int place) { return checked(sqlite3_bind_null(statement_.get(), place)); }

Statement& Statement::bind(int place, std::string_view text) {
    return checked(sqlite3_bind_text64(statement_.get(), place, text.data() == nullptr ? "" : text.data(), text.size(), SQLITE_TRANSIENT, SQLITE_UTF8));
}

Statement& Statement::bind(int place, std::span<const std::uint8_t> bytes) {
    return checked(sqlite3_bind_blob64(statement_.get(), place, bytes.data(), bytes.size(), SQLITE_TRANSIENT));
}

bool Statement::step() {
    if (failed_) return false;
    const int code = sqlite3_step(statement_.get());
    if (code == SQLITE_ROW) return true;
    if (code != SQLITE_DONE) checked(code);
    return false;
}

std::optional<Error> Statement::run() {
    while (step()) {}
    const bool failed = failed_;
    const Error error = failed ? database_->error() : Error{};
    reset();
    return failed ? std::optional(error) : std::nullopt;
}

void Statement::reset() {
    sqlite3_reset(statement_.get());
    sqlite3_clear_bindings(statement_.get());
    failed_ = false;
}

bool Statement::is_null(int column) const { return sqlite3_column_type(statement_.get(), column) == SQLITE_NULL; }
std::int64_t Statement::integer(int column) const { return sqlite3_column_int64(statement_.get(), column); }
double Statement::real(int column) const { return sqlite3_column_double(statement_.get(), column); }

std::string Statement::text(int column) const {
    const unsigned char* text = sqlite3_column_text(statement_.get(), column);
    const auto size = static_cast<std::size_t>(sqlite3_column_bytes(statement_.get(), column));
    return text == nullptr ? std::string() : std::string(text, text + size);
}

std::span<const std::uint8_t> Statement::bytes(int column) const {
    const void* bytes = sqlite3_column_blob(statement_.get(), column);
    return {static_cast<const std::uint8_t*>(bytes), static_cast<std::size_t>(sqlite3_column_bytes(statement_.get(), column))};
}

Result<std::unique_ptr<Database>> Database::open(const std::filesystem::path& file, Access access) {
    std::unique_ptr<Database> made(new Database(file.string()));
    const int flags = (access == Access::read_write ? SQLITE_OPEN_READWRITE : SQLITE_OPEN_READONLY) | SQLITE_OPEN_NOMUTEX | SQLITE_OPEN_EXRESCODE;
    const bool still = access == Access::still;
    const std::string name = still ? "file:" + uri_path(file.string()) + "?immutable=1" : file.string();
    const int code = sqlite3_open_v2(name.c_str(), &made->handle_, flags | (still ? SQLITE_OPEN_URI : 0), nullptr);
    made->note(code);
    if (code != SQLITE_OK) return made->error();
    sqlite3_busy_timeout(made->handle_, kBusyWait_ms);
    return made;
}

Database::~Database() { sqlite3_close(handle_); }

void Database::note(int code) {
    trouble_ = trouble_of(code);
    if (trouble_ != DatabaseTrouble::none) words_ = handle_ == nullptr ? sqlite3_errstr(code) : sqlite3_errmsg(handle_);
}

std::optional<Error> Database::run(const std::string& sql) {
    const int code = sqlite3_exec(handle_, sql.c_str(), nullptr, nullptr, nullptr);
    note(code);
    return code == SQLITE_OK ? std::nullopt : std::optional(error());
}

Result<Statement> Database::prepare(std::string_view sql) {
    sqlite3_stmt* statement = nullptr;
    const int code = sqlite3_prepare_v3(handle_, sql.data(), static_cast<int>(sql.size()), SQLITE_PREPARE_PERSISTENT, &statement, nullptr);
    note(code);
    if (code != SQLITE_OK) return error();
    return Statement(*this, statement);
}

Result<std::int64_t> Database::number(std::string_view sql) {
    auto statement = prepare(sql);
    if (!statement) return statement.error();
    if (!statement->step()) return statement->failed() ? error() : Error{name_ + ": no row for " + std::string(sql)};
    return statement->integer(0);
}

Result<std::string> Database::text(std::string_view sql) {
    auto statement = prepare(sql);
    if (!statement) return statement.error();
    if (!statement->step()) return statement->failed() ? error() : Error{name_ + ": no row for " + std::string(sql)};
    return statement->text(0);
}

std::int64_t Database::changed() const noexcept { return sqlite3_changes64(handle_); }
std::int64_t Database::last_row() const noexcept { return sqlite3_last_insert_rowid(handle_); }

Error Database::error() const {
    switch (trouble_) {
        case DatabaseTrouble::busy: return {name_ + ": another gripline is writing to it; try again when it is done"};
        case DatabaseTrouble::full: return {name_ + ": it can't be written, the disk is full: make room"};
        case DatabaseTrouble::read_only: return {name_ + ": it can't be written or opened: look at the rights of the file and of its folder"};
        case DatabaseTrouble::damaged: return {name_ + ": it is damaged (" + words_ + ")"};
        default: return {name_ + ": " + words_};
    }
}

std::optional<Error> Transaction::commit() {
    if (!begun_) return database_.error();
    if (auto error = database_.run("COMMIT")) return error;  // rolled back by the destructor
    begun_ = false;
    return std::nullopt;
}

}  // namespace gripline

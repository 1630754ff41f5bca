#include "practice/history_file.h"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstdlib>
#include <cstring>
#include <ctime>

#include "base/file_folder.h"
#include "practice/history_schema.h"

namespace gripline {
namespace {

namespace fs = std::filesystem;

constexpr mode_t kPrivateFolder = 0700;
constexpr mode_t kPrivateFile = 0600;
/// A file up to this (some 10,000 attempts) is read wholly for damage at every opening: 48 ms for one of 2 MB (bench_history, 2026-11).
constexpr std::uintmax_t kCheckedWholly_bytes = 2U << 20U;

/// A write-ahead log, so that a killed process loses nothing that was committed, and readers never wait. NORMAL: the disk is waited for when the
/// log goes into the file (settle()), not at every attempt; a power cut may take the last seconds, never the file. No attempt has to wait for that: the
/// log never goes into the file by itself. Deleted rows are overwritten.
constexpr const char* kHabits = "PRAGMA journal_mode = WAL; PRAGMA synchronous = NORMAL; PRAGMA wal_autocheckpoint = 0; PRAGMA foreign_keys = ON; PRAGMA secure_delete = ON;";

Error system_error(const fs::path& path, const char* what) { return {path.string() + ": " + what + ": " + std::strerror(errno)}; }

/// An empty private file, unless there is one. True: it was made.
Result<bool> make_file(const fs::path& file) {
    const int descriptor = ::open(file.c_str(), O_RDWR | O_CREAT | O_EXCL | O_CLOEXEC, kPrivateFile);
    if (descriptor >= 0) {
        ::close(descriptor);
        return true;
    }
    if (errno != EEXIST) return system_error(file, "the history can't be made");
    struct stat status{};
    if (::stat(file.c_str(), &status) != 0) return system_error(file, "the history can't be looked at");
    if (!S_ISREG(status.st_mode)) return Error{file.string() + ": it is no file, so no history can be kept there; move it away"};
    if ((status.st_mode & 0077U) != 0 && ::chmod(file.c_str(), kPrivateFile) != 0) return system_error(file, "it can't be made private");
    return false;
}

std::optional<Error> make_folder(const fs::path& folder) {
    std::error_code error;
    if (fs::is_directory(folder, error)) return std::nullopt;
    fs::create_directories(folder.parent_path(), error);
    if (::mkdir(folder.c_str(), kPrivateFolder) != 0 && errno != EEXIST) return system_error(folder, "the folder of the history can't be made");
    return std::nullopt;
}

std::string stamp() {
    const std::time_t now = std::time(nullptr);
    std::tm parts{};
    localtime_r(&now, &parts);
    char text[32];
    const std::size_t length = std::strftime(text, sizeof text, "%Y%m%d-%H%M%S", &parts);
    return {text, length};
}

fs::path beside(const fs::path& file, const std::string& what) {
    return file.parent_path() / (file.stem().string() + "." + what + file.extension().string());
}

/// Why it is no sound history, as far as can be told without reading all of a large one; empty: it is one.
std::string damage_of(Database& database, const fs::path& file) {
    const auto mark = database.number("PRAGMA application_id");
    const auto version = database.number("PRAGMA user_version");
    const auto pages = database.number("PRAGMA page_count");
    const auto tables = database.number("SELECT count(*) FROM sqlite_schema");
    if (!mark || !version || !pages || !tables) return database.trouble() == DatabaseTrouble::damaged ? database.error().message : "";
    if (*tables == 0) return *version == 0 ? "" : "its tables are missing";
    if (*mark != kHistoryMark || *version < 1) return "it is no history of gripline";
    std::error_code error;
    if (fs::file_size(file, error) > kCheckedWholly_bytes) return "";
    const auto answer = database.text("PRAGMA quick_check(1)");
    if (!answer) return database.trouble() == DatabaseTrouble::damaged ? database.error().message : "";
    return *answer == "ok" ? "" : *answer;
}

/// A copy of an older version, made before anything is changed. Its path.
Result<fs::path> copy_version(Database& database, const fs::path& file, std::int64_t version) {
    fs::path copy = beside(file, "version-" + std::to_string(version));
    std::error_code error;
    for (int more = 2; fs::exists(copy, error); ++more) copy = beside(file, "version-" + std::to_string(version) + "-" + std::to_string(more));
    const auto made = make_file(copy);
    if (!made) return made.error();
    std::string name = copy.string();
    for (std::size_t at = name.find('\''); at != std::string::npos; at = name.find('\'', at + 2)) name.insert(at, "'");
    if (auto failed = database.run("VACUUM INTO '" + name + "'")) {
        fs::remove(copy, error);
        return Error{"the history is not brought to version " + std::to_string(history_version()) + ", since no copy could be made first: " + failed->message};
    }
    return copy;
}

/// Brings it to this version. What the player should know.
Result<std::string> bring_up(Database& database, const fs::path& file) {
    const auto version = database.number("PRAGMA user_version");
    if (!version) return version.error();
    if (*version > history_version()) {
        return Error{file.string() + ": it was written by a newer gripline (version " + std::to_string(*version) + "; this one knows versions up to " +
                     std::to_string(history_version()) + "): use that one"};
    }
    std::string notice;
    if (*version > 0 && *version < history_version()) {
        const auto copy = copy_version(database, file, *version);
        if (!copy) return copy.error();
        notice = "The history was brought from version " + std::to_string(*version) + " to " + std::to_string(history_version()) + "; the old one is kept as " + copy->string() + ".";
    }
    if (*version < history_version()) {
        if (auto error = migrate(database)) return *error;
    }
    return notice;
}

/// The file, which exists. `damage` says why it must be set aside, when it must.
Result<OpenedHistory> open_existing(const fs::path& file, std::string& damage) {
    auto database = Database::open(file, Database::Access::read_write);
    if (!database) return database.error();
    const auto habits = (*database)->run(kHabits);
    if (habits && (*database)->trouble() != DatabaseTrouble::damaged) return *habits;
    damage = habits ? habits->message : damage_of(**database, file);
    if (!damage.empty()) return Error{damage};
    auto notice = bring_up(**database, file);
    if (notice) {
        auto history = History::on(std::move(*database));
        if (history) return OpenedHistory{std::move(*history), *notice};
        return history.error();
    }
    if ((*database)->trouble() == DatabaseTrouble::damaged) damage = notice.error().message;
    return notice.error();
}

}  // namespace

fs::path history_path() {
    const auto folder = [](const char* variable) {
        const char* text = std::getenv(variable);
        return fs::path(text == nullptr ? "" : text);
    };
    if (const fs::path data = folder("XDG_DATA_HOME"); data.is_absolute()) return data / "gripline" / "history.sqlite";
    if (const fs::path home = folder("HOME"); home.is_absolute()) return home / ".local" / "share" / "gripline" / "history.sqlite";
    return {};
}

Result<fs::path> set_history_aside(const fs::path& file) {
    const fs::path aside = beside(file, "damaged-" + stamp() + "-" + std::to_string(::getpid()));
    if (::rename(file.c_str(), aside.c_str()) != 0) return system_error(file, "it is damaged and can't be set aside");
    for (const char* log : {"-wal", "-shm"}) (void)::rename((file.string() + log).c_str(), (aside.string() + log).c_str());
    return aside;
}

std::vector<fs::path> history_copies(const fs::path& file) {
    std::vector<fs::path> copies;
    std::error_code error;
    for (const auto& entry : fs::directory_iterator(folder_of(file), error)) {
        const std::string name = entry.path().filename().string();
        if (name.starts_with(file.stem().string() + ".version-") && name.ends_with(file.extension().string())) copies.push_back(entry.path());
    }
    std::sort(copies.begin(), copies.end());
    return copies;
}

Result<OpenedHistory> open_history(const fs::path& file) {
    if (file.empty()) return Error{"no history is kept: neither XDG_DATA_HOME nor HOME names a folder"};
    if (auto error = make_folder(folder_of(file))) return *error;
    for (std::string said;;) {
        const auto made = make_file(file);
        if (!made) return made.error();
        std::string damage;
        auto opened = open_existing(file, damage);
        if (damage.empty() || !said.empty()) {
            if (opened && !said.empty()) opened->notice = said;
            return opened;
        }
        const auto aside = set_history_aside(file);
        if (!aside) return aside.error();
        said = "The history was damaged (" + damage + "). It is kept as " + aside->string() + ", and a new one begun; gripline history merge takes over what can be read.";
    }
}

Result<OpenedHistory> open_history_to_read(const fs::path& file) {
    std::error_code error;
    const auto nothing_kept = [] {
        auto empty = History::in_memory();
        return empty ? Result<OpenedHistory>(OpenedHistory{std::move(*empty), ""}) : Result<OpenedHistory>(empty.error());
    };
    if (file.empty() || !fs::exists(file, error)) return nothing_kept();
    std::string damage;
    auto opened = open_existing(file, damage);
    if (opened || !damage.empty()) return opened;
    // Nothing can be written here.
    auto history = open_history_as_it_is(file);
    if (history) return OpenedHistory{std::move(*history), ""};
    return history.error();
}

Result<std::unique_ptr<History>> open_history_as_it_is(const fs::path& file) {
    std::error_code error;
    if (!fs::is_regular_file(file, error)) return Error{file.string() + ": there is no such file"};
    Error why{file.string() + ": it is no history of gripline"};
    for (const bool still : {false, true}) {  // `immutable` where even the log can't be opened
        auto database = Database::open(file, still ? Database::Access::still : Database::Access::read_only);
        if (!database) {
            why = database.error();
            continue;
        }
        const auto version = (*database)->number("PRAGMA user_version");
        const auto mark = (*database)->number("PRAGMA application_id");
        if (!version || !mark) {
            why = (*database)->error();
            continue;
        }
        if (*mark != kHistoryMark) return Error{file.string() + ": it is no history of gripline"};
        if (*version != history_version()) {
            return Error{file.string() + ": it has version " + std::to_string(*version) + "; this gripline reads version " + std::to_string(history_version()) +
                         (*version < history_version() ? ": open it once where it can be written (gripline history where --history FILE)" : ": use a newer one")};
        }
        auto history = History::on(std::move(*database));
        if (history) return history;
        why = history.error();
    }
    return why;
}

}  // namespace gripline

#include "cli/history_verbs.h"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>
#include <ctime>
#include <fstream>
#include <istream>
#include <ostream>

#include "base/text.h"
#include "cli/commands.h"
#include "formats/attempt_file.h"
#include "practice/attempt_check.h"
#include "practice/history_file.h"
#include "practice/history_merge.h"

namespace gripline {
namespace {

namespace fs = std::filesystem;

constexpr std::int64_t kToldEvery = 100'000;

/// The beginning of that day by this machine's clock, or of the one after.
Result<std::int64_t> beginning_of(const std::string& day, const char* option, bool of_the_next) {
    std::tm parts{};
    const char* end = strptime(day.c_str(), "%Y-%m-%d", &parts);
    const std::tm asked = parts;
    parts.tm_isdst = -1;
    if (of_the_next && end != nullptr) ++parts.tm_mday;
    std::tm check = asked;
    check.tm_isdst = -1;
    check.tm_hour = 12;
    const bool known = end != nullptr && *end == '\0' && std::mktime(&check) != -1 && check.tm_mday == asked.tm_mday;
    if (!known) return Error{std::string(option) + ": " + gripline::quoted(day) + " is no day; one like 2026-11-25 is wanted"};
    return static_cast<std::int64_t>(std::mktime(&parts)) * 1000;
}

/// Says on a terminal how far a long work has come.
void tell(std::int64_t read, std::ostream& err) {
    if (isatty(STDERR_FILENO) == 1) err << '\r' << read << " attempts ..." << std::flush;
}
void tell_end(std::int64_t read, std::ostream& err) {
    if (read >= kToldEvery && isatty(STDERR_FILENO) == 1) err << '\n';
}

std::string counted(std::int64_t attempts) { return std::to_string(attempts) + (attempts == 1 ? " attempt" : " attempts"); }

std::string taken_over(std::int64_t added, std::int64_t already_there) {
    return counted(added) + " taken over" + (already_there > 0 ? ", " + std::to_string(already_there) + " were there already" : "");
}

Result<AttemptFileKind> kind_of(const HistoryOptions& options) {
    const std::string ending = fs::path(options.file).extension().string();
    if (options.csv || (!options.json && ending == ".csv")) return AttemptFileKind::csv;
    if (options.json || ending == ".json" || ending == ".jsonl") return AttemptFileKind::json;
    return Error{options.file + ": the ending tells no kind of file; .csv, .json and .jsonl do, or --csv or --json"};
}

/// Private from the beginning: it holds what its owner alone may read.
std::optional<Error> make_private_file(const std::string& path, bool overwrite) {
    const int descriptor = ::open(path.c_str(), O_WRONLY | O_CREAT | O_CLOEXEC | (overwrite ? O_TRUNC : O_EXCL), S_IRUSR | S_IWUSR);
    if (descriptor < 0 && errno == EEXIST) return Error{path + ": is there already; choose another name or say --overwrite"};
    if (descriptor < 0) return Error{path + ": can't be written: " + std::strerror(errno)};
    ::close(descriptor);
    return std::nullopt;
}

}  // namespace

Result<AttemptFilter> history_part(const HistoryOptions& options) {
    AttemptFilter filter;
    filter.player = options.who;
    if (!options.from.empty()) {
        const auto from = beginning_of(options.from, "--from", false);
        if (!from) return from.error();
        filter.from_ms = *from;
    }
    if (!options.to.empty()) {
        const auto before = beginning_of(options.to, "--to", true);
        if (!before) return before.error();
        filter.before_ms = *before;
    }
    return filter;
}

int history_export(const HistoryOptions& options, History& kept, std::ostream& out, std::ostream& err) {
    const auto filter = history_part(options);
    if (!filter) return refuse(err, filter.error().message);
    const auto kind = kind_of(options);
    if (!kind) return refuse(err, kind.error().message);
    std::ofstream file;
    const bool to_file = options.file != "-";
    if (to_file) {
        if (const auto failed = make_private_file(options.file, options.overwrite)) return refuse(err, failed->message);
        file.open(options.file, std::ios::binary | std::ios::trunc);
    }
    std::ostream& into = to_file ? file : out;
    AttemptWriter writer(into, *kind);
    std::int64_t written = 0;
    const auto read = kept.read(*filter, [&](const Attempt& attempt) {
        writer.write(attempt);
        if (++written % kToldEvery == 0) tell(written, err);
        return into.good();
    });
    tell_end(written, err);
    if (!read) return refuse(err, read.error().message);
    into.flush();
    if (to_file) file.close();
    if (!into) return refuse(err, options.file + ": can't be written to its end; check that there is room");
    err << counted(written) << " written" << (to_file ? " to " + plain_line(options.file) : "") << '\n';
    return kExitDone;
}

int history_import(const HistoryOptions& options, History& kept, std::ostream& out, std::ostream& err) {
    const std::string who(trimmed(options.who));
    if (!options.who.empty())
        if (const auto wrong = check_name(who, "--who", false)) return refuse(err, wrong->message);
    std::ifstream file(options.file, std::ios::binary);
    std::error_code failed;
    if (!file || !fs::is_regular_file(options.file, failed)) return refuse(err, options.file + ": can't be read");
    // Once to look whether all of it is sound, once to take it over.
    std::int64_t seen = 0;
    const auto sound = read_attempts(file, [&](const Attempt&) {
        if (++seen % kToldEvery == 0) tell(seen, err);
        return std::optional<Error>();
    });
    tell_end(seen, err);
    if (!sound) return refuse(err, options.file + ": " + sound.error().message + "; nothing was taken over");
    file.clear();
    file.seekg(0);
    AttemptBundler bundler(kept);
    std::optional<Error> not_kept;
    const auto read = read_attempts(file, [&](Attempt attempt) {
        if (!who.empty()) attempt.player = who;
        not_kept = bundler.add(std::move(attempt));
        return not_kept;
    });
    if (!not_kept && read) not_kept = bundler.finish();
    if (not_kept) return refuse(err, not_kept->message + "; " + counted(bundler.counts().added) + " were taken over before; a second import goes on from there");
    if (!read) return refuse(err, options.file + ": " + read.error().message + "; it has changed while it was read");
    out << taken_over(bundler.counts().added, bundler.counts().already_there) << '\n';
    return kExitDone;
}

int history_merge(const HistoryOptions& options, const fs::path& file, History& kept, std::ostream& out, std::ostream& err) {
    std::error_code missing;
    if (fs::equivalent(options.file, file, missing)) return refuse(err, options.file + ": is the history itself");
    const auto merged = merge_history(kept, options.file, [&err](std::int64_t read) { tell(read, err); });
    if (!merged) return refuse(err, merged.error().message);
    out << taken_over(merged->added, merged->already_there) << '\n';
    if (!merged->unread.empty()) return refuse(err, options.file + ": not all of it could be read: " + merged->unread);
    return kExitDone;
}

int history_delete(const HistoryOptions& options, const fs::path& file, History& kept, std::istream& in, std::ostream& out, std::ostream& err) {
    const auto players = kept.players();
    if (!players) return refuse(err, players.error().message);
    const PlayerRow* found = nullptr;
    for (const PlayerRow& row : *players)
        if (row.name == options.who) found = &row;
    if (found == nullptr) return refuse(err, "there is no player " + gripline::quoted(options.who) + " in " + file.string() + "; gripline history where names them");
    if (!options.yes) {
        out << counted(found->attempts) << " of " << gripline::quoted(found->name) << " will be deleted for good. Type the name again to delete them: " << std::flush;
        std::string typed;
        if (!std::getline(in, typed) || trimmed(typed) != trimmed(found->name)) {
            out << '\n';
            return refuse(err, "nothing was deleted; the name was not typed (--yes deletes without asking)");
        }
    }
    const auto gone = kept.delete_player(options.who);
    if (!gone) return refuse(err, gone.error().message);
    out << counted(*gone) << " deleted\n";
    for (const fs::path& copy : history_copies(file)) err << "gripline: an older copy may hold them still; delete it too: " << plain_line(copy.string()) << '\n';
    return kExitDone;
}

}  // namespace gripline

// gripline progress: what the history says of a player, as a screen, text, JSON, CSV or a page.
#include <unistd.h>

#include <ctime>
#include <filesystem>
#include <fstream>
#include <functional>
#include <ostream>

#include "base/text.h"
#include "cli/commands.h"
#include "formats/progress_page.h"
#include "practice/history_file.h"
#include "ui/progress_app.h"

namespace gripline {

namespace {

namespace fs = std::filesystem;

/// Days since 1970-01-01 by the clock on the wall.
std::int64_t today_here() {
    const std::time_t now = std::time(nullptr);
    std::tm local{};
    localtime_r(&now, &local);
    return day_of(static_cast<std::int64_t>(now) * 1000, static_cast<int>(local.tm_gmtoff / 60));
}

/// The player named, or whoever practised last.
Result<std::string> player_of(History& history, const std::string& named) {
    const auto players = history.players();
    if (!players) return players.error();
    const PlayerRow* latest = nullptr;
    std::string known;
    for (const PlayerRow& row : *players) {
        if (row.name == named) return named;
        if (latest == nullptr || row.last_ms > latest->last_ms) latest = &row;
        known += (known.empty() ? "" : ", ") + gripline::quoted(row.name);
    }
    if (!named.empty()) return Error{"no attempts of a player " + gripline::quoted(named) + " are kept" + (known.empty() ? "" : "; known: " + known)};
    if (latest == nullptr) return Error{"nothing was kept yet; practise first (gripline practice)"};
    return latest->name;
}

std::optional<Error> write_page(const ProgressOptions& options, const Progress& progress, const std::vector<PlanItem>& plan) {
    std::error_code failed;
    if (!options.overwrite && fs::exists(options.html, failed)) return Error{options.html + ": is there already; choose another name or say --overwrite"};
    std::ofstream file(options.html, std::ios::binary | std::ios::trunc);
    write_progress_page(progress, plan, file);
    file.close();
    if (!file) return Error{options.html + ": can't be written; check the folder and that there is room"};
    return std::nullopt;
}

void print_as_text(const ProgressRun& run, bool ascii, std::ostream& out) {
    constexpr int kColumns = 80, kRows = 32;
    Canvas canvas(kColumns, kRows, ascii ? CharacterSet::ascii : CharacterSet::utf8);
    run.draw(canvas);
    for (int y = 0; y + 1 < kRows; ++y)  // the last row tells keys
        if (const std::string row = canvas.row_text(y); y < 2 || !row.empty()) out << row << '\n';
}

}  // namespace

int progress(const ProgressOptions& options, std::ostream& out, std::ostream& err) {
    const fs::path file = history_path();
    if (file.empty()) return refuse(err, "neither XDG_DATA_HOME nor HOME is set, so there is no place for a history");
    auto opened = open_history_to_read(file);
    if (!opened) return refuse(err, opened.error().message);
    const auto player = player_of(*opened->history, options.player);
    if (!player) return refuse(err, player.error().message);
    auto source = read_progress(*opened->history, *player, today_here());
    if (!source) return refuse(err, source.error().message);
    const Progress whole = count_progress(*source, {});
    const std::vector<PlanItem> plan = plan_today(*source);
    if (!options.html.empty()) {
        if (const auto failed = write_page(options, whole, plan)) return refuse(err, failed->message);
        err << "page: " << options.html << '\n';
    }
    if (!opened->notice.empty()) err << "gripline: " << opened->notice << '\n';
    if (options.json) write_progress_json(whole, plan, out);
    else if (options.csv) write_progress_csv(whole, out);
    else if (options.html.empty()) {
        ProgressRun run(std::move(*source), opened->notice);
        TerminalOptions terminal_options;
        if (options.ascii) terminal_options.characters = CharacterSet::ascii;
        const bool screen = isatty(STDIN_FILENO) == 1 && isatty(STDOUT_FILENO) == 1;
        if (screen) {
            if (auto terminal = Terminal::open(terminal_options)) {
                progress_loop(run, **terminal);
                return kExitDone;
            }
        }
        print_as_text(run, options.ascii, out);
    }
    return kExitDone;
}

}  // namespace gripline

// gripline progress: what the history says of a player, as a screen, text, JSON, CSV or a page.
#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <ostream>

#include "cli/commands.h"
#include "formats/progress_page.h"
#include "ui/keeping.h"
#include "ui/progress_app.h"

namespace gripline {

namespace {

namespace fs = std::filesystem;

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
    auto kept = read_kept_progress(options.who, history_file(options.history));
    if (!kept) return refuse(err, kept.error().message);
    const Progress whole = count_progress(kept->source, {});
    const std::vector<PlanItem> plan = plan_today(kept->source);
    if (!options.html.empty()) {
        if (const auto failed = write_page(options, whole, plan)) return refuse(err, failed->message);
        err << "page: " << options.html << '\n';
    }
    if (!kept->notice.empty()) err << "gripline: " << kept->notice << '\n';
    if (options.json) write_progress_json(whole, plan, out);
    else if (options.csv) write_progress_csv(whole, out);
    else if (options.html.empty()) {
        ProgressRun run(std::move(kept->source), kept->notice);
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

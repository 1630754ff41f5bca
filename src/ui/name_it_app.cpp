#include "ui/name_it_app.h"

#include <ostream>
#include <random>

#include "audio/stderr_log.h"
#include "base/text.h"
#include "practice/progress.h"
#include "ui/closing_lines.h"
#include "ui/keeping.h"
#include "ui/live_loop.h"
#include "ui/live_sound.h"
#include "ui/name_it_run.h"
#include "ui/settings.h"

namespace gripline {
namespace {

/// Until it is over. What it said at the end; empty with `deaf` when nothing can be heard.
std::vector<std::string> play(NameItConfig config, const NameItStart& start, Terminal& terminal, std::string& deaf, bool& cautions_read) {
    constexpr double kLookEvery_s = 0.1;  // no level moves here
    Canvas canvas(terminal.columns(), terminal.rows(), terminal.characters());
    canvas.text(1, 0, "Opening the sound output ...");
    terminal.show(canvas);
    SoundCard card;
    LiveSoundOptions options;
    options.output.device = start.output;
    options.player = true;  // no input is opened
    LiveSound sound(card, options);
    deaf = sound.output_trouble();
    if (!deaf.empty()) return {};
    const SteadyClock clock;
    const bool led = config.plan.led();
    NameItRun run(std::move(config), sound, clock.now_s());
    live_loop(run, terminal, clock, kLookEvery_s, [](double) {});
    cautions_read = run.cautions_read();
    const auto lines = run.summary(clock.now_s());
    if (led) return {lines.begin(), lines.end()};
    return {"This session: " + run.counts_words() + "."};
}

}  // namespace

int run_name_it(const NameItStart& start, std::ostream& out, std::ostream& err) {
    const auto path = settings_path();
    LoadedSettings loaded = load_settings(path);
    auto keeping = keeper_config(start.keeping, loaded.settings, loaded.complaints);
    if (!keeping) {
        err << "gripline: " << keeping.error().message << '\n';
        return 1;
    }
    NameItConfig config;
    config.pool = start.pool;
    config.neck = start.neck;
    config.plan = start.plan;
    config.seed = std::random_device{}();
    config.show_cautions = !loaded.settings.cautions_read;
    if (!loaded.complaints.empty()) config.notice = loaded.complaints.front();
    std::optional<AttemptKeeper> keeper;
    if (*keeping) {
        if (config.plan.planned)  // who has practised nothing yet has no totals
            if (auto kept = read_kept_progress((*keeping)->player, (*keeping)->file)) config.plan.totals = std::move(kept->source.totals);
        keeper.emplace(**keeping);
        config.keeper = &*keeper;
    }
    remember(start.keeping, loaded.settings);
    std::vector<std::string> said;
    std::string deaf, not_kept;
    {
        auto terminal = Terminal::open(start.terminal);
        if (!terminal) {  // said before standard error goes to the log
            err << "gripline: " << terminal.error().message << '\n';
            return 1;
        }
        const StderrToLog log;
        bool cautions_read = loaded.settings.cautions_read;
        said = play(std::move(config), start, **terminal, deaf, cautions_read);
        loaded.settings.cautions_read = cautions_read;
        not_kept = save_settings(path, loaded.settings, loaded.unreadable);
    }
    if (!deaf.empty()) {
        err << "gripline: --exercise name-it needs an output to sound what is asked: " << plain_line(deaf) << " (--exercise named needs none)\n";
        return 1;
    }
    if (keeper)
        if (const std::string lost = keeper->close(); !lost.empty()) err << "gripline: " << plain_line(lost) << '\n';
    for (const std::string& complaint : loaded.complaints) err << "gripline: " << complaint << '\n';
    if (!not_kept.empty()) err << "gripline: " << not_kept << '\n';
    write_closing_lines(said, output_columns(), out);
    return 0;
}

}  // namespace gripline

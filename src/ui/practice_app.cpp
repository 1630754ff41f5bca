#include "ui/practice_app.h"

#include <ostream>
#include <random>

#include "audio/stderr_log.h"
#include "base/text.h"
#include "ui/closing_lines.h"
#include "ui/keeping.h"
#include "ui/live_sound.h"
#include "ui/practice_words.h"
#include "ui/kept_guitars.h"

namespace gripline {
namespace {

/// The words of the settings as a course; a word that says nothing is told and the default used.
Course course_of(const Settings& settings, std::vector<std::string>& complaints) {
    Course course;
    const auto read = [&](auto parsed, auto& to, const std::string& what) {
        if (parsed) to = *parsed;
        else complaints.push_back("settings, " + what + ": " + parsed.error().message);
    };
    read(NoteName::parse(settings.root), course.root, "root");
    read(parse_family(settings.family), course.family, "family");
    read(parse_stage_kind(settings.stage), course.stage, "stage");
    read(StringSet::parse(settings.string_set), course.strings, "strings");
    read(parse_step_order(settings.order), course.order, "order");
    return course;
}

Course course_for(const PracticeStart& options, const Settings& settings, std::vector<std::string>& complaints) {
    Course course = course_of(settings, complaints);
    if (options.root) course.root = *options.root;
    if (options.family) course.family = *options.family;
    if (options.stage) course.stage = *options.stage;
    if (options.order) course.order = *options.order;
    const int strings = options.neck.tuning.strings();
    if (options.strings) course.strings = *options.strings;
    else if (!checked(course.strings, course.stage, strings)) course.strings = string_sets(course.stage, strings).front();
    return course;
}

/// One line for the time in which nothing else can be shown: a busy device takes seconds to say so.
void show_words(Display& display, const std::string& words) {
    Canvas canvas(display.columns(), display.rows(), display.characters());
    canvas.text(1, 0, words);
    display.show(canvas);
}

}  // namespace

Settings settings_after(Settings settings, const PracticeRun& run) {
    const Course& course = run.course();
    settings.root = course.root.text();
    settings.family = name(course.family);
    settings.stage = name(course.stage);
    settings.string_set = course.strings.text();
    settings.order = word(course.order);
    settings.cautions_read = settings.cautions_read || run.cautions_read();
    return settings;
}

int run_practice(const PracticeStart& options, std::ostream& out, std::ostream& err) {
    const auto path = settings_path();
    LoadedSettings loaded = load_settings(path);
    PracticeRunConfig config;
    config.course = course_for(options, loaded.settings, loaded.complaints);
    config.neck = options.neck;
    config.a4_hz = options.a4_hz;
    config.show_cautions = !loaded.settings.cautions_read;
    config.seed = std::random_device{}();
    auto keeping = keeper_config(options.keeping, loaded.settings, loaded.complaints);
    if (!keeping) {
        err << "gripline: " << keeping.error().message << '\n';
        return 1;
    }
    std::optional<AttemptKeeper> keeper;
    if (*keeping) {
        keeper.emplace(**keeping);
        config.keeper = &*keeper;
        config.keep_player = !options.keeping.history.empty();
        config.progress = [&keeper, who = *keeping] {
            keeper->flush();
            return read_kept_progress(who->player, who->file);
        };
    }
    config.plan = options.plan;
    if ((config.plan.planned || config.plan.warm_up > 0) && *keeping) {  // who has practised nothing yet has no totals
        if (auto kept = read_kept_progress((*keeping)->player, (*keeping)->file)) config.plan.totals = std::move(kept->source.totals);
    }
    config.guitar = known_guitar_wished(options.keeping, loaded.settings, loaded.complaints);
    remember(options.keeping, loaded.settings);
    LiveSoundOptions sound_options;
    sound_options.input.device = options.device.value_or(loaded.settings.device);
    sound_options.output.device = options.output;
    sound_options.player = options.player;
    sound_options.seed = config.seed;
    sound_options.muted_strums = config.plan.gestures.any();
    PracticeCounts counts;
    std::string not_kept, deaf;
    std::array<std::string, 5> summary;
    {
        auto terminal = Terminal::open(options.terminal);
        if (!terminal) {  // said before standard error goes to the log
            err << "gripline: " << terminal.error().message << '\n';
            return 1;
        }
        const StderrToLog log;
        show_words(**terminal, "Opening the sound input ...");
        SoundCard card;
        LiveSound sound(card, sound_options);
        config.notice = loaded.complaints.empty() ? sound.notice() : loaded.complaints.front();
        if (options.plan.asking == Asking::by_ear) deaf = sound.output_trouble();
        const SteadyClock clock;
        PracticeRun run(config, sound, clock.now_s());
        if (deaf.empty()) practice_loop(run, **terminal, clock);
        run.close();
        counts = run.session().counts();
        summary = run.summary(clock.now_s());
        not_kept = save_settings(path, settings_after(loaded.settings, run), loaded.unreadable);
    }
    if (!deaf.empty()) {
        err << "gripline: --exercise by-ear needs an output to sound what is asked: " << plain_line(deaf) << " (--exercise named needs none)\n";
        return 1;
    }
    if (keeper) {
        if (const std::string lost = keeper->close(); !lost.empty()) err << "gripline: " << plain_line(lost) << '\n';
    }
    for (const std::string& complaint : loaded.complaints) err << "gripline: " << complaint << '\n';
    if (!not_kept.empty()) err << "gripline: " << not_kept << '\n';
    if (options.plan.led()) {
        write_closing_lines({summary.begin(), summary.end()}, output_columns(), out);
        return 0;
    }
    write_closing_lines({"This session: " + counts_words(counts) + "."}, output_columns(), out);
    return 0;
}

}  // namespace gripline

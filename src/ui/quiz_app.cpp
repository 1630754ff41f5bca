#include "ui/quiz_app.h"

#include <sys/utsname.h>

#include <ostream>
#include <random>

#include "audio/stderr_log.h"
#include "base/text.h"
#include "practice/attempt_check.h"
#include "practice/attempt_id.h"
#include "ui/keeping.h"
#include "ui/live_sound.h"
#include "ui/settings.h"

namespace gripline {
namespace {

constexpr int kKeyWait_ms = 8;                   // as practice_loop
constexpr double kPictureEvery_s = 1.0 / 20.0;   // the clock's bar moves; a verdict is on screen within this

QuizPlayConfig play_config(const QuizStart& options) {
    QuizPlayConfig config;
    config.wall_ms = wall_clock_ms;
    config.resumed = options.resumed;
    if (options.resumed) {
        config.head = options.resumed->head;
        config.folder = options.folder;
    } else {
        config.head.run = text_of(new_attempt_id(wall_clock_ms()));
        config.head.quiz = options.quiz;
        config.head.student = options.student;
        config.head.started_ms = wall_clock_ms();
        config.head.utc_offset_min = utc_offset_minutes();
        config.folder = options.parent / run_folder_name(config.head);
    }
    config.head.facts.program = options.program;
    config.head.facts.system = system_words();
    return config;
}

}  // namespace

std::string system_words() {
    utsname name{};
    if (uname(&name) != 0) return "unknown";
    return std::string(name.sysname) + " " + name.release + " " + name.machine;
}

void quiz_loop(QuizPlay& play, Display& display, const Clock& clock) {
    Canvas shown(0, 0, display.characters());
    double drawn_s = -1.0;
    while (!play.over() && !display.asked_to_stop()) {
        if (const auto key = display.key(kKeyWait_ms)) play.press(*key, clock.now_s());
        const double now_s = clock.now_s();
        play.listen(now_s);
        const bool resized = display.columns() != shown.columns() || display.rows() != shown.rows();
        if (!resized && now_s - drawn_s < kPictureEvery_s) continue;
        Canvas canvas(display.columns(), display.rows(), display.characters());
        play.draw(canvas, now_s);
        drawn_s = now_s;
        if (canvas == shown) continue;
        display.show(canvas);
        shown = std::move(canvas);
    }
}

int run_quiz(const QuizStart& options, std::ostream& out, std::ostream& err) {
    const LoadedSettings loaded = load_settings(settings_path());
    LiveSoundOptions sound_options;
    sound_options.input.device = options.device.value_or(loaded.settings.device);
    sound_options.player = options.player;
    sound_options.seed = std::random_device{}();
    sound_options.keep_sound = true;
    QuizPlayConfig config = play_config(options);
    std::vector<std::string> complaints;
    const bool nobody = options.player && options.keeping.history.empty();  // the built-in player
    auto kept = nobody ? Result<std::unique_ptr<AttemptKeeper>>(nullptr) : open_keeper(options.keeping, config.head.student.substr(0, kLongestName_bytes), complaints);
    if (!kept) complaints.push_back(kept.error().message + ": the attempts are not kept in the history");
    AttemptKeeper* const keeper = kept ? kept->get() : nullptr;
    config.keeper = keeper;
    config.keep_player = !options.keeping.history.empty();
    const std::filesystem::path folder = config.folder;
    std::string result, failure;
    bool begun = false;
    {
        auto terminal = Terminal::open(options.terminal);
        if (!terminal) {
            err << "gripline: " << terminal.error().message << '\n';
            return 1;
        }
        const StderrToLog log;
        SoundCard card;
        LiveSound sound(card, sound_options);
        config.notice = sound.notice();
        const SteadyClock clock;
        QuizPlay play(std::move(config), sound, clock.now_s());
        quiz_loop(play, **terminal, clock);
        result = play.result_path();
        failure = play.failure();
        begun = play.begun();
    }
    if (keeper != nullptr) complaints.push_back(keeper->take_notice());
    if (keeper != nullptr) complaints.push_back(keeper->close());
    for (const std::string& each : complaints)
        if (!each.empty()) err << "gripline: " << plain_line(each) << '\n';
    if (!failure.empty()) {
        err << "gripline: " << failure << '\n';
        return 1;
    }
    if (!result.empty()) out << "Result: " << result << '\n';
    else if (begun) out << "Not finished. It goes on with: gripline quiz take --resume " << folder.string() << '\n';
    return 0;
}

}  // namespace gripline

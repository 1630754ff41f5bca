// gripline guitar set-up: the guided set-up on a recording, as lines of the live input, or as a screen.
#include <unistd.h>

#include <chrono>
#include <ostream>
#include <thread>

#include "audio/device_source.h"
#include "audio/file_source.h"
#include "audio/stderr_log.h"
#include "base/clock.h"
#include "base/text.h"
#include "cli/commands.h"
#include "cli/exercise_words.h"
#include "cli/guitar_verbs.h"
#include "formats/attempt_file.h"
#include "formats/guitar_json.h"
#include "practice/attempt_check.h"
#include "practice/guitar_set_up.h"
#include "base/wall_clock.h"
#include "ui/guitar_app.h"
#include "ui/kept_guitars.h"
#include "ui/settings.h"

namespace gripline {

namespace {

constexpr double kPatience_s = 300.0;  // live without a screen: five times what it takes
constexpr std::size_t kHop = 256;

std::string today() {
    const auto now_ms = static_cast<std::int64_t>(std::chrono::duration_cast<std::chrono::milliseconds>(std::chrono::system_clock::now().time_since_epoch()).count());
    return time_text(now_ms, utc_offset_minutes(static_cast<std::time_t>(now_ms / 1000))).substr(0, 10);
}

/// At most kLongestText_bytes, cut between UTF-8 characters.
std::string input_name(std::string name) {
    while (name.size() > kLongestText_bytes || (!name.empty() && (static_cast<unsigned char>(name.back()) & 0xC0U) == 0x80U && name.size() == kLongestText_bytes)) name.pop_back();
    return name;
}

/// Signs, keeps and shows what was found; the guitar is the remembered one from now on.
int keep(const GuitarOptions& options, Result<GuitarProfile> found, const std::string& input, const std::string& place, std::ostream& out, std::ostream& err) {
    if (!found) return refuse(err, place + found.error().message + ". Nothing was kept");
    GuitarProfile& profile = *found;
    profile.name = options.name;
    profile.input = input_name(input);
    profile.made_on = today();
    if (const auto failed = keep_guitar(guitars_folder(), profile)) return refuse(err, failed->message);
    if (options.json) out << guitar_json(profile) << '\n';
    else show_guitar(profile, out);
    LoadedSettings loaded = load_settings(settings_path());
    if (loaded.settings.guitar != options.name) {
        loaded.settings.guitar = options.name;
        if (const std::string failed = save_settings(settings_path(), loaded.settings, loaded.unreadable); !failed.empty()) err << "gripline: " << failed << '\n';
        else err << "gripline: " << gripline::quoted(options.name) << " is the guitar of practice, quiz and walk from now on; --guitar names another\n";
    }
    return kExitDone;
}

int set_up_recording(const GuitarOptions& options, SetUpConfig config, std::ostream& out, std::ostream& err) {
    auto opened = FileSource::open(options.input);
    if (!opened) return refuse(err, opened.error().message);
    FileSource& file = **opened;
    config.rate_hz = file.rate_hz();
    GuitarSetUp guide(config);
    std::vector<float> hop(kHop);
    while (const std::size_t got = file.read(hop)) guide.process({hop.data(), got});
    if (file.bad_samples() > 0) return refuse(err, bad_samples_text(options.input, file.bad_samples()));
    if (const std::string trouble = file.trouble(); !trouble.empty()) return refuse(err, trouble);
    return keep(options, guide.profile(), file.name(), options.input + ": ", out, err);
}

/// What is asked and what was heard instead, a line each time it changes.
void set_up_as_lines(GuitarSetUp& guide, SoundSource& source, std::ostream& err) {
    const SteadyClock clock;
    const double until_s = clock.now_s() + kPatience_s;
    std::string told, told_heard;
    std::vector<float> hop(kHop);
    while (guide.view().stage != SetUpStage::done && clock.now_s() < until_s) {
        while (const std::size_t got = source.read(hop)) guide.process({hop.data(), got});
        if (!guide.view().heard.empty() && guide.view().heard != told_heard) err << guide.view().heard << std::endl;
        told_heard = guide.view().heard;
        if (const std::string words = set_up_words(guide.view()); words != told) err << (told = words) << std::endl;
        std::this_thread::sleep_for(std::chrono::milliseconds(10));
    }
}

int set_up_live(const GuitarOptions& options, SetUpConfig config, bool replaces, std::ostream& out, std::ostream& err) {
    std::string trouble, input;
    Result<GuitarProfile> found = Error{"nothing was heard"};
    bool left = false;
    {
        const bool screen = !options.json && isatty(STDIN_FILENO) != 0 && isatty(STDOUT_FILENO) != 0;
        auto quiet = std::make_unique<StderrToLog>();  // sound libraries print a page of their own
        SoundCard card;
        auto source = DeviceSource::open(card, {.device = options.device.empty() ? load_settings(settings_path()).settings.device : options.device});
        if (!source) {
            trouble = source.error().message;
        } else {
            config.rate_hz = (*source)->rate_hz();
            input = (*source)->device_name();
            GuitarSetUp guide(config);
            if (!screen) {
                quiet.reset();
                err << "listening to " << (*source)->name() << std::endl;
                set_up_as_lines(guide, **source, err);
                found = guide.profile();
            } else {
                TerminalOptions terminal_options;
                if (options.ascii) terminal_options.characters = CharacterSet::ascii;
                auto terminal = Terminal::open(terminal_options);
                if (terminal) left = !guitar_loop(guide, **source, {.name = options.name, .replaces = replaces}, **terminal);
                else trouble = terminal.error().message;
                found = guide.profile();
            }
        }
    }
    if (!trouble.empty()) return refuse(err, trouble);
    if (left) {
        err << "gripline: left before all notes were heard; nothing was kept" << (replaces ? ", the set-up from before stays" : "") << '\n';
        return kExitDone;
    }
    return keep(options, std::move(found), input, "", out, err);
}

}  // namespace

int guitar_set_up(const GuitarOptions& options, std::ostream& out, std::ostream& err) {
    const auto neck = read_neck(options.tuning, options.capo, false);
    if (!neck) return refuse(err, neck.error().message);
    std::error_code error;
    const bool replaces = std::filesystem::exists(guitars_folder() / guitar_file_name(options.name), error);
    if (replaces && !options.overwrite) return refuse(err, "the guitar " + gripline::quoted(options.name) + " is set up already; --overwrite puts a new set-up in its place once that is complete");
    const SetUpConfig config{.tuning = neck->tuning, .capo = options.capo, .a4_hz = options.a4_hz};
    return options.input.empty() ? set_up_live(options, config, replaces, out, err) : set_up_recording(options, config, out, err);
}

}  // namespace gripline

#include "cli/walk_live.h"

#include <unistd.h>

#include <cerrno>
#include <chrono>
#include <csignal>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <ostream>
#include <random>
#include <thread>

#include "audio/stderr_log.h"
#include "base/file_folder.h"
#include "base/text.h"
#include "cli/commands.h"
#include "cli/walk_beats.h"
#include "cli/walk_report.h"
#include "formats/walk_json.h"
#include "practice/walk_attempts.h"
#include "ui/keeping.h"
#include "ui/walk_app.h"
#include "ui/kept_guitars.h"

namespace gripline {

namespace {

constexpr std::chrono::milliseconds kLook(8);  // as the screen's wait for a key

volatile std::sig_atomic_t asked_to_stop = 0;

/// While it lives, interrupt and termination only ask.
class StopSignals {
public:
    StopSignals() {
        asked_to_stop = 0;
        for (int i = 0; i < 2; ++i) before_[i] = std::signal(kNumbers[i], [](int) { asked_to_stop = 1; });
    }
    ~StopSignals() {
        for (int i = 0; i < 2; ++i) (void)std::signal(kNumbers[i], before_[i]);
    }
    StopSignals(const StopSignals&) = delete;
    StopSignals& operator=(const StopSignals&) = delete;

private:
    static constexpr int kNumbers[2] = {SIGINT, SIGTERM};
    void (*before_[2])(int) = {};
};

/// Beats as they are judged, then the whole.
class LiveLines {
public:
    LiveLines(bool json, std::ostream& out) : json_(json), out_(out), table_(out) {}

    void tell(const WalkHearing& hearing) {
        for (; told_ < hearing.results().size(); ++told_) {
            const HeardBeat& heard = hearing.results()[told_];
            if (json_) out_ << live_beat_json(hearing, heard) << std::endl;
            else table_.row(hearing.beats()[heard.result.index], heard.result);
        }
    }

private:
    bool json_;
    std::ostream& out_;
    WalkTable table_;
    std::size_t told_ = 0;
};

/// A walk without a screen: begins at once, ends by itself or at an interrupt.
int walk_as_lines(WalkStart start, bool json, std::ostream& out, std::ostream& err) {
    std::string notice, trouble, whole;
    WalkSummary summary;
    bool judged = false, deaf = false;
    {
        const StderrToLog log;
        const StopSignals signals;
        SoundCard card;
        const WalkDevices devices = open_walk_devices(card, start);
        deaf = !devices.sound->hears() && start.run.wishes.line != LinePlayer::tool;
        if (!start.output.empty() && !devices.sound->sounds()) deaf = true;  // asked for by name and not there, as an input would be
        notice = devices.notice;
        start.run.player_is_input = devices.sound->player_is_input();
        start.run.judged = keep_by(start, *devices.sound);
        start.run.player.seed = std::random_device{}();
        const auto kept = start.run.done;
        start.run.done = [&](const WalkDone& done) {
            judged = true;
            summary = done.summary;
            std::string lines = walk_report(done, *devices.sound, {});
            if (!start.report.empty()) trouble = add_to_report(start.report, lines);
            lines.pop_back();
            whole = lines.substr(lines.rfind('\n') + 1);
            const std::string said = kept ? kept(done) : "";
            if (!said.empty()) trouble = said;
            return std::string();
        };
        const SteadyClock clock;
        WalkRun run(start.whole, start.landing, start.run, *devices.sound, clock.now_s());
        if (!deaf) run.start_or_stop(clock.now_s());
        LiveLines lines(json, out);
        while (run.state() == WalkState::walking || run.state() == WalkState::ending) {
            std::this_thread::sleep_for(kLook);
            run.listen(clock.now_s());
            lines.tell(*run.hearing());
            if (const std::string now = devices.sound->trouble(); !now.empty()) trouble = now;
            if (asked_to_stop != 0 && run.state() == WalkState::walking) run.start_or_stop(clock.now_s());
        }
        if (run.hearing() != nullptr) lines.tell(*run.hearing());
    }
    if (deaf) return refuse(err, notice);
    if (!notice.empty()) err << "gripline: " << notice << '\n';
    if (!trouble.empty()) err << "gripline: " << trouble << '\n';
    if (!judged) {
        err << "gripline: no beat was judged\n";
        return kExitDone;
    }
    if (json) out << whole << '\n';
    else print_walk_summary(summary, out);
    return kExitDone;
}

/// The beats of a live walk on their way into the history. The end says what could not be kept.
class KeptWalk {
public:
    KeptWalk(std::unique_ptr<AttemptKeeper> keeper, const WalkOptions& options, WalkStart& start, std::ostream& err) : keeper_(std::move(keeper)), err_(err) {
        if (!keeper_) return;
        const bool named = !options.keeping.history.empty();
        start.keep = [this, named](const WalkBeat& beat, const BeatResult& result, double tempo_bpm, bool player, const std::string& input) {
            if (!player || named) keeper_->keep(attempt_of_beat(beat, result, tempo_bpm), input);
        };
        start.run.done = [this](const WalkDone&) { return keeper_->trouble(); };
    }
    ~KeptWalk() {
        if (!keeper_) return;
        const std::string notice = keeper_->take_notice(), lost = keeper_->close();
        for (const std::string& each : {notice, lost})
            if (!each.empty()) err_ << "gripline: " << plain_line(each) << '\n';
    }
    KeptWalk(const KeptWalk&) = delete;
    KeptWalk& operator=(const KeptWalk&) = delete;

private:
    std::unique_ptr<AttemptKeeper> keeper_;
    std::ostream& err_;
};

LinePlayer line_player_of(const WalkOptions& options) { return options.answer ? LinePlayer::by_turns : options.play_it ? LinePlayer::tool : LinePlayer::player; }

/// The landing has the same bars; with grips given by hand there is none of its own.
Result<AskedWalk> landing_of(const WalkOptions& options, const AskedWalk& whole) {
    if (!options.grips.empty() || options.line.landing) return whole;
    WalkOptions other = options;
    other.line.landing = true;
    return plan_walk(other);
}

/// Nothing, or why the report can't be written. An older one goes when that was said.
std::string prepare_report(const WalkOptions& options) {
    std::error_code trouble;
    if (options.report.empty()) return "";
    const bool there = std::filesystem::exists(options.report, trouble);
    if (there && !options.overwrite) return "--report: " + options.report + " exists; --overwrite replaces it";
    if (there && !std::filesystem::is_regular_file(options.report, trouble)) return "--report: " + options.report + " is no file";
    if (there) std::filesystem::remove(options.report, trouble);
    errno = 0;
    if (std::ofstream(options.report, std::ios::binary | std::ios::app)) return "";
    const std::string why = errno != 0 ? std::strerror(errno) : "no reason is given";
    const auto folder = folder_of(options.report);
    if (!std::filesystem::is_directory(folder, trouble)) return "--report: there is no folder " + folder.string() + "; make it first";
    return "--report: " + options.report + " can't be written: " + why;
}

}  // namespace

int walk_live(const WalkOptions& asked, std::ostream& out, std::ostream& err) {
    const bool screen = isatty(STDIN_FILENO) != 0 && isatty(STDOUT_FILENO) != 0 && !asked.json;
    WalkOptions options = asked;
    if (!screen && options.choruses == 0) options.choruses = 1;
    if (options.choruses != 1) options.line.again = true;
    auto plan = plan_walk(options);
    if (!plan) return refuse(err, plan.error().message);
    for (const std::string& each : plan->remarks) err << "gripline: " << each << '\n';
    const auto landing = landing_of(options, *plan);
    if (!landing) return refuse(err, landing.error().message);
    WalkStart start;
    start.whole = std::move(plan->score);
    start.landing = landing->score;
    if (plan->loop_end) start.run.loop_end = [whole = plan->loop_end, landed = landing->loop_end](BarRange bars, bool landing_alone) { return (landing_alone ? landed : whole)(bars); };
    start.run.landing = options.line.landing;
    start.run.steps = TempoSteps(plan->tempo_bpm, options.step_bpm, options.limit_bpm);
    start.run.wishes = {.bars = all_bars(start.whole), .count_in_bars = options.count_in_bars, .click = parse_click(options.click).value(), .line = line_player_of(options), .choruses = options.choruses};
    if (!options.bars.empty()) {
        const auto bars = parse_bars(options.bars, start.whole);
        if (!bars) return refuse(err, "--bars: " + bars.error().message);
        start.run.wishes.bars = *bars;
    }
    if (const std::string bad = prepare_report(options); !bad.empty()) return refuse(err, bad);
    if (!options.device.empty()) start.device = options.device;
    start.output = options.output;
    start.player = options.player;
    start.volume_db = options.volume_db;
    start.report = options.report;
    std::vector<std::string> complaints;
    const bool nobody = options.player && options.keeping.history.empty();  // the built-in player
    auto keeper = nobody ? Result<std::unique_ptr<AttemptKeeper>>(nullptr) : open_keeper(options.keeping, "", complaints);
    if (!keeper) return refuse(err, keeper.error().message);
    start.run.guitar = known_guitar_wished(options.keeping, load_settings(settings_path()).settings, complaints);
    const KeptWalk kept(std::move(*keeper), options, start, err);
    for (const std::string& each : complaints) err << "gripline: " << plain_line(each) << '\n';
    if (options.ascii) start.terminal.characters = CharacterSet::ascii;
    return screen ? run_walk(start, out, err) : walk_as_lines(std::move(start), options.json, out, err);
}

}  // namespace gripline

#include "ui/walk_app.h"

#include <ostream>
#include <random>

#include "audio/stderr_log.h"
#include "formats/walk_json.h"
#include "practice/walk_words.h"
#include "ui/closing_lines.h"
#include "ui/kept_delays.h"
#include "ui/settings.h"

namespace gripline {

WalkDevices open_walk_devices(SoundCard& card, const WalkStart& start) {
    WalkSoundOptions options;
    options.input.device = start.device.value_or(load_settings(settings_path()).settings.device);
    options.output.device = start.output;
    options.player = start.player;
    WalkDevices out;
    out.sound = std::make_unique<LiveWalkSound>(card, options);
    out.sound->set_volume_db(start.volume_db);
    out.notice = out.sound->notice();
    const auto delays = load_delays(delays_path());
    if (!delays) out.notice = delays.error().message;
    else out.sound->set_delay(delay_of(*delays, out.sound->input_name(), out.sound->output_name()));
    return out;
}

std::function<void(const WalkBeat&, const BeatResult&, double)> keep_by(const WalkStart& start, const LiveWalkSound& sound) {
    if (!start.keep) return {};
    return [keep = start.keep, &sound](const WalkBeat& beat, const BeatResult& result, double tempo_bpm) { keep(beat, result, tempo_bpm, sound.player_is_input(), sound.input_name()); };
}

std::string walk_report(const WalkDone& done, const WalkSound& sound, const PictureCount& count) {
    std::string out;
    for (const HeardBeat& each : done.hearing.results()) out += live_beat_json(done.hearing, each) + "\n";
    LiveWalkFacts facts;
    for (const Passage& passage : done.schedule.passages()) {
        if (passage.kind != PassageKind::chorus || passage.chorus > last_judged_chorus(done.hearing)) continue;
        facts.choruses = passage.chorus;
        facts.tempo_bpm = passage.tempo_bpm;
    }
    if (const auto delay = sound.delay()) facts.delay_ms = delay->delay_ms;
    facts.lost_frames = done.lost_frames;
    facts.gap_frames = done.gap_frames;
    facts.pictures = count.pictures();
    facts.most_pictures_a_second = count.most_in_a_second();
    facts.latest_picture_ms = 1000.0 * count.latest_s();
    return out + live_summary_json(done.summary, facts) + "\n";
}

std::string add_to_report(const std::string& path, const std::string& lines) {
    std::ofstream file(path, std::ios::binary | std::ios::app);
    file << lines;
    return file.flush() ? "" : path + ": can't be written; the report lacks this walk";
}

int run_walk(const WalkStart& start, std::ostream& out, std::ostream& err) {
    const auto path = settings_path();
    LoadedSettings loaded = load_settings(path);
    std::string last, not_kept;
    {
        auto terminal = Terminal::open(start.terminal);
        if (!terminal) {  // said before standard error goes to the log
            err << "gripline: " << terminal.error().message << '\n';
            return 1;
        }
        const StderrToLog log;
        Canvas canvas((*terminal)->columns(), (*terminal)->rows(), (*terminal)->characters());
        canvas.text(1, 0, "Opening the sound devices ...");
        (*terminal)->show(canvas);
        SoundCard card;
        const WalkDevices devices = open_walk_devices(card, start);
        PictureCount count;
        WalkRunConfig config = start.run;
        config.show_cautions = !loaded.settings.cautions_read;
        config.notice = devices.notice;
        config.player_is_input = devices.sound->player_is_input();
        config.judged = keep_by(start, *devices.sound);
        config.player.seed = std::random_device{}();
        config.done = [&](const WalkDone& done) {
            last = walk_headline(done.summary) + " Next: " + done.summary.suggestion;
            std::string said = start.run.done ? start.run.done(done) : "";
            if (start.report.empty()) return said;
            const std::string failed = add_to_report(start.report, walk_report(done, *devices.sound, count));
            return failed.empty() ? said : failed;
        };
        const SteadyClock clock;
        WalkRun run(start.whole, start.landing, config, *devices.sound, clock.now_s());
        walk_loop(run, **terminal, clock, count);
        if (run.cautions_read() && !loaded.settings.cautions_read) {
            loaded.settings.cautions_read = true;
            not_kept = save_settings(path, loaded.settings, loaded.unreadable);
        }
    }
    for (const std::string& complaint : loaded.complaints) err << "gripline: " << complaint << '\n';
    if (!not_kept.empty()) err << "gripline: " << not_kept << '\n';
    write_closing_lines({last.empty() ? "No walk was judged." : last}, output_columns(), out);
    return 0;
}

}  // namespace gripline

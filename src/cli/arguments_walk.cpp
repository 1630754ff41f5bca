// The options of gripline walk and gripline calibrate.
#include "chart/chart.h"
#include "cli/arguments_history.h"
#include "cli/arguments_parts.h"

namespace gripline {

namespace {

/// What only a walk through the sound card has.
void add_live_walk(CLI::App& command, CLI::Option* input, WalkOptions& o) {
    const auto live = [&](CLI::Option* option) { return option->excludes(input); };
    live(command.add_option("--bars", o.bars, "loop these bars as played, such as 5-8, or one bar")->type_name("FROM-TO"));
    live(command.add_option("--choruses", o.choruses, "end after so many; 0: when you stop (without a screen: 1)")->type_name("N")->check(between(0, 999, ""))->capture_default_str());
    live(command.add_option("--count-in", o.count_in_bars, "bars of clicks before the start, so that the first beat can be met")->type_name("BARS")->check(between(1, 4, "bars"))->capture_default_str());
    live(command.add_option("--click", o.click, "accented (2 and 4 of four, 1 of three, 1 and 4 of five and six louder), accents (these alone), plain, off; the count-in always clicks")->type_name("WORD")->check(CLI::IsMember({"accented", "accents", "plain", "off"}))->capture_default_str());
    auto* answer = live(command.add_flag("--answer", o.answer, "call and answer: the tool plays every other chorus and begins"));
    live(command.add_flag("--play-it", o.play_it, "the tool plays the line alone, you listen"))->excludes(answer);
    live(command.add_option("--step", o.step_bpm, "tempo steps: so much faster when a chorus passes in notes and time, slower when it fails twice; 0: never")->type_name("BPM")->check(between(0, 50, "counts a minute"))->capture_default_str());
    live(command.add_option("--limit", o.limit_bpm, "where tempo steps end")->type_name("BPM")->check(between(kLeastTempo_bpm, kMostTempo_bpm, "counts a minute"))->capture_default_str());
    live(command.add_option("--volume-db", o.volume_db, "of all that the tool sounds, against its quiet beginning")->type_name("DB")->check(between(-40, 18, "dB"))->capture_default_str());
    live(command.add_option("--device", o.device, "input to listen to, by name or number (see gripline devices)")->type_name("DEVICE"));
    live(command.add_option("--output", o.output, "output to sound through, by name or number")->type_name("DEVICE"));
    live(command.add_flag("--player", o.player, "the built-in player walks instead of you; also when the machine has no input"));
    auto* report = live(command.add_option("--report", o.report, "also write each walk to this file, as --json would print it")->type_name("FILE"));
    live(command.add_flag("--overwrite", o.overwrite, "replace the report when it exists"))->needs(report);
    live(command.add_flag("--ascii", o.ascii, "plain ASCII on the screen"));
}

}  // namespace

CLI::App* add_walk(CLI::App& app, WalkOptions& o) {
    CLI::App* command = app.add_subcommand("walk", "walk a chart with a metronome, each beat of the line marked for its notes and its time; live, or on a recorded take");
    command->footer("Every beat that is judged live is kept in the history; of a take only when --who says whose it is, and the same take twice makes no doubles.\n"
                    "Live: space starts after a count-in, ? shows the keys; gripline calibrate measures once how late your devices are. Without a terminal, or with --json, the\n"
                    "walk begins at once and ends after --choruses (one) or at Ctrl-C. Use headphones: the click in a microphone is no note, but the tool's own chords are.\n"
                    "A beat takes the strum nearest to it, at most half a count away; of several the first. Beats after the end of the take are left out.\n"
                    "With --json a line for each beat: bar, beat, chord, grip, at_s (where it lies in the take), verdict (right, wrong, unheard), confidence,\n"
                    "off_ms (the first string against the beat: early is negative; null when unheard), heard, faults. Then a line on the whole: beats, right,\n"
                    "wrong, unheard, strums_between (that no beat wanted), faults (kind: beats), bias_ms (mean), spread_ms (standard deviation),\n"
                    "drift_ms_per_minute (slope; - hurries), drift_error_ms_per_minute (its standard error), joints (the changes that went worst), suggestion.\n"
                    "Live, at_s is counted from the first click; beats also have chorus and tempo_bpm, the whole choruses, tempo_bpm, delay_ms, lost_frames, gap_frames.");
    command->add_option("CHART", o.line.chart, "a chart file, or the name of a chart that comes with gripline (see gripline line --charts)")->required();
    auto* input = command->add_option("--input", o.input, "mark this take instead of walking live: WAV, FLAC, Ogg, MP3; 8 to 192 kHz, any channels")->type_name("FILE");
    command->add_option("--tempo", o.tempo_bpm, "counts a minute, 40 to 300; without it the chart's own")->type_name("BPM")->check(between(kLeastTempo_bpm, kMostTempo_bpm, "counts a minute"));
    command->add_option("--start-s", o.start_s, "where beat 1 of bar 1 lies in the take")->type_name("S")->check(between(0, 86400, "s"))->capture_default_str()->needs(input);
    add_live_walk(*command, input, o);
    command->add_option("--grips", o.grips, "a text file with the grips asked, one for each beat in order (8x89xx 10-x-9-10-x-x ...; # begins a comment), instead of the line's own")->type_name("FILE");
    add_line_wishes(*command, o.line);
    add_concert_pitch(*command, o.a4_hz);
    add_keeping(*command, o.keeping);
    command->add_flag("--json", o.json, "one JSON object a beat on standard output, then one on the whole");
    return command;
}

CLI::App* add_calibrate(CLI::App& app, CalibrateOptions& o) {
    CLI::App* command = app.add_subcommand("calibrate", "measure once how late your sound devices are, so that a walk can say early and late truly");
    command->footer("Ten quiet clicks are sounded and heard again by the input: hold the microphone to the headphone or loudspeaker, or join output and input with a cable.\n"
                    "Where the input can't hear the output (an electric guitar), --by-hand: clap, or strike damped strings, with each click; your own earliness is then part of it.\n"
                    "The median is kept for this input with this output, in delays.json beside the settings; a measurement that scatters too much is refused and not kept.");
    command->add_option("--device", o.device, "input, by name or number (see gripline devices)")->type_name("DEVICE");
    command->add_option("--output", o.output, "output, by name or number")->type_name("DEVICE");
    command->add_flag("--by-hand", o.by_hand, "you clap with the clicks");
    command->add_option("--volume-db", o.volume_db, "of the clicks, against their quiet beginning")->type_name("DB")->check(between(-40, 18, "dB"))->capture_default_str();
    command->add_flag("--now", o.now, "begin without waiting for the Enter key");
    command->add_flag("--list", o.list, "only tell what has been measured");
    command->add_flag("--json", o.json, "one JSON object a line on standard output");
    return command;
}

}  // namespace gripline

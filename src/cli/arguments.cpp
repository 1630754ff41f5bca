#include "cli/arguments.h"

#include <CLI/CLI.hpp>

#include <algorithm>

#include "cli/arguments_history.h"
#include "cli/arguments_parts.h"
#include "cli/file_kind.h"
#include "cli/line_sound.h"
#include "cli/nearest.h"
#include "formats/line_picture.h"
#include "lines/walk_builder.h"
#include "ui/practice_plan.h"

namespace gripline {

namespace {

constexpr const char* kVersion = GRIPLINE_VERSION;
constexpr const char* kFooter =
    "Loud headphones and amplifiers can damage hearing: start quiet; gripline's own sound starts quiet.\n"
    "Stop at pain and rest often; a teacher or a clinician knows better than a program.\n"
    "Exit status: 0 done, 1 bad input, 2 wrong usage.";

void add_exercise(CLI::App& app, std::string& family, std::string& stage, std::string& strings) {
    app.add_option("--family", family, "sixth-diminished family: major-sixth, minor-sixth, dominant-seventh, seventh-flat-five")->type_name("FAMILY");
    app.add_option("--stage", stage, "scale, drop-2, drop-3 or shell")->type_name("STAGE");
    app.add_option("--strings", strings, "string set, such as 6-4-3")->type_name("SET");
}

/// What is asked, how, and how long.
void add_plan(CLI::App& app, PracticeOptions& o) {
    app.add_flag("--plan", o.plan, "ask what is weak, due or new by your history, and say why; ten minutes");
    app.add_option("--key", o.key, "planned: only this key, such as Bb")->type_name("NOTE");
    app.add_option("--quality", o.qualities, "planned: only these qualities: 6, m6, 7, 7b5")->type_name("QUALITY");
    app.add_option("--approach", o.approach, "planned: only approaches from below or above")->type_name("WORD")->check(CLI::IsMember({"below", "above"}));
    app.add_option("--joints", o.joints, "planned: only the joints of the line over this chart, each approach and then its target (a file, or a name that gripline line --charts lists)")->type_name("CHART");
    app.add_option("--exercise", o.exercise, "how steps are asked: shown (with its diagram), named (symbol and bass only), next-step (from the step beside it), by-ear (the tool plays it; keys: h again, k the key by a cadence, j bass first, l note by note), into-the-target (approach and target in time), name-it (no guitar: name what the tool plays), scale-note")->type_name("WORD")->check(CLI::IsMember({"shown", "named", "next-step", "by-ear", "into-the-target", "name-it", "scale-note"}));
    app.add_option("--question", o.questions, "name-it: only these questions: quality, bass-degree, approach-direction")->type_name("QUESTION");
    app.add_option("--tempo", o.tempo_bpm, "into-the-target: counts a minute, without it 100; keys + and - change it")->type_name("BPM")->check(between(kLeastTempo_bpm, kMostTempo_bpm, "counts a minute"));
    app.add_option("--new", o.most_new, "planned: so many new grips in hand at once")->type_name("N")->check(between(1, 96, ""))->capture_default_str();
    app.add_option("--minutes", o.minutes, "the session's length; 0: until you end it")->type_name("MINUTES")->check(between(0, 600, ""));
    app.add_option("--steps", o.steps, "the session's length in steps; 0: until you end it")->type_name("N")->check(between(0, 10000, ""));
    app.add_flag("--no-tones", o.no_tones, "no soft tones for right and wrong in a planned session or one with a length");
    auto* warm = app.add_flag("--warm-up", o.warm_up, "first some easy grips, slowly; a planned session begins so by itself");
    app.add_flag("--no-warm-up", o.no_warm_up, "no warm-up in a planned session")->excludes(warm);
    const auto gesture = [](const std::string& text) { return parse_gesture(text) ? std::string() : "\"" + text + "\" is not allowed; again, next, hear, show, pause and nothing are"; };
    app.add_option("--gesture-two", o.two_muted, "what two muted strums ask for, all strings struck under a damping hand, a pause before and after: again, next, hear, show, pause or nothing")->type_name("WORD")->check(gesture)->capture_default_str();
    app.add_option("--gesture-three", o.three_muted, "what three muted strums ask for")->type_name("WORD")->check(gesture)->capture_default_str();
    app.add_flag("--no-gestures", o.no_gestures, "muted strums ask for nothing");
    app.add_option("--break", o.break_after_min, "minutes until a break is suggested; 0: never")->type_name("MINUTES")->check(between(0, 600, ""))->capture_default_str();
}

CLI::App* add_practice(CLI::App& app, PracticeOptions& o) {
    CLI::App* command = app.add_subcommand("practice", "ask for grips, listen, and say what was right or wrong (this is the default)");
    command->add_option("--device", o.device, "input to listen to, by name or number (see gripline devices)")->type_name("DEVICE");
    command->add_flag("--player", o.player, "listen to the built-in player instead of the live input");
    command->add_flag("--demonstration", o.demonstration, "about ten seconds of sound through the whole chain, as text");
    command->add_option("--root", o.root, "root of the chord, such as Bb")->type_name("NOTE");
    add_exercise(*command, o.family, o.stage, o.strings);
    add_instrument(*command, o.tuning, o.capo);
    add_concert_pitch(*command, o.a4_hz);
    command->add_flag("--left-handed", o.left_handed, "mirror the neck diagrams");
    command->add_flag("--ascii", o.ascii, "plain ASCII on the screen");
    add_keeping(*command, o.keeping);
    add_plan(*command, o);
    return command;
}

CLI::App* add_hear(CLI::App& app, HearOptions& o) {
    CLI::App* command = app.add_subcommand("hear", "listen to a recording and tell each strum's notes");
    command->add_option("FILE", o.file, "recording: WAV, FLAC, Ogg, MP3; 8 to 192 kHz, any channels")->required();
    command->add_option("--guitar", o.guitar, "the recording is of this guitar, as gripline guitar set-up heard it")->type_name("NAME");
    add_concert_pitch(*command, o.a4_hz);
    command->add_flag("--json", o.json, "one JSON object a line on standard output");
    return command;
}

CLI::App* add_mark(CLI::App& app, MarkOptions& o) {
    CLI::App* command = app.add_subcommand("mark", "mark strums against what was asked: a list of cases, or a folder of takes against a quiz or a chart");
    command->add_option("CASES.csv|FOLDER", o.list, "a list with columns case, take, from_s, and grip or chord,bass; also tuning, capo, a4_hz (takes are relative to the list); or with --quiz or --chart a folder of takes, one a student, named after them")->required();
    command->add_flag("--json", o.json, "one JSON object a line on standard output");
    command->add_option("--explain", o.explain, "show the likeliest N hypotheses behind each answer, with their chances (5 when no number is given)")
        ->type_name("N")->expected(0, 1)->default_str("5")->check(between(1, 100, ""));
    auto* live = command->add_flag("--live", o.live, "ask the rows one after another on the live input; the takes are not opened");
    command->add_flag("--step", o.step, "live: each row waits for the Enter key; from_s counts from there")->needs(live);
    command->add_option("--device", o.device, "live: input to listen to, by name or number")->type_name("DEVICE")->needs(live);
    auto* quiz = command->add_option("--quiz", o.quiz, "mark a folder of takes against this quiz")->type_name("QUIZ.toml")->excludes(live);
    auto* chart = command->add_option("--chart", o.chart, "mark a folder of takes against the line over this chart, walked at a tempo")->type_name("CHART")->excludes(quiz)->excludes(live);
    command->add_option("--key", o.key, "play the chart in this key")->type_name("KEY")->needs(chart);
    command->add_option("--tempo", o.tempo_bpm, "counts a minute; without it the chart's own")->type_name("BPM")->check(between(kLeastTempo_bpm, kMostTempo_bpm, "counts a minute"))->needs(chart);
    command->add_option("--into", o.into, "folder for the results; without it \"marked\" in the folder of takes")->type_name("FOLDER");
    command->add_flag("--overwrite", o.overwrite, "replace results of another quiz, chart or tempo");
    command->add_option("--guitar", o.guitar, "all takes of the list, or the live input, are of this guitar, as gripline guitar set-up heard it")->type_name("NAME")->excludes(quiz)->excludes(chart);
    command->add_option("--workers", o.workers, "takes marked at once; 0: one a core")->type_name("N")->check(between(0, 256, ""))->capture_default_str();
    command->add_option("--patience-s", o.patience_s, "live: a row without a strum for so long is unheard")->type_name("S")->check(between(1, 3600, "s"))->capture_default_str()->needs(live);
    return command;
}

CLI::App* add_devices(CLI::App& app, DevicesOptions& o) {
    CLI::App* command = app.add_subcommand("devices", "list the sound inputs and outputs");
    command->add_option("--use", o.use, "remember this input, by name or number")->type_name("DEVICE");
    command->add_flag("--json", o.json, "one JSON object a line on standard output");
    return command;
}

CLI::App* add_grips(CLI::App& app, GripsOptions& o) {
    CLI::App* command = app.add_subcommand("grips", "print a chord's scale, drop 2, drop 3 and shell grips");
    command->add_option("CHORD", o.chord, "chord symbol such as C7, Bbmaj7, F#m7b5, or a label such as C:maj6")->required();
    add_exercise(*command, o.family, o.stage, o.strings);
    add_instrument(*command, o.tuning, o.capo);
    command->add_flag("--left-handed", o.left_handed, "mirror the diagrams");
    command->add_flag("--json", o.json, "one JSON object a line on standard output");
    return command;
}

/// The verbs of `gripline quiz`; the one that was used sets `verb`.
CLI::App* add_quiz(CLI::App& app, QuizOptions& o) {
    CLI::App* command = app.add_subcommand("quiz", "the teacher's timed quiz: write, check, take and print one");
    command->require_subcommand(1);
    const auto verb = [&](const char* word, const char* what, QuizVerb means, const char* file, const char* which) {
        CLI::App* added = command->add_subcommand(word, what);
        added->add_option(file, o.file, which)->required();
        added->parse_complete_callback([&o, means] { o.verb = means; });
        return added;
    };
    verb("new", "ask for what a quiz is to hold, and write its file", QuizVerb::create, "QUIZ.toml", "the file to write")->add_flag("--overwrite", o.overwrite, "replace the file when it exists");
    CLI::App* take = command->add_subcommand("take", "take a quiz on the live input, or go on with an interrupted run");
    take->parse_complete_callback([&o] { o.verb = QuizVerb::take; });
    auto* take_file = take->add_option("QUIZ.toml", o.file, "the quiz");
    take->add_option("--student", o.student, "name or code; asked for when it is missing")->type_name("NAME")->needs(take_file);
    take->add_option("--into", o.folder, "the run's own folder is made in this one")->type_name("FOLDER")->capture_default_str();
    auto* resume = take->add_option("--resume", o.resume, "go on with the interrupted run in this folder")->type_name("FOLDER")->excludes(take_file);
    take->add_flag("--hand-in", o.hand_in, "with --resume: hand the run in as it stands")->needs(resume);
    take->add_option("--device", o.device, "input to listen to, by name or number (see gripline devices)")->type_name("DEVICE");
    take->add_flag("--player", o.player, "listen to the built-in player instead of the live input, to try a quiz out");
    take->add_flag("--ascii", o.ascii, "plain ASCII on the screen");
    add_keeping(*take, o.keeping);
    take->get_option("--who")->description("keep the attempts in the history as this player's; without it as the student's");
    verb("verify", "tell whether a result and its sounds are as they were written", QuizVerb::verify, "RUN", "folder of a run, or its result.json");
    CLI::App* overrule = verb("overrule", "mark an answer by ear: say what it was after listening", QuizVerb::overrule, "RUN", "folder of a run, or its result.json");
    overrule->add_option("QUESTION", o.question, "number of the question, from 1")->required()->check(between(1, 2000, ""));
    overrule->add_option("VERDICT", o.verdict, "right or wrong")->required()->check(CLI::IsMember({"right", "wrong"}));
    overrule->add_option("--why", o.why, "a word on why")->type_name("TEXT");
    CLI::App* sheet = verb("sheet", "the quiz as a page of HTML to print", QuizVerb::sheet, "QUIZ.toml", "the quiz");
    auto* to = sheet->add_option("--to", o.to, "the page; without it standard output")->type_name("FILE");
    sheet->add_flag("--answers", o.answers, "with the grips");
    sheet->add_flag("--overwrite", o.overwrite, "replace the page when it exists")->needs(to);
    sheet->add_option("--student", o.student, "the questions of this student")->type_name("NAME");
    CLI::App* check = verb("check", "read a quiz file and show its questions", QuizVerb::check, "QUIZ.toml", "the quiz");
    check->add_option("--student", o.student, "show the questions of this student, where each has their own")->type_name("NAME");
    check->add_flag("--json", o.json, "one JSON object a question on standard output");
    return command;
}

CLI::App* add_class(CLI::App& app, ClassOptions& o) {
    CLI::App* command = app.add_subcommand("class", "gather the results of a class: marks, difficulty, what is hardest, who needs an ear");
    command->add_option("RESULTS", o.given, "folders with runs in them, or result files; more than one quiz may be there, the last is compared with the one before")->required();
    command->add_option("--html", o.html, "also write a page with everything, and a sheet for each student to print")->type_name("FILE");
    command->add_option("--csv", o.csv, "also write a table for a spreadsheet")->type_name("FILE");
    command->add_flag("--json", o.json, "one JSON object a student, then one on the class, on standard output");
    command->add_flag("--codes", o.codes, "show students by code only");
    command->add_flag("--overwrite", o.overwrite, "replace files that exist");
    return command;
}

/// Under every help, those of commands within commands too; CLI11 hands footers down only to commands made later.
void put_footer(CLI::App& command) {
    command.footer(command.get_footer().empty() ? kFooter : command.get_footer() + "\n\n" + kFooter);
    for (CLI::App* inner : command.get_subcommands({})) put_footer(*inner);
}

CLI::App* add_progress(CLI::App& app, ProgressOptions& o) {
    CLI::App* command = app.add_subcommand("progress", "how practice goes: by quality, direction and key, over the weeks, and what to do today");
    command->footer("First tries without help are counted. Nothing is called weak or strong from fewer than 8 answers. Without a terminal the screen is printed as text.");
    command->add_option("--who", o.who, "whose; without it whoever practised last")->type_name("NAME");
    command->add_option("--history", o.history, "the history to read instead of the usual one")->type_name("FILE");
    auto* page = command->add_option("--html", o.html, "write a page to look at or print")->type_name("FILE");
    command->add_flag("--overwrite", o.overwrite, "replace the page when it exists")->needs(page);
    auto* json = command->add_flag("--json", o.json, "one JSON object a line on standard output");
    command->add_flag("--csv", o.csv, "a table for a spreadsheet on standard output")->excludes(json);
    command->add_flag("--ascii", o.ascii, "plain ASCII on the screen");
    return command;
}

CLI::App* add_line(CLI::App& app, LineOptions& o) {
    CLI::App* command = app.add_subcommand("line", "build a walking line over a chart");
    command->add_option("CHART", o.chart, "a chart file (bars as | C7 | F7 Bb7 | % |; also MusicXML, ABC, MIDI), the name of a chart that comes with gripline (see --charts), or - for a chart as text on standard input");
    command->add_flag("--charts", o.list, "list the charts that come with gripline");
    add_line_wishes(*command, o);
    command->add_option("--alternatives", o.alternatives, "so many different lines, the best first")->type_name("N")->check(between(1, kMostAlternatives, ""))->capture_default_str();
    command->add_flag("--explain", o.explain, "tell each beat's costs and its second best grip");
    auto* to = command->add_option("--to", o.to, "also write the (best) line to a file: .musicxml or .mxl (notation, tablature, chords), .mid, .abc, .tab, .svg, .html (to print) or .wav")->type_name("FILE");
    command->add_flag("--force,--overwrite", o.overwrite, "replace the file when it exists")->needs(to);
    command->add_flag("--json", o.json, "one JSON object a beat on standard output");
    return command;
}

CLI::App* add_convert(CLI::App& app, ConvertOptions& o) {
    CLI::App* command = app.add_subcommand("convert", "charts from one kind of file to another; lines over them to read, play or print");
    std::string kinds;
    std::vector<std::string> words;
    for (const FileKindRow& row : file_kinds()) words.emplace_back(row.word);
    for (const FileKindRow& row : file_kinds())
        kinds += "\n  " + std::string(row.word) + std::string(10 - row.word.size(), ' ') + std::string(row.endings) + std::string(16 - row.endings.size(), ' ') + std::string(row.what) +
                 (row.reads_chart ? "; read" : "") + (row.holds_chart && row.holds_line ? "; holds the chart, with --line the line" : row.holds_chart ? "; holds the chart" : "; holds the line");
    command->footer("Kinds, by the endings of the files or by name:" + kinds + "\nWhat a chart can't hold of a file (D.S., pickup bars, chords between counts) is said on standard error.");
    command->add_option("IN", o.in, "the chart: a file, a chart that comes with gripline (see gripline line --charts), or - for standard input")->required();
    command->add_option("OUT", o.out, "the file to write, or - for standard output")->required();
    command->add_option("--from", o.from, "kind of IN, when its ending does not tell it")->type_name("KIND")->check(CLI::IsMember(words));
    command->add_option("--to", o.to, "kind of OUT, when its ending does not tell it")->type_name("KIND")->check(CLI::IsMember(words));
    command->add_flag("--force,--overwrite", o.force, "replace OUT when it exists");
    command->add_flag("--line", o.as_line, "write the line over the chart (notation and tablature) instead of the chart");
    command->add_option("--tempo", o.tempo_bpm, "counts a minute, 40 to 300; without it the chart's own")->type_name("BPM")->check(between(kLeastTempo_bpm, kMostTempo_bpm, "counts a minute"));
    command->add_flag("--click", o.click, "sound: a click on every count, and a bar of it in front (without it a second of silence, so that gripline walk --input OUT --start-s 1 marks it)");
    command->add_option("--choruses", o.choruses, "sound: play the chart so often")->type_name("N")->check(between(1, kMostChoruses, ""))->capture_default_str();
    command->add_flag("--answer", o.answer, "sound: every other chorus with clicks alone, for you to play (needs --choruses)");
    command->add_option("--faster", o.faster_bpm, "sound: each chorus so many counts a minute faster")->type_name("BPM")->check(between(0, 50, "counts a minute"));
    command->add_option("--across", o.across, "picture and page: grips in a row; fewer are larger")->type_name("N")->check(between(kLeastAcross, kMostAcross, ""))->capture_default_str();
    command->add_flag("--left-handed", o.left_handed, "picture and page: mirror the neck");
    add_line_wishes(*command, o.line);
    add_concert_pitch(*command, o.a4_hz);
    return command;
}

CLI::App* add_tune(CLI::App& app, TuneOptions& o) {
    CLI::App* command = app.add_subcommand("tune", "tuner: which string sounds and how many cents it is flat or sharp");
    auto* input = command->add_option("--input", o.input, "a recording instead of the live input")->type_name("FILE");
    command->add_option("--device", o.device, "live input to listen to, by name or number (see gripline devices)")->type_name("DEVICE")->excludes(input);
    add_instrument(*command, o.tuning, o.capo);
    add_concert_pitch(*command, o.a4_hz);
    command->add_option("--for-s", o.for_s, "live, without a screen: listen so long; 0 until interrupted")->type_name("S")->check(between(0, 86400, "s"))->capture_default_str()->excludes(input);
    command->add_flag("--json", o.json, "one JSON object a line on standard output");
    command->add_flag("--ascii", o.ascii, "plain ASCII on the screen");
    return command;
}

/// The words that may stand where `typed` stands: commands, or options of the command in use.
std::vector<std::string> known_words(const CLI::App& app, const std::string& typed) {
    std::vector<std::string> out;
    const auto used = app.get_subcommands();
    const CLI::App& place = used.empty() ? app : *used.front();
    if (typed.starts_with("-")) {
        for (const CLI::Option* option : place.get_options({})) {
            for (const std::string& name : option->get_lnames()) out.push_back("--" + name);
        }
    } else if (used.empty()) {
        for (const CLI::App* command : app.get_subcommands({})) out.push_back(command->get_name());
    }
    return out;
}

Parting wrong_usage(const CLI::App& app, const std::string& what) {
    std::string help = "gripline ";
    for (auto used = app.get_subcommands(); !used.empty(); used = used.front()->get_subcommands()) help += used.front()->get_name() + " ";
    return {kExitWrongUsage, "gripline: " + what + "\nSee " + help + "--help.\n"};
}

/// What a command that has commands of its own wants behind it; empty when it has none, or one was given.
std::string wanted_verb(const CLI::App& app) {
    const auto used = app.get_subcommands();
    if (used.empty() || !used.front()->get_subcommands().empty()) return {};
    std::string out;
    for (const CLI::App* verb : used.front()->get_subcommands([](const CLI::App*) { return true; })) out += (out.empty() ? "what to do is required: " : ", ") + verb->get_name();
    return out;
}

Parting unknown_words(const CLI::App& app, const std::vector<std::string>& left) {
    const std::string typed = left.empty() ? "" : left.front().substr(0, left.front().find('='));
    const std::string meant = nearest_word(typed, known_words(app, typed));
    std::string what = typed.starts_with("-") ? "unknown option \"" : (app.get_subcommands().empty() ? "unknown command \"" : "one word too many: \"");
    what += typed + "\"";
    if (!meant.empty()) what += "; did you mean \"" + meant + "\"?";
    return wrong_usage(app, what);
}

}  // namespace

std::variant<Command, Parting> read_arguments(std::vector<std::string> arguments) {
    PracticeOptions practice;
    HearOptions hear;
    MarkOptions mark;
    DevicesOptions devices;
    GripsOptions grips;
    TuneOptions tune;
    LineOptions line;
    WalkOptions walk;
    CalibrateOptions calibrate;
    ConvertOptions convert;
    QuizOptions quiz;
    ClassOptions in_class;
    ProgressOptions progress;
    HistoryOptions history;
    GuitarOptions guitar;
    CLI::App app("gripline: a listening practice partner for walking chords", "gripline");
    app.set_version_flag("--version", std::string("gripline ") + kVersion);
    app.require_subcommand(0, 1);
    const CLI::App* in_practice = add_practice(app, practice);
    const CLI::App* in_hear = add_hear(app, hear);
    const CLI::App* in_mark = add_mark(app, mark);
    const CLI::App* in_devices = add_devices(app, devices);
    const CLI::App* in_grips = add_grips(app, grips);
    const CLI::App* in_tune = add_tune(app, tune);
    const CLI::App* in_guitar = add_guitar(app, guitar);
    const CLI::App* in_line = add_line(app, line);
    const CLI::App* in_convert = add_convert(app, convert);
    const CLI::App* in_walk = add_walk(app, walk);
    const CLI::App* in_calibrate = add_calibrate(app, calibrate);
    const CLI::App* in_quiz = add_quiz(app, quiz);
    const CLI::App* in_progress = add_progress(app, progress);
    const CLI::App* in_history = add_history(app, history);
    const CLI::App* class_command = add_class(app, in_class);
    put_footer(app);
    // Options without a command are practice's: `gripline --player`.
    const bool bare = arguments.empty() || (arguments.front().starts_with("-") && arguments.front() != "--help" && arguments.front() != "-h" && arguments.front() != "--version");
    if (bare) arguments.insert(arguments.begin(), "practice");
    std::reverse(arguments.begin(), arguments.end());  // CLI11 takes them last first
    try {
        app.parse(arguments);
    } catch (const CLI::CallForVersion&) {
        return Parting{kExitDone, std::string("gripline ") + kVersion + "\n"};
    } catch (const CLI::CallForHelp&) {
        return Parting{kExitDone, app.help()};
    } catch (const CLI::CallForAllHelp&) {
        return Parting{kExitDone, app.help("", CLI::AppFormatMode::All)};
    } catch (const CLI::ExtrasError&) {
        return unknown_words(app, app.remaining(true));
    } catch (const CLI::Error& error) {
        const std::string verb = wanted_verb(app);
        return wrong_usage(app, verb.empty() ? error.what() : verb);
    }
    if (in_hear->parsed()) return Command(hear);
    if (in_mark->parsed()) return Command(mark);
    if (in_devices->parsed()) return Command(devices);
    if (in_grips->parsed()) return Command(grips);
    if (in_tune->parsed()) return Command(tune);
    if (in_guitar->parsed()) return Command(guitar);
    if (in_line->parsed() && line.chart.empty() && !line.list) return wrong_usage(app, "CHART is required: a chart file, or a name that --charts lists");
    if (in_line->parsed()) return Command(line);
    if (in_convert->parsed()) return Command(convert);
    if (in_walk->parsed()) return Command(walk);
    if (in_calibrate->parsed()) return Command(calibrate);
    if (in_quiz->parsed() && quiz.file.empty() && quiz.resume.empty()) return wrong_usage(app, "QUIZ.toml is required, or --resume FOLDER");
    if (in_quiz->parsed()) return Command(quiz);
    if (in_progress->parsed()) return Command(progress);
    if (in_history->parsed()) return Command(history);
    if (class_command->parsed()) return Command(in_class);
    if (!in_practice->parsed()) return wrong_usage(app, "no command");
    return Command(practice);
}

}  // namespace gripline

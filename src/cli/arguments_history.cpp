#include "cli/arguments_history.h"

namespace gripline {

namespace {

constexpr const char* kKept =
    "Every attempt of practice, and of quizzes and walks, is kept on this machine alone, readable by you alone. Between two machines: export on one and import on\n"
    "the other, or merge the other's file; an attempt that is there already is never doubled.";
constexpr const char* kFields =
    "One row, or one object in a line, for each attempt: id, at, player, guitar, input, asking, family, root, quality, stage, strings, chord, grip, bass_degree, place, from,\n"
    "motion, tempo_bpm, question, verdict, confidence, heard (MIDI numbers), answered, faults (kind, string, frets, asked, heard, probability), off_ms (early is negative),\n"
    "answer_s, try_number, helped. What is not known is empty, in JSON null. An import needs at, player, asking, family, root, quality, stage, strings, grip, place, verdict\n"
    "and confidence; without an id one is made from the rest, so that a second import makes no doubles.";

}  // namespace

void add_keeping(CLI::App& app, KeepingWishes& wishes) {
    app.add_option("--who", wishes.who, "whose attempts these are; remembered. At first the name of the login")->type_name("NAME");
    app.add_option("--guitar", wishes.guitar, "the guitar, in your own words; remembered")->type_name("NAME");
    auto* file = app.add_option("--history", wishes.history, "keep the attempts in this file instead of the usual one (see gripline history where); also those of the built-in player, which are kept nowhere else")->type_name("FILE");
    app.add_flag("--no-history", wishes.none, "keep nothing")->excludes(file);
}

CLI::App* add_history(CLI::App& app, HistoryOptions& o) {
    CLI::App* command = app.add_subcommand("history", "what is kept of practice: list it, take it elsewhere and back, delete it");
    command->require_subcommand(1);
    const auto verb = [&](const char* word, const char* what, HistoryVerb means) {
        CLI::App* added = command->add_subcommand(word, what);
        added->add_option("--history", o.history, "this file instead of the usual one")->type_name("FILE");
        added->parse_complete_callback([&o, means] { o.verb = means; });
        return added;
    };
    const auto part = [&o](CLI::App& verb_command) {
        verb_command.add_option("--who", o.who, "only this player's; without it everybody's")->type_name("NAME");
        verb_command.add_option("--from", o.from, "from this day on, such as 2026-11-25")->type_name("DAY");
        verb_command.add_option("--to", o.to, "up to this day")->type_name("DAY");
    };
    CLI::App* list = verb("list", "show attempts, the latest last", HistoryVerb::list);
    part(*list);
    list->add_option("--latest", o.latest, "so many; 0: all")->type_name("N")->check(CLI::Range(0, 1'000'000'000))->capture_default_str();
    list->add_option_function<std::string>("--quality", [&o](const std::string& text) {
        o.quality = text;
        o.only_quality = true;
    }, "only chords of this quality, such as 7 or m7; \"\" for major triads")->type_name("QUALITY");
    list->add_option("--verdict", o.verdict, "only those that were right, wrong or unheard")->type_name("WORD")->check(CLI::IsMember({"right", "wrong", "unheard"}));
    list->add_flag("--json", o.json, "one JSON object a line on standard output");
    verb("where", "tell where the history lies, how large it is and whose it holds", HistoryVerb::where)->add_flag("--json", o.json, "as one JSON object");
    CLI::App* out = verb("export", "write attempts to a file: CSV, or JSON Lines", HistoryVerb::export_to);
    out->add_option("FILE", o.file, "the file to write: .csv, or .json or .jsonl; or - for standard output")->required();
    part(*out);
    auto* json = out->add_flag("--json", o.json, "JSON Lines, whatever the file's ending");
    out->add_flag("--csv", o.csv, "CSV, whatever the file's ending")->excludes(json);
    out->add_flag("--overwrite", o.overwrite, "replace the file when it exists");
    CLI::App* in = verb("import", "take over attempts from a file that export wrote; all of it, or nothing when something in it is wrong", HistoryVerb::import_from);
    in->add_option("FILE", o.file, "CSV or JSON Lines")->required();
    in->add_option("--who", o.who, "the player they shall belong to, whatever the file says")->type_name("NAME");
    CLI::App* merge = verb("merge", "take over the attempts of another history file; also of a damaged one, as far as it can be read", HistoryVerb::merge);
    merge->add_option("FILE", o.file, "the other history (history.sqlite of another machine)")->required();
    CLI::App* gone = verb("delete", "delete a player with all their attempts for good", HistoryVerb::delete_player);
    gone->add_option("NAME", o.who, "the player")->required();
    gone->add_flag("--yes", o.yes, "without asking");
    command->footer(kKept);
    out->footer(kFields);
    in->footer(kFields);
    return command;
}

}  // namespace gripline

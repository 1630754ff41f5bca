// The options of gripline guitar.
#include "cli/arguments_parts.h"

namespace gripline {

CLI::App* add_guitar(CLI::App& app, GuitarOptions& o) {
    CLI::App* command = app.add_subcommand("guitar", "your guitars: set one up in a minute, list, show, delete");
    command->require_subcommand(1);
    const auto verb = [&](const char* word, const char* what, GuitarVerb means) {
        CLI::App* added = command->add_subcommand(word, what);
        added->parse_complete_callback([&o, means] { o.verb = means; });
        return added;
    };
    const auto named = [&o](CLI::App& to) { return to.add_option("NAME", o.name, "the guitar, in your own words; without it the remembered one"); };
    CLI::App* set_up = verb("set-up", "a second of quiet, each open string, one fretted note on each: it goes on by itself", GuitarVerb::set_up);
    named(*set_up);
    auto* input = set_up->add_option("--input", o.input, "a recording of it instead of the live input")->type_name("FILE");
    set_up->add_option("--device", o.device, "input to listen to, by name or number (see gripline devices)")->type_name("DEVICE")->excludes(input);
    add_instrument(*set_up, o.tuning, o.capo);
    add_concert_pitch(*set_up, o.a4_hz);
    set_up->add_flag("--overwrite", o.overwrite, "in place of an older set-up of that name, once the new one is complete");
    set_up->add_flag("--json", o.json, "the result as one JSON object; without a screen");
    set_up->add_flag("--ascii", o.ascii, "plain ASCII on the screen");
    set_up->footer("Damp all strings and keep still; then play what is asked, one string at a time, and let it ring for a second: the open strings from the lowest, then a fretted note on each.\n"
                   "What is wrong is said and asked again; a string more than 40 cents out must be tuned first. What is kept: tuning, intonation, stiffness, partials, level and noise of\n"
                   "this guitar on this input. A set-up that is left before its end leaves nothing.");
    verb("list", "the guitars that are set up", GuitarVerb::list)->add_flag("--json", o.json, "one JSON object a line on standard output");
    CLI::App* show = verb("show", "what the set-up found, and what to do about it", GuitarVerb::show);
    named(*show);
    show->add_flag("--json", o.json, "as one JSON object");
    CLI::App* gone = verb("delete", "delete a guitar's set-up for good; attempts played on it stay", GuitarVerb::remove);
    gone->add_option("NAME", o.name, "the guitar")->required();
    gone->add_flag("--yes", o.yes, "without asking");
    return command;
}

}  // namespace gripline

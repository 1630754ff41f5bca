#include "cli/arguments_parts.h"

#include <charconv>
#include <cstdint>
#include <limits>
#include <string>

#include "lines/costs.h"

namespace gripline {

CLI::Validator between(double least, double most, const std::string& unit) {
    const auto shown = [](double number) { return CLI::detail::to_string(static_cast<long>(number)); };
    const std::string allowed = shown(least) + " to " + shown(most) + (unit.empty() ? "" : " " + unit);
    return CLI::Validator(
        [=](std::string& text) -> std::string {
            double number = 0.0;
            const auto [end, trouble] = std::from_chars(text.data(), text.data() + text.size(), number);
            const bool good = trouble == std::errc() && end == text.data() + text.size() && number >= least && number <= most;
            return good ? "" : "\"" + text + "\" is not allowed; " + allowed + " is";
        },
        "");
}

namespace {

/// The reader of numbers would wrap a negative seed, and cut one of too many digits.
CLI::Validator whole_seed() {
    return CLI::Validator(
        [](std::string& text) -> std::string {
            std::uint64_t number = 0;
            const auto [end, trouble] = std::from_chars(text.data(), text.data() + text.size(), number);
            const bool good = trouble == std::errc() && end == text.data() + text.size();
            return good ? "" : "\"" + text + "\" is not allowed; 0 to " + std::to_string(std::numeric_limits<std::uint64_t>::max()) + " is";
        },
        "");
}

}  // namespace

void add_instrument(CLI::App& app, std::string& tuning, int& capo) {
    app.add_option("--tuning", tuning, "open strings, lowest first (\"E2 A2 D3 G3 B3 E4\"), or a name (standard, \"drop D\")")->type_name("TUNING")->capture_default_str();
    app.add_option("--capo", capo, "fret of the capo")->type_name("FRET")->check(between(0, 12, ""))->capture_default_str();
}

void add_concert_pitch(CLI::App& app, double& a4_hz) {
    app.add_option("--a4-hz", a4_hz, "concert pitch, 415 to 466 Hz")->type_name("HZ")->check(between(415, 466, "Hz"))->capture_default_str();
}

void add_line_wishes(CLI::App& command, LineOptions& o) {
    command.add_option("--key", o.key, "play the chart in this key, such as Eb")->type_name("KEY");
    command.add_option("--direction", o.direction, "of the walk within a chord: up, down, free")->type_name("WORD")->check(CLI::IsMember({"up", "down", "free"}))->capture_default_str();
    command.add_option("--approach", o.approach, "side of the approach chords: below, above, alternating, best")->type_name("WORD")->check(CLI::IsMember({"below", "above", "alternating", "best"}))->capture_default_str();
    command.add_option("--quality", o.quality, "of the approach chords: slid (the target's grip slid a fret) or dominant")->type_name("WORD")->check(CLI::IsMember({"slid", "dominant"}))->capture_default_str();
    command.add_option("--steps", o.steps, "steps a bar: 4, 2 or 1")->type_name("N")->check(CLI::IsMember({4, 2, 1}))->capture_default_str();
    command.add_flag("--landing", o.landing, "only the first beat of each chord and the approach chords");
    command.add_flag("--again", o.again, "played chorus after chorus: the last beat leads to the first grip (walked live, or written as sound, more than one chorus always does)");
    command.add_option("--strings", o.strings, "string sets; the later ones where the neck runs out")->type_name("SETS")->capture_default_str();
    command.add_option("--frets", o.frets, "where the hand is wanted")->type_name("LOW-HIGH")->capture_default_str();
    command.add_option("--lock", o.locks, "a beat chosen by hand, such as 3.1=8x89xx (bar as played, beat, grip); may be given again")->type_name("BAR.BEAT=GRIP")->allow_extra_args(false);
    command.add_option("--scale", o.scales, "the scale for a chord, such as G7=Dm6; may be given again")->type_name("CHORD=SCALE")->allow_extra_args(false);
    std::string costs;
    for (const CostRow& row : cost_rows()) costs += "\n    " + std::string(row.name) + ": for each " + std::string(row.per);
    command.add_option("--costs", o.costs, "what makes a line dear, such as turn=3,stretch=1; 0 to 1000 each:" + costs)->type_name("NAME=NUMBER,...");
    command.add_option("--seed", o.seed, "decides between lines of equal cost")->type_name("N")->check(whole_seed())->capture_default_str();
    add_instrument(command, o.tuning, o.capo);
}

}  // namespace gripline

#include "cli/program.h"

#include <iostream>
#include <ostream>

#include "cli/arguments.h"
#include "cli/commands.h"
#include "formats/chart_import.h"

namespace gripline {

namespace {

struct Runner {
    std::ostream& out;
    std::ostream& err;
    int operator()(const PracticeOptions& options) const { return practice(options, out, err); }
    int operator()(const HearOptions& options) const { return hear(options, out, err); }
    int operator()(const MarkOptions& options) const { return mark(options, out, err); }
    int operator()(const DevicesOptions& options) const { return devices(options, out, err); }
    int operator()(const TuneOptions& options) const { return tune(options, out, err); }
    int operator()(const GuitarOptions& options) const { return guitar(options, std::cin, out, err); }
    int operator()(const GripsOptions& options) const { return grips(options, out, err); }
    int operator()(const LineOptions& options) const { return line(options, out, err); }
    int operator()(const HistoryOptions& options) const { return history(options, std::cin, out, err); }
    int operator()(const ProgressOptions& options) const { return progress(options, out, err); }
    int operator()(const ClassOptions& options) const { return class_page(options, out, err); }
    int operator()(const QuizOptions& options) const { return quiz(options, out, err); }
    int operator()(const ConvertOptions& options) const { return convert(options, out, err); }
    int operator()(const WalkOptions& options) const { return walk(options, out, err); }
    int operator()(const CalibrateOptions& options) const { return calibrate(options, out, err); }
};

}  // namespace

int refuse(std::ostream& err, const std::string& what) {
    constexpr std::size_t kMostMessage_bytes = 4000;  // a screen and a half
    err << "gripline: " << clean_text(what, kMostMessage_bytes) << '\n';  // what it quotes from files can't garble the terminal
    return kExitBadInput;
}

std::string bad_samples_text(const std::string& path, std::uint64_t samples) {
    return path + ": " + std::to_string(samples) + " samples are no numbers (NaN or infinite), so what was heard can't be trusted; record or convert it again";
}

int run_program(const std::vector<std::string>& arguments, std::ostream& out, std::ostream& err) {
    const auto read = read_arguments(arguments);
    if (const auto* parting = std::get_if<Parting>(&read)) {
        (parting->exit_status == kExitDone ? out : err) << parting->text;
        return parting->exit_status;
    }
    const int status = std::visit(Runner{out, err}, std::get<Command>(read));
    out.flush();
    if (!out) return refuse(err, "standard output can't be written (disk full, or its reader is gone); the results are incomplete");
    return status;
}

}  // namespace gripline

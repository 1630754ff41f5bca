// gripline practice: the practice screen, or, where no terminal is, a demonstration as text.
#include <ostream>

#include <unistd.h>

#include "cli/commands.h"
#include "cli/exercise_words.h"
#include "ui/demonstration.h"
#include "ui/practice_app.h"

namespace gripline {

int practice(const PracticeOptions& options, std::ostream& out, std::ostream& err) {
    const auto asked = read_exercise(options.family, options.stage, options.strings);
    if (!asked) return refuse(err, asked.error().message);
    const auto neck = read_neck(options.tuning, options.capo, options.left_handed);
    if (!neck) return refuse(err, neck.error().message);
    PracticeStart start;
    if (!options.root.empty()) {
        const auto root = NoteName::parse(options.root);
        if (!root) return refuse(err, "--root: " + root.error().message);
        start.root = *root;
    }
    const bool terminal = isatty(STDIN_FILENO) != 0 && isatty(STDOUT_FILENO) != 0;
    if (!terminal || options.demonstration) {
        if (!terminal && !options.demonstration) err << "gripline: no terminal here, so a demonstration follows; the practice screen opens in a terminal\n";
        return run_demonstration({}, out);
    }
    start.family = asked->family;
    start.stage = asked->stage;
    start.strings = asked->strings;
    if (!options.device.empty()) start.device = options.device;
    start.player = options.player;
    start.neck = *neck;
    start.a4_hz = options.a4_hz;
    start.keeping = options.keeping;
    if (options.ascii) start.terminal.characters = CharacterSet::ascii;
    return run_practice(start, out, err);
}

}  // namespace gripline

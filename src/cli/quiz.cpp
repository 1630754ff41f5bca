// gripline quiz: which verb was meant.
#include <iostream>

#include "cli/commands.h"
#include "cli/quiz_commands.h"

namespace gripline {

int quiz(const QuizOptions& options, std::ostream& out, std::ostream& err) {
    switch (options.verb) {
        case QuizVerb::create: return quiz_new(options, std::cin, out, err);
        case QuizVerb::take: return quiz_take(options, out, err);
        case QuizVerb::overrule: return quiz_overrule(options, out, err);
        case QuizVerb::sheet: return quiz_sheet(options, out, err);
        case QuizVerb::verify: return quiz_verify(options, out, err);
        default: return quiz_check(options, out, err);
    }
}

}  // namespace gripline

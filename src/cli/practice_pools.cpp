#include "cli/practice_pools.h"

#include "cli/chart_file.h"
#include "cli/line_words.h"
#include "lines/walk_builder.h"
#include "practice/joints.h"
#include "practice/name_it.h"

namespace gripline {

Result<Exercise> joints_of_chart(const PracticeOptions& options, const Pins& pins, Asking asking) {
    if (!options.stage.empty() && options.stage != "shell") return Error{"--joints asks the shells of a line: leave --stage out"};
    LineOptions wishes;
    wishes.chart = options.joints;
    if (!options.approach.empty()) wishes.approach = options.approach;
    if (!options.strings.empty()) wishes.strings = options.strings;
    wishes.tuning = options.tuning;
    wishes.capo = options.capo;
    const auto chart = open_chart(wishes.chart);
    if (!chart) return Error{"--joints: " + chart.error().message};
    const auto settings = line_settings(wishes);
    if (!settings) return settings.error();
    const auto line = build_line(*chart, *settings);
    if (!line) return Error{"--joints: " + options.joints + ": " + line.error().message};
    auto pool = make_joints(*line, settings->neck, options.a4_hz, pins, asking);
    if (!pool) return Error{"--joints: " + options.joints + ": " + pool.error().message};
    return pool;
}

Result<Exercise> name_it_pool(const PracticeOptions& options, const ExerciseWords& asked, const Neck& neck, Pins pins) {
    if (!options.joints.empty()) return Error{"--exercise name-it asks about grips of the scales: leave --joints out"};
    Course course;
    course.stage = asked.stage.value_or(StageKind::drop3);
    const auto sets = string_sets(course.stage, neck.tuning.strings());
    if (!sets.empty()) course.strings = asked.strings.value_or(sets.front());
    if (const auto fits = checked(course.strings, course.stage, neck.tuning.strings()); !fits) return Error{"--strings: " + fits.error().message};
    if (!options.root.empty()) {
        const auto root = NoteName::parse(options.root);
        if (!root) return Error{"--root: " + root.error().message};
        pins.key = root->pitch_class();
    }
    if (asked.family) pins.qualities = {std::string(chord_suffix(*asked.family))};
    std::vector<NameQuestion> questions;
    for (const std::string& each : options.questions) {
        const auto question = parse_name_question(each);
        if (!question) return Error{"--question: " + question.error().message};
        questions.push_back(*question);
    }
    return make_name_it(course, neck, options.a4_hz, pins, questions);
}

}  // namespace gripline

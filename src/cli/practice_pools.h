// What `gripline practice` asks where it is not a scale: the joints of a chart, or questions about what the tool plays.
#pragma once

#include "cli/exercise_words.h"
#include "cli/options.h"
#include "practice/exercise.h"
#include "practice/pins.h"

namespace gripline {

/// --joints: those of the line over the chart, on the strings and from the side that were chosen. Messages name the option and the chart.
[[nodiscard]] Result<Exercise> joints_of_chart(const PracticeOptions& options, const Pins& pins, Asking asking);
/// --exercise name-it. --root and --family bind as --key and --quality do. Without a stage drop 3: four notes tell every quality.
[[nodiscard]] Result<Exercise> name_it_pool(const PracticeOptions& options, const ExerciseWords& asked, const Neck& neck, Pins pins);

}  // namespace gripline

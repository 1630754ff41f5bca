// What the options of `gripline line` ask of the walk builder.
#pragma once

#include "base/result.h"
#include "cli/options.h"
#include "lines/line_settings.h"

namespace gripline {

/// Errors name the option, the value and what is allowed.
[[nodiscard]] Result<LineSettings> line_settings(const LineOptions& options);

}  // namespace gripline

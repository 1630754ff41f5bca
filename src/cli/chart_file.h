// The chart that a word on the command line means: a file, or a chart of the library.
#pragma once

#include <string>

#include "chart/chart.h"

namespace gripline {

/// Reads the file, or where there is none the library's chart of that name. Messages name the file.
[[nodiscard]] Result<Chart> open_chart(const std::string& word);

/// The chart in the key that --key asks for (empty: as written). Messages name the option.
[[nodiscard]] Result<Chart> chart_in_key(const Chart& chart, const std::string& key);

}  // namespace gripline

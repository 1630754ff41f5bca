// A line written to a file: the ending of its name says the format.
#pragma once

#include <optional>
#include <string>

#include "chart/chart.h"
#include "lines/line.h"
#include "lines/line_settings.h"

namespace gripline {

/// Writes .musicxml (or .xml), .mid (or .midi), .abc, or .tab (or .txt). An existing file is replaced only with `overwrite`. Returns what went
/// wrong, or nothing.
[[nodiscard]] std::optional<Error> write_line(const std::string& path, const Chart& chart, const Line& line, const LineSettings& settings, bool overwrite);

}  // namespace gripline

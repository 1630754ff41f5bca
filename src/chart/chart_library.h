// The charts that come with the program: progressions of the trade, and two songs written for it.
#pragma once

#include <span>
#include <string>
#include <string_view>

#include "chart/chart.h"

namespace gripline {

/// A chart of the library: its name as typed, and its text.
struct LibraryChart {
    std::string_view name;  ///< "minor-blues"
    std::string_view text;  ///< for parse_chart()
};

/// All of them, by name.
[[nodiscard]] std::span<const LibraryChart> chart_library() noexcept;
/// The chart of that name, read; an error names those that there are.
[[nodiscard]] Result<Chart> library_chart(std::string_view name);

}  // namespace gripline

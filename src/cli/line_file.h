// A chart or a line written to a file of some kind.
#pragma once

#include <iosfwd>
#include <optional>
#include <string>

#include "chart/chart.h"
#include "cli/file_kind.h"
#include "cli/line_sound.h"
#include "lines/line_settings.h"

namespace gripline {

/// The bytes of a file that holds the chart alone; an error for a kind that can't.
[[nodiscard]] Result<std::string> chart_bytes(FileKind kind, const Chart& chart);
/// The bytes of a file that holds the line over the chart; an error for a kind that can't, and for sound, which is too long for it.
[[nodiscard]] Result<std::string> line_bytes(FileKind kind, const Chart& chart, const Line& line, const LineSettings& settings);

/// Writes the line. An existing file is replaced only with `overwrite`, and only once the new one is whole. Returns what went wrong, or nothing.
[[nodiscard]] std::optional<Error> write_line(const std::string& path, FileKind kind, const Chart& chart, const Line& line, const LineSettings& settings, bool overwrite, const LineSoundConfig& sound = {});
/// Writes bytes, likewise.
[[nodiscard]] std::optional<Error> write_file(const std::string& path, const std::string& bytes, bool overwrite);

}  // namespace gripline

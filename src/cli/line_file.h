// A chart or a line written to a file of some kind.
#pragma once

#include <iosfwd>
#include <optional>
#include <string>

#include "chart/chart.h"
#include "cli/file_kind.h"
#include "cli/line_sound.h"
#include "formats/line_picture.h"
#include "lines/line_settings.h"

namespace gripline {

/// The bytes of a file that holds the chart alone; an error for a kind that can't.
[[nodiscard]] Result<std::string> chart_bytes(FileKind kind, const Chart& chart);
/// The bytes of a file that holds the line over the chart; an error for a kind that can't, and for sound, which is too long for it.
/// across: grips in a row of a picture.
[[nodiscard]] Result<std::string> line_bytes(FileKind kind, const Chart& chart, const Line& line, const LineSettings& settings, int across = kUsualAcross);

/// Writes the line. An existing file is replaced only with `overwrite`, and only once the new one is whole. Returns what went wrong, or nothing.
[[nodiscard]] std::optional<Error> write_line(const std::string& path, FileKind kind, const Chart& chart, const Line& line, const LineSettings& settings, bool overwrite);
/// Writes the line as sound, likewise.
[[nodiscard]] std::optional<Error> write_line_sound(const std::string& path, const Chart& chart, const Line& line, const Neck& neck, const LineSoundConfig& sound, bool overwrite);
/// Writes bytes, likewise.
[[nodiscard]] std::optional<Error> write_file(const std::string& path, const std::string& bytes, bool overwrite);

}  // namespace gripline

// The kinds of files that charts and lines are read from and written to.
#pragma once

#include <span>
#include <string>
#include <string_view>

#include "base/result.h"

namespace gripline {

enum class FileKind { chart, music_xml, mxl, abc, midi, tab, svg, html, wav };

struct FileKindRow {
    FileKind kind;
    std::string_view word;      ///< for --from and --to
    std::string_view endings;   ///< of file names, divided by blanks; the usual one first
    bool reads_chart;           ///< a chart can be read from it
    bool holds_chart;           ///< what is written is the chart, unless the line over it is asked for
    bool holds_line;            ///< a line can be written to it
    std::string_view what;      ///< "chart as plain text"
};
[[nodiscard]] std::span<const FileKindRow> file_kinds() noexcept;
[[nodiscard]] const FileKindRow& file_kind_row(FileKind kind) noexcept;

/// The kind that `word` names (from an option of that name), or when it is empty the one that the path's ending names. Errors name both and say what is known.
[[nodiscard]] Result<FileKind> file_kind(const std::string& path, const std::string& word, const char* option);

}  // namespace gripline

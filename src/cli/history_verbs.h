// The verbs of `gripline history` that move attempts or remove them. history.cpp opens the history and calls them.
#pragma once

#include <filesystem>
#include <iosfwd>

#include "cli/options.h"
#include "practice/history.h"

namespace gripline {

/// --who, --from and --to as a filter. An error names a day that is none.
[[nodiscard]] Result<AttemptFilter> history_part(const HistoryOptions& options);

int history_export(const HistoryOptions& options, History& kept, std::ostream& out, std::ostream& err);
int history_import(const HistoryOptions& options, History& kept, std::ostream& out, std::ostream& err);
int history_merge(const HistoryOptions& options, const std::filesystem::path& file, History& kept, std::ostream& out, std::ostream& err);
int history_delete(const HistoryOptions& options, const std::filesystem::path& file, History& kept, std::istream& in, std::ostream& out, std::ostream& err);

}  // namespace gripline

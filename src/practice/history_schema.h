// The tables of the history, version by version. Each step takes a file from one version to the next and keeps all that is in it.
#pragma once

#include <optional>
#include <span>
#include <string>

#include "base/result.h"
#include "practice/database.h"

namespace gripline {

/// Says that a file is a history of gripline (SQLite's application_id): "grpl" in ASCII.
inline constexpr std::int64_t kHistoryMark = 0x6772706c;

/// SQL that takes a history from version `index` to `index + 1`; an empty file has version 0.
[[nodiscard]] std::span<const std::string> history_steps() noexcept;
/// The version that this program reads and writes.
[[nodiscard]] inline int history_version() noexcept { return static_cast<int>(history_steps().size()); }

/// Takes it step by step to `version`, all in one transaction. Nothing has changed when it fails.
[[nodiscard]] std::optional<Error> migrate(Database& database, int version = history_version());

/// Counts every running total anew from the attempts.
[[nodiscard]] std::optional<Error> rebuild_totals(Database& database);

}  // namespace gripline

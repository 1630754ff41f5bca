// Progress of a player straight from the place where the history lies.
#include "base/text.h"
#include "base/wall_clock.h"
#include "practice/history_file.h"
#include "practice/progress.h"

namespace gripline {

namespace {

/// Days since 1970-01-01 by the clock on the wall.
std::int64_t today_here() {
    return day_of(wall_clock_ms(), utc_offset_minutes());
}

Result<std::string> player_of(History& history, const std::string& named) {
    const auto players = history.players();
    if (!players) return players.error();
    const PlayerRow* latest = nullptr;
    std::string known;
    for (const PlayerRow& row : *players) {
        if (row.name == named) return named;
        if (latest == nullptr || row.last_ms > latest->last_ms) latest = &row;
        known += (known.empty() ? "" : ", ") + gripline::quoted(row.name);
    }
    if (!named.empty()) return Error{"no attempts of a player " + gripline::quoted(named) + " are kept" + (known.empty() ? "" : "; known: " + known)};
    if (latest == nullptr) return Error{"nothing was kept yet; practise first (gripline practice)"};
    return latest->name;
}

}  // namespace

Result<KeptProgress> read_kept_progress(const std::string& named, const std::filesystem::path& file) {
    if (file.empty()) return Error{"neither XDG_DATA_HOME nor HOME is set, so there is no place for a history"};
    auto opened = open_history_to_read(file);
    if (!opened) return opened.error();
    const auto player = player_of(*opened->history, named);
    if (!player) return player.error();
    auto source = read_progress(*opened->history, *player, today_here());
    if (!source) return source.error();
    return KeptProgress{std::move(*source), opened->notice};
}

}  // namespace gripline

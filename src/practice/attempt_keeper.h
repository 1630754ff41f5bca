// Attempts on their way from a screen or a command into the history: signed with who, with what and when.
#pragma once

#include <cstdint>
#include <filesystem>
#include <functional>
#include <memory>
#include <string>

#include "practice/history_writer.h"

namespace gripline {

/// Whose attempts are kept, and where.
struct KeeperConfig {
    std::filesystem::path file;   ///< of the history
    std::string player;           ///< check_name() has nothing against it
    std::string guitar;           ///< may be empty
    std::function<std::int64_t()> wall_ms;  ///< nothing: the clock on the wall
    HistoryWriterConfig writer;
};

/// The name that somebody has without saying one: that of the login, or "player".
[[nodiscard]] std::string login_name();

/// Nothing here waits for the disk. For one thread.
class AttemptKeeper {
public:
    explicit AttemptKeeper(KeeperConfig config);

    /// Hands an attempt over. Its player and guitar become the keeper's; a time of 0 becomes now. input: name of the sound input, cut where it is too long.
    void keep(Attempt attempt, std::string_view input);
    /// Why attempts can't be kept now and how many wait, in one line; empty: all is well. "Not kept (disk full): 3 attempts wait."
    [[nodiscard]] std::string trouble() const;
    /// What was said at opening (a damaged file set aside, a copy made), once; empty: nothing new.
    [[nodiscard]] std::string take_notice();
    /// Writes what waits. Says in a line how many were lost, and why; empty: none.
    [[nodiscard]] std::string close();
    void flush() { writer_.flush(); }
    [[nodiscard]] HistoryState state() const { return writer_.state(); }

private:
    [[nodiscard]] std::string cause(const HistoryState& state) const;

    KeeperConfig config_;
    HistoryWriter writer_;
    std::string noticed_;
};

}  // namespace gripline

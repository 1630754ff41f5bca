// The walk screen as a program: terminal, sound, settings, report and the loop that joins them.
#pragma once

#include <fstream>
#include <functional>
#include <iosfwd>
#include <memory>
#include <optional>
#include <string>

#include "ui/live_walk_sound.h"
#include "ui/terminal.h"
#include "ui/walk_loop.h"

namespace gripline {

/// What the command line asks for.
struct WalkStart {
    WalkScore whole, landing;          ///< the same bars
    WalkRunConfig run;
    std::optional<std::string> device; ///< nothing: the one kept in the settings
    std::string output;
    bool player = false;
    double volume_db = 0.0;
    /// Takes each beat as it is judged; player: the built-in one played it. None: nothing is kept.
    std::function<void(const WalkBeat&, const BeatResult&, double tempo_bpm, bool player, const std::string& input)> keep;
    std::string report;                ///< lines of JSON are put at its end; empty: none
    TerminalOptions terminal;
};

/// Sound as asked, with the delay that is kept for its devices.
struct WalkDevices {
    std::unique_ptr<LiveWalkSound> sound;
    std::string notice;  ///< what is not as asked; empty when all is
};
[[nodiscard]] WalkDevices open_walk_devices(SoundCard& card, const WalkStart& start);

/// What WalkRunConfig::judged is to do for `start.keep`.
[[nodiscard]] std::function<void(const WalkBeat&, const BeatResult&, double)> keep_by(const WalkStart& start, const LiveWalkSound& sound);

/// A walk as lines of JSON: its beats, then the whole.
[[nodiscard]] std::string walk_report(const WalkDone& done, const WalkSound& sound, const PictureCount& count);
/// Puts them at the end of a file. An empty text, or what went wrong.
[[nodiscard]] std::string add_to_report(const std::string& path, const std::string& lines);

/// Runs until the player quits or the process is asked to stop. Returns 0, or 1 when there can be no screen (said on `err`). Afterwards
/// the last walk's sum is on `out`.
int run_walk(const WalkStart& start, std::ostream& out, std::ostream& err);

}  // namespace gripline

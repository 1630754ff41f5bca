// How the walk screen puts things: its views are made here, from the score, the music and what was heard.
#pragma once

#include <string>

#include "listen/listener.h"
#include "practice/walk_hearing.h"
#include "practice/walk_summary.h"
#include "ui/walk_music.h"
#include "ui/walk_view.h"

namespace gripline {

/// `standing`: before the start. `ending`: the music is over, the last strums are still being judged.
enum class WalkState { standing, walking, ending, ended };

struct WalkFacts {
    const WalkScore* score = nullptr;
    const WalkMusic* music = nullptr;      ///< nullptr while standing
    const WalkHearing* hearing = nullptr;  ///< likewise
    WalkState state = WalkState::standing;
    double heard_s = 0.0;                  ///< music second that is heard now
    WalkWishes wishes;
    TempoSteps steps{120.0, 0.0};
    bool landing = false;
    double volume_db = 0.0;
    InputState input;
    bool listened = true;                  ///< the player can be heard
    bool silent = false;                   ///< there is no output
    bool player_is_input = false;
    std::string source_name;
    std::string trouble;
    std::string notice;                    ///< the answer to the last key
    std::string delay;                     ///< of the devices, in words; empty: not known, or of no interest
    bool unmeasured = false;               ///< times are judged, and the delay was never measured
};

[[nodiscard]] WalkView walk_view(const WalkFacts& facts);

/// The chorus whose beats are marked in the chart.
[[nodiscard]] WalkEndView walk_end_view(const WalkFacts& facts, const WalkSummary& summary, int chorus);
/// The last chorus of which a beat was judged; 0 when none was.
[[nodiscard]] int last_judged_chorus(const WalkHearing& hearing);
/// What was heard, as one row for a summary.
[[nodiscard]] std::vector<BeatResult> beat_results(const WalkHearing& hearing);
[[nodiscard]] WalkSummary summarise(const WalkHearing& hearing, double tempo_bpm);

/// "click: 2 and 4 accented, you play, bars 5 to 8, steps of 5 up to 200".
[[nodiscard]] std::string wishes_words(const WalkFacts& facts);

}  // namespace gripline

// How the practice screen puts things: the view is made here, from the session and the input.
#pragma once

#include <optional>
#include <string>

#include "fretboard/neck.h"
#include "listen/listener.h"
#include "practice/practice_session.h"
#include "ui/practice_view.h"

namespace gripline {

/// The counts of approach and target, played in time.
struct InTimeFacts {
    std::optional<int> count;   ///< heard now, 0 the first of the count-in; none: nothing is counted
    double tempo_bpm = 100.0;
    bool silent = false;        ///< without clicks
    bool delay_known = true;    ///< of the devices; else the times are off by it
};

/// What else the view needs to know.
struct PracticeFacts {
    InputState input;
    std::string source_name;
    std::string trouble;
    bool player_is_input = false;
    bool own_sound = false;          ///< the tool is sounding the target
    StepOrder order = StepOrder::up;
    std::string notice;              ///< the answer to the last key
    Neck neck;                       ///< for the diagram
    std::string nothing_why;         ///< why there is nothing to ask
    int warm_up = 0;                 ///< steps of the warm-up that is under way; 0: none is
    int warmed_up = 0;               ///< steps that were done in one before
    bool planned = false;            ///< the learner model chooses the steps
    std::string why;                 ///< why this step is asked
    InTimeFacts in_time;             ///< where approach and target are asked in time
    std::string gestures;            ///< what muted strums ask for; empty: nothing
    std::string not_kept;            ///< why attempts can't be kept now; empty: they are
};

[[nodiscard]] PracticeView practice_view(const PracticeSession& session, const PracticeFacts& facts);

/// What is wrong with the input and what to do, the worst first; empty when all is well.
[[nodiscard]] std::string input_warning(const InputState& input, const std::string& trouble, bool can_change = true);

/// "right 12  wrong 3  unheard 1"
[[nodiscard]] std::string counts_words(const PracticeCounts& counts);

}  // namespace gripline

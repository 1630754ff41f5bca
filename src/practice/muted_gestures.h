// Two or three muted strums in a row, with a pause before and after: how a player says something with both hands on the guitar. Whatever might be playing is none.
#pragma once

#include <optional>
#include <vector>

#include "dsp/muted_strum.h"

namespace gripline {

/// Judgement, 2026-11: what is easily done on purpose and hardly by accident.
struct GestureConfig {
    double shortest_gap_s = 0.2;    ///< from one muted strum to the next
    double longest_gap_s = 0.9;
    double uneven = 1.6;            ///< the longer of two gaps against the shorter: hands that mean it keep time
    double pause_s = 0.5;           ///< without a strum before the first
    double wait_gaps = 1.6;         ///< after the last nothing more comes for so many gaps, longest_gap_s at most
    double levels_apart_db = 15.0;  ///< between two
    double shapes_apart_db = 12.0;  ///< between two, a band on average: the same hand on the same strings
};

/// No clock of its own: strums and time come in as stream time.
class MutedGestures {
public:
    explicit MutedGestures(const GestureConfig& config = {}) : config_(config) {}

    /// A muted strum was heard, or another burst: the latter is none of a gesture, and whatever was begun is none then.
    void muted(const dsp::MutedStrum& strum);
    /// A strum was heard that was not muted: whatever was begun is no gesture.
    void strum(double at_s);
    /// Time goes on; everything that began before `decided_s` has been told. The number of muted strums, 2 or 3, once a gesture is over.
    [[nodiscard]] std::optional<int> pass(double decided_s);
    /// A strum that began at `at_s` is one of the muted ones in hand, so that it is not known yet whether it was meant as an answer.
    [[nodiscard]] bool holds(double at_s) const;
    /// Something was begun that may become a gesture.
    [[nodiscard]] bool begun() const { return !row_.empty(); }
    /// Forgets all: another input, another page.
    void forget();

private:
    void other(double at_s);
    [[nodiscard]] bool follows(const dsp::MutedStrum& strum) const;
    [[nodiscard]] double over_at_s() const;

    GestureConfig config_;
    std::vector<dsp::MutedStrum> row_;
    bool spoilt_ = false;           // what is in hand is no gesture, whatever comes
    double last_strum_s_ = -1e9;    // muted or not, before what is in hand
};

/// Two instants, of the strum as the judge has it and as the muted strum has it, are one.
inline constexpr double kSameStart_s = 0.06;  // the slowest strum

}  // namespace gripline

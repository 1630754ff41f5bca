// The order of a walk in time: count-ins, choruses and rests one after another, each with its own tempo. Times are seconds of the tool's music.
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "practice/walk_score.h"

namespace gripline {

enum class PassageKind { count_in, chorus, rest };

struct Passage {
    PassageKind kind = PassageKind::chorus;
    double tempo_bpm = 120.0;
    int counts = 0;          ///< its length, at least one
    std::vector<double> places{};  ///< when each count begins, and the end, in counts of the tempo (count_places); empty: a count of the tempo each
    int chorus = 0;          ///< choruses are numbered from 1; count-ins and rests have the number of the one that follows
    BarRange bars{};         ///< choruses; of a count-in or rest the first is the bar whose counts it has
    bool tool_plays = false; ///< choruses: the tool sounds the line
    bool judged = false;     ///< choruses: the player is listened to
    double start_s = 0.0;    ///< set by add()
    [[nodiscard]] double count_s() const noexcept { return 60.0 / tempo_bpm; }
    /// When a count begins, 0 to counts.
    [[nodiscard]] double at_s(int count) const noexcept { return start_s + (places.empty() ? count : places[static_cast<std::size_t>(count)]) * count_s(); }
    [[nodiscard]] double end_s() const noexcept { return at_s(counts); }
};

class WalkSchedule {
public:
    /// Adds at the end. Returns its index.
    std::size_t add(Passage passage);
    /// Everything that begins at at_s or later is left out; so the walk can be ended or changed before it gets there.
    void drop_from(double at_s);
    [[nodiscard]] const std::vector<Passage>& passages() const noexcept { return passages_; }
    [[nodiscard]] double end_s() const noexcept { return passages_.empty() ? 0.0 : passages_.back().end_s(); }

    struct Place {
        std::size_t passage = 0;
        int count = 0;       ///< from 0
        double share = 0.0;  ///< of that count gone by, 0 to 1
    };
    /// Nothing before the first passage and after the last.
    [[nodiscard]] std::optional<Place> place(double at_s) const noexcept;

private:
    std::vector<Passage> passages_;
};

}  // namespace gripline

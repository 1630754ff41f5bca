// What to ask next, and why.
#pragma once

#include <cstdint>
#include <deque>
#include <optional>
#include <random>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

#include "practice/learner.h"

namespace gripline {

/// Why a skill is asked.
enum class AskReason { fresh, missed, weak, due, check };
/// "new", "missed", "weak", "due", "check".
[[nodiscard]] std::string_view word(AskReason reason) noexcept;

/// A skill is called weak from so many answers on (and only while the model was this sure, at the last of them, that fewer than this share would be right: what
/// time has done since makes nothing stronger, but the doubt larger).
inline constexpr long kLeastAnswersToCallWeak = 3;
inline constexpr double kWeakRecall = 0.6, kWeakSurety = 0.9;
[[nodiscard]] bool called_weak(const LearnerModel& model, std::size_t number);

struct ScheduleConfig {
    double target = 0.9;     ///< recall that practice aims at, 0 to 1
    int most_new = 6;        ///< so many grips at once that were asked but have not been right yet
    int apart = 3;           ///< a skill comes back after so many others at the earliest, where so many need it; with fewer after one
    double needs_it = 0.25;  ///< who surely (from this on, 0 to 1) stands below the target, or is new, needs it
    double new_share = 0.96; ///< of the askings, while there are new skills and room for them; the rest goes to what was missed
    double waiting = 0.05;   ///< each pass of the pool that a skill has waited weighs as so much doubt; measured: 0.02 to 1.2 tried, tests/bench/learner_bench.cpp
    std::uint32_t seed = 1;  ///< decides between equals
};

/// What is asked, and why, in plain words.
struct Chosen {
    std::size_t skill = 0;  ///< LearnerModel::number
    AskReason reason = AskReason::check;
    std::string why;
};

/// New skills come in while no more than `most_new` are in hand, with some that were missed lately among them; then whatever is most surely below the target or has
/// waited longest: as in the search for hidden things, each look goes where it most likely finds one (Blackwell's rule in Matula 1964; Black 1965). Others go between
/// two askings of a skill, but none that do not need it: those would cost more attempts than spacing gives back. What is due is so by the model's
/// forgetting. Not for several threads.
class Scheduler {
public:
    /// `pool`: numbers of the skills that may be asked, without repeats. `model` must outlive the scheduler.
    Scheduler(const LearnerModel& model, std::vector<std::size_t> pool, const ScheduleConfig& config = {});

    /// The next skill, never the one before unless the pool holds nothing else. Nothing when the pool is empty. It counts as asked.
    std::optional<Chosen> next(std::int64_t at_ms);

private:
    struct Best;
    [[nodiscard]] bool too_soon(std::size_t number, int apart) const;
    [[nodiscard]] int apart(std::int64_t at_ms) const;
    [[nodiscard]] std::string why(const Chosen& chosen, std::int64_t at_ms) const;

    const LearnerModel& model_;
    std::vector<std::size_t> pool_;
    ScheduleConfig config_;
    std::deque<std::size_t> lately_;  // the last first
    std::int64_t turn_ = 0;
    std::unordered_map<std::size_t, std::int64_t> last_turn_;
    double new_owed_ = 0.0;
    std::minstd_rand random_;
};

}  // namespace gripline

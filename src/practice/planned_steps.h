// A practice whose steps the learner model chooses: the steps that may be asked, and which comes next and why. No clock, no file.
#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <random>
#include <span>
#include <string>
#include <vector>

#include "practice/course.h"
#include "practice/what_next.h"

namespace gripline {

/// Every step that the pins allow: four families and twelve keys on the course's stage and string set, chords, passing chords and the approaches
/// into the chords from below and above (on shells, drop 2 and drop 3). asking: how each is asked. An error when the pins leave nothing.
[[nodiscard]] Result<Exercise> make_pool(const Course& course, const Neck& neck, double a4_hz, const Pins& pins, Asking asking);

/// A place in the pool's steps, and why it is asked, in one line.
struct PlannedStep {
    std::size_t step = 0;
    std::string why;
};

/// Not for several threads.
class PlannedSteps {
public:
    /// totals: of all days; empty for who starts. A step whose PracticeStep::given stands right after it in the pool (a joint) is followed by that one always,
    /// which is never asked alone.
    PlannedSteps(std::span<const SkillTally> totals, const Exercise& pool, const ScheduleConfig& config = {});

    /// Never the grip before (also under another name), unless there is no other. Nothing when the pool is empty.
    [[nodiscard]] std::optional<PlannedStep> next(std::int64_t at_ms);
    /// An attempt was judged. Only first tries without help teach; the others are left out.
    void answered(const Attempt& attempt, std::int64_t at_ms);

private:
    WhatNext what_next_;
    std::map<Skill, std::vector<std::size_t>> steps_of_;
    std::vector<Grip> grips_;  // of the pool's steps
    std::vector<bool> follows_;  // of each: it comes after the one before it, and only then
    std::optional<std::size_t> last_;
    std::minstd_rand random_;
};

}  // namespace gripline

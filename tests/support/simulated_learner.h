// Learners that practice can be tried on: published models of memory that the scheduler's own model is not.
#pragma once

#include <cstdint>
#include <memory>
#include <random>
#include <vector>

namespace gripline::test {

/// Knows, forgets and learns cells 0 to cells() - 1.
class SimulatedLearner {
public:
    virtual ~SimulatedLearner() = default;
    [[nodiscard]] virtual std::size_t cells() const = 0;
    /// The true chance, 0 to 1, that the cell would be answered right now.
    [[nodiscard]] virtual double recall(std::size_t cell, double now_s) const = 0;
    /// Answers, sees what was right, and learns. Time must not fall; a night or more between two answers is one day's end.
    virtual bool answer(std::size_t cell, double now_s) = 0;
};

/// What a learner starts with: the 96 cells are 4 qualities x 2 sides x 12 keys; cell = (quality * 2 + side) * 12 + key.
struct StartingPoint {
    std::vector<double> recall;         ///< of each cell, before the first answer
    std::vector<std::size_t> planted;   ///< the weak cells, recall 0 to 0.02
    bool others_known = false;          ///< all-or-none learners know every cell that is not planted
    double attempt_s = 10.0;            ///< between two askings
    int attempts_a_day = 60;
    std::vector<int> days_off;          ///< between practice days, 1 to 4, over and over
};
inline constexpr std::size_t kCells = 96;
/// `least_other`: the lowest recall that a cell which is not planted may start with; from 0.8 on these count as known.
[[nodiscard]] StartingPoint draw_starting_point(std::mt19937& random, double least_other);

/// Activation: each practice leaves a trace that fades as a power of time, faster when the memory was strong at that moment
/// (Pavlik & Anderson 2005, Cognitive Science 29; its c, h, s, tau; the rest drawn around its values).
[[nodiscard]] std::unique_ptr<SimulatedLearner> activation_learner(const StartingPoint& start, std::mt19937& random);
/// Known or not, all or none (Corbett & Anderson 1995), with rates of its own for each learner and cell (Yudelson, Koedinger & Gordon 2013) and
/// forgetting between days (Qiu, Qi, Lu, Pardos & Heffernan 2011).
[[nodiscard]] std::unique_ptr<SimulatedLearner> tracing_learner(const StartingPoint& start, std::mt19937& random);

}  // namespace gripline::test

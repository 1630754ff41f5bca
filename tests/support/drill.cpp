#include "support/drill.h"

#include <algorithm>
#include <deque>
#include <numeric>

namespace gripline::test {

namespace {

constexpr double kFirst_s = 20000.0 * 86400.0;  // any day: 2024-10-04
constexpr double kDay_s = 86400.0;

class Chooser {
public:
    virtual ~Chooser() = default;
    virtual std::size_t next(std::int64_t at_ms, const SimulatedLearner& learner, double now_s) = 0;
    virtual void answered(std::size_t, bool, std::int64_t) {}
    [[nodiscard]] virtual double believed(std::size_t, std::int64_t) const { return 0.5; }
};

class RandomChooser final : public Chooser {
public:
    explicit RandomChooser(std::uint32_t seed) : random_(seed) {}
    std::size_t next(std::int64_t, const SimulatedLearner&, double) override {
        std::size_t cell = last_;
        while (cell == last_) cell = std::uniform_int_distribution<std::size_t>(0, kCells - 1)(random_);
        return last_ = cell;
    }

private:
    std::mt19937 random_;
    std::size_t last_ = kCells;
};

/// The cell with the lowest worth.
template <class Worth>
std::size_t lowest(std::size_t last, std::mt19937& random, Worth worth) {
    double least = 2.0;
    int equals = 0;
    std::size_t out = 0;
    for (std::size_t cell = 0; cell < kCells; ++cell) {
        const double value = cell == last ? 3.0 : worth(cell);
        if (value > least) continue;
        equals = value < least ? 1 : equals + 1;
        least = value;
        if (equals == 1 || std::uniform_int_distribution<int>(1, equals)(random) == 1) out = cell;
    }
    return out;
}

class WorstChooser final : public Chooser {
public:
    WorstChooser(std::uint32_t seed, std::size_t window) : random_(seed), window_(window), answers_(kCells) {}
    std::size_t next(std::int64_t, const SimulatedLearner&, double) override {
        return last_ = lowest(last_, random_, [this](std::size_t cell) {
            const auto& answers = answers_[cell];
            return (1.0 + static_cast<double>(std::count(answers.begin(), answers.end(), true))) / (2.0 + static_cast<double>(answers.size()));
        });
    }
    void answered(std::size_t cell, bool right, std::int64_t) override {
        answers_[cell].push_back(right);
        if (answers_[cell].size() > window_) answers_[cell].pop_front();
    }

private:
    std::mt19937 random_;
    std::size_t window_, last_ = kCells;
    std::vector<std::deque<bool>> answers_;
};

class ToldChooser final : public Chooser {
public:
    explicit ToldChooser(std::uint32_t seed) : random_(seed) {}
    std::size_t next(std::int64_t, const SimulatedLearner& learner, double now_s) override {
        return last_ = lowest(last_, random_, [&](std::size_t cell) { return learner.recall(cell, now_s); });
    }

private:
    std::mt19937 random_;
    std::size_t last_ = kCells;
};

class SchedulerChooser final : public Chooser {
public:
    SchedulerChooser(std::uint32_t seed, const DrillSetup& setup) : model_(setup.learner), scheduler_(model_, all(model_), seeded(setup.schedule, seed)) {}
    std::size_t next(std::int64_t at_ms, const SimulatedLearner&, double) override { return scheduler_.next(at_ms)->skill; }
    void answered(std::size_t cell, bool right, std::int64_t at_ms) override { model_.answer(cell, right, at_ms); }
    double believed(std::size_t cell, std::int64_t at_ms) const override { return model_.belief(cell, at_ms).recall(); }

private:
    static ScheduleConfig seeded(ScheduleConfig config, std::uint32_t seed) {
        config.seed = seed;
        return config;
    }
    static std::vector<std::size_t> all(LearnerModel& model) {
        std::vector<std::size_t> out;
        for (std::size_t cell = 0; cell < kCells; ++cell) out.push_back(model.number(skill_of_cell(cell)));
        return out;
    }
    LearnerModel model_;
    Scheduler scheduler_;
};

std::unique_ptr<Chooser> chooser(Rule rule, std::uint32_t seed, const DrillSetup& setup) {
    switch (rule) {
        case Rule::scheduler: return std::make_unique<SchedulerChooser>(seed, setup);
        case Rule::random: return std::make_unique<RandomChooser>(seed + 77);
        case Rule::worst: return std::make_unique<WorstChooser>(seed + 77, kMostAttempts);
        case Rule::worst_of_five: return std::make_unique<WorstChooser>(seed + 77, 5);
        case Rule::told: return std::make_unique<ToldChooser>(seed + 77);
    }
    return nullptr;
}

/// What has been asked so far.
struct Asked {
    std::vector<int> times = std::vector<int>(kCells), right = std::vector<int>(kCells);
    [[nodiscard]] int in_hand() const {
        int out = 0;
        for (std::size_t cell = 0; cell < kCells; ++cell) out += times[cell] > 0 && right[cell] == 0;
        return out;
    }
};

}  // namespace

std::string_view word(Rule rule) noexcept {
    constexpr std::string_view kWords[] = {"scheduler", "uniform random", "always the worst", "worst of last five", "told the truth"};
    return kWords[static_cast<std::size_t>(rule)];
}

Skill skill_of_cell(std::size_t cell) {
    const char* const qualities[] = {"7", "6", "m6", "m7b5"};
    Skill out;
    out.quality = qualities[cell / 24];
    out.role = Sounds::approach;
    out.from = cell / 12 % 2 == 0 ? From::below : From::above;
    out.key = PitchClass(static_cast<int>(cell % 12));
    return out;
}

DrillOutcome drill(std::uint32_t seed, Rule rule, const DrillSetup& setup) {
    std::mt19937 random(seed);
    const StartingPoint start = draw_starting_point(random, setup.least_other);
    const auto learner = seed % 2 == 0 ? activation_learner(start, random) : tracing_learner(start, random);
    const auto chooses = chooser(rule, seed, setup);
    DrillOutcome out;
    Asked asked;
    double day_s = 0.0, now_s = 0.0;
    std::size_t laggard = 0, days = 0;
    for (int attempt = 0; attempt < kMostAttempts; ++attempt) {
        if (attempt > 0 && attempt % start.attempts_a_day == 0) {
            day_s += kDay_s * start.days_off[days++ % start.days_off.size()];
            now_s = day_s;
        } else {
            now_s += start.attempt_s;
        }
        const auto at_ms = static_cast<std::int64_t>(1000.0 * (kFirst_s + now_s));
        const std::size_t cell = chooses->next(at_ms, *learner, now_s);
        const double said = chooses->believed(cell, at_ms);
        if (!out.reached) ++(learner->recall(cell, now_s) < kGoal ? out.needed : asked.times[cell] == 0 ? out.first_looks : out.to_spare);
        const bool right = learner->answer(cell, now_s);
        Believed& tenth = out.believed[std::min<std::size_t>(9, static_cast<std::size_t>(10.0 * said))];
        ++tenth.answers;
        tenth.right += right ? 1 : 0;
        tenth.said += said;
        chooses->answered(cell, right, at_ms);
        ++asked.times[cell];
        asked.right[cell] += right ? 1 : 0;
        out.most_in_hand = std::max(out.most_in_hand, asked.in_hand());
        if (attempt + 1 == kFindWithin) {
            for (const std::size_t each : start.planted) out.found += asked.times[each] >= kFoundAfter;
            out.singled_out = static_cast<int>(std::count_if(asked.times.begin(), asked.times.end(), [](int times) { return times >= kFoundAfter; }));
            if (setup.find_only) return out;
        }
        for (std::size_t each = 0; !out.reached && each < kCells; ++each) {
            const std::size_t at = (laggard + each) % kCells;
            if (learner->recall(at, now_s) < kGoal) {
                laggard = at;
                break;
            }
            if (each + 1 == kCells) {
                out.reached = true;
                out.attempts = attempt + 1;
            }
        }
        if (out.reached && attempt + 1 >= kFindWithin) return out;
    }
    return out;
}

}  // namespace gripline::test

// What to do today: ten minutes in up to four pieces.
#include <algorithm>
#include <map>
#include <set>
#include <tuple>

#include "practice/progress.h"
#include "practice/what_next.h"

namespace gripline {

namespace {

constexpr std::int64_t kDay_ms = 86'400'000;
constexpr double kDueBelow = 0.9;        // the recall that practice aims at, as in ScheduleConfig
constexpr int kMinutes = 10, kWarmUp = 1;

/// A quality and a column in one key; or, where no key has enough answers to be judged, in all keys.
struct Piece {
    ProgressPart part;
    ProgressCell cell;
};

std::vector<Piece> pieces_of(const ProgressSource& source) {
    std::map<std::tuple<std::string, ProgressColumn, int>, ProgressCell> cells;
    for (const SkillTally& each : source.totals) {
        const RateCount count{static_cast<long>(each.tally.first_right + each.tally.first_wrong), static_cast<long>(each.tally.first_right)};
        for (const int key : {each.skill.key.value(), -1}) {
            ProgressCell& cell = cells[{each.skill.quality, column_of(each.skill), key}];
            cell.count += count;
            cell.last_ms = std::max(cell.last_ms, each.tally.last_ms);
        }
    }
    std::vector<Piece> out;
    for (const auto& [place, cell] : cells) {
        const auto& [quality, column, key] = place;
        out.push_back({{quality, column, key >= 0 ? std::optional(PitchClass(key)) : std::nullopt}, cell});
    }
    return out;
}

bool inside(const ProgressPart& small, const ProgressPart& large) {
    return (!large.quality || large.quality == small.quality) && (!large.column || large.column == small.column) && (!large.key || large.key == small.key);
}

class Planner {
public:
    explicit Planner(const ProgressSource& source) : source_(source), pieces_(pieces_of(source)), learner_(learner_from(source.totals)) {}

    std::vector<PlanItem> plan() {
        if (pieces_.empty()) return {};
        warm_up();
        weak();
        weak();
        due();
        fresh();
        if (out_.empty() || left_ > 0) mixed();
        return std::move(out_);
    }

private:
    void take(const ProgressPart& part, int minutes, const std::string& why) {
        minutes = std::min(minutes, left_);
        if (minutes <= 0) return;
        out_.push_back({minutes, part, std::to_string(minutes) + " min: " + part.text() + ": " + why});
        left_ -= minutes;
    }
    bool taken(const ProgressPart& part) const {
        return std::any_of(out_.begin(), out_.end(), [&](const PlanItem& item) { return inside(part, item.part) || inside(item.part, part); });
    }
    void warm_up() {
        const Piece* best = nullptr;
        for (const Piece& piece : pieces_)
            if (standing(piece.cell.count) == Standing::strong && (best == nullptr || piece.cell.count.interval().low > best->cell.count.interval().low)) best = &piece;
        if (best != nullptr) take(best->part, kWarmUp, "to warm up, sure at " + rate_words(best->cell.count));
    }
    /// The weakest that may be called so.
    void weak() {
        const Piece* worst = nullptr;
        for (const Piece& piece : pieces_) {
            if (standing(piece.cell.count) != Standing::weak || taken(piece.part)) continue;
            if (worst == nullptr || piece.cell.count.interval().high < worst->cell.count.interval().high) worst = &piece;
        }
        if (worst != nullptr) take(worst->part, 3, "weak, " + rate_words(worst->cell.count));
    }
    /// The chance that a step of the part is right by today, the mean over its skills.
    double recall(const ProgressPart& part) const {
        double sum = 0.0;
        long skills = 0;
        for (std::size_t number = 0; number < learner_.skills(); ++number) {
            if (!part.holds(learner_.skill(number))) continue;
            sum += learner_.belief(number, source_.today * kDay_ms + kDay_ms / 2).recall();
            ++skills;
        }
        return skills > 0 ? sum / static_cast<double>(skills) : 1.0;
    }
    /// What was not asked since yesterday or longer, and is by now the least likely to be right; what is weak anyway is drilled as such.
    void due() {
        const Piece* least = nullptr;
        double likely = kDueBelow;
        for (const Piece& piece : pieces_) {
            if (!piece.part.key || taken(piece.part) || days_since(piece) < 1 || standing(piece.cell.count) == Standing::weak) continue;
            if (const double now = recall(piece.part); now < likely) {
                likely = now;
                least = &piece;
            }
        }
        if (least == nullptr) return;
        const std::int64_t days = days_since(*least);
        take(least->part, 2, "due, not asked for " + (days == 1 ? "a day" : std::to_string(days) + " days") + ", likely faded");
    }
    std::int64_t days_since(const Piece& piece) const { return piece.cell.last_ms > 0 ? source_.today - piece.cell.last_ms / kDay_ms : 0; }
    /// A key that was never asked, of what was asked most.
    void fresh() {
        const Progress all = count_progress(source_, {});
        for (const ProgressRow& row : all.rows) {
            for (std::size_t column = 0; column < kProgressColumns; ++column) {
                if (row.cells[column].count.attempts < kLeastAttemptsToJudge) continue;
                for (int step = 0; step < 12; ++step) {
                    const PitchClass key(step * 5);  // round the circle of fourths
                    const ProgressPart part{row.quality, static_cast<ProgressColumn>(column), key};
                    if (std::any_of(pieces_.begin(), pieces_.end(), [&](const Piece& piece) { return piece.part.key == key && inside(piece.part, part); })) continue;
                    take(part, 2, "new, this key was not asked yet");
                    return;
                }
            }
        }
    }
    void mixed() { take({}, left_, "all that was asked so far, shuffled"); }

    const ProgressSource& source_;
    std::vector<Piece> pieces_;
    LearnerModel learner_;
    std::vector<PlanItem> out_;
    int left_ = kMinutes;
};

}  // namespace

std::vector<PlanItem> plan_today(const ProgressSource& source) { return Planner(source).plan(); }

}  // namespace gripline

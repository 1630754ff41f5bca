#include "practice/warm_up.h"

#include <algorithm>
#include <cmath>
#include <map>

#include "practice/statistics_rate.h"

namespace gripline {
namespace {

constexpr long kLeastKnown = 2;     // first tries, so that one lucky strum is none
constexpr int kMiddleFret = 5;      // where stretches are small and no string is high or stiff (judgement)
constexpr double kPerFretAway = 0.25;

/// Frets between the lowest and the highest finger, and a little for a place far from the middle of the neck.
double strain(const Grip& grip) {
    int low = kMaxFret, high = 0;
    for (int string = 1; string <= grip.strings(); ++string) {
        const auto fret = grip.fret(StringNumber(string));
        if (!fret || fret->number() == 0) continue;
        low = std::min(low, fret->number());
        high = std::max(high, fret->number());
    }
    return high == 0 ? 0.0 : high - low + kPerFretAway * std::abs(low - kMiddleFret);
}

/// The same chord, however it was asked.
Skill plain(Skill skill) {
    skill.asking = Asking::shown;
    return skill;
}

}  // namespace

Exercise make_warm_up(const Exercise& pool, std::span<const SkillTally> totals, int steps) {
    std::map<Skill, RateCount> answers;
    for (const SkillTally& each : totals)
        if (each.skill.asking != Asking::name_it)
            answers[plain(each.skill)] += RateCount{static_cast<long>(each.tally.first_right + each.tally.first_wrong), static_cast<long>(each.tally.first_right)};
    struct Choice {
        const PracticeStep* step;
        bool known;
        double strain;
    };
    std::vector<Choice> choices;
    for (const PracticeStep& step : pool.steps) {
        if (step.asked.place != Sounds::chord) continue;
        const auto found = answers.find(plain(skill_of(step.asked)));
        const bool known = found != answers.end() && found->second.attempts >= kLeastKnown && found->second.rate() >= kStandingBorder;
        choices.push_back({&step, known, strain(step.grip)});
    }
    std::stable_sort(choices.begin(), choices.end(), [](const Choice& a, const Choice& b) { return a.known != b.known ? a.known : a.strain < b.strain; });
    Exercise out;
    out.family = "Warm-up";
    out.stage = pool.stage;
    out.string_set = pool.string_set;
    for (const Choice& choice : choices) {
        if (static_cast<int>(out.steps.size()) >= steps) break;
        const auto same = [&](const PracticeStep& step) { return step.grip == choice.step->grip || step.chord == choice.step->chord; };
        if (std::any_of(out.steps.begin(), out.steps.end(), same)) continue;
        out.steps.push_back(*choice.step);
        out.steps.back().asked.asking = Asking::shown;
        out.steps.back().asked.motion.reset();
        out.steps.back().given.reset();
    }
    return out;
}

}  // namespace gripline

#include "practice/session_summary.h"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <map>
#include <utility>

#include "practice/skill.h"

namespace gripline {
namespace {

std::string plural(long count, const std::string& thing) { return std::to_string(count) + " " + thing + (count == 1 ? "" : "s"); }

/// "approach from above into 7 in Bb", "chord 6 in C".
std::string skill_words(const Skill& skill, NoteName root) {
    const std::string quality = skill.quality.empty() ? "major" : skill.quality;
    if (skill.from) return std::string("approaches from ") + (*skill.from == From::below ? "below" : "above") + " into " + quality + " in " + root.text();
    return std::string(skill.role == Sounds::passing ? "passing chords of " : "chords of ") + quality + " in " + root.text();
}

}  // namespace

void SessionSummary::add(const Attempt& attempt) { attempts_.push_back(attempt); }

void SessionSummary::add_warm_up(const Attempt& attempt) { warmed_up_ += attempt.verdict == VerdictKind::right ? 1 : 0; }

std::array<std::string, 5> SessionSummary::lines(double played_s) const {
    long first = 0, first_right = 0, right = 0, wrong = 0, unheard = 0;
    std::map<Skill, std::pair<long, NoteName>> missed;
    std::map<std::pair<int, int>, long> faults;  // string and frets
    std::vector<double> times_s;
    for (std::size_t i = 0; i < attempts_.size(); ++i) {
        const Attempt& attempt = attempts_[i];
        const bool is_right = attempt.verdict == VerdictKind::right;
        const bool of_pair = attempt.asking == Asking::into_target;  // approach, then target: one step, right when both are
        const bool step_right = is_right && (!of_pair || (i + 1 < attempts_.size() && attempts_[i + 1].verdict == VerdictKind::right));
        if (attempt.verdict == VerdictKind::unheard) {
            ++unheard;
            continue;
        }
        ++(is_right ? right : wrong);
        if (attempt.try_number == 1 && (!of_pair || attempt.place == Sounds::approach)) {
            ++first;
            if (step_right && !attempt.helped) ++first_right;
        }
        if (is_right && attempt.answer_s) times_s.push_back(*attempt.answer_s);
        if (is_right) continue;
        auto& entry = missed[skill_of(attempt)];
        ++entry.first;
        entry.second = attempt.root;
        for (const Fault& fault : attempt.faults) {
            if (fault.kind != FaultKind::wrong_note || !fault.string || fault.probability < 0.5) continue;
            ++faults[{fault.string->number(), fault.frets}];
            break;
        }
    }
    std::array<std::string, 5> lines;
    lines[0] = plural(std::lround(played_s / 60.0), "minute") + ", " + plural(first, "step") + (warmed_up_ > 0 ? " after " + std::to_string(warmed_up_) + " to warm up" : "") + "; right at the first try: " + std::to_string(first_right) + " of " + std::to_string(first) + ".";
    lines[1] = "All answers: right " + std::to_string(right) + ", wrong " + std::to_string(wrong) + ", unheard " + std::to_string(unheard) + ".";
    lines[2] = "Nothing was missed.";
    const auto by_count = [](const auto& a, const auto& b) { return a.second.first < b.second.first; };
    if (!missed.empty()) {
        const auto most = std::max_element(missed.begin(), missed.end(), by_count);
        lines[2] = "Missed most: " + skill_words(most->first, most->second.second) + ", " + plural(most->second.first, "time") + ".";
    }
    lines[3] = "No string stood out with wrong notes.";
    if (!faults.empty()) {
        const auto most = std::max_element(faults.begin(), faults.end(), [](const auto& a, const auto& b) { return a.second < b.second; });
        const int frets = most->first.second;
        lines[3] = "Most frequent wrong note: string " + std::to_string(most->first.first) + ", " + plural(std::abs(frets), "fret") + (frets > 0 ? " sharp, " : " flat, ") + plural(most->second, "time") + ".";
    }
    lines[4] = "Rest your hands now and then; at pain stop. A teacher or a clinician knows better than a program.";
    if (!times_s.empty()) {
        std::nth_element(times_s.begin(), times_s.begin() + static_cast<std::ptrdiff_t>(times_s.size() / 2), times_s.end());
        char text[32];
        std::snprintf(text, sizeof text, "%.1f", times_s[times_s.size() / 2]);
        lines[4] = std::string("Half of the right answers came within ") + text + " s. Rest your hands; at pain stop (a teacher or a clinician knows best).";
    }
    return lines;
}

}  // namespace gripline

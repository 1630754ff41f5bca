#include "practice/into_target.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "practice/practice_attempts.h"
#include "practice/tempo_steps.h"

namespace gripline {
namespace {

WalkBeat beat_of(const PracticeStep& step, double at_s) {
    WalkBeat beat;
    beat.chord = step.chord;
    beat.at_s = at_s;
    beat.target = step.target();
    beat.asked = step.asked;
    return beat;
}

std::vector<WalkBeat> beats_of(const PracticeStep& approach, double count_s, double first_count_s) {
    std::vector<WalkBeat> beats{beat_of(approach, first_count_s + kApproachCount * count_s)};
    if (approach.given) beats.push_back(beat_of(*approach.given, first_count_s + kTargetCount * count_s));
    return beats;
}

/// The target's step among those of its scale.
const PracticeStep* slid_from(const std::vector<PracticeStep>& targets, const Grip& approach, int frets) {
    const auto grip = approach.slid(frets);
    const auto found = !grip ? targets.end() : std::find_if(targets.begin(), targets.end(), [&](const PracticeStep& each) { return each.asked.place == Sounds::chord && each.grip == *grip; });
    return found == targets.end() ? nullptr : &*found;
}

/// "12 ms early", "8 ms late", "on the beat".
std::string time_words(const BeatResult& beat) {
    const long ms = std::lround(beat.off_ms.value_or(0.0));
    return ms == 0 ? "on the beat" : std::to_string(std::abs(ms)) + (ms < 0 ? " ms early" : " ms late");
}

bool out_of_time(const BeatResult& beat, double tempo_bpm) { return beat.off_ms && std::abs(*beat.off_ms) > in_time_ms(tempo_bpm); }

/// One strum of the pair, its name before it.
std::vector<std::string> strum_words(const std::string& name, const BeatResult& beat, const PracticeStep& step, double tempo_bpm) {
    if (!beat.any_strum) return {name + ": no strum heard near its count."};
    if (beat.verdict.kind == VerdictKind::unheard) return {name + ": something was heard, but no grip."};
    VerdictWords words = verdict_words(beat.verdict, step);
    const std::string when = out_of_time(beat, tempo_bpm) ? "not in time, " + time_words(beat) : time_words(beat);
    if (beat.verdict.kind == VerdictKind::right) return {name + ": right notes, " + when + "."};
    std::vector<std::string> out{name + ", " + when + ": " + words.headline};
    for (std::string& each : words.details) out.push_back(std::move(each));
    return out;
}

}  // namespace

std::vector<PracticeStep> approaches_into(const Course& course, From from, const Neck& neck, double a4_hz) {
    std::vector<PracticeStep> out;
    if (course.stage == StageKind::scale) return out;
    const int frets = from == From::below ? -1 : 1;
    auto moved = make_exercise(root_moved(course, frets), neck, a4_hz);
    const auto targets = make_exercise(course, neck, a4_hz);
    if (!moved || !targets) return out;  // the neck holds none
    for (PracticeStep& step : moved->steps) {
        if (step.asked.place != Sounds::chord) continue;
        const PracticeStep* target = slid_from(targets->steps, step.grip, -frets);
        if (target == nullptr) continue;
        step.given = std::make_shared<const PracticeStep>(*target);
        step.asked.root = course.root;
        step.asked.place = Sounds::approach;
        step.asked.from = from;
        step.asked.bass_degree = degree_in_scale(course.root, course.family, step.notes().front().note.pitch_class());
        out.push_back(std::move(step));
    }
    return out;
}

Result<Exercise> make_into_target(const Course& course, const Neck& neck, double a4_hz) {
    if (course.stage == StageKind::scale) return Error{"a single note has no approach chord: choose drop 2, drop 3 or shell"};
    auto exercise = make_exercise(course, neck, a4_hz);
    if (!exercise) return exercise;
    exercise->steps.clear();
    for (const From from : {From::below, From::above})
        for (PracticeStep& step : approaches_into(course, from, neck, a4_hz)) exercise->steps.push_back(std::move(step));
    if (exercise->steps.empty()) return Error{"the neck holds no approach and its target there: choose another root or string set"};
    std::stable_sort(exercise->steps.begin(), exercise->steps.end(),
                     [](const PracticeStep& a, const PracticeStep& b) { return a.given->notes().front().note < b.given->notes().front().note; });
    return exercise;
}

Verdict verdict_in_time(const BeatResult& beat, double tempo_bpm) {
    Verdict verdict = beat.verdict;
    if (verdict.kind == VerdictKind::right && out_of_time(beat, tempo_bpm)) verdict.kind = VerdictKind::wrong;
    return verdict;
}

VerdictKind kind_of(const PairResult& pair) {
    const VerdictKind approach = verdict_in_time(pair.approach, pair.tempo_bpm).kind, target = verdict_in_time(pair.target, pair.tempo_bpm).kind;
    return approach == target ? approach : VerdictKind::wrong;
}

VerdictWords pair_words(const PairResult& pair, const PracticeStep& approach) {
    switch (kind_of(pair)) {
        case VerdictKind::right: return {"Right and in time: approach " + time_words(pair.approach) + ", target " + time_words(pair.target) + ".", {}};
        case VerdictKind::unheard:
            if (pair.approach.any_strum || pair.target.any_strum) return {"Something was heard, but no grip.", {"Strum all its strings at once, on the count."}};
            return {"No strum heard near the counts.", {"The approach comes on the last count of the second bar, the target on the next one."}};
        case VerdictKind::wrong: break;
    }
    const bool first = verdict_in_time(pair.approach, pair.tempo_bpm).kind != VerdictKind::right;
    auto approached = strum_words("Approach", pair.approach, approach, pair.tempo_bpm);
    auto landed = strum_words("Target", pair.target, *approach.given, pair.tempo_bpm);
    auto& worse = first ? approached : landed;
    auto& other = first ? landed : approached;
    VerdictWords words{worse.front(), {}};
    words.details.push_back(other.front());
    words.details.insert(words.details.end(), worse.begin() + 1, worse.end());
    words.details.insert(words.details.end(), other.begin() + 1, other.end());
    return words;
}

PairInTime::PairInTime(const PracticeStep& approach, double tempo_bpm, double first_count_s)
    : tempo_bpm_(tempo_bpm), first_count_s_(first_count_s), along_(beats_of(approach, 60.0 / tempo_bpm, first_count_s), 60.0 / tempo_bpm) {}

void PairInTime::lay(double first_count_s) {
    along_.shift(first_count_s - first_count_s_);
    first_count_s_ = first_count_s;
}

std::optional<PairResult> PairInTime::pass(double stream_s) {
    along_.pass(stream_s);
    while (auto beat = along_.next()) {
        if (!approach_) approach_ = std::move(beat);
        else return PairResult{*approach_, std::move(*beat), tempo_bpm_};
    }
    return std::nullopt;
}

int PairInTime::count_at(double stream_s) const noexcept { return static_cast<int>(std::floor((stream_s - first_count_s_) / count_s())); }

}  // namespace gripline

#include "practice/strum_alignment.h"

#include <algorithm>
#include <cmath>

namespace gripline {
namespace {

// Weights: the best of a dozen tried on 2026-11-25 (strum_alignment_test.cpp, one answer in twelve left out and one in six wrong: 31 of 3200 answers go astray).
constexpr double kBassShare = 0.3;
/// The right grip one or two frets off is still a sign that this target was meant.
constexpr double kShiftedShare = 0.6;
constexpr int kMostShift = 2;
constexpr double kTargetLeftOut = 0.2, kStrumLeftOut = 0.1;
constexpr double kLeastStretch = 0.97, kStretchStep = 0.0025;
constexpr int kStretches = 25;
/// Beats that are looked at to find candidates for the start, and candidates that are looked at whole.
constexpr std::size_t kFirstBeats = 16, kCandidates = 12;

/// The strum nearest to a time, at most half a count away.
const StrumSketch* nearest(const std::vector<StrumSketch>& strums, double at_s, double half_s) {
    const auto after = std::lower_bound(strums.begin(), strums.end(), at_s, [](const StrumSketch& strum, double time_s) { return strum.onset_s < time_s; });
    const StrumSketch* best = nullptr;
    for (auto each = after == strums.begin() ? after : after - 1; each != strums.end() && each <= after; ++each) {
        if (std::abs(each->onset_s - at_s) > half_s) continue;
        if (best == nullptr || std::abs(each->onset_s - at_s) < std::abs(best->onset_s - at_s)) best = &*each;
    }
    return best;
}

double in_time(const std::vector<AlignmentTarget>& targets, std::size_t beats, const std::vector<StrumSketch>& strums, const TimeAlignment& place, double half_s) {
    double sum = 0.0;
    for (std::size_t i = 0; i < beats; ++i) {
        const double at_s = place.start_s + targets[i].at_s * place.stretch;
        const StrumSketch* strum = nearest(strums, at_s, half_s);
        if (strum != nullptr) sum += likeness(*strum, targets[i]) * (1.0 - 0.5 * std::abs(strum->onset_s - at_s) / half_s);
    }
    return sum;
}

struct Candidate {
    TimeAlignment place;
    double score = 0.0;
};

/// The best few starts by their first beats: every strum may be the first beat, or one of the next seven when those before were left out.
std::vector<Candidate> candidates(const std::vector<AlignmentTarget>& targets, const std::vector<StrumSketch>& strums, double half_s) {
    std::vector<Candidate> out;
    const std::size_t beats = std::min(kFirstBeats, targets.size());
    for (const StrumSketch& strum : strums) {
        for (std::size_t first = 0; first < std::min<std::size_t>(8, targets.size()); ++first) {
            const TimeAlignment place{strum.onset_s - targets[first].at_s, 1.0};
            out.push_back({place, in_time(targets, beats, strums, place, half_s)});
        }
    }
    const std::size_t kept = std::min(kCandidates, out.size());
    std::partial_sort(out.begin(), out.begin() + static_cast<std::ptrdiff_t>(kept), out.end(), [](const Candidate& a, const Candidate& b) { return a.score > b.score; });
    out.resize(kept);
    return out;
}

/// The start moved by the median of how far its strums lie off.
void centre(TimeAlignment& place, const std::vector<AlignmentTarget>& targets, const std::vector<StrumSketch>& strums, double half_s) {
    std::vector<double> off_s;
    for (const AlignmentTarget& target : targets) {
        const double at_s = place.start_s + target.at_s * place.stretch;
        const StrumSketch* strum = nearest(strums, at_s, half_s);
        if (strum != nullptr && likeness(*strum, target) > 0.5) off_s.push_back(strum->onset_s - at_s);
    }
    if (off_s.empty()) return;
    std::nth_element(off_s.begin(), off_s.begin() + static_cast<std::ptrdiff_t>(off_s.size() / 2), off_s.end());
    place.start_s += off_s[off_s.size() / 2];
}

}  // namespace

AlignmentTarget alignment_target(const Target& target, double at_s) {
    AlignmentTarget out;
    out.at_s = at_s;
    if (!target.grip) return out;
    const auto notes = target.grip->notes(target.tuning, target.capo);
    for (const GripNote& note : notes) out.classes[static_cast<std::size_t>(note.note.pitch_class().value())] = true;
    const auto lowest = std::min_element(notes.begin(), notes.end(), [](const GripNote& a, const GripNote& b) { return a.note < b.note; });
    if (lowest != notes.end()) out.bass = lowest->note.pitch_class();
    return out;
}

namespace {

double likeness_shifted(const StrumSketch& sketch, const AlignmentTarget& target, int frets) noexcept {
    double inside = 0.0, covered = 0.0;
    int asked = 0;
    for (int i = 0; i < 12; ++i) {
        if (!target.classes[static_cast<std::size_t>(i)]) continue;
        ++asked;
        const float strength = sketch.strengths[static_cast<std::size_t>((i + frets + 12) % 12)];
        inside += static_cast<double>(strength);
        if (strength > 0.0F) covered += 1.0;
    }
    if (asked == 0) return 0.0;
    const double bass = sketch.bass && *sketch.bass == target.bass.up(frets) ? 1.0 : 0.0;
    return (1.0 - kBassShare) * 0.5 * (inside + covered / asked) + kBassShare * bass;
}

}  // namespace

double likeness(const StrumSketch& sketch, const AlignmentTarget& target) noexcept {
    double best = likeness_shifted(sketch, target, 0);
    for (int frets = -kMostShift; frets <= kMostShift; ++frets)
        if (frets != 0) best = std::max(best, kShiftedShare * likeness_shifted(sketch, target, frets));
    return best;
}

std::vector<std::optional<std::size_t>> align_in_order(const std::vector<AlignmentTarget>& targets, const std::vector<StrumSketch>& strums) {
    const std::size_t rows = targets.size() + 1, columns = strums.size() + 1;
    enum class Step : char { none, match, target_out, strum_out };
    std::vector<double> best(columns), before(columns);
    std::vector<Step> steps(rows * columns, Step::none);
    for (std::size_t j = 1; j < columns; ++j) {
        before[j] = before[j - 1];  // what comes before the first answer is tuning and talk, and costs nothing
        steps[j] = Step::strum_out;
    }
    for (std::size_t i = 1; i < rows; ++i) {
        best[0] = before[0] - kTargetLeftOut;
        steps[i * columns] = Step::target_out;
        for (std::size_t j = 1; j < columns; ++j) {
            const double alike = likeness(strums[j - 1], targets[i - 1]);
            const double match = before[j - 1] + alike * alike;  // squared: two halves of a likeness are not worth a whole one
            const double target_out = before[j] - kTargetLeftOut;
            const double strum_out = best[j - 1] - (i + 1 == rows ? 0.0 : kStrumLeftOut);  // nor what comes after the last
            best[j] = std::max({match, target_out, strum_out});
            steps[i * columns + j] = best[j] == match ? Step::match : best[j] == target_out ? Step::target_out : Step::strum_out;
        }
        std::swap(best, before);
    }
    std::vector<std::optional<std::size_t>> out(targets.size());
    for (std::size_t i = targets.size(), j = strums.size(); i > 0 || j > 0;) {
        const Step step = steps[i * columns + j];
        if (step == Step::match) out[i - 1] = j - 1;
        if (step == Step::match || step == Step::target_out) --i;
        if (step == Step::match || step == Step::strum_out) --j;
    }
    return out;
}

std::optional<TimeAlignment> align_in_time(const std::vector<AlignmentTarget>& targets, const std::vector<StrumSketch>& strums, double count_s) {
    if (targets.empty() || strums.empty()) return std::nullopt;
    const double half_s = count_s / 2.0;
    Candidate best;
    for (const Candidate& candidate : candidates(targets, strums, half_s)) {
        for (int i = 0; i < kStretches; ++i) {
            // Stretched about its start; 1 comes first, so that it wins where nothing speaks against it.
            const int step = i % 2 == 0 ? i / 2 : -(i + 1) / 2;
            TimeAlignment place{candidate.place.start_s, 1.0 + step * kStretchStep};
            if (place.stretch < kLeastStretch) continue;
            const double score = in_time(targets, targets.size(), strums, place, half_s);
            if (score > best.score) best = {place, score};
        }
    }
    if (best.score <= 0.0) return std::nullopt;
    centre(best.place, targets, strums, half_s);
    return best.place;
}

}  // namespace gripline

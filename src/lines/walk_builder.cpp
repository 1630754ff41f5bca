#include "lines/walk_builder.h"

#include <algorithm>

#include "lines/search.h"
#include "theory/chord_words.h"

namespace gripline {

namespace {

constexpr std::int64_t kFirstSurcharge = 50;  // hundredths: half a fret of hand travel, doubled until the line differs enough
constexpr int kDoublings = 8;                 // up to 64 frets a beat; a line that still doesn't differ has no alternative

std::string remark_for(Broken rule, const Candidate& candidate) {
    const std::string side = candidate.from == From::below ? "below" : "above", other = candidate.from == From::below ? "above" : "below";
    switch (rule) {
        case Broken::other_side: return "approached from " + side + ": the neck leaves no way from " + other;
        case Broken::other_quality: return "the approach is a slid copy: no dominant leads here by a semitone";
        case Broken::no_approach: return "no approach: the neck leaves none";
        case Broken::starts_on_passing: return "begins on the diminished chord: the neck leaves no other grip";
        case Broken::stands_still: return "the bass stands still: the chart and the neck leave no other way";
        case Broken::not_by_step: return "the bass leaves the scale's order: the neck leaves no step";
        case Broken::none: break;
    }
    return {};
}

/// A written bass that the chord does not begin over: what the composer asked for and does not get.
std::string slash_remark(const Run& run, const Candidate& candidate) {
    const auto& written = run.chord->symbol->bass;
    if (!written || PitchClass(candidate.bass) == written->pitch_class()) return {};
    const std::string begins = "begins over " + candidate.notes.front().name.text() + ", not over the " + written->text() + " behind its slash: ";
    if (run.slash) return begins + "the neck, a beat chosen by hand or a cost stands against it";
    return begins + played_chord(run.scale) + ", as which " + run.chord->text() + " is played, does not hold it";
}

void add_remark(std::string& remarks, const std::string& another) {
    if (!another.empty()) remarks += (remarks.empty() ? "" : "; ") + another;
}

void set_motion(std::vector<LineBeat>& beats) {
    for (std::size_t i = 1; i < beats.size(); ++i) {
        const auto now = beats[i].notes.front().midi(), before = beats[i - 1].notes.front().midi();
        beats[i].motion = (now > before) - (now < before);
    }
}

LineBeat beat_of(const Problem& problem, int slot, int chosen) {
    const Slot& at = problem.slot(slot);
    const Run& run = problem.plan.runs[static_cast<std::size_t>(at.run)];
    const Candidate& candidate = problem.candidate(slot, chosen);
    LineBeat out;
    out.bar = at.bar;
    out.beat = at.beat;
    out.written_bar = at.written_bar;
    out.chord = run.chord->text();
    out.scale = run.scale;
    out.grip = candidate.grip;
    out.notes = candidate.notes;
    out.role = candidate.sounds;
    out.sounds = candidate.chord;
    out.called = candidate.sounds == Sounds::chord ? text_on(*run.chord->symbol, run.chord->symbol->root) : candidate.called.empty() ? candidate.chord : candidate.called;
    if (candidate.sounds == Sounds::approach && !candidate.by_hand) out.from = candidate.from;
    out.locked = candidate.by_hand;
    return out;
}

Line line_of(const Problem& problem, const Path& path) {
    const Score scored = score(problem, path.chosen);
    Line line;
    line.hundredths = scored.hundredths;
    line.broken = scored.broken;
    line.joints = path.joints;
    for (int slot = 0; slot < problem.size(); ++slot) {
        const auto at = static_cast<std::size_t>(slot);
        LineBeat beat = beat_of(problem, slot, path.chosen[at]);
        beat.costs = scored.beats[at];
        beat.remark = remark_for(scored.rules[at], problem.candidate(slot, path.chosen[at]));
        if (problem.slot(slot).first) add_remark(beat.remark, slash_remark(problem.plan.runs[static_cast<std::size_t>(problem.slot(slot).run)], problem.candidate(slot, path.chosen[at])));
        if (!path.seconds.empty() && path.seconds[at].chosen >= 0) {
            beat.second = problem.candidate(slot, path.seconds[at].chosen).grip;
            beat.second_hundredths = path.seconds[at].hundredths;
        }
        if (problem.settings.landing && !problem.slot(slot).first && !problem.slot(slot).approach) continue;
        line.beats.push_back(std::move(beat));
    }
    set_motion(line.beats);
    for (LineBeat& beat : line.beats)
        if (beat.motion == 0 && beat.remark.empty()) beat.remark = "the bass stands still: the beat before or this one was chosen by hand, or steps between are left out";
    return line;
}

/// The share of the beats not locked that have another grip.
double difference(const Problem& problem, const std::vector<int>& a, const std::vector<int>& b) {
    int open = 0, other = 0;
    for (int slot = 0; slot < problem.size(); ++slot) {
        if (problem.at(slot).all.size() < 2) continue;
        ++open;
        const auto at = static_cast<std::size_t>(slot);
        other += problem.candidate(slot, a[at]).grip != problem.candidate(slot, b[at]).grip;
    }
    return open == 0 ? 0.0 : static_cast<double>(other) / open;
}

void charge(Surcharge& surcharge, const Problem& problem, const std::vector<int>& used, std::int64_t hundredths) {
    surcharge.resize(problem.choices.size());
    for (int slot = 0; slot < problem.size(); ++slot) {
        const auto at = static_cast<std::size_t>(slot);
        const auto& all = problem.at(slot).all;
        surcharge[at].resize(all.size(), 0);
        for (std::size_t i = 0; i < all.size(); ++i)
            if (all[i].grip == problem.candidate(slot, used[at]).grip) surcharge[at][i] += hundredths;
    }
}

/// A line that differs from all of `found`, or one without beats.
Path another(const Problem& problem, const std::vector<Path>& found, bool explain) {
    for (int doubling = 0; doubling < kDoublings; ++doubling) {
        Surcharge surcharge;
        for (const Path& path : found) charge(surcharge, problem, path.chosen, kFirstSurcharge << doubling);
        Path path = shortest_path(problem, surcharge, explain);
        if (std::all_of(found.begin(), found.end(), [&](const Path& old) { return difference(problem, old.chosen, path.chosen) >= kLeastDifference; })) return path;
    }
    return {};
}

}  // namespace

std::string_view word(Sounds sounds) noexcept {
    return sounds == Sounds::chord ? "chord" : sounds == Sounds::passing ? "passing" : "approach";
}
std::string_view word(From from) noexcept { return from == From::below ? "below" : "above"; }

Result<Line> build_line(const Chart& chart, const LineSettings& settings, bool explain) {
    auto lines = build_lines(chart, settings, 1, explain);
    if (!lines) return lines.error();
    return std::move(lines->front());
}

Result<std::vector<Line>> build_lines(const Chart& chart, const LineSettings& settings, int count, bool explain) {
    if (count < 1 || count > kMostAlternatives) return Error{std::to_string(count) + " lines are asked; it may be 1 to " + std::to_string(kMostAlternatives)};
    const auto problem = pose(chart, settings);
    if (!problem) return problem.error();
    std::vector<Path> found{shortest_path(*problem, {}, explain)};
    while (static_cast<int>(found.size()) < count) {
        Path next = another(*problem, found, explain);
        if (next.chosen.empty()) break;
        found.push_back(std::move(next));
    }
    std::vector<Line> out;
    for (const Path& path : found) out.push_back(line_of(*problem, path));
    return out;
}

}  // namespace gripline

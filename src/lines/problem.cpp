#include "lines/problem.h"

#include <algorithm>
#include <optional>

#include "fretboard/stage.h"
#include "lines/scale_grips.h"
#include "theory/chord_names.h"
#include "theory/chord_words.h"

namespace gripline {

namespace {

using Shared = std::shared_ptr<const Choices>;

std::string place(const Slot& slot) { return "bar " + std::to_string(slot.bar) + ", beat " + std::to_string(slot.beat); }

/// The grip locked on a slot, or nullptr.
const Grip* locked_on(const LineSettings& settings, const Slot& slot) {
    for (const LockedBeat& lock : settings.locked)
        if (lock.bar == slot.bar && lock.beat == slot.beat) return &lock.grip;
    return nullptr;
}

class Poser {
public:
    Poser(const Chart& chart, const LineSettings& settings) : chart_(chart) { problem_.settings = settings; }

    Result<Problem> pose() {
        auto plan = plan_walk(chart_, problem_.settings);
        if (!plan) return plan.error();
        problem_.plan = std::move(*plan);
        problem_.choices.resize(problem_.plan.slots.size());
        if (auto bad = check_locks()) return *bad;
        number_changes();
        if (auto bad = choose_for(0)) return *bad;  // never an approach, and the target of a last beat that leads back
        for (int i = problem_.size(); --i > 0;)     // targets before their approaches
            if (auto bad = choose_for(i)) return *bad;
        return std::move(problem_);
    }

private:
    const Chart& chart_;
    Problem problem_;
    std::map<std::string, Shared> scales_;
    std::map<std::string, Shared> approaches_;
    std::vector<int> change_of_;  // by run: how many changes were approached before

    [[nodiscard]] const Run& run_of(int slot) const { return problem_.plan.runs[static_cast<std::size_t>(problem_.slot(slot).run)]; }

    std::optional<Error> choose_for(int slot) {
        auto choices = choices_for(slot);
        if (!choices) return Error{place(problem_.slot(slot)) + ": " + choices.error().message};
        if ((*choices)->all.empty()) return no_grip(slot);
        problem_.choices[static_cast<std::size_t>(slot)] = *choices;
        return std::nullopt;
    }

    std::optional<Error> check_locks() const {
        for (const LockedBeat& lock : problem_.settings.locked) {
            const std::string what = "locked beat " + std::to_string(lock.bar) + "." + std::to_string(lock.beat) + ": ";
            const auto here = [&](const Slot& slot) { return slot.bar == lock.bar && slot.beat == lock.beat; };
            if (std::none_of(problem_.plan.slots.begin(), problem_.plan.slots.end(), here)) return Error{what + "the line has no step there (bars as played, from 1)"};
            if (lock.grip.notes(problem_.settings.neck.tuning, problem_.settings.neck.capo).empty()) return Error{what + lock.grip.text() + " sounds nothing"};
        }
        return std::nullopt;
    }

    void number_changes() {
        int changes = 0;
        for (const Run& run : problem_.plan.runs) {
            change_of_.push_back(changes);
            if (run.changes && run.counts >= 2) ++changes;
        }
    }

    Error no_grip(int slot) const {
        const LineSettings& settings = problem_.settings;
        std::string sets;
        for (const StringSet& set : settings.sets) sets += (sets.empty() ? "" : " or ") + set.text();
        return {place(problem_.slot(slot)) + ": no grip of " + run_of(slot).scale.text() + " lies on strings " + sets + " between frets " +
                std::to_string(settings.neck.lowest_fret) + " and " + std::to_string(settings.neck.top_fret())};
    }

    Result<Shared> scale(NoteName root, Family family) {
        Shared& known = scales_[root.text() + std::string(chord_suffix(family))];
        if (known) return known;
        auto made = scale_grips(root, family, problem_.settings);
        if (!made) return made.error();
        known = std::make_shared<const Choices>(std::move(*made));
        return known;
    }

    Result<Shared> choices_for(int slot) {
        const Serving& serving = run_of(slot).scale;
        auto walked = scale(serving.root, serving.family);
        if (!walked) return walked.error();
        if (const Grip* grip = locked_on(problem_.settings, problem_.slot(slot))) return by_hand(*grip, **walked, problem_.slot(slot));
        if (!problem_.slot(slot).approach) return walked;
        return approaches_into(problem_.after(slot), problem_.slot(slot).run, *walked);
    }

    /// One choice; known as a step of the scale where it is one.
    Shared by_hand(const Grip& grip, const Choices& walked, const Slot& slot) const {
        Choices out;
        const auto known = std::find_if(walked.all.begin(), walked.all.end(), [&](const Candidate& each) { return each.grip == grip; });
        const auto tones = harmonised_scale(run_of_slot(slot).scale.root, run_of_slot(slot).scale.family).front().tones;
        Candidate one = known != walked.all.end() ? *known : candidate_for(grip, tones, problem_.settings.neck);
        if (known == walked.all.end()) one.chord = run_of_slot(slot).chord->text();
        if (slot.approach) one.sounds = Sounds::approach;
        one.by_hand = true;
        out.all.push_back(std::move(one));
        out.unbroken = 1;
        out.moves.resize(1);
        return std::make_shared<const Choices>(std::move(out));
    }
    [[nodiscard]] const Run& run_of_slot(const Slot& slot) const { return problem_.plan.runs[static_cast<std::size_t>(slot.run)]; }

    [[nodiscard]] bool asked(From from, int run) const {
        const ApproachSide side = problem_.settings.approach;
        if (side == ApproachSide::alternating) return (from == From::below) == (change_of_[static_cast<std::size_t>(run)] % 2 == 0);
        return side == ApproachSide::best || (side == ApproachSide::below) == (from == From::below);
    }

    /// At the end of `run`.
    Result<Shared> approaches_into(int target_slot, int run, const Shared& walked) {
        const Shared& targets = problem_.choices[static_cast<std::size_t>(target_slot)];
        const Run& target_run = run_of(target_slot);
        const std::string key = std::to_string(reinterpret_cast<std::uintptr_t>(walked.get())) + "/" + std::to_string(reinterpret_cast<std::uintptr_t>(targets.get())) + "/" +
                                target_run.chord->symbol->root.text() + (asked(From::below, run) ? "b" : "") + (asked(From::above, run) ? "a" : "");
        Shared& known = approaches_[key];
        if (known) return known;
        std::vector<Candidate> good, bad;
        for (std::size_t t = 0; t < targets->all.size(); ++t) {
            for (const From from : {From::below, From::above}) {
                for (Candidate& each : approaches_to(targets->all[t], from, target_run)) {
                    each.target = static_cast<int>(t);
                    if (!asked(from, run)) each.broken = Broken::other_side;
                    const bool usual = each.broken == Broken::none && (targets->all[t].by_hand || targets->all[t].sounds != Sounds::passing);
                    (usual ? good : bad).push_back(std::move(each));
                }
            }
        }
        Choices out;
        out.unbroken = static_cast<int>(good.size());
        out.all = std::move(good);
        std::move(bad.begin(), bad.end(), std::back_inserter(out.all));
        for (Candidate each : walked->all) {
            each.broken = Broken::no_approach;
            out.all.push_back(std::move(each));
        }
        out.moves.resize(out.all.size());
        known = std::make_shared<const Choices>(std::move(out));
        return known;
    }

    /// The approaches into one target from one side: the slid copy, and the dominants when they are asked for.
    std::vector<Candidate> approaches_to(const Candidate& target, From from, const Run& run) {
        std::vector<Candidate> out;
        const bool want_dominant = problem_.settings.quality == ApproachQuality::dominant;
        const Neck& neck = problem_.settings.neck;
        if (const auto grip = approach_grip(target.grip, from, neck); grip && within(*grip, neck)) {
            const NoteName root = approach_root(run.scale.root, from);
            const auto scale = harmonised_scale(root, run.scale.family);
            const auto step = static_cast<std::size_t>(std::max(target.step, 0));
            Candidate slid = candidate_for(*grip, scale[step].tones, neck);
            slid.chord = scale[step].chord;
            if (target.sounds != Sounds::passing) slid.called = text_on(*run.chord->symbol, approach_root(run.chord->symbol->root, from));
            const bool is_dominant = run.scale.family == Family::dominant_seventh;
            if (want_dominant && !is_dominant) slid.broken = Broken::other_quality;
            slid.set = target.set;
            slid.from = from;
            slid.sounds = Sounds::approach;
            out.push_back(std::move(slid));
            if (is_dominant) return out;
        }
        if (want_dominant) add_dominants(out, target, from, approach_root(run.chord->symbol->root, from));
        return out;
    }

    void add_dominants(std::vector<Candidate>& out, const Candidate& target, From from, NoteName root) {
        const auto dominants = scale(root, Family::dominant_seventh);
        if (!dominants) return;  // the string sets were good for the target's scale, so they are for this one
        for (Candidate each : (*dominants)->all) {
            if (each.sounds != Sounds::chord || each.set != target.set || each.bass != target.bass + (from == From::below ? -1 : 1)) continue;
            each.from = from;
            each.sounds = Sounds::approach;
            each.step = -1;
            out.push_back(std::move(each));
        }
    }

    static bool within(const Grip& grip, const Neck& neck) {
        for (int string = 1; string <= grip.strings(); ++string)
            if (const auto fret = grip.fret(StringNumber(string)); fret && fret->number() < neck.lowest_fret) return false;
        return true;
    }
};

std::optional<Error> out_of_range(const LineSettings& settings) {
    if (const auto neck = checked(settings.neck); !neck) return neck.error();
    if (settings.sets.empty()) return Error{"a line needs a string set, such as 6-4-3"};
    if (settings.region_low < 0 || settings.region_high > kMaxFret || settings.region_low > settings.region_high)
        return Error{"the wanted part of the neck, frets " + std::to_string(settings.region_low) + " to " + std::to_string(settings.region_high) + ", is out of range; it may be 0 to " + std::to_string(kMaxFret)};
    for (const LockedBeat& lock : settings.locked)
        if (lock.grip.strings() != settings.neck.tuning.strings()) return Error{"locked beat " + std::to_string(lock.bar) + "." + std::to_string(lock.beat) + ": " + lock.grip.text() + " is not for " + std::to_string(settings.neck.tuning.strings()) + " strings"};
    return std::nullopt;
}

}  // namespace

Result<Problem> pose(const Chart& chart, const LineSettings& settings) {
    if (auto bad = out_of_range(settings)) return *bad;
    return Poser(chart, settings).pose();
}

Score score(const Problem& problem, const std::vector<int>& chosen) {
    Score out;
    out.beats.resize(chosen.size());
    out.rules.resize(chosen.size(), Broken::none);
    Memory memory;
    for (int i = 0; i < problem.size(); ++i) {
        const auto here = static_cast<std::size_t>(i);
        const auto add = [&](Cost cost, std::int64_t amount) { out.beats[here].add(cost, amount); };
        const Joint joint = i > 0 ? join(problem, i, chosen[here - 1], chosen[here], add) : Joint{};
        out.possible = out.possible && joint.possible;
        const Broken alone = broken_alone(problem, i, chosen[here]);
        out.broken += (alone != Broken::none) + (joint.broken != Broken::none);
        out.rules[here] = alone != Broken::none ? alone : joint.broken;
        cost_alone(problem, i, chosen[here], add);
        memory = remember(problem, i, memory, joint, chosen[here], add);
    }
    if (problem.settings.comes_again) {
        const auto add = [&](Cost cost, std::int64_t amount) { out.beats.front().add(cost, amount); };
        const Joint joint = join(problem, 0, chosen.back(), chosen.front(), add);
        remember(problem, 0, memory, joint, chosen.front(), add);
        out.possible = out.possible && joint.possible;
        out.broken += joint.broken != Broken::none;
        if (out.rules.front() == Broken::none) out.rules.front() = joint.broken;
    }
    for (const CostItems& beat : out.beats) out.hundredths += beat.total();
    return out;
}

}  // namespace gripline

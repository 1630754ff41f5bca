#include "judge/judge.h"

#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

#include "judge/any_voicing.h"
#include "judge/model.h"
#include "judge/sounding.h"
#include "judge/weighing.h"

namespace gripline {

struct Judge::Inside {
    JudgeConfig config;
    Target target;
    std::vector<Hypothesis> hypotheses;
    dsp::NoteBank bank;
    Weighing weighing;
    Chances chances;
    std::span<const float> chance;  // of the last weighing's hypotheses
    std::uint64_t settled_strum = 0;
    dsp::ExpectedNotes expected;  ///< of the target on a known guitar

    void weigh_target(const dsp::StrumEvidence& evidence, Verdict& out);
    [[nodiscard]] Fault fault_of(const Hypothesis& h, double chance_of) const;
    [[nodiscard]] const Hypothesis& named_as(const Hypothesis& h) const;
    [[nodiscard]] bool may_still_come(const Verdict& verdict) const;
};

Judge::Judge(const JudgeConfig& config) : inside_(std::make_unique<Inside>()) { inside_->config = config; }
Judge::~Judge() = default;
Judge::Judge(Judge&&) noexcept = default;
Judge& Judge::operator=(Judge&&) noexcept = default;

void Judge::ask(const Target& target) {
    inside_->target = target;
    inside_->settled_strum = 0;
    inside_->hypotheses.clear();
    if (target.grip) inside_->hypotheses = hypotheses_for(*target.grip, target.tuning, target.capo);
    if (inside_->config.guitar) inside_->expected = expected_notes(*inside_->config.guitar, target);
}

std::optional<Verdict> Judge::consider(const dsp::StrumEvidence& evidence) {
    Inside& in = *inside_;
    if (evidence.strum == in.settled_strum) return std::nullopt;
    const double sound_s = evidence.heard_s - evidence.onset_s;
    if (!evidence.last && sound_s < in.config.settle_after_s) return std::nullopt;
    Verdict verdict = verdict_now(evidence);
    const auto& settle = in.config.settle;
    const auto bounds = std::find_if(settle.rbegin(), settle.rend() - 1, [&](const auto& b) { return sound_s >= b.from_s; });
    if (!evidence.last && verdict.confidence < bounds->right && verdict.confidence > bounds->wrong) return std::nullopt;
    if (!evidence.last && sound_s < in.config.missing_after_s && in.may_still_come(verdict)) return std::nullopt;
    in.settled_strum = evidence.strum;
    return verdict;
}

Verdict Judge::verdict_now(const dsp::StrumEvidence& evidence) {
    Inside& in = *inside_;
    if (!in.target.grip && in.target.chord.empty()) return transcribe(evidence, in.target.a4_hz, in.bank);
    Verdict out;
    if (!in.target.grip) {
        in.bank.begin(evidence, offset_cents(evidence, in.target.a4_hz));
        in.hypotheses = hypotheses_for(best_voicing(in.bank, in.target.chord), in.target.chord, in.target.bass, in.bank);
    }
    in.weigh_target(evidence, out);
    return out;
}

void Judge::Inside::weigh_target(const dsp::StrumEvidence& evidence, Verdict& out) {
    const double offset = offset_cents(evidence, target.a4_hz);
    out.onset_s = evidence.onset_s;
    out.decided_s = evidence.heard_s;
    out.level_db = evidence.level_db;
    out.tuning_cents = offset - 1200.0 * std::log2(target.a4_hz / 440.0);
    weigh(evidence, hypotheses, offset, bank, weighing, config.guitar ? &expected : nullptr);
    chance = chances.of(weighing, hypotheses);
    std::vector<std::size_t> order(chance.size());
    for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
    std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) { return chance[a] > chance[b]; });
    const auto hypothesis = [&](std::size_t i) -> const Hypothesis& { return hypotheses[static_cast<std::size_t>(weighing.hypotheses[i].index)]; };
    double right = 0.0;
    std::vector<std::pair<const Hypothesis*, double>> wrong;
    for (const std::size_t i : order) {
        const Hypothesis& h = hypothesis(i);
        if (h.right) {
            right += chance[i];
            continue;
        }
        const Hypothesis* const named = &named_as(h);
        const auto known = std::find_if(wrong.begin(), wrong.end(), [&](const auto& each) { return each.first == named; });
        if (known == wrong.end()) wrong.emplace_back(named, chance[i]);
        else known->second += chance[i];
    }
    std::stable_sort(wrong.begin(), wrong.end(), [](const auto& a, const auto& b) { return a.second > b.second; });
    for (const auto& [h, chance_of] : wrong)
        if (chance_of > 0.01 || out.faults.empty()) out.faults.push_back(fault_of(*h, chance_of));
    out.confidence = std::clamp(right, 0.0, 1.0);
    out.kind = right >= config.right_from ? VerdictKind::right : VerdictKind::wrong;
    if (out.kind == VerdictKind::right) out.faults.clear();
    const auto likeliest = [&]() -> const Hypothesis& {
        if (out.kind == VerdictKind::wrong) return *wrong.front().first;
        return hypothesis(*std::find_if(order.begin(), order.end(), [&](std::size_t i) { return hypothesis(i).right; }));
    };
    const NoteSet& sounding = likeliest().notes;
    // A click, a thump or a dead strum is not an answer to what was asked.
    if (out.kind == VerdictKind::wrong && out.faults.front().kind == FaultKind::nothing) out.kind = VerdictKind::unheard;
    describe(sounding, bank, out);
}

/// Whether all that is wrong is a string that a hand raking slowly, down or up, reaches last.
bool Judge::Inside::may_still_come(const Verdict& verdict) const {
    if (verdict.kind != VerdictKind::wrong || verdict.faults.front().kind != FaultKind::missing_note) return false;
    const auto string = verdict.faults.front().string;
    if (!target.grip || !string) return true;
    bool higher = false, lower = false;
    for (int s = 1; s <= target.grip->strings(); ++s) {
        if (!target.grip->fret(StringNumber(s))) continue;
        higher = higher || s < string->number();
        lower = lower || s > string->number();
    }
    return !higher || !lower;
}

/// A single note that is shifted is that string some frets off.
const Hypothesis& Judge::Inside::named_as(const Hypothesis& h) const {
    if (h.fault != FaultKind::shifted || hypotheses.front().notes.size() != 1) return h;
    const auto same = std::find_if(hypotheses.begin(), hypotheses.end(), [&](const Hypothesis& each) { return each.fault == FaultKind::wrong_note && each.notes == h.notes; });
    return same == hypotheses.end() ? h : *same;
}

Fault Judge::Inside::fault_of(const Hypothesis& h, double chance_of) const {
    Fault fault;
    fault.kind = *h.fault;
    fault.probability = chance_of;
    fault.frets = h.frets;
    if (h.string > 0) {
        const StringNumber string(h.string);
        fault.string = string;
        const int open = target.tuning.open(string).number() + target.capo;
        if (const auto fret = target.grip->fret(string)) fault.asked = MidiNote(open + fret->number());
        if (fault.kind == FaultKind::wrong_note) fault.heard = fault.asked->up(h.frets);
        if (fault.kind == FaultKind::extra_note) fault.heard = MidiNote(open);
    }
    if (h.string == 0 && (fault.kind == FaultKind::wrong_note || fault.kind == FaultKind::missing_note || fault.kind == FaultKind::extra_note)) {
        const NoteSet& asked = hypotheses.front().notes;
        for (const int midi : asked.notes())
            if (!h.notes.contains(midi) && !fault.asked) fault.asked = MidiNote(midi);
        for (const int midi : h.notes.notes())
            if (!asked.contains(midi) && !fault.heard) fault.heard = MidiNote(midi);
    }
    if (fault.kind == FaultKind::wrong_bass) {
        fault.asked = MidiNote(hypotheses.front().notes.lowest());
        fault.heard = MidiNote(h.notes.lowest());
    }
    return fault;
}

std::vector<Weighed> Judge::leading(std::size_t most) const {
    const Inside& in = *inside_;
    std::vector<Weighed> out;
    for (std::size_t i = 0; i < in.chance.size(); ++i) {
        const WeighedHypothesis& w = in.weighing.hypotheses[i];
        const Hypothesis& h = in.hypotheses[static_cast<std::size_t>(w.index)];
        Weighed row{h.fault, h.string, h.frets, {}, in.chance[i], w.error};
        for (const int midi : h.notes.notes()) row.notes.emplace_back(midi);
        out.push_back(std::move(row));
    }
    std::stable_sort(out.begin(), out.end(), [](const Weighed& a, const Weighed& b) { return a.chance > b.chance; });
    if (out.size() > most) out.resize(most);
    return out;
}

}  // namespace gripline

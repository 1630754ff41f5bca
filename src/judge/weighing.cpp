#include "judge/weighing.h"

#include <algorithm>
#include <cmath>

namespace gripline {

namespace {

constexpr std::size_t kInversionsKept = 4;  // those that fit best
constexpr std::size_t kShiftsKept = 1;      // with all six, 2 of 13594 verdicts are others, and weighing takes a quarter longer
constexpr float kLeast = 0.003F;  // share of the sound below which a residual is noise

float ratio(float a, float b) { return std::log((a + kLeast) / (b + kLeast)); }

std::array<float, kMargins> margins_of(const dsp::Fit& fit, const dsp::Fit& asked) {
    std::array<float, kMargins> m{};
    for (std::size_t b = 0; b < 3; ++b) {
        m[b] = ratio(fit.unexplained[b], asked.unexplained[b]);
        m[3 + b] = ratio(fit.absent[b], asked.absent[b]);
    }
    m[6] = 4.0F * ratio(fit.error(), asked.error());
    m[7] = 20.0F * (fit.error() - asked.error());
    for (float& v : m) v = std::clamp(v, -5.0F, 5.0F);
    return m;
}

class Weigher {
public:
    Weigher(std::span<const Hypothesis> hypotheses, dsp::NoteBank& bank, Weighing& out) : hypotheses_(hypotheses), bank_(bank), out_(out), asked_(hypotheses[0].notes) {}

    void run() {
        out_.notes.clear();
        out_.hypotheses.clear();
        asked_fit_ = bank_.fit(asked_.notes());
        add(0, asked_fit_);
        strings();
        extras();
        whole(FaultKind::shifted, kShiftsKept);
        whole(FaultKind::wrong_bass, kInversionsKept);
        WeighedHypothesis nothing;
        nothing.index = static_cast<int>(hypotheses_.size()) - 1;
        nothing.kind = 1 + static_cast<int>(FaultKind::nothing);
        nothing.error = 1.0F;
        for (const int midi : asked_.notes()) nothing.removed.push_back(row_for_asked(midi));
        out_.hypotheses.push_back(nothing);
    }
    [[nodiscard]] const dsp::Fit& asked_fit() const { return asked_fit_; }

private:
    WeighedHypothesis& add(std::size_t index, const dsp::Fit& fit) {
        WeighedHypothesis w;
        const Hypothesis& h = hypotheses_[index];
        w.index = static_cast<int>(index);
        w.kind = h.fault ? 1 + static_cast<int>(*h.fault) : 0;
        w.error = fit.error();
        w.margins = margins_of(fit, asked_fit_);
        out_.hypotheses.push_back(std::move(w));
        return out_.hypotheses.back();
    }
    /// Adds the row of a note of `sounding` against `others`; leaves the bank fitted to the others.
    int row(int midi, const NoteSet& sounding, const NoteSet& others) {
        (void)bank_.fit(others.notes());
        dsp::NoteFeatures features = bank_.features(midi, others.notes());
        bank_.weigh(sounding.notes());
        const auto notes = sounding.notes();
        const auto index = static_cast<std::size_t>(std::find(notes.begin(), notes.end(), midi) - notes.begin());
        bank_.add_loudness(index, notes.size(), features);
        out_.notes.push_back(features);
        return static_cast<int>(out_.notes.size()) - 1;
    }
    int row_for_asked(int midi) const {
        const auto it = std::find_if(asked_rows_.begin(), asked_rows_.end(), [&](const auto& r) { return r.first == midi; });
        return it->second;
    }

    /// Wrong notes and missing notes: what stands in the place of one string's note while the others sound.
    void strings() {
        for (const int midi : asked_.notes()) {
            NoteSet rest = asked_;
            rest.erase(midi);
            asked_rows_.emplace_back(midi, row(midi, asked_, rest));
        }
        const std::size_t first = out_.hypotheses.size();
        for (std::size_t i = 0; i < hypotheses_.size(); ++i)
            if (hypotheses_[i].fault == FaultKind::wrong_note || hypotheses_[i].fault == FaultKind::missing_note) add(i, bank_.fit(hypotheses_[i].notes.notes()));
        // The rows after all fits: those of one string need the same prediction, which then stays.
        for (std::size_t at = first; at < out_.hypotheses.size(); ++at) {
            WeighedHypothesis& w = out_.hypotheses[at];
            const Hypothesis& h = hypotheses_[static_cast<std::size_t>(w.index)];
            NoteSet rest = asked_;
            int gone = -1, come = -1;
            for (const int midi : asked_.notes())
                if (!h.notes.contains(midi)) gone = midi;
            for (const int midi : h.notes.notes())
                if (!asked_.contains(midi)) come = midi;
            if (gone >= 0) {
                rest.erase(gone);
                w.removed.push_back(row_for_asked(gone));
            }
            if (come >= 0) w.added.push_back(row(come, h.notes, rest));
        }
    }
    void extras() {
        for (std::size_t i = 0; i < hypotheses_.size(); ++i) {
            const Hypothesis& h = hypotheses_[i];
            if (h.fault != FaultKind::extra_note) continue;
            WeighedHypothesis& w = add(i, bank_.fit(h.notes.notes()));
            for (const int midi : h.notes.notes())
                if (!asked_.contains(midi)) w.added.push_back(row(midi, h.notes, asked_));
        }
    }
    /// Shifts and other basses: several notes change at once.
    void whole(FaultKind kind, std::size_t most) {
        std::vector<std::pair<float, std::size_t>> ranked;
        for (std::size_t i = 0; i < hypotheses_.size(); ++i)
            if (hypotheses_[i].fault == kind) ranked.emplace_back(bank_.fit(hypotheses_[i].notes.notes()).error(), i);
        std::sort(ranked.begin(), ranked.end());
        if (ranked.size() > most) ranked.resize(most);
        for (const auto& [error, i] : ranked) {
            const Hypothesis& h = hypotheses_[i];
            WeighedHypothesis& w = add(i, bank_.fit(h.notes.notes()));
            for (const int midi : asked_.notes())
                if (!h.notes.contains(midi)) w.removed.push_back(row(midi, asked_, h.notes));
            for (const int midi : h.notes.notes())
                if (!asked_.contains(midi)) w.added.push_back(row(midi, h.notes, asked_));
        }
    }

    std::span<const Hypothesis> hypotheses_;
    dsp::NoteBank& bank_;
    Weighing& out_;
    NoteSet asked_;
    dsp::Fit asked_fit_;
    std::vector<std::pair<int, int>> asked_rows_;
};

}  // namespace

void weigh(const dsp::StrumEvidence& evidence, std::span<const Hypothesis> hypotheses, double offset_cents, dsp::NoteBank& bank, Weighing& out, const dsp::ExpectedNotes* expected) {
    bank.begin(evidence, offset_cents, expected);
    Weigher weigher(hypotheses, bank, out);
    weigher.run();
    const dsp::Fit& fit = weigher.asked_fit();
    auto& c = out.common;
    c.fill(0.0F);
    for (std::size_t b = 0; b < 3; ++b) {
        c[b] = std::log(fit.unexplained[b] + kLeast) / 3.0F + 1.0F;
        c[3 + b] = std::log(fit.absent[b] + kLeast) / 3.0F + 1.0F;
    }
    c[6] = std::log(fit.error() + kLeast) + 1.0F;
    c[7] = static_cast<float>((evidence.heard_s - evidence.onset_s) / 0.26);
    c[8] = static_cast<float>(std::clamp(evidence.level_db - evidence.noise_db, -10.0, 60.0) / 30.0);
    c[9] = static_cast<float>(hypotheses[0].notes.size()) / 4.0F;
    float best = 1.0F;
    for (const WeighedHypothesis& h : out.hypotheses) best = std::min(best, h.error);
    c[10] = 4.0F * ratio(best, fit.error());
    double body = 0.0, late = 0.0, attack = 0.0, before = 0.0;
    for (std::size_t b = 0; b < evidence.body.size(); ++b) {
        body += evidence.body[b] * evidence.body[b];
        late += evidence.late[b] * evidence.late[b];
        attack += evidence.attack[b] * evidence.attack[b];
        before += evidence.before[b] * evidence.before[b];
    }
    const auto db = [](double a, double b) { return static_cast<float>(std::clamp(10.0 * std::log10((a + 1e-12) / (b + 1e-12)), -40.0, 40.0) / 20.0); };
    c[11] = db(late, attack);
    c[12] = db(before, body);
    c[13] = static_cast<float>(std::clamp(evidence.tuning_cents / 50.0, -1.0, 1.0));
}

}  // namespace gripline

#include "ui/demonstration.h"

#include <array>
#include <ostream>

#include "audio/player_source.h"
#include "judge/judge.h"
#include "listen/ongoing_chain.h"
#include "practice/course.h"
#include "practice/practice_session.h"
#include "practice/verdict_words.h"
#include "ui/practice_words.h"

namespace gripline {
namespace {

constexpr double kBetweenStrums_s = 1.7;
constexpr double kFirstStrum_s = 0.5;

/// A clock that the demonstration moves itself, hop by hop.
class HopClock final : public Clock {
public:
    [[nodiscard]] double now_s() const noexcept override { return now_s_; }
    void set(double now_s) noexcept { now_s_ = now_s; }

private:
    double now_s_ = 0.0;
};

/// What the player does at the strum of that number, from 0; after a mistake the same grip is asked and played again.
std::optional<PlannedFault> planned(int strum) {
    if (strum == 1) return PlannedFault{PlannedFaultKind::wrong_note, StringNumber(3), -1};
    if (strum == 4) return PlannedFault{PlannedFaultKind::open_string, StringNumber(2), 0};
    return std::nullopt;
}

class Demonstration {
public:
    Demonstration(Exercise exercise, double a4_hz, std::ostream& out)
        : a4_hz_(a4_hz), out_(out), clock_(std::make_shared<HopClock>()), player_(clock_), chain_(player_.rate_hz()) {
        session_.set_exercise(std::move(exercise), StepOrder::up, 1, {});
        judge_.ask(session_.asked()->target());
        told_ = session_.askings();
    }

    int run(int strums) {
        const auto rate_hz = static_cast<double>(player_.rate_hz());
        const auto hops = static_cast<std::uint64_t>((kFirstStrum_s + strums * kBetweenStrums_s) * rate_hz / static_cast<double>(kHopFrames));
        int played = 0;
        for (std::uint64_t hop = 0; hop < hops; ++hop) {
            const double now_s = static_cast<double>(hop * kHopFrames) / rate_hz;
            clock_->set(now_s);
            if (played < strums && now_s >= kFirstStrum_s + played * kBetweenStrums_s) strum(played++);
            const std::size_t frames = player_.read(frames_);
            chain_.process(std::span(frames_).first(frames));
            listen(now_s);
        }
        out_ << counts_words(session_.counts()) << " (" << strums << " strums, " << clock_->now_s() << " s of sound)\n";
        return as_played_ == strums ? 0 : 1;
    }

private:
    void strum(int number) {
        const PracticeStep& step = *session_.asked();
        fault_ = planned(number);
        const auto strum = player_.strum(step.grip, step.tuning, step.capo, fault_, a4_hz_);
        out_ << "asked " << step.chord << " with " << step.bass << " in the bass, " << step.grip.text() << "\n  played "
             << (!strum ? strum.error().message : fault_ ? "with a mistake: " + describe(*fault_) : "rightly") << '\n';
    }

    void listen(double now_s) {
        const Moment moment{now_s, chain_.stream_s()};
        session_.pass(moment);
        if (told_ != session_.askings()) {
            told_ = session_.askings();
            judge_.ask(session_.asked()->target());
        }
        while (chain_.take(evidence_)) {
            if (!session_.wants(evidence_.onset_s)) continue;
            const auto verdict = judge_.consider(evidence_);
            if (verdict) answer(*verdict, moment);
        }
    }

    void answer(const Verdict& verdict, Moment moment) {
        const VerdictWords words = verdict_words(verdict, *session_.asked());
        session_.hear(verdict, moment);
        const bool right = verdict.kind == VerdictKind::right;
        if (verdict.kind != VerdictKind::unheard && right == !fault_) ++as_played_;
        const auto after_ms = static_cast<int>((verdict.decided_s - verdict.onset_s) * 1000.0 + 0.5);
        out_ << "  " << words.headline << " (" << after_ms << " ms after the first string)\n";
        for (const std::string& detail : words.details) out_ << "  " << detail << '\n';
        out_.flush();
    }

    double a4_hz_;
    std::ostream& out_;
    std::shared_ptr<HopClock> clock_;
    PlayerSource player_;
    OngoingChain chain_;
    PracticeSession session_;
    Judge judge_;
    dsp::StrumEvidence evidence_;
    std::array<float, 2 * kHopFrames> frames_{};
    std::optional<PlannedFault> fault_;
    std::uint64_t told_ = 0;
    int as_played_ = 0;
};

}  // namespace

int run_demonstration(const DemonstrationOptions& options, std::ostream& out) {
    auto exercise = make_exercise(Course{}, Neck{}, options.a4_hz);
    if (!exercise) {
        out << exercise.error().message << '\n';
        return 1;
    }
    out << "Demonstration: the built-in player walks up C dominant-seventh shells on strings 6-4-3.\n";
    return Demonstration(std::move(*exercise), options.a4_hz, out).run(options.strums);
}

}  // namespace gripline

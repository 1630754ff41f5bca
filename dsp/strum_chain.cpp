#include "dsp/strum_chain.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <vector>

#include "dsp/click_filter.h"
#include "dsp/history.h"
#include "dsp/onset.h"
#include "dsp/resampler.h"
#include "dsp/rumble_filter.h"
#include "dsp/spectrum_maker.h"
#include "dsp/tuning_estimate.h"

namespace gripline::dsp {

namespace {

constexpr std::size_t kHistoryFrames = 16384;  // 1.4 s
constexpr std::size_t kKept = 64;
constexpr std::int64_t samples(double seconds) { return static_cast<std::int64_t>(seconds * kAnalysisRateHz + 0.5); }
constexpr std::int64_t kBefore = samples(0.160);       // what rang before: as long as the body's window
constexpr std::int64_t kBeforeGap = samples(0.004);    // the onset may be found late by this much
constexpr std::int64_t kAttack = samples(0.090);
constexpr std::int64_t kBodyStart = samples(0.025);    // half of all strums are over by then
constexpr std::int64_t kEarlier = samples(0.015);      // a pick's click is over
constexpr std::int64_t kLate = samples(0.090);
constexpr std::int64_t kEarliestDamping = samples(0.090);
constexpr std::int64_t kRang = samples(0.110);         // tells partials 10 Hz apart, and is over quickly enough for what rings on to be foretold
// A start found again within this is that of the same strum: the slowest take 60 ms, one follows another by 200 ms or more (a crotchet at 300 beats), and nothing is said of one sooner than this.
constexpr std::int64_t kSameStrum = samples(0.120);
constexpr double kDampedDb = 15.0;                     // a plucked string falls 2 to 8 dB in the first 100 ms; a damped one 20
constexpr double kTuningMemory = 0.8;                  // share of the older votes kept at each strum
constexpr double kRetunedCents = 20.0;                 // single strums read within 9 cents of the truth 19 times in 20

/// Difference of two readings on the circle of one semitone, -50 to 50.
double turn_between(double a_cents, double b_cents) { return a_cents - b_cents - 100.0 * std::round((a_cents - b_cents) / 100.0); }
double to_db(double rms) { return rms > 1e-6 ? 20.0 * std::log10(rms) : -120.0; }

}  // namespace

struct StrumChain::Inside {
    explicit Inside(int rate) : rate_hz(rate), rumble(rate), resampler({.from_hz = rate, .to_hz = kAnalysisRateHz}), made(resampler.max_out()), kept(kKept) {}

    int rate_hz;
    RumbleFilter rumble;
    Resampler resampler;
    ClickFilter clicks;
    bool clicks_left_out = false;
    std::vector<float> made;
    History history{kHistoryFrames};
    OnsetDetector onsets;
    SpectrumMaker spectra;
    std::vector<StrumEvidence> kept;
    std::size_t kept_first = 0, kept_count = 0;

    std::uint64_t frames = 0;
    TuningVotes older_strums;

    // The strum in hand.
    bool in_hand = false;
    StrumEvidence evidence;
    std::int64_t onset = 0;
    double rang_middle = 0.0;  // samples
    std::size_t next_step = 0;
    double peak_rms = 0.0;
    std::int64_t attack_of = -1;  // onset whose whole attack is in the evidence
    TuningVotes this_strum;

    double rms(std::int64_t from, std::int64_t to) const noexcept {
        double sum = 0.0;
        for (std::int64_t i = from; i < to; ++i) sum += static_cast<double>(history.at(i)) * history.at(i);
        return to > from ? std::sqrt(sum / static_cast<double>(to - from)) : 0.0;
    }

    void begin(std::int64_t at) noexcept {
        // A stronger start soon after, or before anything was said of the strum in hand, is the same strum found better.
        const bool replaces = in_hand && (evidence.step == 0 || at - onset < kSameStrum);
        if (in_hand && !replaces) emit(std::min(history.now(), at), true);
        const bool retuned = !this_strum.empty() && std::abs(turn_between(this_strum.cents(), older_strums.cents())) >= kRetunedCents;
        const double memory = retuned ? 0.0 : kTuningMemory;
        older_strums.cos_sum *= memory;
        older_strums.sin_sum *= memory;
        older_strums.add(this_strum, 1.0);
        this_strum = {};
        in_hand = true;
        onset = at;
        next_step = 0;
        peak_rms = 0.0;
        if (!replaces) {
            evidence.strum += 1;
            evidence.step = 0;
        }
        evidence.onset_s = static_cast<double>(at) / kAnalysisRateHz;
        const std::int64_t before_end = std::max<std::int64_t>(0, at - kBeforeGap);
        const std::int64_t before_start = std::max<std::int64_t>(0, before_end - kBefore);
        spectra.make(history, before_start, before_end, evidence.before);
        evidence.noise_db = to_db(rms(before_start, before_end));
        const std::int64_t rang_start = std::max<std::int64_t>(0, before_end - kRang);
        spectra.make(history, rang_start, before_end, evidence.rang);
        rang_middle = 0.5 * static_cast<double>(rang_start + before_end);
    }

    void emit(std::int64_t heard, bool last) noexcept {
        evidence.last = last;
        evidence.heard_s = static_cast<double>(heard) / kAnalysisRateHz;
        if (attack_of != onset) {  // the first 90 ms are the same at every step
            spectra.make(history, onset, std::min(heard, onset + kAttack), evidence.attack);
            attack_of = heard >= onset + kAttack ? onset : -1;
        }
        spectra.make(history, onset + kBodyStart, heard, evidence.body);
        spectra.make(history, std::max(onset, heard - kLate), heard, evidence.late);
        const std::int64_t half = (heard - onset - kEarlier) * 11 / 20;
        spectra.make(history, onset + kEarlier, onset + kEarlier + half, evidence.earlier);
        spectra.make(history, heard - half, heard, evidence.later);
        spectra.make(history, onset + kEarlier, heard, evidence.whole);
        evidence.rang_apart_s = static_cast<float>((static_cast<double>(onset + kEarlier) + 0.5 * static_cast<double>(half) - rang_middle) / kAnalysisRateHz);
        evidence.apart_s = static_cast<float>(heard - half - onset - kEarlier) / kAnalysisRateHz;
        evidence.level_db = to_db(peak_rms);
        this_strum = tuning_votes(evidence.body);
        TuningVotes all = this_strum;
        // A guitar that was tuned in between is heard as it is now.
        if (std::abs(turn_between(this_strum.cents(), older_strums.cents())) < kRetunedCents) all.add(older_strums, 1.0);
        evidence.tuning_cents = all.cents();
        kept[(kept_first + kept_count) % kKept] = evidence;
        if (kept_count < kKept) ++kept_count;
        else kept_first = (kept_first + 1) % kKept;
        evidence.step += 1;
        in_hand = !last;
    }

    void hop() noexcept {
        const std::int64_t now = history.now();
        if (const auto found = onsets.process(history.last(4096), now)) begin(std::max<std::int64_t>(0, *found));
        if (!in_hand) return;
        const std::int64_t age = now - onset;
        const double level = rms(std::max(onset, now - 4 * OnsetDetector::kHopFrames), now);
        peak_rms = std::max(peak_rms, level);
        if (age > kEarliestDamping && level < peak_rms * std::pow(10.0, -kDampedDb / 20.0)) emit(now - 2 * OnsetDetector::kHopFrames, true);
    }

    /// Looks at the strum in hand at the very frame that a step falls on: looks of one length are alike, and none waits for a hop to end.
    void look() noexcept {
        const std::int64_t age = history.now() - onset;
        while (next_step + 1 < kStepsS.size() && age >= samples(kStepsS[next_step + 1])) ++next_step;
        emit(history.now(), next_step + 1 == kStepsS.size());
        ++next_step;
    }
};

StrumChain::StrumChain(const StrumChainConfig& config) : inside_(std::make_unique<Inside>(config.rate_hz)) {}
StrumChain::~StrumChain() = default;

void StrumChain::process(std::span<const float> frames) noexcept {
    Inside& in = *inside_;
    for (const float frame : frames) {
        const double x = std::isfinite(frame) ? static_cast<double>(frame) : 0.0;
        ++in.frames;
        const std::size_t count = in.resampler.push(static_cast<float>(in.rumble.push(x)), in.made);
        for (std::size_t i = 0; i < count; ++i) {
            const double below_clicks = in.clicks.push(in.made[i]);  // always, so that it is settled when it is wished for
            in.history.push(in.clicks_left_out ? static_cast<float>(below_clicks) : in.made[i]);
            if (in.history.now() % OnsetDetector::kHopFrames == 0) in.hop();
            if (in.in_hand && in.history.now() >= in.onset + samples(kStepsS[in.next_step])) in.look();
        }
    }
}

void StrumChain::leave_out_clicks(bool leave_out) noexcept { inside_->clicks_left_out = leave_out; }

void StrumChain::finish() noexcept {
    // Silence enough to confirm an onset in the last moments and to settle its strum.
    const auto silence = static_cast<std::size_t>(0.4 * inside_->rate_hz);
    const float zero = 0.0F;
    for (std::size_t i = 0; i < silence; ++i) process({&zero, 1});
    inside_->frames -= silence;
}

bool StrumChain::take(StrumEvidence& evidence) noexcept {
    Inside& in = *inside_;
    if (in.kept_count == 0) return false;
    evidence = in.kept[in.kept_first];
    in.kept_first = (in.kept_first + 1) % kKept;
    --in.kept_count;
    return true;
}

void StrumChain::reset() noexcept {
    Inside& in = *inside_;
    in.resampler.reset();
    in.history.clear();
    in.onsets.reset();
    in.kept_first = in.kept_count = 0;
    in.frames = 0;
    in.rumble.reset();
    in.clicks.reset();
    in.older_strums = in.this_strum = {};
    in.in_hand = false;
    in.evidence = StrumEvidence{};
    in.attack_of = -1;
}

double StrumChain::stream_s() const noexcept { return static_cast<double>(inside_->frames) / inside_->rate_hz; }

double StrumChain::level_db() const noexcept {
    const std::int64_t now = inside_->history.now();
    return to_db(inside_->rms(std::max<std::int64_t>(0, now - samples(0.050)), now));
}

double StrumChain::hum_db() const noexcept {
    constexpr std::size_t kSpan = 4800;  // 0.4 s: whole turns of 50 and of 60 Hz
    const auto x = inside_->history.last(kSpan);
    double most = 0.0;
    for (const double hz : {50.0, 60.0}) {
        double re = 0.0, im = 0.0;
        for (std::size_t i = 0; i < kSpan; ++i) {
            const double turn = 2.0 * std::numbers::pi * static_cast<double>(i) / static_cast<double>(kSpan);
            const double w = (1.0 - std::cos(turn)) * x[i];
            re += w * std::cos(turn * hz * 0.4);
            im += w * std::sin(turn * hz * 0.4);
        }
        most = std::max(most, std::hypot(re, im) * std::sqrt(2.0) / kSpan);
    }
    return to_db(most);
}

}  // namespace gripline::dsp

// Strums for the tests: our own plucked strings at known instants, and the evidence that a chain gives of them.
#pragma once

#include <cmath>
#include <memory>
#include <span>
#include <string>
#include <vector>

#include "audio/strum.h"
#include "dsp/strum_chain.h"

namespace gripline::test {

struct PlannedStrum {
    double at_s = 0.5;         ///< the first string sounds
    std::string grip = "3x23xx";
    double spread_s = 0.02;
    double ring_s = 2.0;
    bool down = true;
    double level_db = 0.0;
};

/// A take: what was played one after the other under one hand, with a little noise (65 dB below the strums).
inline std::vector<float> play(const std::vector<PlannedStrum>& strums, double length_s, int rate_hz = 48000, double noise_rms = 3e-5) {
    StringBank bank(rate_hz);
    std::vector<float> out(static_cast<std::size_t>(length_s * rate_hz), 0.0F);
    std::size_t at = 0;
    std::uint32_t seed = 1;
    const auto go_on_to = [&](std::size_t to) {
        if (to > at) bank.process(std::span(out).subspan(at, to - at));
        at = std::max(at, to);
    };
    for (const PlannedStrum& strum : strums) {
        go_on_to(static_cast<std::size_t>(std::lround(strum.at_s * rate_hz)));
        auto plan = plan_strum(Grip::parse(strum.grip).value(), Tuning());
        Strum& hand = plan.value();
        hand.spread_s = strum.spread_s;
        hand.ring_s = strum.ring_s;
        hand.down = strum.down;
        hand.seed = seed++;
        for (StruckString& string : hand.struck) string.level_db += strum.level_db;
        bank.strike(hand);
    }
    go_on_to(out.size());
    std::uint32_t state = 12345;
    for (float& frame : out) {
        state = state * 1664525U + 1013904223U;  // Numerical Recipes' generator
        frame += static_cast<float>(noise_rms * std::sqrt(12.0) * (static_cast<double>(state) / 4294967296.0 - 0.5));
    }
    return out;
}

/// Plays frames to a chain to their end, block by block, and hands on each piece of evidence as it comes; one at a time is in hand.
template <class Taker>
void for_each_evidence(dsp::StrumChain& chain, std::span<const float> frames, Taker taker, std::size_t block = 256) {
    const auto evidence = std::make_unique<dsp::StrumEvidence>();
    const auto hand_on = [&] {
        while (chain.take(*evidence)) taker(*evidence);
    };
    for (std::size_t i = 0; i < frames.size(); i += block) {
        chain.process(frames.subspan(i, std::min(block, frames.size() - i)));
        hand_on();
    }
    chain.finish();
    hand_on();
}

/// All evidence of a take, cut into pieces of `block` frames.
inline std::vector<dsp::StrumEvidence> evidence_of(dsp::StrumChain& chain, std::span<const float> frames, std::size_t block = 256) {
    std::vector<dsp::StrumEvidence> out;
    for_each_evidence(chain, frames, [&](const dsp::StrumEvidence& evidence) { out.push_back(evidence); }, block);
    return out;
}

inline std::vector<dsp::StrumEvidence> evidence_of(std::span<const float> frames, int rate_hz = 48000, std::size_t block = 256) {
    dsp::StrumChain chain({.rate_hz = rate_hz});
    return evidence_of(chain, frames, block);
}

/// Instants of the strums in it, one each.
inline std::vector<double> onsets(const std::vector<dsp::StrumEvidence>& evidence) {
    std::vector<double> out;
    for (const auto& e : evidence)
        if (e.last) out.push_back(e.onset_s);
    return out;
}

/// Every number the same, bit for bit.
inline bool same(const dsp::StrumEvidence& a, const dsp::StrumEvidence& b) {
    return a.strum == b.strum && a.step == b.step && a.last == b.last && a.onset_s == b.onset_s && a.heard_s == b.heard_s && a.level_db == b.level_db &&
           a.noise_db == b.noise_db && a.tuning_cents == b.tuning_cents && a.before == b.before && a.attack == b.attack && a.body == b.body && a.late == b.late &&
           a.apart_s == b.apart_s && a.rang_apart_s == b.rang_apart_s && a.earlier.bins == b.earlier.bins && a.later.bins == b.later.bins && a.whole.bins == b.whole.bins && a.rang.bins == b.rang.bins;
}

inline bool same(const std::vector<dsp::StrumEvidence>& a, const std::vector<dsp::StrumEvidence>& b) {
    if (a.size() != b.size()) return false;
    for (std::size_t i = 0; i < a.size(); ++i)
        if (!same(a[i], b[i])) return false;
    return true;
}

}  // namespace gripline::test

// What the spectrum says of a note whose partials are known from the guitar's set-up: how loud it sounds by each of them.
#include <algorithm>
#include <cmath>

#include "dsp/note_bank.h"

namespace gripline::dsp {

namespace {

constexpr float kCounted_db = -50.0F;  // weaker partials of the set-up are mostly noise
constexpr float kFloor_db = -60.0F;    // of what is measured, against the strum's strongest partial

float db(float ratio) { return 20.0F * std::log10(std::max(ratio, 1e-3F)); }

}  // namespace

KnownFeatures NoteBank::known(int midi, std::span<const int> others, const NoteVoice& expected) noexcept {
    KnownFeatures out{};
    const double first_hz = 440.0 * std::exp2((midi - 69) / 12.0 + (offset_cents_ + expected.cents) / 1200.0);
    const float clear_hz = 0.75F * lobe_half_hz_;
    const float near_reach_hz = 3.0F / std::max(0.03F, evidence_->later.length_s);
    float weight = 1e-3F, sum = 0.0F, squares = 0.0F, least = 40.0F, second = 40.0F, most = -60.0F;
    float both = 0.0F, seen = 1e-12F, wanted = 1e-12F, early = 1e-12F;
    for (int n = 1; n <= kKnownPartials; ++n) {
        const auto i = static_cast<std::size_t>(n - 1);
        const float usual = expected.partial_db[i];
        const auto hz = static_cast<float>(n * first_hz * std::sqrt((1.0 + expected.stiffness * n * n) / (1.0 + expected.stiffness)));
        if (usual < kCounted_db || hz > static_cast<float>((kPhasedBins - 2) * kBinHz)) continue;
        float nearest = 1000.0F;
        std::array<float, 8> near_hz;
        std::size_t near_count = 0;
        for (const int other : others) {
            const Note& o = note(other);
            for (int j = 0; j < o.partials; ++j) {
                const float other_hz = o.partial[static_cast<std::size_t>(j)].hz, distance = std::abs(other_hz - hz);
                nearest = std::min(nearest, distance);
                if (distance < near_reach_hz && near_count < near_hz.size()) near_hz[near_count++] = other_hz;
            }
        }
        const float clear = std::clamp((nearest - 0.3F * clear_hz) / clear_hz, 0.0F, 1.0F);
        const Alone heard = alone(hz, {near_hz.data(), near_count});
        const float loud = std::max(kFloor_db, db(heard.later / reference_)) - usual;  // of the whole note, were this its partial
        out[i] = clear * loud / 30.0F;
        out[kKnownPartials + i] = clear;
        out[2 * kKnownPartials + i] = clear * usual / 30.0F;
        if (clear < 0.3F) continue;
        const float share = clear * std::pow(10.0F, usual / 40.0F), pattern = std::pow(10.0F, usual / 20.0F);
        weight += share;
        sum += share * loud;
        squares += share * loud * loud;
        if (usual > -30.0F) {
            second = std::min(second, std::max(least, loud));
            least = std::min(least, loud);
            most = std::max(most, loud);
        }
        both += heard.later * pattern;
        seen += heard.later * heard.later;
        wanted += pattern * pattern;
        early += heard.earlier * heard.earlier;
    }
    float* tail = &out[3 * kKnownPartials];
    const float mean = sum / weight;
    tail[0] = mean / 30.0F;
    tail[1] = std::sqrt(std::max(0.0F, squares / weight - mean * mean)) / 10.0F;
    tail[2] = least / 30.0F;
    tail[3] = second / 30.0F;
    tail[4] = most / 30.0F;
    tail[5] = both / std::sqrt(seen * wanted);
    tail[6] = std::log(weight + 0.01F) / 3.0F;
    tail[7] = db(both / (wanted * reference_)) / 30.0F;
    tail[8] = std::clamp(db(std::sqrt(seen / early)), -30.0F, 15.0F) / 15.0F;
    tail[9] = (note(midi).cents - static_cast<float>(expected.cents)) / 24.0F;
    return out;
}

}  // namespace gripline::dsp

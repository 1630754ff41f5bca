// What the spectrum says of one note: its partials measured one by one, then summed up.
#include <algorithm>
#include <cmath>
#include <numbers>

#include "dsp/note_bank.h"
#include "dsp/widest.h"

namespace gripline::dsp {

namespace {

constexpr std::size_t kMostNear = 8;   // partials of other notes that are taken out before one is measured
constexpr float kTooNear = 0.3F;       // of a window's 1 / length: partials closer than this are one
constexpr float kLastingDb = -9.0F;    // a string's partial falls less between the two windows; a body's resonance 7 to 25 dB (recorded guitars)
constexpr float kLastingLevel = 0.24F; // -38 dB
constexpr float kClear = 0.4F;         // 8 dB above what is beside it: as for contrast
constexpr std::array<float, 4> kAside{-1.5F, -0.75F, 0.75F, 1.5F};  // of 1 / length: the flanks of a partial's lobe, which ends at 2
constexpr float kLoudestRinging = 1.2F;  // what rang before may be found a little larger after the strum than before it, through beating or the room
constexpr float kStruck = 0.5F;          // partials of which less than this went on from before were struck
constexpr float kRidge = 0.02F;  // keeps the fit of close partials sound

/// Transform of a Hann window at `u` / its length, 1 at 0 (Harris 1978, eq. 27a in the limit of many samples).
float hann_transform(float u) {
    const float pi_u = std::numbers::pi_v<float> * u, d = 1.0F - u * u;
    if (std::abs(u) < 1e-3F) return 1.0F;
    if (std::abs(d) < 1e-3F) return 0.5F;
    return std::sin(pi_u) / (pi_u * d);
}
/// A partial and those of other notes near it: the values at their places are their amplitudes times the window's transform between each two of them.
class NearPartials {
public:
    using Values = std::array<std::complex<float>, kMostNear + 1>;
    NearPartials(float hz, std::span<const float> near_hz, float length_s) noexcept : length_s_(length_s) {
        place_[0] = hz;
        for (const float other : near_hz) {
            const auto end = place_.begin() + static_cast<std::ptrdiff_t>(count_);
            if (count_ < place_.size() && std::none_of(place_.begin(), end, [&](float p) { return std::abs(p - other) * length_s < kTooNear; })) place_[count_++] = other;
        }
        for (std::size_t i = 0; i < count_; ++i) {
            matrix_[i][i] = 1.0F + kRidge;
            for (std::size_t j = 0; j < i; ++j) matrix_[i][j] = matrix_[j][i] = hann_transform((place_[i] - place_[j]) * length_s);
        }
    }
    [[nodiscard]] Values values(const PhasedSpectrum& spectrum) const noexcept {
        Values out;
        for (std::size_t i = 0; i < count_; ++i) out[i] = spectrum.at(place_[i]);
        return out;
    }
    /// Upwards, so that the first unknown comes out by itself: its amplitude is its value then, divided by own().
    template <std::size_t Sides>
    void eliminate(const std::array<Values*, Sides>& sides) noexcept {
        for (std::size_t i = count_; i-- > 1;)
            for (std::size_t r = 0; r < i; ++r) {
                const float share = matrix_[r][i] / matrix_[i][i];
                for (std::size_t c = 0; c < i; ++c) matrix_[r][c] -= share * matrix_[i][c];
                for (Values* const side : sides) (*side)[r] -= share * (*side)[i];
            }
    }
    [[nodiscard]] float own() const noexcept { return matrix_[0][0]; }
    /// After eliminate(): values become amplitudes.
    void substitute(Values& side) const noexcept {
        for (std::size_t i = 0; i < count_; ++i) {
            for (std::size_t c = 0; c < i; ++c) side[i] -= matrix_[i][c] * side[c];
            side[i] /= matrix_[i][i];
        }
    }
    [[nodiscard]] std::complex<float> explained(float hz, const Values& amplitudes) const noexcept {
        std::complex<float> out;
        for (std::size_t i = 0; i < count_; ++i) out += amplitudes[i] * hann_transform((hz - place_[i]) * length_s_);
        return out;
    }

private:
    float length_s_;
    std::size_t count_ = 1;
    std::array<float, kMostNear + 1> place_;
    std::array<std::array<float, kMostNear + 1>, kMostNear + 1> matrix_;
};
float size_of(std::complex<float> value) { return std::sqrt(std::norm(value)); }  // std::abs guards against overflow and takes eight times as long
/// Side by side, since one running maximum would have to wait for itself at every bin.
GRIPLINE_WIDEST float largest(const float* bins, std::size_t count) {
    std::array<float, 8> tops{};
    std::size_t b = 0;
    for (; b + tops.size() <= count; b += tops.size())
        for (std::size_t lane = 0; lane < tops.size(); ++lane) tops[lane] = std::max(tops[lane], bins[b + lane]);
    for (; b < count; ++b) tops[0] = std::max(tops[0], bins[b]);
    for (std::size_t lane = 1; lane < tops.size(); ++lane) tops[0] = std::max(tops[0], tops[lane]);
    return tops[0];
}
float half_width_hz(float hz) { return std::max(3.0F, 0.006F * hz); }  // around a partial's place
float db(float ratio) { return 6.0205999F * std::log2(std::max(ratio, 1e-6F)); }  // 20 log10, several times as fast

/// Sums over a note's partials, most of them over those that stand clear of the other notes'.
struct OwnPartials {
    float count = 0.0F, level = -1.0F, later = -1.0F, first = 1.0F;
    float earlier_energy = 0.0F, later_energy = 0.0F;
    float lasting = 0.0F, lasting_first = 0.0F, lasting_second = 0.0F;
    float weight = 1e-3F, contrast = 0.0F, residual = 0.0F, decay = 0.0F, before = 0.0F, relative = 0.0F, fall = 0.0F;
    float top_relative = -1.0F;
    float steady = 0.0F, sounding = 1e-9F;
    float goes_on = 0.0F, starting = 1e-9F, goes_on_energy = 0.0F, struck_first = 0.0F, struck_second = 0.0F, struck_count = 0.0F;
    float apart = 1e-3F, whole_first = 0.0F, whole_second = 0.0F, clear = 0.0F, exact = 0.0F, clear_count = 0.0F;

    /// `row`: the measures of partial `k` (from 0); contrast and level in dB; magnitudes alone in the two windows.
    void add(int k, std::span<const float, kPartialMeasures> row, float contrast_db, float level_db, float earlier_alone, float later_alone) noexcept {
        const float isolation = row[2];
        const bool stands_out = contrast_db > 8.0F && level_db > -40.0F;
        if (isolation > 0.5F) {
            count += stands_out ? 1.0F : 0.0F;
            level = std::max(level, row[0]);
            later = std::max(later, row[7]);
            earlier_energy += earlier_alone * earlier_alone;
            later_energy += later_alone * later_alone;
            steady += later_alone * row[9];
            sounding += later_alone;
            if (row[8] > kLastingDb / 15.0F) {
                lasting += row[7] > kLastingLevel ? 1.0F : 0.0F;
                lasting_second = std::max(lasting_second, std::min(lasting_first, row[7]));
                lasting_first = std::max(lasting_first, row[7]);
            }
            if (first == 1.0F && stands_out) first = static_cast<float>(k) / 8.0F;
            if (contrast_db > 8.0F) top_relative = std::max(top_relative, row[6]);
        }
        const float share = isolation * (k == 0 ? 1.0F : 0.9F);
        weight += share;
        contrast += share * row[1];
        residual += share * row[3];
        decay += share * row[4];
        before += share * row[5];
        relative += share * row[6];
        fall += share * row[8];
    }
    /// The same partial against what rang before. `row`, `contrast_db`, `level_db` as for add().
    void add_before(std::span<const float, kPartialMeasures> row, float contrast_db, float level_db, float earlier_alone) noexcept {
        if (row[2] <= 0.5F) return;
        goes_on += earlier_alone * row[14];
        starting += earlier_alone;
        goes_on_energy += earlier_alone * earlier_alone * row[14];
        if (contrast_db <= 8.0F) return;
        const float struck = row[7] * (1.0F - row[14]);
        struck_second = std::max(struck_second, std::min(struck_first, struck));
        struck_first = std::max(struck_first, struck);
        struck_count += level_db > -40.0F && row[14] < kStruck ? 1.0F : 0.0F;
    }
    /// The same partial in the long window; `apart_share`: PartialRow::apart.
    void add_whole(std::span<const float, kPartialMeasures> row, float apart_share) noexcept {
        apart += apart_share;
        clear += apart_share * row[13];
        exact += apart_share * row[12];
        if (apart_share < 0.5F) return;
        const float clear_level = row[13] > kClear ? row[11] : 0.0F;
        clear_count += clear_level > kLastingLevel ? 1.0F : 0.0F;
        whole_second = std::max(whole_second, std::min(whole_first, clear_level));
        whole_first = std::max(whole_first, clear_level);
    }
};

}  // namespace

float NoteBank::peak(const Spectrum& spectrum, float hz, float half_width_hz) const noexcept {
    const int from = std::max(1, bin_of(hz - half_width_hz)), to = std::min(kSpectrumBins - 1, bin_of(hz + half_width_hz));
    if (to < from) return 0.0F;
    return largest(&spectrum[static_cast<std::size_t>(from)], static_cast<std::size_t>(to - from) + 1);
}

float NoteBank::floor_near(const Spectrum& spectrum, float hz, float inner_hz, float outer_hz) const noexcept {
    float sum = 0.0F;
    int count = 0;
    for (const float side : {-1.0F, 1.0F}) {
        const int from = std::max(1, bin_of(hz + (side < 0 ? -outer_hz : inner_hz)));
        const int to = std::min(kSpectrumBins - 1, bin_of(hz + (side < 0 ? -inner_hz : outer_hz)));
        for (int b = from; b <= to; ++b, ++count) sum += std::sqrt(spectrum[static_cast<std::size_t>(b)]);
    }
    const float mean = count > 0 ? sum / static_cast<float>(count) : 0.0F;
    return mean * mean;
}

float NoteBank::envelope_near(float hz) const noexcept {
    // Half an octave each way: what the other notes have in this region, whatever the guitar's tone and the microphone do there.
    return peak(predicted_, 1.06F * hz, 0.36F * hz);
}

NoteBank::Alone NoteBank::alone(float hz, std::span<const float> near_hz) const noexcept {
    const PhasedSpectrum &earlier = evidence_->earlier, &later = evidence_->later;
    if (later.length_s <= 0.0F) return {};
    NearPartials near(hz, near_hz, later.length_s);
    NearPartials::Values early = near.values(earlier), late = near.values(later);
    near.eliminate(std::array{&early, &late});
    const std::complex<float> early_alone = early[0] / near.own(), late_alone = late[0] / near.own();
    Alone out{size_of(early_alone), size_of(late_alone)};
    // A string's phase turns on at its frequency; a body's resonance or a neighbour beside it turns at its own.
    const std::complex<float> turned = late_alone * std::conj(early_alone) * std::polar(1.0F, -2.0F * std::numbers::pi_v<float> * hz * evidence_->apart_s);
    if (const float size = size_of(turned); size > 0.0F && evidence_->apart_s > 0.0F) {
        out.steady = turned.real() / size;
        out.off_hz = std::arg(turned) / (2.0F * std::numbers::pi_v<float> * evidence_->apart_s);
    }
    if (evidence_->rang.length_s > 0.0F) compare_with_before(hz + out.off_hz, early_alone, out);
    if (evidence_->whole.length_s > 0.0F) alone_in_whole(hz, near_hz, out);
    return out;
}

void NoteBank::compare_with_before(float hz, std::complex<float> early_alone, Alone& out) const noexcept {
    const std::complex<float> before = evidence_->rang.at(hz);
    out.rang = size_of(before);
    const float energy = std::norm(before), starting = std::norm(early_alone);
    if (energy <= 0.0F || starting <= 0.0F) return;
    // A string that was not struck anew keeps its phase, and has lost some of its loudness.
    const std::complex<float> foretold = before * std::polar(1.0F, 2.0F * std::numbers::pi_v<float> * hz * evidence_->rang_apart_s);
    const float share = std::clamp((early_alone * std::conj(foretold)).real() / energy, 0.0F, kLoudestRinging);
    out.goes_on = std::clamp(1.0F - std::norm(early_alone - share * foretold) / starting, 0.0F, 1.0F);
}

void NoteBank::alone_in_whole(float hz, std::span<const float> near_hz, Alone& out) const noexcept {
    const PhasedSpectrum& whole = evidence_->whole;
    NearPartials near(hz, near_hz, whole.length_s);
    NearPartials::Values amplitudes = near.values(whole);
    near.eliminate(std::array{&amplitudes});
    near.substitute(amplitudes);
    out.whole = size_of(amplitudes[0]);
    // What the partials don't explain on the flanks is noise, or a sound that lies near and is none of these notes.
    float energy = 0.0F;
    for (const float aside : kAside) {
        const float beside_hz = hz + aside / whole.length_s;
        energy += std::norm(whole.at(beside_hz) - near.explained(beside_hz, amplitudes));
    }
    out.rest = std::sqrt(energy / static_cast<float>(kAside.size()));
}

void NoteBank::add_loudness(std::size_t index, std::size_t count, NoteFeatures& row) const noexcept {
    float sum = 0.0F, least = 1e9F, most = 1e-4F;
    for (std::size_t i = 0; i < std::min<std::size_t>(count, kMostNotes); ++i) {
        if (i == index) continue;
        sum += note_weights_[i];
        least = std::min(least, note_weights_[i]);
        most = std::max(most, note_weights_[i]);
    }
    const float own = std::max(note_weights_[index], 1e-4F);
    const auto scaled = [&](float other) { return std::clamp(std::log(own / std::max(other, 1e-4F)), -4.0F, 4.0F) / 2.0F; };
    float* tail = &row[kPartialMeasures * kNoteFeaturePartials + 14];
    tail[0] = count > 1 ? scaled(sum / static_cast<float>(count - 1)) : 0.0F;
    tail[1] = count > 1 ? scaled(least) : 0.0F;
    tail[2] = count > 1 ? scaled(most) : 0.0F;
}

NoteBank::Place NoteBank::measure_place(float hz) const noexcept {
    const StrumEvidence& e = *evidence_;
    const float width = half_width_hz(hz), top = peak(e.body, hz, width);
    const float ground = floor_near(e.body, hz, 0.7F * lobe_half_hz_, 1.6F * lobe_half_hz_ + 0.02F * hz);
    const float attack = peak(e.attack, hz, width), late = peak(e.late, hz, width), before = peak(e.before, hz, width);
    return {.measured = true, .top = top, .level_db = std::max(-50.0F, db(top / reference_)), .contrast_db = std::clamp(db(top / std::max(ground, 1e-7F * reference_)), -20.0F, 40.0F),
            .decay = std::clamp(db(late / std::max(attack, 1e-4F * reference_)), -30.0F, 15.0F) / 15.0F,
            .before = (std::clamp(db(before / std::max(top, 1e-4F * reference_)), -40.0F, 10.0F) + 40.0F) / 40.0F};
}

NoteBank::PartialRow NoteBank::measure_partial(const Place& at, float hz, std::span<const int> others) noexcept {
    const StrumEvidence& e = *evidence_;
    const float clear_hz = 0.75F * lobe_half_hz_;  // partials closer than this cannot be told apart
    const float near_reach_hz = 3.0F / std::max(0.03F, e.later.length_s);
    float nearest = 1000.0F;
    std::array<float, kMostNear> near_hz;
    std::size_t near_count = 0;
    for (const int other : others) {
        const Note& o = note(other);
        for (int j = 0; j < o.partials; ++j) {
            const float other_hz = o.partial[static_cast<std::size_t>(j)].hz, distance = std::abs(other_hz - hz);
            nearest = std::min(nearest, distance);
            if (distance < near_reach_hz && near_count < near_hz.size()) near_hz[near_count++] = other_hz;
        }
    }
    PartialRow out;
    out.alone = alone(hz, {near_hz.data(), near_count});
    const float expected_root = peak(predicted_, hz, half_width_hz(hz)), around = envelope_near(hz);
    out.row[0] = (at.level_db + 50.0F) / 50.0F;
    out.row[1] = at.contrast_db / 20.0F;
    out.apart = std::clamp((nearest * e.whole.length_s - kTooNear) / (1.0F - kTooNear), 0.0F, 1.0F);
    out.row[2] = std::clamp((nearest - 0.3F * clear_hz) / clear_hz, 0.0F, 1.0F);
    out.row[3] = std::clamp(db(at.top / std::max(expected_root * expected_root, 3e-3F * reference_)), -30.0F, 30.0F) / 20.0F;
    out.row[4] = at.decay;
    out.row[5] = at.before;
    out.row[6] = std::clamp(db(at.top / std::max(around * around, 1e-3F * reference_)), -40.0F, 20.0F) / 20.0F;
    out.row[7] = (std::max(-50.0F, db(out.alone.later / reference_)) + 50.0F) / 50.0F;
    out.row[9] = out.alone.steady;
    out.row[10] = std::clamp(1731.0F * out.alone.off_hz / hz, -60.0F, 60.0F) / 30.0F;  // cents, to first order
    out.row[11] = (std::max(-50.0F, db(out.alone.whole / reference_)) + 50.0F) / 50.0F;
    // A steady partial at this very place is as large in the long window as in the short ones.
    out.row[12] = std::clamp(db(out.alone.whole / std::max(0.5F * (out.alone.earlier + out.alone.later), 1e-4F * reference_)), -20.0F, 10.0F) / 10.0F;
    out.row[13] = std::clamp(db(out.alone.whole / std::max(out.alone.rest, 1e-4F * reference_)), -20.0F, 40.0F) / 20.0F;
    out.row[8] = std::clamp(db(out.alone.later / std::max(out.alone.earlier, 1e-4F * reference_)), -30.0F, 15.0F) / 15.0F;
    out.row[14] = out.alone.goes_on;
    out.row[15] = std::clamp(db(out.alone.rang / std::max(out.alone.earlier, 1e-4F * reference_)), -40.0F, 20.0F) / 20.0F;
    return out;
}

NoteFeatures NoteBank::features(int midi, std::span<const int> others) noexcept {
    if (prediction_due_) predict();
    NoteFeatures out{};
    Note& n = note(midi);
    OwnPartials own;
    for (int k = 0; k < std::min(n.partials, kNoteFeaturePartials); ++k) {
        const float hz = n.partial[static_cast<std::size_t>(k)].hz;
        Place& at = n.at[static_cast<std::size_t>(k)];
        if (!at.measured) at = measure_place(hz);
        const PartialRow measured = measure_partial(at, hz, others);
        std::copy(measured.row.begin(), measured.row.end(), out.begin() + k * kPartialMeasures);
        own.add_whole(measured.row, measured.apart);
        own.add_before(measured.row, at.contrast_db, at.level_db, measured.alone.earlier);
        own.add(k, measured.row, at.contrast_db, at.level_db, measured.alone.earlier, measured.alone.later);
    }
    float* tail = &out[kPartialMeasures * kNoteFeaturePartials];
    tail[0] = static_cast<float>(midi - 60) / 12.0F;
    tail[1] = n.cents / 24.0F;
    tail[2] = own.count / 4.0F;
    tail[3] = own.level;
    tail[4] = own.contrast / own.weight;
    tail[5] = own.residual / own.weight;
    tail[6] = own.decay / own.weight;
    tail[7] = own.before / own.weight;
    tail[8] = own.first;
    tail[9] = std::min(own.weight, 8.0F) / 4.0F;
    tail[10] = salience(midi) * 4.0F;
    tail[11] = static_cast<float>(std::min(n.partials, kNoteFeaturePartials)) / 8.0F;
    tail[12] = own.relative / own.weight;
    tail[13] = own.top_relative;
    tail[17] = own.fall / own.weight;
    tail[18] = own.later;
    tail[19] = own.lasting / 4.0F;
    tail[20] = own.lasting_second;
    const float least = 1e-8F * reference_ * reference_;
    tail[22] = own.steady / own.sounding;
    tail[23] = own.whole_first;
    tail[24] = own.whole_second;
    tail[25] = own.clear / own.apart;
    tail[26] = own.exact / own.apart;
    tail[27] = own.clear_count / 4.0F;
    tail[28] = own.goes_on / own.starting;
    tail[29] = own.goes_on_energy / (own.earlier_energy + least);
    tail[30] = own.struck_first;
    tail[31] = own.struck_second;
    tail[32] = own.struck_count / 4.0F;
    tail[21] = std::clamp(10.0F * std::log10((own.later_energy + least) / (own.earlier_energy + least)), -30.0F, 15.0F) / 15.0F;
    return out;
}

}  // namespace gripline::dsp

#include "dsp/note_bank.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "dsp/non_negative.h"

namespace gripline::dsp {

namespace {

constexpr int kSpan = NoteBank::kHighest - NoteBank::kLowest + 1;
constexpr float kLowHz = 70.0F, kHighHz = 4150.0F;
constexpr std::array<float, NoteBank::kTilts> kTiltRoots{0.742F, 0.849F, 0.938F};  // square roots of 0.55, 0.72, 0.88 a partial
// Stiffness of a guitar string, 1e-5 to 3e-4 (Fletcher 1964); these cover it within 5 cents up to the sixth partial.
constexpr std::array<double, 3> kStiffness{2e-5, 8e-5, 2e-4};
constexpr std::size_t kSolvedKept = 128;  // one verdict needs about 80
constexpr std::size_t kMostNear = 8;   // partials of other notes that are taken out before one is measured
constexpr float kTooNear = 0.3F;       // of a window's 1 / length: partials closer than this are one
constexpr float kLastingDb = -9.0F;    // a string's partial falls less between the two windows; a body's resonance 7 to 25 dB (recorded guitars)
constexpr float kLastingLevel = 0.24F; // -38 dB
static_assert(NoteBank::kMostNotes * NoteBank::kTilts <= kMostUnknowns);
constexpr float kBandEdges[] = {400.0F, 1200.0F};

int bin_of(double hz) { return static_cast<int>(hz / kBinHz + 0.5); }
constexpr float kRidge = 0.02F;  // keeps the fit of close partials sound

/// cos(pi / 2 * x) for x from -1 to 1 by its series, within 5e-7.
float quarter_cosine(float x) {
    const float y = x * x * 2.46740110F;
    return 1.0F - y / 2.0F * (1.0F - y / 12.0F * (1.0F - y / 30.0F * (1.0F - y / 56.0F * (1.0F - y / 90.0F))));
}

/// Transform of a Hann window at `u` / its length, 1 at 0 (Harris 1978, eq. 27a in the limit of many samples).
float hann_transform(float u) {
    const float pi_u = std::numbers::pi_v<float> * u, d = 1.0F - u * u;
    if (std::abs(u) < 1e-3F) return 1.0F;
    if (std::abs(d) < 1e-3F) return 0.5F;
    return std::sin(pi_u) / (pi_u * d);
}
float db(float ratio) { return 20.0F * std::log10(std::max(ratio, 1e-6F)); }

}  // namespace

NoteBank::NoteBank() : solved_(kSolvedKept), notes_(kSpan), gram_(static_cast<std::size_t>(kSpan) * kSpan), gram_ready_(static_cast<std::size_t>(kSpan) * kSpan) {}

void NoteBank::begin(const StrumEvidence& evidence, double offset_cents) noexcept {
    evidence_ = &evidence;
    offset_cents_ = offset_cents;
    const double length_s = std::max(0.05, evidence.heard_s - evidence.onset_s - 0.025);
    lobe_half_hz_ = static_cast<float>(std::min(2.0 / length_s, 50.0));  // Hann: first zero at 2 / length
    reference_ = 1e-7F;
    total_ = 1e-12F;
    for (int b = 0; b < kSpectrumBins; ++b) {
        const auto i = static_cast<std::size_t>(b);
        const bool inside = b >= bin_of(kLowHz) && b <= bin_of(kHighHz);
        const float left = std::max(0.0F, evidence.body[i] - 0.5F * evidence.before[i]);
        root_[i] = inside ? std::sqrt(left) : 0.0F;
        total_ += root_[i] * root_[i];
        if (inside) reference_ = std::max(reference_, evidence.body[i]);
    }
    solved_count_ = 0;
    prediction_due_ = false;
    for (Note& n : notes_) n.ready = false;
    std::fill(gram_ready_.begin(), gram_ready_.end(), std::uint8_t{0});
}

NoteBank::Note& NoteBank::note(int midi) noexcept {
    Note& n = notes_[static_cast<std::size_t>(std::clamp(midi, kLowest, kHighest) - kLowest)];
    if (!n.ready) place(n, midi);
    return n;
}

void NoteBank::place(Note& n, int midi) noexcept {
    const double nominal = 440.0 * std::exp2((midi - 69) / 12.0 + offset_cents_ / 1200.0);
    // The string's own detuning and stiffness: where its first eight partials together read most.
    float best = -1.0F;
    double best_hz = nominal, best_stiffness = kStiffness[1];
    for (const double stiffness : kStiffness) {
        for (int cents = -24; cents <= 24; cents += 4) {
            const double f0 = nominal * std::exp2(cents / 1200.0);
            float sum = 0.0F;
            for (int k = 1; k <= 8; ++k) {
                const double hz = k * f0 * std::sqrt(1.0 + stiffness * k * k);
                if (hz > kHighHz) break;
                sum += root_[static_cast<std::size_t>(bin_of(hz))];
            }
            sum *= 1.0F - 0.0005F * static_cast<float>(cents * cents) * 0.25F;  // the nominal place wins a draw
            if (sum > best) {
                best = sum;
                best_hz = f0;
                best_stiffness = stiffness;
                n.cents = static_cast<float>(cents);
            }
        }
    }
    n.partials = 0;
    for (int k = 1; k <= kPartials; ++k) {
        const double hz = k * best_hz * std::sqrt(1.0 + best_stiffness * k * k);
        if (hz > kHighHz - 60.0) break;
        Partial& p = n.partial[static_cast<std::size_t>(n.partials++)];
        p.hz = static_cast<float>(hz);
        const double half = lobe_half_hz_;
        p.first_bin = std::max(1, static_cast<int>(std::ceil((hz - half) / kBinHz)));
        const int end = static_cast<int>((hz + half) / kBinHz) + 1;
        p.bins = std::min<int>(end - p.first_bin, static_cast<int>(p.lobe.size()));
        for (int b = 0; b < p.bins; ++b) {
            const double d = ((p.first_bin + b) * kBinHz - hz) / half;  // -1..1
            // Main lobe of a Hann window, |sinc(2d) / (1 - (2d)^2)|, here by the cosine that follows it within 1 %; square root taken.
            p.lobe[static_cast<std::size_t>(b)] = quarter_cosine(static_cast<float>(std::clamp(d, -1.0, 1.0)));
        }
    }
    for (int t = 0; t < kTilts; ++t) {
        const auto i = static_cast<std::size_t>(t);
        n.match[i] = dot(n, t, root_);
        n.norm[i] = 0.0F;
        float a = 1.0F;
        for (int k = 0; k < n.partials; ++k, a *= kTiltRoots[i])
            for (int b = 0; b < n.partial[static_cast<std::size_t>(k)].bins; ++b) {
                const float v = a * n.partial[static_cast<std::size_t>(k)].lobe[static_cast<std::size_t>(b)];
                n.norm[i] += v * v;
            }
    }
    n.ready = true;
}

void NoteBank::add_column(const Note& n, int tilt, float weight, std::span<float> onto) const noexcept {
    float a = weight;
    for (int k = 0; k < n.partials; ++k, a *= kTiltRoots[static_cast<std::size_t>(tilt)]) {
        const Partial& p = n.partial[static_cast<std::size_t>(k)];
        for (int b = 0; b < p.bins; ++b) onto[static_cast<std::size_t>(p.first_bin + b)] += a * p.lobe[static_cast<std::size_t>(b)];
    }
}

float NoteBank::dot(const Note& n, int tilt, std::span<const float> with) const noexcept {
    float sum = 0.0F, a = 1.0F;
    for (int k = 0; k < n.partials; ++k, a *= kTiltRoots[static_cast<std::size_t>(tilt)]) {
        const Partial& p = n.partial[static_cast<std::size_t>(k)];
        float part = 0.0F;
        for (int b = 0; b < p.bins; ++b) part += with[static_cast<std::size_t>(p.first_bin + b)] * p.lobe[static_cast<std::size_t>(b)];
        sum += a * part;
    }
    return sum;
}

std::array<float, NoteBank::kTilts * NoteBank::kTilts>& NoteBank::gram(int a, int b) noexcept {
    const auto at = static_cast<std::size_t>((a - kLowest) * kSpan + (b - kLowest));
    if (!gram_ready_[at]) {
        const Note& na = note(a);
        const Note& nb = note(b);
        const auto turned = static_cast<std::size_t>((b - kLowest) * kSpan + (a - kLowest));
        for (int i = 0; i < kTilts; ++i) {
            column_.fill(0.0F);
            add_column(na, i, 1.0F, column_);
            for (int j = 0; j < kTilts; ++j) {
                const float value = dot(nb, j, column_);
                gram_[at][static_cast<std::size_t>(i * kTilts + j)] = value;
                gram_[turned][static_cast<std::size_t>(j * kTilts + i)] = value;
            }
        }
        gram_ready_[at] = gram_ready_[turned] = 1;
    }
    return gram_[at];
}

NoteBank::Solved& NoteBank::solve(std::span<const int> notes) noexcept {
    for (std::size_t i = 0; i < std::min(solved_count_, kSolvedKept); ++i)
        if (std::equal(notes.begin(), notes.end(), solved_[i].notes.begin(), solved_[i].notes.begin() + solved_[i].count)) return solved_[i];
    Solved& out = solved_[solved_count_++ % kSolvedKept];
    const std::size_t count = notes.size();
    const std::size_t columns = count * kTilts;
    out.count = static_cast<int>(count);
    out.error_known = false;
    std::copy(notes.begin(), notes.end(), out.notes.begin());
    out.weights.fill(0.0F);
    std::array<float, kMostNotes * kTilts * kMostNotes * kTilts> matrix;
    std::array<float, kMostNotes * kTilts> target{};
    for (std::size_t a = 0; a < count; ++a) {
        const Note& na = note(notes[a]);
        for (std::size_t i = 0; i < kTilts; ++i) target[a * kTilts + i] = na.match[i];
        for (std::size_t b = 0; b < count; ++b) {
            const auto& block = gram(notes[a], notes[b]);
            for (std::size_t i = 0; i < kTilts; ++i)
                for (std::size_t j = 0; j < kTilts; ++j) matrix[(a * kTilts + i) * columns + b * kTilts + j] = block[i * kTilts + j];
        }
    }
    solve_non_negative({matrix.data(), columns * columns}, {target.data(), columns}, {out.weights.data(), columns});
    return out;
}

void NoteBank::weigh(std::span<const int> all_notes) noexcept {
    const auto notes = all_notes.first(std::min<std::size_t>(all_notes.size(), kMostNotes));
    const auto& weights = solve(notes).weights;
    for (std::size_t a = 0; a < notes.size(); ++a) {
        note_weights_[a] = 0.0F;
        for (std::size_t i = 0; i < kTilts; ++i) note_weights_[a] += weights[a * kTilts + i] * std::sqrt(note(notes[a]).norm[i]);
        note_weights_[a] /= std::sqrt(reference_);
    }
}

Fit NoteBank::fit(std::span<const int> all_notes) noexcept {
    const auto notes = all_notes.first(std::min<std::size_t>(all_notes.size(), kMostNotes));
    weigh(notes);
    Solved& solved = solve(notes);
    if (!solved.error_known) {
        predict(solved);
        solved.error = error_of_prediction();
        solved.error_known = true;
    } else {
        to_predict_ = solved;
        prediction_due_ = true;
    }
    return solved.error;
}

void NoteBank::predict(const Solved& solved) noexcept {
    prediction_due_ = false;
    predicted_.fill(0.0F);
    for (std::size_t a = 0; a < static_cast<std::size_t>(solved.count); ++a)
        for (std::size_t i = 0; i < kTilts; ++i)
            if (const float w = solved.weights[a * kTilts + i]; w > 0.0F) add_column(note(solved.notes[a]), static_cast<int>(i), w, predicted_);
}

Fit NoteBank::error_of_prediction() const noexcept {
    Fit out;
    int from = bin_of(kLowHz);
    for (std::size_t band = 0; band < Fit::kBands; ++band) {
        const int end = band + 1 < Fit::kBands ? static_cast<int>(kBandEdges[band] / kBinHz) + 1 : bin_of(kHighHz) + 1;
        float over = 0.0F, under = 0.0F;
        for (int b = from; b < end; ++b) {
            const float d = root_[static_cast<std::size_t>(b)] - predicted_[static_cast<std::size_t>(b)];
            const float more = std::max(d, 0.0F), less = std::max(-d, 0.0F);
            over += more * more;
            under += less * less;
        }
        out.unexplained[band] = over / total_;
        out.absent[band] = under / total_;
        from = end;
    }
    return out;
}

float NoteBank::salience(int midi) noexcept {
    const Note& n = note(midi);
    float best = 0.0F;
    for (std::size_t t = 0; t < kTilts; ++t)
        if (n.norm[t] > 0.0F) best = std::max(best, n.match[t] * n.match[t] / n.norm[t]);
    return best / total_;
}

float NoteBank::further_gain(int midi) noexcept {
    if (prediction_due_) predict(to_predict_);
    const Note& n = note(midi);
    for (std::size_t b = 0; b < column_.size(); ++b) column_[b] = root_[b] - predicted_[b];
    float best = 0.0F;
    for (int t = 0; t < kTilts; ++t) {
        const float d = dot(n, t, column_), norm = n.norm[static_cast<std::size_t>(t)];
        if (d > 0.0F && norm > 0.0F) best = std::max(best, d * d / norm);
    }
    return best / total_;
}

float NoteBank::peak(const Spectrum& spectrum, float hz, float half_width_hz) const noexcept {
    const int from = std::max(1, bin_of(hz - half_width_hz)), to = std::min(kSpectrumBins - 1, bin_of(hz + half_width_hz));
    float top = 0.0F;
    for (int b = from; b <= to; ++b) top = std::max(top, spectrum[static_cast<std::size_t>(b)]);
    return top;
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
    // The values at the partials' places are the partials' amplitudes times the window's transform between each two of them.
    const PhasedSpectrum &earlier = evidence_->earlier, &later = evidence_->later;
    const float length_s = later.length_s;
    if (length_s <= 0.0F) return {};
    std::array<float, kMostNear + 1> place{hz};
    std::size_t count = 1;
    for (const float other : near_hz) {
        const auto end = place.begin() + static_cast<std::ptrdiff_t>(count);
        if (count < place.size() && std::none_of(place.begin(), end, [&](float p) { return std::abs(p - other) * length_s < kTooNear; })) place[count++] = other;
    }
    std::array<std::array<float, kMostNear + 1>, kMostNear + 1> matrix;
    std::array<std::complex<float>, kMostNear + 1> early, late;
    for (std::size_t i = 0; i < count; ++i) {
        early[i] = earlier.at(place[i]);
        late[i] = later.at(place[i]);
        for (std::size_t j = 0; j < count; ++j) matrix[i][j] = i == j ? 1.0F + kRidge : hann_transform((place[i] - place[j]) * length_s);
    }
    for (std::size_t i = count; i-- > 1;)  // upwards, so that the first unknown comes out by itself
        for (std::size_t r = 0; r < i; ++r) {
            const float share = matrix[r][i] / matrix[i][i];
            for (std::size_t c = 0; c < i; ++c) matrix[r][c] -= share * matrix[i][c];
            early[r] -= share * early[i];
            late[r] -= share * late[i];
        }
    return {std::abs(early[0] / matrix[0][0]), std::abs(late[0] / matrix[0][0])};
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

NoteFeatures NoteBank::features(int midi, std::span<const int> others) noexcept {
    if (prediction_due_) predict(to_predict_);
    NoteFeatures out{};
    const Note& n = note(midi);
    const StrumEvidence& e = *evidence_;
    const float clear_hz = 0.75F * lobe_half_hz_;  // partials closer than this cannot be told apart
    const float near_reach_hz = 3.0F / std::max(0.03F, e.later.length_s);
    float own_fall = 0.0F, own_later = -1.0F;
    float lasting = 0.0F, lasting_first = 0.0F, lasting_second = 0.0F, earlier_energy = 0.0F, later_energy = 0.0F;  // of its own partials
    float own_relative = 0.0F, top_relative = -1.0F;
    float own = 0.0F, own_level = -1.0F, own_contrast = 0.0F, own_residual = 0.0F, own_weight = 1e-3F, own_decay = 0.0F, own_before = 0.0F, first_own = 1.0F;
    for (int k = 0; k < std::min(n.partials, kNoteFeaturePartials); ++k) {
        const float hz = n.partial[static_cast<std::size_t>(k)].hz;
        const float width = std::max(3.0F, 0.006F * hz);
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
        const auto [earlier_alone, later_alone] = alone(hz, {near_hz.data(), near_count});
        const float top = peak(e.body, hz, width);
        const float level = std::max(-50.0F, db(top / reference_));
        const float ground = floor_near(e.body, hz, 0.7F * lobe_half_hz_, 1.6F * lobe_half_hz_ + 0.02F * hz);
        const float contrast = std::clamp(db(top / std::max(ground, 1e-7F * reference_)), -20.0F, 40.0F);
        const float isolation = std::clamp((nearest - 0.3F * clear_hz) / clear_hz, 0.0F, 1.0F);
        const float expected_root = peak(predicted_, hz, width);
        const float residual = std::clamp(db(top / std::max(expected_root * expected_root, 3e-3F * reference_)), -30.0F, 30.0F);
        const float attack = peak(e.attack, hz, width), late = peak(e.late, hz, width), before = peak(e.before, hz, width);
        const float decay = std::clamp(db(late / std::max(attack, 1e-4F * reference_)), -30.0F, 15.0F);
        const float rang = std::clamp(db(before / std::max(top, 1e-4F * reference_)), -40.0F, 10.0F);
        const float around = envelope_near(hz);
        const float relative = std::clamp(db(top / std::max(around * around, 1e-3F * reference_)), -40.0F, 20.0F);
        float* row = &out[static_cast<std::size_t>(k * kPartialMeasures)];
        row[0] = (level + 50.0F) / 50.0F;
        row[1] = contrast / 20.0F;
        row[2] = isolation;
        row[3] = residual / 20.0F;
        row[4] = decay / 15.0F;
        row[5] = (rang + 40.0F) / 40.0F;
        row[6] = relative / 20.0F;
        row[7] = (std::max(-50.0F, db(later_alone / reference_)) + 50.0F) / 50.0F;
        row[8] = std::clamp(db(later_alone / std::max(earlier_alone, 1e-4F * reference_)), -30.0F, 15.0F) / 15.0F;
        const float weight = isolation * (k == 0 ? 1.0F : 0.9F);
        if (isolation > 0.5F) {
            own += contrast > 8.0F && level > -40.0F ? 1.0F : 0.0F;
            own_level = std::max(own_level, row[0]);
            own_later = std::max(own_later, row[7]);
            earlier_energy += earlier_alone * earlier_alone;
            later_energy += later_alone * later_alone;
            if (row[8] > kLastingDb / 15.0F) {
                lasting += row[7] > kLastingLevel ? 1.0F : 0.0F;
                lasting_second = std::max(lasting_second, std::min(lasting_first, row[7]));
                lasting_first = std::max(lasting_first, row[7]);
            }
            if (first_own == 1.0F && contrast > 8.0F && level > -40.0F) first_own = static_cast<float>(k) / 8.0F;
        }
        own_weight += weight;
        own_contrast += weight * row[1];
        own_residual += weight * row[3];
        own_decay += weight * row[4];
        own_before += weight * row[5];
        own_relative += weight * row[6];
        own_fall += weight * row[8];
        if (isolation > 0.5F && contrast > 8.0F) top_relative = std::max(top_relative, row[6]);
    }
    float* tail = &out[kPartialMeasures * kNoteFeaturePartials];
    tail[0] = static_cast<float>(midi - 60) / 12.0F;
    tail[1] = n.cents / 24.0F;
    tail[2] = own / 4.0F;
    tail[3] = own_level;
    tail[4] = own_contrast / own_weight;
    tail[5] = own_residual / own_weight;
    tail[6] = own_decay / own_weight;
    tail[7] = own_before / own_weight;
    tail[8] = first_own;
    tail[9] = std::min(own_weight, 8.0F) / 4.0F;
    tail[10] = salience(midi) * 4.0F;
    tail[12] = own_relative / own_weight;
    tail[13] = top_relative;
    tail[17] = own_fall / own_weight;
    tail[18] = own_later;
    tail[19] = lasting / 4.0F;
    tail[20] = lasting_second;
    const float least = 1e-8F * reference_ * reference_;
    tail[21] = std::clamp(10.0F * std::log10((later_energy + least) / (earlier_energy + least)), -30.0F, 15.0F) / 15.0F;
    tail[11] = static_cast<float>(std::min(n.partials, kNoteFeaturePartials)) / 8.0F;
    return out;
}

}  // namespace gripline::dsp

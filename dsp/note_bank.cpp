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
/// What a partial has of its note's first, by tilt and by partial from 0.
constexpr auto kTiltPowers = [] {
    std::array<std::array<float, NoteBank::kPartials>, NoteBank::kTilts> powers{};
    for (std::size_t t = 0; t < powers.size(); ++t) {
        powers[t][0] = 1.0F;
        for (std::size_t k = 1; k < NoteBank::kPartials; ++k) powers[t][k] = powers[t][k - 1] * kTiltRoots[t];
    }
    return powers;
}();
// Stiffness of a guitar string, 1e-5 to 3e-4 (Fletcher 1964); these cover it within 5 cents up to the sixth partial.
constexpr std::array<double, 3> kStiffness{2e-5, 8e-5, 2e-4};
constexpr int kReach_cents = 24, kStep_cents = 4;  // of an unknown note's place
constexpr int kKnownReach_cents = 12;  // around a known note's place: strings drift by some cents, and a fretting hand bends by some more
static_assert(kKnownReach_cents <= kReach_cents && kKnownReach_cents % kStep_cents == 0);
/// Frequencies of the places searched, against the middle one.
const std::array<double, 2 * kReach_cents / kStep_cents + 1> kStepRatios = [] {
    std::array<double, 2 * kReach_cents / kStep_cents + 1> ratios{};
    for (std::size_t i = 0; i < ratios.size(); ++i) ratios[i] = std::exp2((static_cast<int>(i) * kStep_cents - kReach_cents) / 1200.0);
    return ratios;
}();
constexpr std::size_t kSolvedKept = 128;  // one verdict needs about 80
static_assert(NoteBank::kMostNotes * NoteBank::kTilts <= kMostUnknowns);
constexpr float kBandEdges[] = {400.0F, 1200.0F};


/// cos(pi / 2 * x) for x from -1 to 1 by its series, within 5e-7.
float quarter_cosine(float x) {
    const float y = x * x * 2.46740110F;
    return 1.0F - y / 2.0F * (1.0F - y / 12.0F * (1.0F - y / 30.0F * (1.0F - y / 56.0F * (1.0F - y / 90.0F))));
}


}  // namespace

NoteBank::NoteBank() : solved_(kSolvedKept), notes_(kSpan), gram_(static_cast<std::size_t>(kSpan) * kSpan), gram_ready_(static_cast<std::size_t>(kSpan) * kSpan) {}

void NoteBank::begin(const StrumEvidence& evidence, double offset_cents, const ExpectedNotes* expected) noexcept {
    evidence_ = &evidence;
    expected_ = expected;
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
    to_predict_.count = -1;  // the prediction that stands is of another sound
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
    const ExpectedNote* known = expected_ != nullptr ? expected_->of(midi) : nullptr;
    const double known_stiffness = known != nullptr ? known->stiffness : 0.0;
    const int known_cents = known != nullptr ? static_cast<int>(std::lround(known->cents)) : 0;
    const int reach_cents = known != nullptr ? kKnownReach_cents : kReach_cents;
    const double middle_hz = known_cents == 0 ? nominal : nominal * std::exp2(known_cents / 1200.0);
    std::array<double, 9> stretched;  // partials against the fundamental
    for (const double stiffness : known != nullptr ? std::span<const double>(&known_stiffness, 1) : std::span<const double>(kStiffness)) {
        for (int k = 1; k <= 8; ++k) stretched[static_cast<std::size_t>(k)] = k * std::sqrt(1.0 + stiffness * k * k);
        for (int aside = -reach_cents; aside <= reach_cents; aside += kStep_cents) {
            const int cents = known_cents + aside;
            const double f0 = middle_hz * kStepRatios[static_cast<std::size_t>((aside + kReach_cents) / kStep_cents)];
            float sum = 0.0F;
            for (int k = 1; k <= 8; ++k) {
                const double hz = f0 * stretched[static_cast<std::size_t>(k)];
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
    n.at = {};
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

float NoteBank::shared_by(const Partial& a, const Partial& b) noexcept {
    const int from = std::max(a.first_bin, b.first_bin), end = std::min(a.first_bin + a.bins, b.first_bin + b.bins);
    float shared = 0.0F;
    for (int bin = from; bin < end; ++bin) shared += a.lobe[static_cast<std::size_t>(bin - a.first_bin)] * b.lobe[static_cast<std::size_t>(bin - b.first_bin)];
    return shared;
}

std::array<float, NoteBank::kTilts * NoteBank::kTilts>& NoteBank::gram(int a, int b) noexcept {
    const auto at = static_cast<std::size_t>((a - kLowest) * kSpan + (b - kLowest));
    if (!gram_ready_[at]) {
        const Note &na = note(a), &nb = note(b);
        const auto turned = static_cast<std::size_t>((b - kLowest) * kSpan + (a - kLowest));
        std::array<float, kTilts * kTilts> sum{};
        for (int k = 0; k < na.partials; ++k) {
            for (int m = 0; m < nb.partials; ++m) {
                const float shared = shared_by(na.partial[static_cast<std::size_t>(k)], nb.partial[static_cast<std::size_t>(m)]);
                if (shared == 0.0F) continue;
                for (std::size_t i = 0; i < kTilts; ++i)
                    for (std::size_t j = 0; j < kTilts; ++j) sum[i * kTilts + j] += kTiltPowers[i][static_cast<std::size_t>(k)] * kTiltPowers[j][static_cast<std::size_t>(m)] * shared;
            }
        }
        gram_[at] = sum;
        for (std::size_t i = 0; i < kTilts; ++i)
            for (std::size_t j = 0; j < kTilts; ++j) gram_[turned][j * kTilts + i] = sum[i * kTilts + j];
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
    // What differs by a note or two from a fit that was solved already has weights near those.
    if (solved_count_ > 1) {
        const Solved& first = solved_[0];
        for (std::size_t a = 0; a < count; ++a) {
            const auto same = std::find(first.notes.begin(), first.notes.begin() + first.count, notes[a]);
            if (same == first.notes.begin() + first.count) continue;
            const auto from = static_cast<std::size_t>(same - first.notes.begin()) * kTilts;
            std::copy_n(first.weights.begin() + static_cast<std::ptrdiff_t>(from), kTilts, out.weights.begin() + static_cast<std::ptrdiff_t>(a * kTilts));
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
        to_predict_ = solved;
        predict();
        solved.error = error_of_prediction();
        solved.error_known = true;
    } else if (solved.count != to_predict_.count || !std::equal(notes.begin(), notes.end(), to_predict_.notes.begin())) {
        to_predict_ = solved;
        prediction_due_ = true;
    }
    return solved.error;
}

void NoteBank::predict() noexcept {
    prediction_due_ = false;
    predicted_.fill(0.0F);
    for (std::size_t a = 0; a < static_cast<std::size_t>(to_predict_.count); ++a)
        for (std::size_t i = 0; i < kTilts; ++i)
            if (const float w = to_predict_.weights[a * kTilts + i]; w > 0.0F) add_column(note(to_predict_.notes[a]), static_cast<int>(i), w, predicted_);
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
    if (prediction_due_) predict();
    const Note& n = note(midi);
    for (std::size_t b = 0; b < column_.size(); ++b) column_[b] = root_[b] - predicted_[b];
    float best = 0.0F;
    for (int t = 0; t < kTilts; ++t) {
        const float d = dot(n, t, column_), norm = n.norm[static_cast<std::size_t>(t)];
        if (d > 0.0F && norm > 0.0F) best = std::max(best, d * d / norm);
    }
    return best / total_;
}

}  // namespace gripline::dsp

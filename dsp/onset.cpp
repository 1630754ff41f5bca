#include "dsp/onset.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "dsp/strum_evidence.h"

namespace gripline::dsp {

namespace {
constexpr int kLowBin = 2;          // 94 Hz: below it lies hum
constexpr float kPeakDecay = 0.9991F;  // a hop: halves in 4 s
constexpr float kNoiseRise = 1.003F;   // a hop: doubles in 1.2 s, falls at once
constexpr float kCandidateShare = 0.10F;  // of the recent largest flux
constexpr std::int64_t kSettling = 6;  // hops: 32 ms, one frame and a half
static_assert(kOnsetHops / 2 == OnsetDetector::kLookAhead);
static_assert((OnsetDetector::kLookAhead + 1) * OnsetDetector::kHopFrames >= FirstString::kFramesAfter);
constexpr std::size_t kRiseMeasure = 4, kLevelMeasure = 6;
}  // namespace

OnsetDetector::OnsetDetector(const OnsetConfig& config) : config_(config) {
    for (int i = 0; i < kFrame; ++i)
        window_[static_cast<std::size_t>(i)] = static_cast<float>((0.5 - 0.5 * std::cos(2.0 * std::numbers::pi * (i + 0.5) / kFrame)) * 4.0 / kFrame);
    reset();
}

void OnsetDetector::reset() noexcept {
    for (Frame& f : frames_) f = Frame{};
    hop_ = 0;
    last_onset_ = -1'000'000;
    flux_peak_ = 0.0F;
    noise_power_ = 1e-12F;
}

std::optional<std::int64_t> OnsetDetector::process(std::span<const float> history, std::int64_t now) noexcept {
    const float* x = history.data() + history.size() - kFrame;
    for (std::size_t i = 0; i < kFrame; ++i) buffer_[i] = x[i] * window_[i];
    fft_.forward(buffer_, spectrum_);
    Frame& f = frames_[static_cast<std::size_t>(hop_) % kKept];
    f.flux = f.power = 0.0F;
    for (std::size_t b = 0; b < kBins; ++b) {
        const float power = std::norm(spectrum_[b]);
        f.root[b] = std::sqrt(std::sqrt(power));
        if (b < kLowBin) continue;
        f.power += power;
        // Only what rises above the last 30 ms is new: noise and beating strings flutter, a plucked string does not come back.
        float ground = 0.0F;
        for (std::size_t k = 2; k <= 6; ++k) ground = std::max(ground, frames_[(static_cast<std::size_t>(hop_) + kKept - k) % kKept].root[b]);
        f.flux += std::max(0.0F, f.root[b] - ground);
    }
    // The first frames tell what the room sounds like: a recording that begins in noise does not begin with a strum.
    noise_power_ = std::max(1e-12F, hop_ < kSettling ? f.power : std::min(f.power, noise_power_ * kNoiseRise));
    flux_peak_ = std::max(f.flux, flux_peak_ * kPeakDecay);
    ++hop_;
    const std::int64_t looked_at = hop_ - 1 - kLookAhead;
    candidate_.reset();
    if (looked_at < 8 || !is_candidate(looked_at)) return std::nullopt;
    candidate_ = Candidate{0, measure(looked_at), picture(looked_at)};
    const bool strum = is_strum(*candidate_);
    if (strum || config_.place_all) candidate_->first_sound = first_string_.find(history, now, rise_of_candidate(now));
    if (!strum) return std::nullopt;
    const std::int64_t onset = candidate_->first_sound;
    const float flux = frame(looked_at).flux;
    // What came before a much stronger start was a squeak, a click or a brushed string; what comes a little after a stronger one belongs to it.
    const double gap_s = static_cast<double>(onset - last_onset_) / kAnalysisRateHz;
    const float enough = gap_s < config_.shortest_gap_s ? config_.overrules : gap_s < config_.likely_gap_s ? config_.overrules_late : 0.0F;
    if (flux < enough * last_flux_) return std::nullopt;
    if (onset <= last_onset_) return std::nullopt;
    last_onset_ = onset;
    last_flux_ = flux;
    return onset;
}

bool OnsetDetector::is_strum(const Candidate& candidate) const noexcept {
    const OnsetMeasures& m = candidate.measures;
    const auto soon = static_cast<std::int64_t>(config_.soon_s * kAnalysisRateHz);
    const float least_rise = hop_ * kHopFrames - last_onset_ < soon ? config_.least_rise_soon : config_.least_rise;
    return m[kLevelMeasure] >= config_.least_level_db / 60.0 && m[kRiseMeasure] >= least_rise && onset_chance(m, candidate.picture) >= config_.least_chance;
}

OnsetPicture OnsetDetector::picture(std::int64_t hop) const noexcept {
    constexpr std::array<std::size_t, kOnsetBands + 1> kEdges{2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 17, 19, 22, 25, 29, 34, 41, 50, 62, 77, kBins};
    OnsetPicture out;
    std::array<float, kOnsetHops> whole{};
    for (std::size_t k = 0; k < kOnsetHops; ++k) {
        const Frame& f = frame(hop - kOnsetHops / 2 + static_cast<std::int64_t>(k));
        for (std::size_t band = 0; band < kOnsetBands; ++band) {
            float power = 0.0F;
            for (std::size_t b = kEdges[band]; b < kEdges[band + 1]; ++b) power += f.root[b] * f.root[b] * f.root[b] * f.root[b];
            out[band][k] = power;
            whole[k] += power;
        }
    }
    const float top = std::max(1e-15F, *std::max_element(whole.begin(), whole.end()));
    for (auto& row : out)
        for (float& power : row) power = std::max(-6.0F, std::log10(power / top + 1e-9F)) + 3.0F;
    return out;
}

bool OnsetDetector::is_candidate(std::int64_t hop) const noexcept {
    const float flux = frame(hop).flux;
    if (flux < kCandidateShare * flux_peak_) return false;
    for (std::int64_t k = 1; k <= 3; ++k)
        if (frame(hop - k).flux > flux || frame(hop + k).flux > flux) return false;
    return true;
}

double OnsetDetector::staying_share(std::int64_t hop) const noexcept {
    float at_once = 0.0F, later = 0.0F;
    for (std::size_t b = kLowBin; b < kBins; ++b) {
        float ahead = 0.0F;
        for (std::int64_t k = 3; k <= 7; ++k) ahead = std::max(ahead, frame(hop - k).root[b]);
        at_once += std::max(0.0F, std::max(frame(hop).root[b], frame(hop + 1).root[b]) - ahead);
        later += std::max(0.0F, (frame(hop + 4).root[b] + frame(hop + 5).root[b]) * 0.5F - ahead);
    }
    return at_once > 0.0F ? static_cast<double>(later / at_once) : 0.0;
}

OnsetMeasures OnsetDetector::measure(std::int64_t hop) const noexcept {
    constexpr std::size_t kBandEnds[] = {9, 33, kBins};  // 400 Hz, 1.5 kHz
    std::array<float, kBins> ahead{}, fresh_early{}, fresh_late{};
    std::array<float, 3> after_band{}, ahead_band{}, risen_band{};
    float risen = 0.0F, sum = 0.0F, crest_top = 0.0F, fresh_top = 0.0F, fresh_sum = 1e-9F, dot = 0.0F, early = 1e-12F, late = 1e-12F;
    std::size_t band = 0;
    for (std::size_t b = kLowBin; b < kBins; ++b) {
        while (b >= kBandEnds[band]) ++band;
        float after = 0.0F;
        for (std::int64_t k = 5; k <= kLookAhead; ++k) after += frame(hop + k).root[b];
        after /= static_cast<float>(kLookAhead - 4);
        for (std::int64_t k = 3; k <= 7; ++k) ahead[b] = std::max(ahead[b], frame(hop - k).root[b]);
        fresh_early[b] = std::max(0.0F, (frame(hop + 4).root[b] + frame(hop + 6).root[b]) * 0.5F - ahead[b]);
        fresh_late[b] = std::max(0.0F, (frame(hop + 11).root[b] + frame(hop + 13).root[b]) * 0.5F - ahead[b]);
        const float fresh = std::max(0.0F, after - ahead[b]);
        risen += fresh;
        sum += after;
        crest_top += after * after;
        fresh_top += fresh * fresh;
        fresh_sum += fresh;
        after_band[band] += after * after;
        ahead_band[band] += ahead[b] * ahead[b];
        risen_band[band] += fresh;
        dot += fresh_early[b] * fresh_late[b];
        early += fresh_early[b] * fresh_early[b];
        late += fresh_late[b] * fresh_late[b];
    }
    const auto log_ratio = [](float a, float b, float most) { return std::clamp(std::log10((a + 1e-9F) / (b + 1e-9F)), -most, most); };
    float power = 0.0F, power_early = 0.0F, power_late = 0.0F, flux_next = 0.0F, flux_last = 0.0F;
    for (std::int64_t k = 1; k <= kLookAhead; ++k) {
        if (k >= 5) power += frame(hop + k).power / (kLookAhead - 4);
        if (k >= 2 && k <= 5) power_early += frame(hop + k).power;
        if (k >= 10) power_late += frame(hop + k).power;
        flux_next = std::max(flux_next, frame(hop + k).flux);
        flux_last = std::max(flux_last, frame(hop - k).flux);
    }
    const float flux = frame(hop).flux;
    const auto level_db = static_cast<float>(10.0 * std::log10(power * 0.5 + 1e-12));
    const auto noise_db = static_cast<float>(10.0 * std::log10(noise_power_ * 0.5 + 1e-12));
    const auto bins = static_cast<float>(kBins - kLowBin);
    OnsetMeasures m{};
    m[0] = log_ratio(flux, flux_peak_, 2.0F);
    m[1] = log_ratio(flux_next, flux, 1.0F);
    m[2] = log_ratio(flux_last, flux, 1.0F);
    m[3] = static_cast<float>(std::min(staying_share(hop), 2.0));
    m[kRiseMeasure] = risen / (sum + 1e-9F);
    m[5] = std::sqrt(late / early) > 3.0F ? 3.0F : std::sqrt(late / early);
    m[kLevelMeasure] = level_db / 60.0F;
    m[7] = std::clamp((level_db - noise_db) / 30.0F, 0.0F, 2.0F);
    for (std::size_t i = 0; i < 3; ++i) {
        m[8 + i] = log_ratio(after_band[i], ahead_band[i], 2.0F);
        m[11 + i] = risen_band[i] / fresh_sum;
    }
    m[14] = std::sqrt(crest_top * bins) / (sum + 1e-9F) * 0.3F;
    m[15] = log_ratio(power_late, power_early, 2.0F);
    m[16] = std::min(static_cast<float>(hop * kHopFrames - last_onset_) / kAnalysisRateHz, 1.0F);
    m[17] = last_flux_ > 0.0F ? log_ratio(flux, last_flux_, 2.0F) : 0.0F;
    m[18] = std::sqrt(fresh_top * bins) / fresh_sum * 0.3F;
    m[19] = dot / std::sqrt(early * late);
    return m;
}

}  // namespace gripline::dsp

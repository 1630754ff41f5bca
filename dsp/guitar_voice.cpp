#include "dsp/guitar_voice.h"

#include <algorithm>
#include <cmath>

namespace gripline::dsp {

namespace {

constexpr double kReach_hz = 4100.0;      // the resampler is flat up to there
constexpr float kAboveFloor = 2.0F;       // of a partial's peak over the bins beside it; noise itself reaches 2 seldom, a window's lobe is far above
constexpr double kCloseBand = 0.25;       // octaves: standard deviation of the smoothing
constexpr double kTowardsFlat = 0.5;      // weight of one measured partial that says 0 dB in every band
constexpr int kRounds = 12;               // note levels and curve in turn; the change is below 0.05 dB after eight

float peak_near(const Spectrum& spectrum, double hz, double width_hz) noexcept {
    float top = 0.0F;
    for (int b = std::max(1, bin_of(hz - width_hz)); b <= std::min(kSpectrumBins - 1, bin_of(hz + width_hz)); ++b) top = std::max(top, spectrum[static_cast<std::size_t>(b)]);
    return top;
}

/// Mean magnitude beside a partial, between its own lobe and the neighbours'.
float floor_beside(const Spectrum& spectrum, double hz, double first_hz) noexcept {
    float sum = 0.0F;
    int count = 0;
    for (const double side : {-0.5, 0.5}) {
        const int at = bin_of(hz + side * first_hz);
        for (int b = std::max(1, at - 2); b <= std::min(kSpectrumBins - 1, at + 2); ++b, ++count) sum += spectrum[static_cast<std::size_t>(b)];
    }
    return count > 0 ? sum / static_cast<float>(count) : 0.0F;
}

/// The reference's partial n of a note, between its notes on a straight line over pitch.
float reference_db(int midi, int n) noexcept {
    const auto i = static_cast<std::size_t>(n - 1);
    const auto above = std::find_if(kVoiceReference.begin(), kVoiceReference.end(), [&](const ReferenceNote& r) { return r.midi >= midi; });
    if (above == kVoiceReference.end()) return kVoiceReference.back().partial_db[i];
    if (above == kVoiceReference.begin() || above->midi == midi) return above->partial_db[i];
    const auto below = above - 1;
    const float part = static_cast<float>(midi - below->midi) / static_cast<float>(above->midi - below->midi);
    return (1.0F - part) * below->partial_db[i] + part * above->partial_db[i];
}

}  // namespace

double NoteVoice::partial_hz(int n) const noexcept {
    const double first_hz = 440.0 * std::exp2((midi - 69) / 12.0 + cents / 1200.0);
    return n * first_hz * std::sqrt((1.0 + stiffness * n * n) / (1.0 + stiffness));
}

NoteVoice measure_note(const Spectrum& body, int midi, double first_hz, double stiffness) noexcept {
    NoteVoice out;
    out.midi = midi;
    out.cents = 1200.0 * std::log2(first_hz / 440.0) - 100.0 * (midi - 69);
    out.stiffness = std::clamp(stiffness, 0.0, 1e-3);
    std::array<float, kVoicePartials> level{};
    double sum = 0.0;
    for (int n = 1; n <= kVoicePartials; ++n) {
        const double hz = out.partial_hz(n);
        if (hz > kReach_hz) break;
        const float top = peak_near(body, hz, std::max(3.0, 0.006 * hz));
        if (top < kAboveFloor * floor_beside(body, hz, first_hz)) continue;
        level[static_cast<std::size_t>(n - 1)] = top;
        sum += static_cast<double>(top) * top;
    }
    for (std::size_t i = 0; i < level.size(); ++i)
        out.partial_db[i] = level[i] > 0.0F ? std::max(kNoPartial_db, static_cast<float>(20.0 * std::log10(level[i] / std::sqrt(sum)))) : kNoPartial_db;
    return out;
}

double tilt_db_per_octave(const NoteVoice& note) noexcept {
    double count = 0.0, x_sum = 0.0, y_sum = 0.0, xx = 0.0, xy = 0.0;
    for (int n = 1; n <= kVoicePartials; ++n) {
        const double y = static_cast<double>(note.partial_db[static_cast<std::size_t>(n - 1)]), x = std::log2(n);
        if (y <= static_cast<double>(kNoPartial_db)) continue;
        count += 1.0;
        x_sum += x;
        y_sum += y;
        xx += x * x;
        xy += x * y;
    }
    return count < 3.0 ? 0.0 : (count * xy - x_sum * y_sum) / (count * xx - x_sum * x_sum);
}

double ResponseCurve::band_hz(int band) noexcept { return kLowestBand_hz * std::exp2(band / kBandsAnOctave); }

float ResponseCurve::at_db(double hz) const noexcept {
    const double place = std::clamp(std::log2(std::max(hz, 1.0) / kLowestBand_hz) * kBandsAnOctave, 0.0, kResponseBands - 1.0);
    const auto low = std::min(static_cast<std::size_t>(place), static_cast<std::size_t>(kResponseBands - 2));
    const auto part = static_cast<float>(place - static_cast<double>(low));
    return (1.0F - part) * gain_db[low] + part * gain_db[low + 1];
}

ResponseCurve response_of(std::span<const NoteVoice> notes) noexcept {
    ResponseCurve out;
    constexpr std::size_t kMost = 16;  // two notes on each of at most seven strings
    std::array<double, kMost> offset{};
    const auto used = notes.first(std::min(notes.size(), kMost));
    const auto each_partial = [&](auto&& visit) {
        for (std::size_t i = 0; i < used.size(); ++i)
            for (int n = 1; n <= kVoicePartials; ++n) {
                const float reads = used[i].partial_db[static_cast<std::size_t>(n - 1)], usual = reference_db(used[i].midi, n);
                if (reads > kNoPartial_db && usual > kNoPartial_db) visit(i, used[i].partial_hz(n), static_cast<double>(reads - usual));
            }
    };
    for (int round = 0; round < kRounds; ++round) {
        std::array<double, kResponseBands> sum{}, weight{};
        weight.fill(kTowardsFlat);
        each_partial([&](std::size_t i, double hz, double more_db) {
            for (int band = 0; band < kResponseBands; ++band) {
                const double apart = std::log2(hz / ResponseCurve::band_hz(band)) / kCloseBand;
                const double w = std::exp(-0.5 * apart * apart);
                sum[static_cast<std::size_t>(band)] += w * (more_db - offset[i]);
                weight[static_cast<std::size_t>(band)] += w;
            }
        });
        double mean = 0.0;
        for (std::size_t b = 0; b < sum.size(); ++b) mean += (sum[b] /= weight[b]) / kResponseBands;
        for (std::size_t b = 0; b < sum.size(); ++b) out.gain_db[b] = static_cast<float>(sum[b] - mean);
        std::array<double, kMost> count{};
        offset.fill(0.0);
        each_partial([&](std::size_t i, double hz, double more_db) {
            offset[i] += more_db - static_cast<double>(out.at_db(hz));
            count[i] += 1.0;
        });
        for (std::size_t i = 0; i < used.size(); ++i) offset[i] /= std::max(1.0, count[i]);
    }
    for (float& gain : out.gain_db) gain = std::clamp(gain, -kMostResponse_db, kMostResponse_db);
    return out;
}

}  // namespace gripline::dsp

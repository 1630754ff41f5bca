#include "dsp/pitch.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <complex>
#include <cstdint>
#include <numbers>
#include <vector>

#include "dsp/history.h"
#include "dsp/real_fft.h"
#include "dsp/resampler.h"
#include "dsp/rumble_filter.h"
#include "dsp/spectral_peaks.h"
#include "dsp/strum_evidence.h"
#include "dsp/string_fit.h"

namespace gripline::dsp {

namespace {

constexpr std::int64_t kHop = 512;        // 43 ms
constexpr std::int64_t kLongest = 4096;   // 341 ms: hum 10 Hz beside a partial is told apart
constexpr std::int64_t kShortest = 1536;  // 128 ms: partials of the lowest string still stand apart
constexpr std::size_t kSize = 8192;       // zero-padded, so that the interpolation between bins is true
constexpr std::size_t kTurn = 4 * kSize;
constexpr double kBin_hz = static_cast<double>(kAnalysisRateHz) / kSize;
constexpr double kReach_hz = 4250.0;      // the resampler is flat up to 4.3 kHz
constexpr auto kBins = static_cast<std::size_t>(kReach_hz / kBin_hz) + 3;
constexpr double kPluckRise = 2.0;        // a hop 6 dB louder than the one before is a new pluck
constexpr std::size_t kKept = 64;
constexpr double kAbsurd = 100.0;           // times full scale: no converter gives more

double to_db(double rms) { return rms > 1e-6 ? 20.0 * std::log10(rms) : -120.0; }

}  // namespace

struct PitchEstimator::Inside {
    explicit Inside(const PitchConfig& c)
        : config(c), rumble(c.rate_hz), resampler({.from_hz = c.rate_hz, .to_hz = kAnalysisRateHz}), made(resampler.max_out()), cosine(kTurn), padded(kSize), bins(kSize / 2 + 1), magnitudes(kBins),
          scratch(kBins) {
        for (std::size_t i = 0; i < kTurn; ++i) cosine[i] = static_cast<float>(std::cos(2.0 * std::numbers::pi * static_cast<double>(i) / kTurn));
    }

    PitchConfig config;
    RumbleFilter rumble;
    Resampler resampler;
    std::vector<float> made;
    History history{kLongest + kHop};
    RealFft fft{kSize};
    std::vector<float> cosine, padded;
    std::vector<std::complex<float>> bins;
    std::vector<float> magnitudes, scratch;
    SpectralPeaks peaks;
    std::uint64_t frames = 0;
    std::int64_t pluck = 0;  // sound before it is another string's
    double last_rms = 0.0;
    std::array<PitchReading, kKept> kept{};
    std::size_t kept_first = 0, kept_count = 0;

    void look_at(std::int64_t from, std::int64_t to) noexcept {
        const std::int64_t length = to - from;
        const double step = static_cast<double>(kTurn) / static_cast<double>(length);
        for (std::int64_t i = 0; i < length; ++i)
            padded[static_cast<std::size_t>(i)] = history.at(from + i) * (0.5F - 0.5F * cosine[static_cast<std::size_t>((static_cast<double>(i) + 0.5) * step)]);
        std::fill(padded.begin() + static_cast<std::ptrdiff_t>(length), padded.end(), 0.0F);
        fft.forward(padded, bins);
        for (std::size_t b = 0; b < kBins; ++b) magnitudes[b] = std::abs(bins[b]);
    }

    void read_pitch(PitchReading& reading) noexcept {
        const std::int64_t now = history.now(), from = std::max(pluck, now - kLongest);
        if (now - from < kShortest || reading.level_db < config.least_level_db) return;
        reading.window_s = static_cast<double>(now - from) / kAnalysisRateHz;
        look_at(from, now);
        peaks.find(magnitudes, kBin_hz, reading.window_s, 0.9 * config.lowest_hz, scratch);
        const StringFit fit = fit_string(peaks, reading.window_s, config.lowest_hz, config.highest_hz, kReach_hz);
        reading.clarity = fit.clarity;
        if (fit.clarity < config.least_clarity) return;
        reading.hz = fit.first_hz;
        reading.stiffness = fit.stiffness;
        reading.partials = fit.partials;
    }

    void hop() noexcept {
        double sum = 0.0;
        for (const float x : history.last(kHop)) sum += static_cast<double>(x) * x;
        const double rms = std::sqrt(sum / static_cast<double>(kHop));
        if (rms > kPluckRise * last_rms) pluck = history.now() - (last_rms > 0.0 ? 0 : kHop);
        last_rms = rms;
        PitchReading reading{.at_s = static_cast<double>(history.now()) / kAnalysisRateHz, .level_db = to_db(rms)};
        read_pitch(reading);
        kept[(kept_first + kept_count) % kKept] = reading;
        if (kept_count < kKept) ++kept_count;
        else kept_first = (kept_first + 1) % kKept;
    }
};

PitchEstimator::PitchEstimator(const PitchConfig& config) : inside_(std::make_unique<Inside>(config)) {}
PitchEstimator::~PitchEstimator() = default;
PitchEstimator::PitchEstimator(PitchEstimator&&) noexcept = default;
PitchEstimator& PitchEstimator::operator=(PitchEstimator&&) noexcept = default;

void PitchEstimator::process(std::span<const float> frames) noexcept {
    Inside& in = *inside_;
    for (const float frame : frames) {
        const double x = std::isfinite(frame) ? std::clamp(static_cast<double>(frame), -kAbsurd, kAbsurd) : 0.0;
        ++in.frames;
        const std::size_t count = in.resampler.push(static_cast<float>(in.rumble.push(x)), in.made);
        for (std::size_t i = 0; i < count; ++i) {
            in.history.push(in.made[i]);
            if (in.history.now() % kHop == 0) in.hop();
        }
    }
}

bool PitchEstimator::take(PitchReading& reading) noexcept {
    Inside& in = *inside_;
    if (in.kept_count == 0) return false;
    reading = in.kept[in.kept_first];
    in.kept_first = (in.kept_first + 1) % kKept;
    --in.kept_count;
    return true;
}

void PitchEstimator::reset() noexcept {
    Inside& in = *inside_;
    in.resampler.reset();
    in.history.clear();
    in.kept_first = in.kept_count = 0;
    in.frames = 0;
    in.pluck = 0;
    in.rumble.reset();
    in.last_rms = 0.0;
}

double PitchEstimator::stream_s() const noexcept { return static_cast<double>(inside_->frames) / inside_->config.rate_hz; }

}  // namespace gripline::dsp

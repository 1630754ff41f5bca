// The pitch of one sounding string, for tuning.
#pragma once

#include <memory>
#include <span>

namespace gripline::dsp {

struct PitchConfig {
    int rate_hz = 48000;            ///< of the input, 8000 to 192000
    double lowest_hz = 50.0;        ///< A1 of a seven-string guitar at A4 = 415 Hz is 51.9
    double highest_hz = 1450.0;     ///< E6 at A4 = 466 Hz is 1396
    double least_level_db = -78.0;  ///< RMS below full scale; quieter sound has no pitch
    double least_clarity = 0.45;
};

/// One look at the sound.
struct PitchReading {
    double at_s = 0.0;         ///< stream time up to which sound was used
    double hz = 0.0;           ///< first partial of the string that sounds; 0: no string, no one string, mains hum alone, or too quiet
    double stiffness = 0.0;    ///< B in n f0 sqrt(1 + B n^2); hz is f0 sqrt(1 + B). Guitars: 1e-5 to 3e-4
    double clarity = 0.0;      ///< 0 to 1: how much of the sound is that string
    double level_db = -120.0;  ///< RMS of the last 43 ms, dB below full scale
    double window_s = 0.0;     ///< sound looked at, 0.13 to 0.34 s; begins anew at each pluck
    int partials = 0;          ///< that were found
};

/// A reading every 43 ms. Allocates in the constructor only.
class PitchEstimator {
public:
    explicit PitchEstimator(const PitchConfig& config = {});
    ~PitchEstimator();
    PitchEstimator(PitchEstimator&&) noexcept;
    PitchEstimator& operator=(PitchEstimator&&) noexcept;

    /// Takes any number of mono frames, full scale = 1 (NaN and infinities are heard as 0). The result does not depend on how they are cut.
    void process(std::span<const float> frames) noexcept;
    /// Takes the oldest reading; false when there is none. At most 64 are kept; then the oldest gives way.
    bool take(PitchReading& reading) noexcept;
    void reset() noexcept;
    /// Sound heard so far, seconds.
    [[nodiscard]] double stream_s() const noexcept;

private:
    struct Inside;
    std::unique_ptr<Inside> inside_;
};

}  // namespace gripline::dsp

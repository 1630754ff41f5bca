// The one chain from samples to evidence, for live and recorded sound alike.
#pragma once

#include <array>
#include <memory>
#include <span>

#include "dsp/strum_evidence.h"

namespace gripline::dsp {

/// After these times the sound of a strum is looked at, seconds from its onset. A beat at 240 a minute lasts 0.25 s.
inline constexpr std::array<double, 8> kStepsS{0.100, 0.130, 0.160, 0.190, 0.212, 0.260, 0.310, 0.360};

struct StrumChainConfig {
    int rate_hz = 48000;  ///< of the input, 8000 to 192000
};

/// Level, resampling to kAnalysisRateHz, onset, spectra, tuning. Allocates in the constructor only.
class StrumChain {
public:
    explicit StrumChain(const StrumChainConfig& config);
    ~StrumChain();

    /// Takes any number of mono frames, full scale = 1 (NaN and infinities are heard as 0). The result does not depend on how the frames are cut.
    void process(std::span<const float> frames) noexcept;
    /// From the next frame on: whether the tool's own clicks may come back through the microphone. Then nothing above 4.5 kHz is listened to; else all is
    /// as if there were no such choice. Stays as it is over reset(). At first: not.
    void leave_out_clicks(bool leave_out) noexcept;
    /// No more sound will come: settles the strum in hand as it stands.
    void finish() noexcept;
    /// Takes the oldest evidence; false when there is none. At most 64 are kept; then the oldest gives way.
    bool take(StrumEvidence& evidence) noexcept;
    void reset() noexcept;

    /// Sound heard so far, seconds.
    [[nodiscard]] double stream_s() const noexcept;
    /// RMS of the last 50 ms, dB below full scale; -120 for silence.
    [[nodiscard]] double level_db() const noexcept;
    /// Level of the mains hum's ground tone (50 or 60 Hz) over the last 0.4 s, dB below full scale.
    [[nodiscard]] double hum_db() const noexcept;

private:
    struct Inside;
    std::unique_ptr<Inside> inside_;
};

}  // namespace gripline::dsp

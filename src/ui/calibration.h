// Measures how long a sound takes from the output to the input: clicks are sounded, and heard again, or a player claps along.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "audio/accompaniment.h"
#include "audio/click_delay.h"
#include "ui/walk_sound.h"

namespace gripline {

/// `clicks`: the input hears the output (cable, or microphone held to the headphones). `claps`: the player claps, or strums damped strings, with the clicks.
enum class CalibrationWay { clicks, claps };

/// For one measurement. No clock of its own: step() is called every few milliseconds while the sound goes its way.
class Calibration {
public:
    /// Takes `sound` over: an older delay of it is forgotten, it listens plainly. It must outlive the calibration.
    Calibration(WalkSound& sound, CalibrationWay way);
    ~Calibration();
    Calibration(const Calibration&) = delete;
    Calibration& operator=(const Calibration&) = delete;

    /// Sounds and records what is due. False once all is recorded.
    bool step();
    /// Clicks that have been sounded, of how many.
    [[nodiscard]] int sounded() const;
    [[nodiscard]] int clicks() const noexcept { return static_cast<int>(starts_s_.size()); }

    /// What was found; after step() gave false. An error says why it is no good and what to do.
    [[nodiscard]] Result<MeasuredDelay> result();
    [[nodiscard]] const ClickDelays& found() const noexcept { return found_; }
    /// Highest sample of what was recorded, dB below full scale.
    [[nodiscard]] double peak_db() const;

private:
    void record();
    [[nodiscard]] std::string advice() const;

    WalkSound& sound_;
    CalibrationWay way_;
    Accompaniment band_;
    std::vector<double> starts_s_;      // of the music, all clicks
    std::size_t measured_from_ = 0;     // the clicks before it are for getting into the time
    double length_s_ = 0.0;
    std::vector<float> block_, recorded_;
    std::vector<double> origins_s_;     // where the music lies in the input, look by look
    ClickDelays found_;
};

}  // namespace gripline

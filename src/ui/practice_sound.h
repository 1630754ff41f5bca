// What the practice screen needs of the world of sound. Real devices, the built-in player and test doubles stand behind it.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "audio/sound_tap.h"
#include "base/result.h"
#include "dsp/muted_strum.h"
#include "dsp/pitch.h"
#include "dsp/strum_evidence.h"
#include "listen/listener.h"
#include "practice/exercise_prompt.h"

namespace gripline {

/// A click of the tool's: seconds from the first one's place in the music.
struct PlannedClick {
    double at_s = 0.0;
    bool accent = false;
};

/// Called from the screen's thread only; nothing here waits.
class PracticeSound {
public:
    virtual ~PracticeSound() = default;
    /// Takes the oldest evidence not yet taken; false when there is none.
    virtual bool take(dsp::StrumEvidence& evidence) = 0;
    /// Takes the oldest muted strum not yet taken; false when there is none.
    virtual bool take_muted(dsp::MutedStrum& /*muted*/) { return false; }
    [[nodiscard]] virtual InputState input() const = 0;
    /// For the player's eyes: "microphone (2 in, 48000 Hz)", "built-in player (no sound card found)".
    [[nodiscard]] virtual std::string source_name() const = 0;
    /// Why the input is lost, and what to do; empty otherwise.
    [[nodiscard]] virtual std::string trouble() const = 0;
    /// The built-in player is the input.
    [[nodiscard]] virtual bool player_is_input() const = 0;
    /// The built-in player strums the step, rightly or with a likely mistake. Says what it plays.
    virtual Result<std::string> play(const PracticeStep& step, bool mistake) = 0;
    /// The tool sounds the step through its output. How long it will sound, in seconds.
    virtual Result<double> sound_target(const PracticeStep& step) = 0;
    /// The same for a row of grips one after the other, each as long as it says.
    virtual Result<double> sound_row(const std::vector<SoundedStep>& row) { return row.empty() ? Result<double>(0.0) : sound_target(row.back().step); }
    /// The tool tells by a short soft tone whether an answer was right. How long it will sound, in seconds.
    virtual Result<double> sound_answer(bool /*right*/) { return Error{"this input has no tones"}; }
    /// Why the tool can't sound anything; empty when it can.
    [[nodiscard]] virtual std::string output_trouble() const { return {}; }
    /// The tool clicks through its output, from now on. Errors: there is no output; more clicks than an accompaniment plans.
    virtual Result<bool> begin_clicks(const std::vector<PlannedClick>&) { return Error{"this input has no clicks"}; }
    /// Keeps the clicks going; every few milliseconds while they are wanted. Where their second 0 lies in the input's stream time, for what is played together with
    /// what is heard; nothing until the clocks of both streams are known (a tenth of a second), and without clicks.
    virtual std::optional<double> clicks_origin_s() { return std::nullopt; }
    virtual void end_clicks() {}
    /// The delay between this output and this input was measured, or there is none to measure; else times of what is played to the clicks are off by it. Known from begin_clicks() on.
    [[nodiscard]] virtual bool delay_known() const { return true; }
    /// Changes between the sound card and the built-in player. Stream time begins anew. Says what the input is now.
    virtual Result<std::string> change_input() = 0;
    /// Listens to single strings for the tuner, or to strums again. Stream time begins anew.
    virtual void listen_to_strings(bool strings) = 0;
    /// Takes the oldest pitch reading not yet taken; false when there is none, and always while listening to strums.
    virtual bool take_pitch(dsp::PitchReading& reading) = 0;
    /// The sound of the input as it was, where it is kept; nullptr where it is not. Another input has another tap.
    [[nodiscard]] virtual SoundTap* tap() { return nullptr; }
};

}  // namespace gripline

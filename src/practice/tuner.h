// The tuner's state: which string sounds, how far it is out, and whether the guitar is fit to practise on. Pure: readings in, view out.
#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "dsp/pitch.h"
#include "fretboard/grip.h"

namespace gripline {

/// From this on a string is too far out to practise: the next fret is nearer than half way.
inline constexpr double kTooFarOut_cents = 40.0;
/// Nearer than this is called in tune: ears tell about 5 cents apart in single low notes (common practice, no source).
inline constexpr double kInTune_cents = 2.0;

struct TunerConfig {
    Tuning tuning = Tuning();
    int capo = 0;
    double a4_hz = 440.0;  ///< 415 to 466
};

struct TunerString {
    StringNumber string{1};
    MidiNote note;                ///< that it should sound
    double target_hz = 0.0;
    std::optional<double> cents;  ///< as last heard steady; + is sharp
};

struct TunerView {
    std::vector<TunerString> strings;      ///< lowest first
    std::optional<StringNumber> sounding;  ///< nothing: no single string sounds
    double hz = 0.0;                       ///< of the sounding string's first partial
    double cents = 0.0;                    ///< of it against its target; + is sharp
    bool steady = false;                   ///< has stayed within 2 cents for a third of a second
    double turn = 0.0;                     ///< 0 to 1: runs up while the string is sharp, down while it is flat, stands still in tune
};

/// Chooses the nearest string of the tuning by itself, so both hands stay on the guitar.
class Tuner {
public:
    explicit Tuner(const TunerConfig& config = {});
    void take(const dsp::PitchReading& reading);
    [[nodiscard]] const TunerView& view() const noexcept { return view_; }
    void reset();
    /// What rings now is no string to tune: nothing is read until one is plucked anew, or all has fallen silent. For a tuner opened in the midst of playing.
    void await_pluck();
    /// A string is about to be plucked by the tool itself.
    void pluck_comes() noexcept { awaits_pluck_ = false; }

private:
    [[nodiscard]] bool still_rings(const dsp::PitchReading& reading) noexcept;
    void forget_string() noexcept;
    static constexpr std::size_t kSpan = 8;  ///< readings, a third of a second
    TunerView view_;
    std::array<double, kSpan> last_cents_{};
    std::size_t count_ = 0;
    int silent_ = 0;
    bool awaits_pluck_ = false, rang_ = false;
    double last_at_s_ = 0.0;
};

/// "String 5, A2: 3 cents flat", "String 5, A2: in tune", "Play one string".
[[nodiscard]] std::string tuner_words(const TunerView& view);
/// "in tune", "3 cents flat", "12 cents sharp".
[[nodiscard]] std::string cents_words(double cents);
/// "string 4 is 43 cents flat: tune before practising"; several strings are named in one sentence. nullopt: no string heard is too far out.
[[nodiscard]] std::optional<std::string> tuning_refusal(const TunerView& view);

}  // namespace gripline

// A strum as a plain block of numbers, and the strings that sound it.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "audio/plucked_string.h"
#include "fretboard/grip.h"

namespace gripline {

/// One string of a strum.
struct StruckString {
    StringNumber string{1};
    MidiNote note;
    double level_db = 0.0;  ///< against the other strings
    bool dead = false;      ///< touched, not held down: a thud without a note
};

/// All that is to be known of one strum. Plain and of fixed size: it crosses threads by copy.
struct Strum {
    std::array<StruckString, kMaxStrings> struck{};  ///< lowest string first
    int count = 0;
    double spread_s = 0.02;   ///< first string to last; hands take 0.005 to 0.06
    bool down = true;         ///< lowest string first
    double ring_s = 2.0;      ///< then the hand damps all strings
    double brightness = 0.5;  ///< 0 soft thumb, 1 hard pick
    double a4_hz = 440.0;
    std::uint32_t seed = 1;   ///< the same strum with the same seed sounds the same
};

enum class PlannedFaultKind { wrong_note, missing_string, open_string, shifted, dead_strum };

/// A mistake to be played on purpose.
struct PlannedFault {
    PlannedFaultKind kind = PlannedFaultKind::wrong_note;
    StringNumber string{6};  ///< wrong_note, missing_string, open_string
    int frets = 0;           ///< wrong_note, shifted: + is sharp
};

/// "string 4 one fret sharp", "open string 1 ringing", "string 3 missing", "two frets too low", "all strings dead".
[[nodiscard]] std::string describe(const PlannedFault& fault);

/// The strum of a grip, rightly, or with a fault. An error when the grip sounds no string, or the fault can't be
/// played on it (a string that the grip mutes or the tuning has not, a fret off the neck).
[[nodiscard]] Result<Strum> plan_strum(const Grip& grip, const Tuning& tuning, int capo = 0, const std::optional<PlannedFault>& fault = {});

/// A mistake as players make them (common practice: a ringing open string is the most common, then a note one fret off, then the right shape
/// in the wrong place; now and then a string that stays silent). It can be heard: it changes pitch classes or bass, and an added open string
/// lies on no partial of the grip's notes. nullopt when the grip allows none. The same seed gives the same mistake.
[[nodiscard]] std::optional<PlannedFault> likely_mistake(const Grip& grip, const Tuning& tuning, int capo, std::uint32_t seed);

/// Seven strings under one hand: sounds strums one after the other. Allocates in the constructor only.
class StringBank {
public:
    /// rate_hz: 8000 to 192000. The strings together peak near -12 dB below full scale in a strum of three.
    explicit StringBank(int rate_hz);
    /// Begins a strum now; strings that it leaves out are damped, as a fretting hand does.
    void strike(const Strum& strum) noexcept;
    /// Adds the sound to `frames`.
    void process(std::span<float> frames) noexcept;
    void reset() noexcept;
    [[nodiscard]] bool at_rest() const noexcept;

private:
    void pluck_due() noexcept;
    [[nodiscard]] std::size_t frames_to_next() const noexcept;

    int rate_hz_;
    std::vector<PluckedString> strings_;  // index = string number - 1
    Strum strum_;
    std::array<std::size_t, kMaxStrings> due_frame_{};
    std::array<bool, kMaxStrings> plucked_{};
    std::size_t frame_ = 0, damp_frame_ = 0;  // since the strum began
    bool damped_ = true;
};

/// Peak of rendered sound, dB below full scale: quiet, because headphone and amplifier levels are unknown.
inline constexpr double kQuietPeak_db = -24.0;

/// The strum as mono frames of `length_s` at rate_hz, highest sample at peak_db, faded in over 2 ms and out over 30 ms.
[[nodiscard]] std::vector<float> render_strum(const Strum& strum, int rate_hz, double length_s, double peak_db = kQuietPeak_db);

}  // namespace gripline

// A grip: one left-hand chord shape, a fret or a mute for each string. Also strings, frets and tunings.
#pragma once

#include <array>
#include <compare>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "theory/pitch.h"

namespace gripline {

/// A string by the player's number: 1 is the highest, 6 (or 7) the lowest.
class StringNumber {
public:
    constexpr explicit StringNumber(int number) : number_(number) {}
    [[nodiscard]] constexpr int number() const noexcept { return number_; }
    friend constexpr auto operator<=>(StringNumber, StringNumber) = default;

private:
    int number_;
};

/// A fret; 0 is the open string (or the capo).
class Fret {
public:
    constexpr explicit Fret(int number) : number_(number) {}
    [[nodiscard]] constexpr int number() const noexcept { return number_; }
    [[nodiscard]] constexpr Fret up(int frets) const noexcept { return Fret(number_ + frets); }
    friend constexpr auto operator<=>(Fret, Fret) = default;

private:
    int number_;
};

inline constexpr int kMinStrings = 4;
inline constexpr int kMaxStrings = 7;
/// Highest fret that a grip may name. 24 is the longest common neck (common practice).
inline constexpr int kMaxFret = 24;

/// The names that Tuning::parse knows.
[[nodiscard]] std::vector<std::string> tuning_names();

/// The open strings, low to high. 4 to 7 strings; standard is E2 A2 D3 G3 B3 E4.
class Tuning {
public:
    /// Standard six-string tuning.
    Tuning();
    /// Open notes from the lowest string to string 1, 4 to 7 of them.
    explicit Tuning(std::vector<MidiNote> low_to_high);
    /// Reads "E2 A2 D3 G3 B3 E4" (lowest first, 4 to 7 rising notes from C1 to E6) or a name: "standard", "semitone down",
    /// "tone down", "drop D", "seven string B", "seven string A". Letter case of a name does not matter.
    static Result<Tuning> parse(std::string_view text);
    [[nodiscard]] int strings() const noexcept { return static_cast<int>(low_to_high_.size()); }
    [[nodiscard]] MidiNote open(StringNumber string) const;
    /// The open notes, "E2 A2 D3 G3 B3 E4"; parse() reads it back.
    [[nodiscard]] std::string text() const;
    friend bool operator==(const Tuning&, const Tuning&) = default;

private:
    std::vector<MidiNote> low_to_high_;
};

/// A note that a grip sounds: which string, which fret, which pitch.
struct GripNote {
    StringNumber string;
    Fret fret;
    MidiNote note;
};

/// One fret or a mute for each string.
class Grip {
public:
    /// All strings muted.
    explicit Grip(int strings = 6);
    /// Reads a fret string from the lowest string to string 1: "3x23xx", "10-x-9-10-x-x". X or x mutes.
    /// The number of places must equal `strings` (4 to 7), frets 0 to kMaxFret. "xxxxxx" is a grip that sounds nothing;
    /// who asks for a sound refuses it.
    static Result<Grip> parse(std::string_view fret_string, int strings = 6);
    [[nodiscard]] int strings() const noexcept { return static_cast<int>(frets_.size()); }
    [[nodiscard]] std::optional<Fret> fret(StringNumber string) const;
    /// Sets or (nullopt) mutes a string.
    void set(StringNumber string, std::optional<Fret> fret);
    /// The fret string; with dashes when a fret is above 9.
    [[nodiscard]] std::string text() const;
    /// Sounding notes, lowest string first. Pitch is open + capo + fret.
    [[nodiscard]] std::vector<GripNote> notes(const Tuning& tuning, int capo = 0) const;
    /// Frets between the lowest and the highest fretted (not open) string.
    [[nodiscard]] int stretch() const noexcept;
    /// The grip slid by `frets`; an error when a string would leave 0..kMaxFret.
    [[nodiscard]] Result<Grip> slid(int frets) const;
    friend bool operator==(const Grip&, const Grip&) = default;

private:
    std::vector<std::optional<Fret>> frets_;  // index 0 is the lowest string
};

}  // namespace gripline

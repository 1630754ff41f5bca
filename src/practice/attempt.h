// One attempt: what was asked, what came of it. This is what the history keeps, and what learner model and statistics are fed with.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "fretboard/string_set.h"
#include "judge/verdict.h"
#include "lines/line.h"
#include "theory/family.h"

namespace gripline {

/// How the player was asked.
enum class Asking {
    shown,        ///< with the grip's diagram
    named,        ///< chord symbol and bass only
    by_ear,       ///< the tool plays the step, the player finds it
    next_step,    ///< a step and a direction are given, the player plays the one after
    into_target,  ///< a target and a side are given, the player plays approach and target in time
    name_it,      ///< the tool plays, the player answers on the keyboard
    scale_note,   ///< single notes of the scale
};
inline constexpr int kAskings = 7;
/// "shown", "named", "by ear", "next step", "into the target", "name it", "scale note".
[[nodiscard]] std::string_view word(Asking asking) noexcept;
/// Reads a word as above; also with '-' for the spaces.
[[nodiscard]] Result<Asking> parse_asking(std::string_view text);

struct Attempt {
    // When, who, with what.
    std::string id;            ///< 32 hex digits, unlike any other attempt's on any machine; empty: the history gives one
    std::int64_t at_ms = 0;    ///< when it was judged: milliseconds since 1970-01-01 00:00 UTC
    int utc_offset_min = 0;    ///< of the player's clock then: + is east; decides which day it belongs to
    std::string player;        ///< a name of the player's own choice
    std::string guitar;        ///< likewise; may be empty
    std::string input;         ///< name of the sound input; "keyboard" for name_it

    // What was asked.
    Asking asking = Asking::shown;
    Family family = Family::dominant_seventh;  ///< the scale that is walked
    NoteName root;                             ///< of that scale
    std::string quality = "7";                 ///< suffix of the chord that the scale serves, as on a chart: "7", "m7", "6"; also on passing steps
    StageKind stage = StageKind::shell;
    StringSet strings{{StringNumber(6), StringNumber(4), StringNumber(3)}};
    std::string chord;                         ///< what the grip itself is: "C7", "Bdim7", approach "Gb7"
    Grip grip = Grip();                        ///< asked
    std::string bass_degree;                   ///< of the grip's bass above `root`: "b6"; empty when the scale does not hold it
    Sounds place = Sounds::chord;              ///< in the line: chord, passing or approach
    std::optional<From> from;                  ///< of an approach: its side
    std::optional<int> motion;                 ///< of the bass from the step before: 1 up, -1 down, 0 same; nullopt on a first step
    std::optional<double> tempo_bpm;           ///< counts a minute, where time counts
    std::string question;                      ///< name_it: "quality", "bass degree" or "approach direction"

    // What came of it.
    VerdictKind verdict = VerdictKind::unheard;
    double confidence = 0.0;              ///< chance, 0 to 1, that it was right
    std::vector<MidiNote> heard;          ///< low to high
    std::string answered;                 ///< name_it: the player's answer
    std::vector<Fault> faults;            ///< likeliest first
    std::optional<double> off_ms;         ///< first string against the beat: early is negative
    std::optional<double> answer_s;       ///< from the asking to the first string (or key), where no beat gave the time
    int try_number = 1;                   ///< of this asking: 1 first, 2 after one wrong answer ...
    bool helped = false;                  ///< the grip had been shown, or sounded, though the way of asking hides it
};

/// The day it belongs to by the player's clock: days since 1970-01-01.
[[nodiscard]] constexpr std::int64_t day_of(std::int64_t at_ms, int utc_offset_min) noexcept {
    constexpr std::int64_t kDay_ms = 86'400'000;
    const std::int64_t local_ms = at_ms + std::int64_t{utc_offset_min} * 60'000;
    return local_ms / kDay_ms - (local_ms % kDay_ms < 0 ? 1 : 0);
}
[[nodiscard]] inline std::int64_t day_of(const Attempt& attempt) noexcept { return day_of(attempt.at_ms, attempt.utc_offset_min); }

}  // namespace gripline

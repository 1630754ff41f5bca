// Attempts as files: CSV with one row each, or JSON Lines with one object each. Both hold every field exactly, and what is written is read back equal.
//
// The fields, in the order of the columns: id (32 hex digits), at (RFC 3339 with milliseconds and the player's offset from UTC), player, guitar, input,
// asking (shown, named, by ear, next step, into the target, name it, scale note), family, root, quality, stage, strings, chord, grip, bass_degree, place
// (chord, passing, approach), from (below, above), motion (up, down, same), tempo_bpm, question, verdict (right, wrong, unheard), confidence, heard (MIDI
// numbers), answered, faults (kind, string, frets, asked, heard, probability), off_ms, answer_s, try_number, helped. What is not known is null in JSON and
// empty in CSV. In CSV notes are divided by blanks, faults by "; ", a fault's fields by blanks with "-" for what is not known; texts that begin with
// one of = + - @ ' have a ' before them, so that no spreadsheet calculates them.
//
// When reading, id, guitar, input, chord, bass_degree, from, motion, tempo_bpm, question, heard, answered, faults, off_ms, answer_s, try_number and
// helped may be missing; other columns are passed over. An attempt without an id gets one made from its fields, so that a second reading makes no double.
#pragma once

#include <functional>
#include <iosfwd>
#include <optional>
#include <string>

#include "base/result.h"
#include "practice/attempt.h"

namespace gripline {

enum class AttemptFileKind { csv, json };

/// Writes attempts one by one, the header of CSV first.
class AttemptWriter {
public:
    AttemptWriter(std::ostream& out, AttemptFileKind kind);
    void write(const Attempt& attempt);

private:
    std::ostream& out_;
    AttemptFileKind kind_;
};

/// Reads a whole file, whose kind it tells by its first sign, and hands each attempt over once it has been checked (attempt_check.h). `take` ends it by an
/// error. How many there were, or the first thing that is wrong, with its line.
[[nodiscard]] Result<long> read_attempts(std::istream& in, const std::function<std::optional<Error>(Attempt)>& take);

/// "2026-11-25T08:15:30.123+01:00"
[[nodiscard]] std::string time_text(std::int64_t at_ms, int utc_offset_min);
/// One line: one attempt as in the file of JSON.
[[nodiscard]] std::string attempt_json(const Attempt& attempt);

}  // namespace gripline

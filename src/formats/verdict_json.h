// Verdicts as lines of JSON (RFC 8259, one object a line): the one place that knows the field names.
#pragma once

#include <string>
#include <vector>

#include "judge/judge.h"
#include "judge/verdict.h"

namespace gripline {

/// One strum as heard with nothing asked: at_s, decided_s, notes, bass, pitch_classes, strengths, level_db, tuning_cents.
[[nodiscard]] std::string strum_json(const Verdict& heard);
/// One answer to a case: case, verdict, confidence, at_s, decided_s, heard, bass, tuning_cents, faults.
/// at_s and decided_s are null when no strum was heard. With `leading`, hypotheses: chance, kind ("asked" or a fault's), string, frets, notes, unexplained.
[[nodiscard]] std::string answer_json(const std::string& name, const Verdict& verdict, bool any_strum = true, const std::vector<Weighed>& leading = {});
/// The answer to a case that could not be read or listened to: case, error.
[[nodiscard]] std::string error_json(const std::string& name, const std::string& error);
/// Text as a JSON string with its quotes; bytes that are no UTF-8 become U+FFFD.
[[nodiscard]] std::string json_string(const std::string& text);

}  // namespace gripline

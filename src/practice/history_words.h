// The words of the tables, read back.
#pragma once

#include <cstddef>
#include <optional>
#include <string>

#include "judge/verdict.h"
#include "practice/database.h"
#include "practice/skill.h"

namespace gripline {

/// The value that bears this word, or the first one.
template <class Value, std::size_t N>
[[nodiscard]] Value value_of(const std::string& text, const Value (&values)[N]) {
    for (const Value value : values) {
        if (word(value) == text) return value;
    }
    return values[0];
}

[[nodiscard]] inline Sounds role_of(const std::string& text) { return value_of(text, {Sounds::chord, Sounds::passing, Sounds::approach}); }

[[nodiscard]] inline std::optional<From> side_of(const std::string& text) {
    return text.empty() ? std::nullopt : std::optional(value_of(text, {From::below, From::above}));
}

[[nodiscard]] inline FaultKind fault_kind_of(const std::string& text) {
    return value_of(text, {FaultKind::nothing, FaultKind::wrong_note, FaultKind::missing_note, FaultKind::extra_note, FaultKind::wrong_bass, FaultKind::shifted});
}

/// The columns quality, role, side, key, strings, asking, from `first` on.
[[nodiscard]] inline Skill skill_in(const Statement& row, int first) {
    Skill skill;
    skill.quality = row.text(first);
    skill.role = role_of(row.text(first + 1));
    skill.from = side_of(row.text(first + 2));
    skill.key = PitchClass(static_cast<int>(row.integer(first + 3)));
    skill.strings = row.text(first + 4);
    const auto asking = parse_asking(row.text(first + 5));
    if (asking) skill.asking = *asking;
    return skill;
}

}  // namespace gripline

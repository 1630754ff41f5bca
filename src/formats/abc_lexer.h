// The music of ABC (standard 2.1, section 4), cut into what a chart needs: lengths, chord symbols, bar lines, endings, inline fields. Internal to src/formats.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"

namespace gripline {

enum class AbcSign {
    length,       ///< a note, a chord of notes or a rest: `length` unit notes
    bars_rest,    ///< Z: `count` whole bars
    chord,        ///< "text" in quotes that is no annotation
    bar_line,     ///< `closes` and `opens` count colons
    ending,       ///< `endings`
    field,        ///< [K:G]: `field` and `text`
    broken,       ///< > or <: `count` of them, negative for <
    tuplet,       ///< (3: `count`, `in_time_of` (0: by the meter), `over` (0: count)
    overlay,      ///< &
};

struct AbcToken {
    AbcSign sign = AbcSign::length;
    double length = 1.0;
    int count = 0, in_time_of = 0, over = 0;
    int closes = 0, opens = 0;
    std::vector<int> endings;
    char field = ' ';
    std::string text;
};

/// Reads one line of music, a sign at a time.
class AbcLexer {
public:
    explicit AbcLexer(std::string_view line) : rest_(line) {}
    /// The next sign; nullopt at the end. Decorations, grace notes, slurs, ties, annotations and what the standard reserves are passed over.
    /// Errors: a length or number past sense, quotes or brackets that never close.
    [[nodiscard]] Result<std::optional<AbcToken>> next();

private:
    using Token = Result<std::optional<AbcToken>>;
    std::string_view rest_;

    [[nodiscard]] char ahead(std::size_t i = 0) const { return i < rest_.size() ? rest_[i] : '\0'; }
    bool skip_past(char closing);
    Result<int> number(int otherwise);
    Result<double> length();
    Token note();
    Token notes_in_brackets();
    Token quoted_text();
    Token bar_line();
    Token ending_numbers();
    Token inline_field();
    Token tuplet();
};

}  // namespace gripline

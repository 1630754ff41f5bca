// Tables of strums for a person to read.
#pragma once

#include <ostream>
#include <string>

#include "cli/marking.h"
#include "cli/text_table.h"

namespace gripline {

/// Strums heard with nothing asked.
class HearTable {
public:
    explicit HearTable(std::ostream& out);
    void row(const Verdict& heard);

private:
    TextTable table_;
};

/// Cases and their answers.
class MarkTable {
public:
    explicit MarkTable(std::ostream& out);
    /// strum: nullptr when the row of the list could not be read.
    void row(const std::string& name, const StrumCase* strum, const CaseAnswer& answer);

private:
    TextTable table_;
};

/// What a case asks for: its fret string, or its chord's notes.
[[nodiscard]] std::string asked_text(const Target& target);
/// "right", or in words what was wrong.
[[nodiscard]] std::string answer_text(const Target& target, const CaseAnswer& answer);

/// A hypothesis in one line: its chance, what it says was played, its notes, and how much of the sound it leaves unexplained.
[[nodiscard]] std::string hypothesis_text(const Weighed& hypothesis);

}  // namespace gripline

#include "formats/cases.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <utility>

#include "base/text.h"
#include "theory/chord_symbol.h"

namespace gripline {

namespace {

/// No recording of strums is longer than a day.
constexpr double kMaxFrom_s = 86400.0;
/// A capo higher than this leaves no neck to play on (common practice).
constexpr int kMaxCapo = 12;
/// Concert pitches in use, Hz: baroque 415 to 466 (the range of DEVELOPERS.md).
constexpr double kMinA4_hz = 415.0;
constexpr double kMaxA4_hz = 466.0;

std::string field(const CsvRow& row, int column) {
    return column < 0 || column >= static_cast<int>(row.fields.size()) ? "" : std::string(trimmed(row.fields[static_cast<std::size_t>(column)]));
}

Error bad(const CsvRow& row, const char* column, const std::string& value, const std::string& allowed) {
    return Error{"line " + std::to_string(row.line) + ", column " + column + ": " + quoted(value) + ": " + allowed};
}

/// Where a value's own message already repeats it.
Error at(const CsvRow& row, const char* column, const Error& why) { return Error{"line " + std::to_string(row.line) + ", column " + column + ": " + why.message}; }

template <class Number>
std::optional<Number> number(const std::string& text) {
    Number out{};
    const auto [end, trouble] = std::from_chars(text.data(), text.data() + text.size(), out);
    if (trouble != std::errc() || end != text.data() + text.size()) return std::nullopt;
    return out;
}

/// Fills in tuning, capo and concert pitch; the defaults stand where the column is absent or empty.
std::optional<Error> read_instrument(const CsvRow& row, const CaseColumns& columns, Target& target) {
    if (const std::string text = field(row, columns.tuning); !text.empty()) {
        auto tuning = Tuning::parse(text);
        if (!tuning) return at(row, "tuning", tuning.error());
        target.tuning = *tuning;
    }
    if (const std::string text = field(row, columns.capo); !text.empty()) {
        const auto capo = number<int>(text);
        if (!capo || *capo < 0 || *capo > kMaxCapo) return bad(row, "capo", text, "a fret from 0 to 12 is wanted");
        target.capo = *capo;
    }
    if (const std::string text = field(row, columns.a4_hz); !text.empty()) {
        const auto a4_hz = number<double>(text);
        if (!a4_hz || !(*a4_hz >= kMinA4_hz && *a4_hz <= kMaxA4_hz)) return bad(row, "a4_hz", text, "a concert pitch from 415 to 466 Hz is wanted");
        target.a4_hz = *a4_hz;
    }
    return std::nullopt;
}

/// Fills in what was asked: the grip, or the chord and its bass.
std::optional<Error> read_asked(const CsvRow& row, const CaseColumns& columns, Target& target) {
    const std::string grip_text = field(row, columns.grip);
    const std::string chord_text = field(row, columns.chord);
    if (grip_text.empty() && chord_text.empty())
        return bad(row, columns.grip >= 0 ? "grip" : "chord", "", "a fret string such as 3x23xx, or a chord label such as C:maj6, is wanted");
    if (!grip_text.empty() && !chord_text.empty()) return bad(row, "grip", grip_text, "the row asks for a chord as well; only one of the two is allowed");
    if (!grip_text.empty()) {
        auto grip = Grip::parse(grip_text, target.tuning.strings());
        if (!grip) return at(row, "grip", grip.error());
        if (grip->notes(target.tuning, target.capo).empty()) return bad(row, "grip", grip_text, "every string is muted; at least one must sound");
        target.grip = *grip;
        return std::nullopt;
    }
    const auto chord = parse_harte_label(chord_text);
    if (!chord) return at(row, "chord", chord.error());
    target.chord = chord->pitch_classes();
    const std::string bass_text = field(row, columns.bass);
    if (bass_text == "any") return std::nullopt;
    if (bass_text.empty()) {  // the label's own, if it names one
        if (chord->bass) target.bass = chord->bass->pitch_class();
        return std::nullopt;
    }
    const auto bass = NoteName::parse(bass_text);
    if (!bass) return bad(row, "bass", bass_text, "a note such as Bb, or any, is wanted");
    target.bass = bass->pitch_class();
    return std::nullopt;
}

}  // namespace

Result<CaseColumns> read_case_columns(const CsvRow& heading) {
    CaseColumns columns;
    const std::pair<const char*, int*> known[] = {{"case", &columns.name},   {"take", &columns.take},     {"from_s", &columns.from_s},
                                                  {"grip", &columns.grip},   {"chord", &columns.chord},   {"bass", &columns.bass},
                                                  {"tuning", &columns.tuning}, {"capo", &columns.capo},   {"a4_hz", &columns.a4_hz}};
    const std::string place = "line " + std::to_string(heading.line) + ": ";
    for (std::size_t i = 0; i < heading.fields.size(); ++i) {
        for (const auto& [name, column] : known) {
            if (trimmed(heading.fields[i]) != name) continue;
            if (*column >= 0) return Error{place + "the column \"" + name + "\" stands twice"};
            *column = static_cast<int>(i);
        }
    }
    for (const auto& [name, column] : {known[0], known[1], known[2]}) {
        if (*column < 0) return Error{place + "the heading has no column \"" + name + "\"; case,take,from_s,grip are wanted, parted by commas"};
    }
    if (columns.grip < 0 && columns.chord < 0) return Error{place + "the heading has neither a column \"grip\" nor a column \"chord\""};
    return columns;
}

CaseRow read_case(const CsvRow& row, const CaseColumns& columns) {
    CaseRow out{field(row, columns.name), std::nullopt, {}};
    const auto failed = [&](const Error& error) {
        out.error = error.message;
        return out;
    };
    StrumCase strum;
    strum.line = row.line;
    strum.name = out.name;
    strum.take = field(row, columns.take);
    if (strum.take.empty()) return failed(bad(row, "take", "", "a recording is wanted"));
    const std::string from_text = field(row, columns.from_s);
    const auto from_s = number<double>(from_text);
    if (!from_s || !(*from_s >= 0.0 && *from_s <= kMaxFrom_s)) return failed(bad(row, "from_s", from_text, "seconds from 0 to 86400 are wanted"));
    strum.from_s = *from_s;
    if (const auto error = read_instrument(row, columns, strum.target)) return failed(*error);
    if (const auto error = read_asked(row, columns, strum.target)) return failed(*error);
    out.strum = std::move(strum);
    return out;
}

Result<std::vector<CaseRow>> read_cases(std::istream& in) {
    CsvReader reader(in);
    auto heading = reader.next();
    if (!heading) return heading.error();
    if (!*heading) return Error{"the list is empty; a heading case,take,from_s,grip is wanted"};
    const auto columns = read_case_columns(**heading);
    if (!columns) return columns.error();
    std::vector<CaseRow> rows;
    for (;;) {
        auto row = reader.next();
        if (row && !*row) break;
        if (row) rows.push_back(read_case(**row, *columns));
        else rows.push_back({"", std::nullopt, row.error().message});
    }
    if (rows.empty()) return Error{"the list has a heading and no rows"};
    return rows;
}

}  // namespace gripline

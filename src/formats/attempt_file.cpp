#include "formats/attempt_file.h"

#include <charconv>
#include <istream>
#include <ostream>
#include <sstream>
#include <vector>

#include "base/text.h"
#include "formats/attempt_fields.h"
#include "formats/csv.h"
#include "formats/digest.h"
#include "practice/attempt_id.h"

namespace gripline {
namespace {

using Json = nlohmann::ordered_json;

constexpr std::size_t kLongestLine_bytes = 65536;  // an attempt within the limits has less than 10,000

enum class Kind { text, number, truth, notes, faults };
struct Column {
    const char* name;
    Kind kind = Kind::text;
};
constexpr Column kColumns[] = {{"id"}, {"at"}, {"player"}, {"guitar"}, {"input"}, {"asking"}, {"family"}, {"root"}, {"quality"}, {"stage"}, {"strings"}, {"chord"}, {"grip"}, {"bass_degree"},
                               {"place"}, {"from"}, {"motion"}, {"tempo_bpm", Kind::number}, {"question"}, {"verdict"}, {"confidence", Kind::number}, {"heard", Kind::notes}, {"answered"},
                               {"faults", Kind::faults}, {"off_ms", Kind::number}, {"answer_s", Kind::number}, {"try_number", Kind::number}, {"helped", Kind::truth}};
constexpr const char* kFaultFields[] = {"kind", "string", "frets", "asked", "heard", "probability"};
constexpr std::string_view kCalculated = "=+-@'";

std::string plain(const Json& value) { return value.is_null() ? "-" : value.is_string() ? value.get<std::string>() : value.dump(); }

/// What stands in the row for a field, unquoted.
std::string cell_of(const Json& value, Kind kind) {
    if (value.is_null()) return "";
    std::string out;
    if (kind == Kind::notes) {
        for (const Json& note : value) out += (out.empty() ? "" : " ") + note.dump();
    } else if (kind == Kind::faults) {
        for (const Json& fault : value) {
            out += out.empty() ? "" : "; ";
            for (const char* field : kFaultFields) out += (field == kFaultFields[0] ? "" : " ") + plain(fault.at(field));
        }
    } else if (kind == Kind::text) {
        out = value.get<std::string>();
        if (!out.empty() && kCalculated.find(out.front()) != std::string_view::npos) out.insert(0, "'");
    } else {
        out = value.dump();
    }
    return out;
}

/// Quoted where RFC 4180 asks for it.
std::string quoted_cell(const std::string& cell) {
    if (cell.find_first_of(",\"\r\n") == std::string::npos && cell == trimmed(cell)) return cell;
    std::string out = "\"";
    for (const char c : cell) out += c == '"' ? std::string("\"\"") : std::string(1, c);
    return out + '"';
}

/// A number as JSON has it; a text when it is none, which the reader of fields then complains of.
Json number_in(const std::string& cell) {
    std::int64_t whole = 0;
    const char* const end = cell.data() + cell.size();
    if (const auto [at, trouble] = std::from_chars(cell.data(), end, whole); trouble == std::errc() && at == end) return whole;
    double number = 0.0;
    if (const auto [at, trouble] = std::from_chars(cell.data(), end, number); trouble == std::errc() && at == end) return number;
    return cell;
}

Json notes_in(const std::string& cell) {
    Json out = Json::array();
    std::istringstream words(cell);
    for (std::string word; words >> word;) out.push_back(number_in(word));
    return out;
}

Json faults_in(const std::string& cell) {
    Json out = Json::array();
    std::istringstream faults(cell);
    for (std::string text; std::getline(faults, text, ';');) {
        std::istringstream words(text);
        Json fault = Json::object();
        std::size_t at = 0;
        for (std::string word; words >> word; ++at) {
            if (at < std::size(kFaultFields) && word != "-") fault[kFaultFields[at]] = at == 0 ? Json(word) : number_in(word);
        }
        out.push_back(std::move(fault));
    }
    return out;
}

Json value_in(const std::string& cell, const Column& column) {
    switch (column.kind) {
        case Kind::number: return number_in(cell);
        case Kind::notes: return notes_in(cell);
        case Kind::faults: return faults_in(cell);
        case Kind::truth: return cell == "true" || cell == "TRUE" ? Json(true) : cell == "false" || cell == "FALSE" ? Json(false) : Json(cell);
        case Kind::text: break;
    }
    return cell.starts_with('\'') ? cell.substr(1) : cell;
}

Error at_line(long line, const std::string& what) { return Error{"line " + std::to_string(line) + ": " + what}; }

/// Reads one object and hands the attempt over. Nothing: all is well.
std::optional<Error> hand_over(const Json& fields, long line, const std::function<std::optional<Error>(Attempt)>& take) {
    auto attempt = attempt_from(fields);
    if (!attempt) return at_line(line, attempt.error().message);
    if (attempt->id.empty()) attempt->id = sha256_hex(attempt_fields(*attempt).dump()).substr(0, 2 * AttemptId().size());
    return take(std::move(*attempt));
}

Result<long> read_json_lines(std::istream& in, const std::function<std::optional<Error>(Attempt)>& take) {
    long count = 0, line = 0;
    for (std::string text; std::getline(in, text);) {
        ++line;
        if (trimmed(text).empty()) continue;
        if (text.size() > kLongestLine_bytes) return at_line(line, "is longer than " + std::to_string(kLongestLine_bytes) + " bytes; one attempt is wanted on each line");
        const Json fields = Json::parse(text, nullptr, false);
        if (fields.is_discarded()) return at_line(line, "is no JSON; one object is wanted on each line");
        if (auto error = hand_over(fields, line, take)) return *error;
        ++count;
    }
    return count;
}

/// For each column of the file the column it is, or nullptr.
Result<std::vector<const Column*>> columns_in(const CsvRow& header) {
    std::vector<const Column*> out;
    std::string missing;
    for (const std::string& field : header.fields) {
        const Column* found = nullptr;
        for (const Column& column : kColumns)
            if (trimmed(field) == column.name) found = &column;
        out.push_back(found);
    }
    for (const char* wanted : {"at", "player", "asking", "family", "root", "quality", "stage", "strings", "grip", "place", "verdict", "confidence"}) {
        bool there = false;
        for (const Column* column : out) there = there || (column != nullptr && column->name == std::string_view(wanted));
        if (!there) missing += (missing.empty() ? "" : ", ") + std::string(wanted);
    }
    if (!missing.empty()) return at_line(header.line, "no attempts are kept here: columns are missing: " + missing);
    return out;
}

Result<long> read_table(std::istream& in, const std::function<std::optional<Error>(Attempt)>& take) {
    CsvReader reader(in);
    auto header = reader.next();
    if (!header) return header.error();
    if (!*header) return Error{"the file is empty"};
    const auto columns = columns_in(**header);
    if (!columns) return columns.error();
    for (long count = 0;; ++count) {
        auto row = reader.next();
        if (!row) return row.error();
        if (!*row) return count;
        const auto& cells = (*row)->fields;
        if (cells.size() != columns->size()) return at_line((*row)->line, std::to_string(cells.size()) + " fields; the first line names " + std::to_string(columns->size()));
        Json fields = Json::object();
        for (std::size_t i = 0; i < cells.size(); ++i) {
            const Column* column = (*columns)[i];
            // An empty text is a text: the quality of a major triad is one.
            if (column != nullptr && (!cells[i].empty() || column->name == std::string_view("quality"))) fields[column->name] = value_in(cells[i], *column);
        }
        if (auto error = hand_over(fields, (*row)->line, take)) return *error;
    }
}

}  // namespace

std::string attempt_json(const Attempt& attempt) { return attempt_fields(attempt).dump(-1, ' ', false, Json::error_handler_t::replace); }

AttemptWriter::AttemptWriter(std::ostream& out, AttemptFileKind kind) : out_(out), kind_(kind) {
    if (kind != AttemptFileKind::csv) return;
    for (const Column& column : kColumns) out_ << (&column == kColumns ? "" : ",") << column.name;
    out_ << "\r\n";
}

void AttemptWriter::write(const Attempt& attempt) {
    if (kind_ == AttemptFileKind::json) {
        out_ << attempt_json(attempt) << '\n';
        return;
    }
    const Json fields = attempt_fields(attempt);
    for (const Column& column : kColumns) out_ << (&column == kColumns ? "" : ",") << quoted_cell(cell_of(fields.at(column.name), column.kind));
    out_ << "\r\n";
}

Result<long> read_attempts(std::istream& in, const std::function<std::optional<Error>(Attempt)>& take) {
    while (in.peek() == ' ' || in.peek() == '\n' || in.peek() == '\r' || in.peek() == '\t') in.get();
    return in.peek() == '{' ? read_json_lines(in, take) : read_table(in, take);
}

}  // namespace gripline

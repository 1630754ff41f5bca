#include "formats/csv.h"

#include <string_view>

namespace gripline {

namespace {
constexpr int kEnd = std::char_traits<char>::eof();
}

CsvReader::CsvReader(std::istream& in) : in_(in) {
    for (const int byte : {0xEF, 0xBB, 0xBF}) {
        if (in_.peek() != byte) break;
        in_.get();
    }
}

void CsvReader::skip_line() {
    int c = 0;
    while ((c = in_.get()) != kEnd && c != '\n') {}
    if (c == '\n') ++line_;
}

/// Behind an opening quote: reads to the closing one.
bool CsvReader::read_quoted(std::string& field, std::string& trouble) {
    for (;;) {
        const int c = in_.get();
        if (c == kEnd) {
            trouble = "a quote is opened and never closed";
            return false;
        }
        if (c == '"') {
            if (in_.peek() != '"') return true;
            in_.get();
        } else if (c == '\n') {
            ++line_;
        }
        if (field.size() >= kMaxCsvField) {
            trouble = "a field is longer than " + std::to_string(kMaxCsvField) + " bytes";
            return false;
        }
        field += static_cast<char>(c);
    }
}

/// Reads up to, not including, the comma or line end.
bool CsvReader::read_plain(std::string& field, std::string& trouble) {
    for (;;) {
        const int c = in_.peek();
        if (c == kEnd || c == ',' || c == '\n' || c == '\r') return true;
        if (c == '"') {
            trouble = "a quote stands inside an unquoted field; quote the whole field and double the quotes in it";
            return false;
        }
        if (field.size() >= kMaxCsvField) {
            trouble = "a field is longer than " + std::to_string(kMaxCsvField) + " bytes";
            return false;
        }
        field += static_cast<char>(in_.get());
    }
}

Result<std::optional<CsvRow>> CsvReader::next() {
    while (in_.peek() == '\n' || in_.peek() == '\r') {
        if (in_.get() == '\n') ++line_;
    }
    if (in_.peek() == kEnd) return std::optional<CsvRow>();
    CsvRow row;
    row.line = line_;
    const auto broken = [&](const std::string& trouble) {
        skip_line();
        return Error{"line " + std::to_string(row.line) + ": " + trouble};
    };
    for (;;) {
        std::string field;
        std::string trouble;
        const bool quoted = in_.peek() == '"';
        if (quoted) in_.get();
        if (!(quoted ? read_quoted(field, trouble) : read_plain(field, trouble))) return broken(trouble);
        row.fields.push_back(std::move(field));
        if (row.fields.size() > kMaxCsvFields) return broken("more than " + std::to_string(kMaxCsvFields) + " fields");
        if (in_.peek() == '\r') in_.get();
        const int c = in_.peek();
        if (c == kEnd) return std::optional<CsvRow>(std::move(row));
        if (c == '\n') {
            in_.get();
            ++line_;
            return std::optional<CsvRow>(std::move(row));
        }
        if (c != ',') return broken("text or a carriage return stands between a field and the next comma");
        in_.get();
    }
}

std::string csv_field(const std::string& text) {
    std::string out = "\"";
    if (!text.empty() && std::string_view("=+-@\t\r").find(text.front()) != std::string_view::npos) out += '\'';
    for (const char c : text) {
        if (c == '"') out += '"';
        out += static_cast<unsigned char>(c) < 0x20 || c == 0x7F ? '?' : c;
    }
    return out + '"';
}

}  // namespace gripline

#include "cli/text_table.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>

namespace gripline {

namespace {

/// Characters of UTF-8 text: bytes that don't continue one.
int characters(const std::string& text) {
    return static_cast<int>(std::count_if(text.begin(), text.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; }));
}

std::string harmless(std::string text) {
    std::replace_if(text.begin(), text.end(), [](char c) { return static_cast<unsigned char>(c) < 0x20U || c == 0x7F; }, '?');
    return text;
}

}  // namespace

TextTable::TextTable(std::ostream& out, std::vector<TableColumn> columns) : out_(out), columns_(std::move(columns)) {}

void TextTable::row(const std::vector<std::string>& fields) {
    if (!begun_) {
        begun_ = true;
        std::vector<std::string> headings;
        for (const TableColumn& column : columns_) headings.push_back(column.heading);
        row(headings);
    }
    std::string line;
    for (std::size_t i = 0; i < columns_.size() && i < fields.size(); ++i) {
        const std::string text = harmless(fields[i]);
        const std::string gap(static_cast<std::size_t>(std::max(0, columns_[i].width - characters(text))), ' ');
        line += (i > 0 ? "  " : "") + (columns_[i].right ? gap + text : text + gap);
    }
    line.erase(line.find_last_not_of(' ') + 1);
    out_ << line << '\n';
}

std::string decimal(double value, int places) {
    if (!std::isfinite(value)) return "-";
    std::array<char, 64> text{};
    const auto end = std::to_chars(text.data(), text.data() + text.size(), value, std::chars_format::fixed, places).ptr;
    return {text.data(), end};
}

}  // namespace gripline

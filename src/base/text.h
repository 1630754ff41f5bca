// Text for messages: what came from outside is shown without letting it garble a terminal.
#pragma once

#include <string>
#include <string_view>

namespace gripline {

/// `text` in double quotes for a message: control characters become '?', more than 40 bytes are cut with "...".
/// Bytes above 127 pass (UTF-8); a cut never splits a UTF-8 character.
[[nodiscard]] inline std::string quoted(std::string_view text) {
    constexpr std::size_t kLongest_bytes = 40;  // half a line of an 80-column terminal
    std::size_t end = text.size();
    if (end > kLongest_bytes) {
        end = kLongest_bytes;
        while (end > 0 && (static_cast<unsigned char>(text[end]) & 0xC0U) == 0x80U) --end;
    }
    std::string out = "\"";
    for (const char c : text.substr(0, end)) out += static_cast<unsigned char>(c) < 0x20 || c == 0x7f ? '?' : c;
    return out + (end < text.size() ? "...\"" : "\"");
}

/// Without spaces, tabs and line ends at either end.
[[nodiscard]] inline std::string_view trimmed(std::string_view text) {
    constexpr std::string_view kBlank = " \t\r\n";
    const auto first = text.find_first_not_of(kBlank);
    if (first == std::string_view::npos) return {};
    return text.substr(first, text.find_last_not_of(kBlank) - first + 1);
}

}  // namespace gripline

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
/// For std::string itself: where <iomanip> is seen too, its std::quoted would be the better match.
[[nodiscard]] inline std::string quoted(const std::string& text) { return quoted(std::string_view(text)); }
[[nodiscard]] inline std::string quoted(std::string& text) { return quoted(std::string_view(text)); }
[[nodiscard]] inline std::string quoted(const char* text) { return quoted(std::string_view(text)); }

/// `text` for a terminal: control characters (also the two-byte ones of UTF-8, C1) become '?', so that nothing in a name or a title can move the
/// cursor or colour the screen.
[[nodiscard]] inline std::string plain_line(std::string_view text) {
    std::string out;
    for (std::size_t i = 0; i < text.size(); ++i) {
        const auto byte = static_cast<unsigned char>(text[i]);
        const bool c1 = byte == 0xC2 && i + 1 < text.size() && static_cast<unsigned char>(text[i + 1]) >= 0x80 && static_cast<unsigned char>(text[i + 1]) < 0xA0;
        out += byte < 0x20 || byte == 0x7F || c1 ? '?' : text[i];
        if (c1) ++i;
    }
    return out;
}

/// Without spaces, tabs and line ends at either end.
[[nodiscard]] inline std::string_view trimmed(std::string_view text) {
    constexpr std::string_view kBlank = " \t\r\n";
    const auto first = text.find_first_not_of(kBlank);
    if (first == std::string_view::npos) return {};
    return text.substr(first, text.find_last_not_of(kBlank) - first + 1);
}

}  // namespace gripline

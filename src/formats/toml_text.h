// Values as TOML writes them (toml.io, 1.0.0).
#pragma once

#include <array>
#include <charconv>
#include <string>
#include <string_view>

namespace gripline {

/// A basic string: quotes, backslashes and control characters escaped.
[[nodiscard]] inline std::string toml_text(std::string_view text) {
    constexpr std::string_view kDigits = "0123456789ABCDEF";
    std::string out = "\"";
    for (const char c : text) {
        const auto byte = static_cast<unsigned char>(c);
        if (c == '"' || c == '\\') (out += '\\') += c;
        else if (c == '\n') out += "\\n";
        else if (byte < 0x20 || byte == 0x7F) ((out += "\\u00") += kDigits[byte >> 4U]) += kDigits[byte & 15U];
        else out += c;
    }
    return out + '"';
}

/// The shortest decimal that reads back to the same number, with a point: TOML tells floats from whole numbers.
[[nodiscard]] inline std::string toml_number(double value) {
    std::array<char, 512> digits{};
    const auto end = std::to_chars(digits.data(), digits.data() + digits.size(), value, std::chars_format::fixed);
    std::string out(digits.data(), end.ptr);
    return out.find('.') == std::string::npos ? out + ".0" : out;
}

}  // namespace gripline

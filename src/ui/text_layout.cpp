#include "ui/text_layout.h"

#include <algorithm>
#include <cstdint>

namespace gripline {
namespace {

constexpr char32_t kReplacement = U'\uFFFD';  // Unicode 15, 23.8: replacement character

struct Decoded {
    char32_t character;
    std::size_t bytes;
};

/// The character at the front of `utf8` (not empty), by RFC 3629: overlong forms and surrogates are broken.
Decoded decode_front(std::string_view utf8) {
    const auto byte = [&](std::size_t i) { return static_cast<std::uint8_t>(utf8[i]); };
    const std::uint8_t first = byte(0);
    if (first < 0x80) return {first, 1};
    const std::size_t length = first >= 0xF0 && first < 0xF5 ? 4 : first >= 0xE0 && first < 0xF0 ? 3 : first >= 0xC2 && first < 0xE0 ? 2 : 0;
    if (length == 0 || utf8.size() < length) return {kReplacement, 1};
    char32_t character = first & (0xFFU >> (length + 1));
    for (std::size_t i = 1; i < length; ++i) {
        if ((byte(i) & 0xC0U) != 0x80U) return {kReplacement, 1};
        character = (character << 6U) | (byte(i) & 0x3FU);
    }
    const char32_t least = length == 4 ? 0x10000 : length == 3 ? 0x800 : 0x80;
    const bool surrogate = character >= 0xD800 && character <= 0xDFFF;
    if (character < least || surrogate || character > 0x10FFFF) return {kReplacement, 1};
    return {character, length};
}

}  // namespace

std::u32string decode_utf8(std::string_view utf8) {
    std::u32string out;
    while (!utf8.empty()) {
        const Decoded decoded = decode_front(utf8);
        out.push_back(decoded.character);
        utf8.remove_prefix(decoded.bytes);
    }
    return out;
}

std::string encode_utf8(char32_t character) {
    if (character > 0x10FFFF || (character >= 0xD800 && character <= 0xDFFF)) character = kReplacement;
    const auto tail = [&](unsigned shift) { return static_cast<char>(0x80U | ((character >> shift) & 0x3FU)); };
    if (character < 0x80) return {static_cast<char>(character)};
    if (character < 0x800) return {static_cast<char>(0xC0U | (character >> 6U)), tail(0)};
    if (character < 0x10000) return {static_cast<char>(0xE0U | (character >> 12U)), tail(6), tail(0)};
    return {static_cast<char>(0xF0U | (character >> 18U)), tail(12), tail(6), tail(0)};
}

int columns_of(std::string_view utf8) { return static_cast<int>(decode_utf8(utf8).size()); }

std::vector<std::string> wrap(std::string_view utf8, int columns) {
    const auto limit = static_cast<std::size_t>(std::max(columns, 1));
    std::vector<std::u32string> lines;
    std::u32string line;
    const auto break_line = [&] {
        lines.push_back(line);
        line.clear();
    };
    std::u32string word;
    const auto end_word = [&] {
        if (!line.empty() && line.size() + 1 + word.size() > limit) break_line();
        if (!line.empty() && !word.empty()) line.push_back(U' ');
        while (word.size() > limit) {
            line = word.substr(0, limit);
            word.erase(0, limit);
            break_line();
        }
        line += word;
        word.clear();
    };
    for (const char32_t character : decode_utf8(utf8)) {
        if (character == U' ') {
            if (!word.empty()) end_word();
        } else if (character == U'\n') {
            end_word();
            break_line();
        } else {
            word.push_back(character);
        }
    }
    if (!word.empty()) end_word();
    if (!line.empty()) break_line();
    std::vector<std::string> out;
    for (const std::u32string& characters : lines) {
        std::string text;
        for (const char32_t character : characters) text += encode_utf8(character);
        out.push_back(text);
    }
    return out;
}

}  // namespace gripline

// UTF-8 in and out of characters, and words broken into lines.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace gripline {

/// The characters of UTF-8 text; each broken byte becomes U+FFFD.
[[nodiscard]] std::u32string decode_utf8(std::string_view utf8);
/// UTF-8 of one character; U+FFFD for what is no character.
[[nodiscard]] std::string encode_utf8(char32_t character);
/// Columns that the text takes on a canvas: one a character.
[[nodiscard]] int columns_of(std::string_view utf8);
/// Text broken at spaces into lines of at most `columns` (1 or more) columns; a longer word is cut. Line feeds break too.
/// Empty text gives no line.
[[nodiscard]] std::vector<std::string> wrap(std::string_view utf8, int columns);

}  // namespace gripline

// Text put into XML, HTML or SVG as it is shown.
#pragma once

#include <string>
#include <string_view>

namespace gripline {

/// & < > " ' escaped; characters that no such document may hold left out.
[[nodiscard]] inline std::string escaped(std::string_view text) {
    std::string out;
    for (const char c : text) {
        if (c == '&') out += "&amp;";
        else if (c == '<') out += "&lt;";
        else if (c == '>') out += "&gt;";
        else if (c == '"') out += "&quot;";
        else if (c == '\'') out += "&#39;";
        else if (static_cast<unsigned char>(c) >= 0x20 && c != 0x7f) out += c;
    }
    return out;
}

}  // namespace gripline

#include "ui/practice_plan.h"

#include <algorithm>

namespace gripline {

const char* word(GestureAsks asks) {
    switch (asks) {
        case GestureAsks::again: return "again";
        case GestureAsks::next: return "next";
        case GestureAsks::hear: return "hear";
        case GestureAsks::show: return "show";
        case GestureAsks::pause: return "pause";
        case GestureAsks::nothing: break;
    }
    return "nothing";
}

std::optional<GestureAsks> parse_gesture(std::string_view text) {
    const auto found = std::find_if(kGestureAsks.begin(), kGestureAsks.end(), [&](GestureAsks asks) { return text == word(asks); });
    return found == kGestureAsks.end() ? std::nullopt : std::optional(*found);
}

std::string Gestures::text() const {
    if (!any()) return {};
    std::string out = "Muted strums:";
    if (two != GestureAsks::nothing) out += std::string(" two ") + word(two);
    if (three != GestureAsks::nothing) out += std::string(two == GestureAsks::nothing ? " three " : ", three ") + word(three);
    return out + ".";
}

}  // namespace gripline

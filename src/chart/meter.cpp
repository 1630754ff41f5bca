#include "chart/meter.h"

#include <algorithm>
#include <array>

#include "base/text.h"

namespace gripline {

Result<Meter> Meter::parse(std::string_view text) {
    constexpr std::array kMeters{Meter{4, 4}, Meter{3, 4}, Meter{2, 2}, Meter{5, 4}, Meter{6, 8}};
    const auto found = std::find_if(kMeters.begin(), kMeters.end(), [&](const Meter& meter) { return meter.text() == trimmed(text); });
    if (found != kMeters.end()) return *found;
    if (trimmed(text) == "C") return Meter{4, 4};  // the sign of common time
    return Error{"unknown meter " + quoted(text) + "; meters are 4/4, 3/4, 2/2, 5/4 and 6/8"};
}

std::vector<int> Meter::strong_counts() const {
    if (counts() == 3) return {1};
    return {1, counts() == 4 ? 3 : 4};
}

}  // namespace gripline

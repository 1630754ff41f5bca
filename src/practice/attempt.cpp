#include "practice/attempt.h"

#include <algorithm>

#include "base/text.h"

namespace gripline {
namespace {

constexpr std::string_view kAskingWords[kAskings] = {"shown", "named", "by ear", "next step", "into the target", "name it", "scale note"};

}  // namespace

std::string_view word(Asking asking) noexcept { return kAskingWords[static_cast<std::size_t>(asking)]; }

Result<Asking> parse_asking(std::string_view text) {
    std::string spaced(text);
    std::replace(spaced.begin(), spaced.end(), '-', ' ');
    std::string allowed;
    for (int i = 0; i < kAskings; ++i) {
        const auto asking = static_cast<Asking>(i);
        if (word(asking) == spaced) return asking;
        allowed += (i == 0 ? "" : ", ") + std::string(word(asking));
    }
    return Error{"unknown way of asking " + quoted(text) + "; allowed: " + allowed};
}

}  // namespace gripline

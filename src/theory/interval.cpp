#include "theory/interval.h"

#include <array>
#include <cstdlib>

#include "base/text.h"
#include "theory/accidental_text.h"

namespace gripline {

namespace {
constexpr int kLargestNumber = 15;  // two octaves: the largest degree of a chord symbol is 13
constexpr std::array<const char*, 16> kNumberNames{"", "unison", "second", "third", "fourth", "fifth", "sixth", "seventh", "octave",
                                                   "ninth", "tenth", "eleventh", "twelfth", "thirteenth", "fourteenth", "double octave"};
bool is_perfect(int number) {
    const int simple = (number - 1) % 7 + 1;
    return simple == 1 || simple == 4 || simple == 5;
}
std::string quality_name(int number, int alteration) {
    if (alteration > 0) return alteration > 1 ? "doubly augmented" : "augmented";
    if (alteration == 0) return is_perfect(number) ? "perfect" : "major";
    const int below = is_perfect(number) ? -alteration : -alteration - 1;  // 0: minor
    return below == 0 ? "minor" : below == 1 ? "diminished" : "doubly diminished";
}
}  // namespace

Result<Interval> Interval::parse(std::string_view degree) {
    const std::string plain = with_plain_accidentals(degree);
    std::size_t at = 0;
    const int alteration = read_accidentals(plain, at);
    int number = 0;
    const std::size_t digits = plain.size() - at;
    if (digits >= 1 && digits <= 2)
        for (; at < plain.size() && plain[at] >= '0' && plain[at] <= '9'; ++at) number = number * 10 + (plain[at] - '0');
    if (digits < 1 || at != plain.size() || number < 1 || number > kLargestNumber || std::abs(alteration) > 2)
        return Error{"unknown degree " + quoted(degree) + "; a degree is a number from 1 to 15 with at most two b or # before it, as b3 or #11"};
    return Interval::degree(number, alteration);
}

std::string Interval::degree_text() const { return accidental_text(alteration()) + std::to_string(number_); }

std::string Interval::name() const {
    return quality_name(number_, alteration()) + " " + kNumberNames.at(static_cast<std::size_t>(number_));
}

}  // namespace gripline

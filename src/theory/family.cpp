#include "theory/family.h"

#include <span>

#include "base/text.h"

namespace gripline {

namespace {

struct Row {
    std::string_view name;
    std::string_view suffix;
    std::array<Interval, 8> degrees;
    int steps;
};
constexpr Interval d(int number, int alteration = 0) { return Interval::degree(number, alteration); }

// Degrees: common practice; each scale is the complement of its chord's set class (Forte 1973), see tests/theory/family_test.cpp.
constexpr std::array<Row, 5> kRows{{
    {"major sixth", "6", {d(1), d(2), d(3), d(4), d(5), d(6, -1), d(6), d(7)}, 8},
    {"minor sixth", "m6", {d(1), d(2), d(3, -1), d(4), d(5), d(6, -1), d(6), d(7)}, 8},
    {"dominant seventh", "7", {d(1), d(2), d(3), d(4), d(5), d(6, -1), d(7, -1), d(7)}, 8},
    {"seventh flat five", "7b5", {d(1), d(2), d(3), d(4), d(5, -1), d(6, -1), d(7, -1), d(7)}, 8},
    {"diminished", "dim7", {d(1), d(3, -1), d(5, -1), d(7, -2)}, 4},
}};
const Row& row(Family family) { return kRows.at(static_cast<std::size_t>(family)); }

/// The diminished chord between is named by the scale's seventh degree: Bdim7 in C. The note at each odd step is
/// root (step 7), third (1), fifth (3), seventh (5) of it.
int passing_inversion(int step) { return (step + 1) / 2 % 4; }

}  // namespace

std::string_view name(Family family) noexcept { return row(family).name; }
std::string_view chord_suffix(Family family) noexcept { return row(family).suffix; }
std::string_view word(Role role) noexcept { return role == Role::chord ? "chord" : "passing"; }

Result<Family> parse_family(std::string_view text) {
    const std::string_view asked = trimmed(text);
    for (std::size_t i = 0; i < kRows.size(); ++i)
        if (asked == kRows[i].name || asked == kRows[i].suffix) return static_cast<Family>(i);
    return Error{"unknown family " + quoted(asked) + "; families are major sixth (6), minor sixth (m6), dominant seventh (7), seventh flat five (7b5), diminished (dim7)"};
}

std::vector<ScaleStep> harmonised_scale(NoteName root, Family family) {
    const Row& scale = row(family);
    const auto steps = static_cast<std::size_t>(scale.steps);
    const std::size_t skip = steps / 4;  // every other note of eight
    const auto spelled_step = [&](std::size_t step) { return root.up(scale.degrees.at(step % steps)).readable(); };
    std::vector<ScaleStep> out(steps);
    for (std::size_t i = 0; i < steps; ++i) {
        ScaleStep& step = out[i];
        step.degree = scale.degrees.at(i);
        step.name = spelled_step(i);
        step.role = skip == 2 && i % 2 == 1 ? Role::passing : Role::chord;
        const bool passing = step.role == Role::passing;
        step.chord = passing ? spelled_step(7).as_root().text() + "dim7" : root.text() + std::string(scale.suffix);
        step.inversion = passing ? passing_inversion(static_cast<int>(i)) : static_cast<int>(i / skip);
        for (std::size_t k = 0; k < 4; ++k) step.tones.at(k) = spelled_step(i + k * skip);
    }
    return out;
}

}  // namespace gripline

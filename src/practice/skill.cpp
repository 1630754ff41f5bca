#include "practice/skill.h"

#include <vector>

#include "base/text.h"

namespace gripline {
namespace {

constexpr std::string_view kBetween = " / ";
constexpr std::string_view kNone = "-";
constexpr std::string_view kMajorTriad = "major";  // its suffix on a chart is empty
constexpr std::size_t kParts = 6;
constexpr std::size_t kLongestQuality = 32;

std::vector<std::string_view> parts_of(std::string_view text) {
    std::vector<std::string_view> parts;
    while (parts.size() <= kParts) {
        const auto end = text.find(kBetween);
        parts.push_back(text.substr(0, end));
        if (end == std::string_view::npos) break;
        text.remove_prefix(end + kBetween.size());
    }
    return parts;
}

template <class Value, std::size_t N>
std::optional<Value> read_word(std::string_view text, const Value (&values)[N]) {
    for (const Value value : values) {
        if (word(value) == text) return value;
    }
    return std::nullopt;
}

}  // namespace

std::string Skill::text() const {
    std::string out = quality.empty() ? std::string(kMajorTriad) : quality;
    const auto add = [&out](std::string_view part) { out += std::string(kBetween) + std::string(part); };
    add(word(role));
    add(from ? word(*from) : kNone);
    add(plain_name(key));
    add(strings);
    add(word(asking));
    return out;
}

Result<Skill> parse_skill(std::string_view text) {
    const auto bad = [text](const std::string& what) { return Error{"skill " + quoted(text) + ": " + what}; };
    const auto parts = parts_of(text);
    if (parts.size() != kParts) return bad("six parts with \" / \" between them are wanted: quality, role, side, key, strings, way of asking");
    Skill skill;
    if (parts[0].empty() || parts[0].size() > kLongestQuality) return bad("the quality must have 1 to 32 bytes (\"major\" for a major triad)");
    skill.quality = parts[0] == kMajorTriad ? "" : std::string(parts[0]);
    const auto role = read_word(parts[1], {Sounds::chord, Sounds::passing, Sounds::approach});
    if (!role) return bad("unknown role " + quoted(parts[1]) + "; allowed: chord, passing, approach");
    skill.role = *role;
    if (parts[2] != kNone) {
        skill.from = read_word(parts[2], {From::below, From::above});
        if (!skill.from) return bad("unknown side " + quoted(parts[2]) + "; allowed: below, above, -");
        if (skill.role != Sounds::approach) return bad("only an approach has a side");
    }
    const auto key = NoteName::parse(parts[3]);
    if (!key) return bad(key.error().message);
    skill.key = key->pitch_class();
    const auto strings = StringSet::parse(parts[4]);
    if (!strings) return bad(strings.error().message);
    skill.strings = strings->text();
    const auto asking = parse_asking(parts[5]);
    if (!asking) return bad(asking.error().message);
    skill.asking = *asking;
    return skill;
}

Skill skill_of(const Attempt& attempt) {
    Skill skill;
    skill.quality = attempt.quality;
    skill.role = attempt.place;
    if (attempt.place == Sounds::approach) skill.from = attempt.from;
    skill.key = attempt.root.pitch_class();
    skill.strings = attempt.strings.text();
    skill.asking = attempt.asking;
    return skill;
}

}  // namespace gripline

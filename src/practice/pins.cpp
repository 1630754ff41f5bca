#include "practice/pins.h"

#include <algorithm>

#include "fretboard/string_set.h"
#include "theory/chord_symbol.h"

namespace gripline {

namespace {

std::string quality_words(const std::string& quality) { return quality.empty() ? "major" : quality; }

/// led_into: the chord under which it counts, its own or, of an approach, the target.
std::optional<Skill> skill_of_beat(const LineBeat& beat, const LineBeat& led_into, Asking asking) {
    const auto chord = parse_chart_symbol(led_into.chord);
    if (!chord || chord->quality == nullptr) return std::nullopt;
    Skill out;
    out.quality = std::string(chord->quality->suffix);
    out.role = beat.role;
    if (beat.role == Sounds::approach) out.from = beat.from;
    out.key = led_into.scale.root.pitch_class();
    std::vector<StringNumber> strings;
    for (int string = beat.grip.strings(); string >= 1; --string)
        if (beat.grip.fret(StringNumber(string))) strings.emplace_back(string);
    if (strings.empty()) return std::nullopt;
    out.strings = StringSet(strings).text();
    out.asking = asking;
    return out;
}

}  // namespace

bool Pins::allow(const Skill& skill) const {
    if (key && skill.key != *key) return false;
    if (!qualities.empty() && std::find(qualities.begin(), qualities.end(), skill.quality) == qualities.end()) return false;
    if (from && (skill.role != Sounds::approach || skill.from != from)) return false;
    if (joints.empty()) return true;
    return std::any_of(joints.begin(), joints.end(), [&skill](Skill joint) {
        joint.asking = skill.asking;
        return joint == skill;
    });
}

std::string Pins::text() const {
    std::string out;
    const auto also = [&out](const std::string& words) { out += (out.empty() ? "" : "; ") + words; };
    if (key) also("in " + plain_name(*key));
    std::string names;
    for (const std::string& quality : qualities) names += (names.empty() ? "" : " or ") + quality_words(quality);
    if (!names.empty()) also(names);
    if (from) also("approaches from " + std::string(word(*from)));
    if (!joints.empty()) also("the chart's joints");
    return out.empty() ? "everything" : out;
}

std::vector<Skill> pinned(const std::vector<Skill>& skills, const Pins& pins) {
    std::vector<Skill> out;
    std::copy_if(skills.begin(), skills.end(), std::back_inserter(out), [&pins](const Skill& skill) { return pins.allow(skill); });
    return out;
}

std::vector<Skill> joints_of(const Line& line, Asking asking) {
    std::vector<Skill> out;
    const auto add = [&](const LineBeat& beat, const LineBeat& led_into) {
        const auto skill = skill_of_beat(beat, led_into, asking);
        if (skill && std::find(out.begin(), out.end(), *skill) == out.end()) out.push_back(*skill);
    };
    for (std::size_t i = 0; i < line.beats.size(); ++i) {
        if (line.beats[i].role != Sounds::approach || i + 1 == line.beats.size()) continue;
        add(line.beats[i], line.beats[i + 1]);
        add(line.beats[i + 1], line.beats[i + 1]);
    }
    return out;
}

}  // namespace gripline

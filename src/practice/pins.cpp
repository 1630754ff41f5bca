#include "practice/pins.h"

#include <algorithm>

namespace gripline {

namespace {

std::string quality_words(const std::string& quality) { return quality.empty() ? "major" : quality; }

}  // namespace

bool Pins::allow(const Skill& skill) const {
    if (key && skill.key != *key) return false;
    if (!qualities.empty() && std::find(qualities.begin(), qualities.end(), skill.quality) == qualities.end()) return false;
    if (from && (skill.role != Sounds::approach || skill.from != from)) return false;
    return true;
}

std::string Pins::text() const {
    std::string out;
    const auto also = [&out](const std::string& words) { out += (out.empty() ? "" : "; ") + words; };
    if (key) also("in " + plain_name(*key));
    std::string names;
    for (const std::string& quality : qualities) names += (names.empty() ? "" : " or ") + quality_words(quality);
    if (!names.empty()) also(names);
    if (from) also("approaches from " + std::string(word(*from)));
    return out.empty() ? "everything" : out;
}

std::vector<Skill> pinned(const std::vector<Skill>& skills, const Pins& pins) {
    std::vector<Skill> out;
    std::copy_if(skills.begin(), skills.end(), std::back_inserter(out), [&pins](const Skill& skill) { return pins.allow(skill); });
    return out;
}

}  // namespace gripline

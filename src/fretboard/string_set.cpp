#include "fretboard/string_set.h"

#include <algorithm>
#include <array>

#include "base/text.h"

namespace gripline {

namespace {

constexpr std::array<std::string_view, 4> kNames{"scale", "drop 2", "drop 3", "shell"};

/// Steps down in string number from the lowest string of a stage's shape.
std::vector<int> shape(StageKind kind) {
    switch (kind) {
        case StageKind::scale: return {0};
        case StageKind::drop2: return {0, 1, 2, 3};
        case StageKind::drop3: return {0, 2, 3, 4};
        case StageKind::shell: break;
    }
    return {0, 2, 3};
}

}  // namespace

std::string_view name(StageKind kind) noexcept { return kNames.at(static_cast<std::size_t>(kind)); }

Result<StageKind> parse_stage_kind(std::string_view text) {
    const std::string_view asked = trimmed(text);
    for (std::size_t i = 0; i < kNames.size(); ++i)
        if (asked == kNames[i]) return static_cast<StageKind>(i);
    if (asked == "drop2") return StageKind::drop2;
    if (asked == "drop3") return StageKind::drop3;
    return Error{"unknown stage " + quoted(asked) + "; stages are scale, drop 2, drop 3, shell"};
}

Result<StringSet> StringSet::parse(std::string_view text) {
    const std::string_view asked = trimmed(text);
    const Error unknown{"unknown string set " + quoted(asked) + "; write string numbers from low to high, as 6-4-3 or 4-3-2-1 (7 the lowest, 1 the highest)"};
    std::vector<StringNumber> strings;
    bool wants_number = true;
    for (const char c : asked) {
        if (c == '-' || c == ' ') {
            if (wants_number) return unknown;
            wants_number = true;
            continue;
        }
        if (c < '1' || c > '0' + kMaxStrings) return unknown;
        const StringNumber string(c - '0');
        if (!strings.empty() && string >= strings.back()) return unknown;
        strings.push_back(string);
        wants_number = false;
    }
    if (wants_number) return unknown;
    return StringSet(std::move(strings));
}

std::string StringSet::text() const {
    std::string out;
    for (const StringNumber string : strings_) out += (out.empty() ? "" : "-") + std::to_string(string.number());
    return out;
}

std::vector<StringSet> string_sets(StageKind kind, int strings) {
    const std::vector<int> steps = shape(kind);
    std::vector<StringSet> out;
    for (int lowest = strings; lowest - steps.back() >= 1; --lowest) {
        std::vector<StringNumber> set;
        for (const int step : steps) set.emplace_back(lowest - step);
        out.emplace_back(std::move(set));
    }
    // The usual set first: melody stages on string 1, bass stages on string 6 (not 7).
    if (kind == StageKind::scale || kind == StageKind::drop2) std::reverse(out.begin(), out.end());
    else if (strings == kMaxStrings) std::rotate(out.begin(), out.begin() + 1, out.end());
    return out;
}

Result<StringSet> checked(const StringSet& set, StageKind kind, int strings) {
    const auto sets = string_sets(kind, strings);
    if (std::find(sets.begin(), sets.end(), set) != sets.end()) return set;
    std::string list;
    for (const StringSet& each : sets) list += (list.empty() ? "" : ", ") + each.text();
    return Error{std::string(name(kind)) + " does not lie on strings " + set.text() + " of " + std::to_string(strings) + "; it lies on " + list};
}

}  // namespace gripline

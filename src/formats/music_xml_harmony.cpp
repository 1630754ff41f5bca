#include "formats/music_xml_harmony.h"

#include <cmath>
#include <string>
#include <utility>

#include "base/text.h"
#include "formats/chart_import.h"
#include "formats/harmony_kind.h"

namespace gripline::music_xml {

namespace {

constexpr int kMostDegrees = 12;  // a chord of every degree

/// The quality without the blanks that print it well: "7 (b9)".
std::string without_blanks(std::string text) {
    std::erase_if(text, [](char c) { return static_cast<unsigned char>(c) <= 0x20; });
    return text;
}

/// A whole number of little size.
std::optional<int> small_number(const std::string& text) {
    const auto number = number_of(text);
    if (!number || std::abs(*number) > 100.0 || std::floor(*number) != *number) return std::nullopt;
    return static_cast<int>(*number);
}

/// "root" with root-step and root-alter, or "bass" with its own.
Result<NoteName> note_name(XmlNode node, const std::string& name) {
    const std::string step = node.child((name + "-step").c_str()).text();
    const auto note = NoteName::parse(step);
    if (!note || step.size() != 1) return Error{name + "-step " + quoted(step) + "; a letter from A to G is read"};
    const XmlNode alter = node.child((name + "-alter").c_str());
    const auto semitones = alter ? small_number(alter.text()) : std::optional<int>(0);
    if (!semitones || *semitones < -2 || *semitones > 2) return Error{name + "-alter " + quoted(alter.text()) + "; -2 to 2 semitones are read"};
    return NoteName(note->letter(), *semitones);
}

Result<HarmonyDegree> degree_of(XmlNode node) {
    const auto number = small_number(node.child("degree-value").text()), alteration = small_number(node.child("degree-alter").text());
    if (!number) return Error{"degree-value " + quoted(node.child("degree-value").text()) + "; degrees 1 to 13 are read"};
    if (!alteration && node.child("degree-alter")) return Error{"degree-alter " + quoted(node.child("degree-alter").text()) + "; -2 to 2 semitones are read"};
    return HarmonyDegree{*number, alteration ? *alteration : 0, node.child("degree-type").text()};
}

/// The bass that an inversion asks for: the third in the first, and so on.
std::optional<NoteName> inverted(NoteName root, const HarmonyKind& kind, int inversion) {
    const auto chord = chord_of_harmony(root, kind, std::nullopt);
    if (!chord || inversion < 1 || inversion >= static_cast<int>(chord->degrees.size())) return std::nullopt;
    return chord->notes()[static_cast<std::size_t>(inversion)];
}

}  // namespace

Result<ReadHarmony> read_harmony(XmlNode harmony) {
    ReadHarmony out;
    const XmlNode kind = harmony.child("kind");
    if (!kind) return Error{"a harmony without a kind; its chord is unknown"};
    out.more = static_cast<bool>(kind.next("kind"));
    if (kind.text() == "none") return out;
    const XmlNode root_node = harmony.child("root");
    if (!root_node) return Error{"a harmony without a root (Roman numerals, functions and numbers are not read); write it with its root"};
    const auto root = note_name(root_node, "root");
    if (!root) return root.error();
    HarmonyKind described{kind.text(), without_blanks(kind.attribute("text")), {}};
    for (XmlNode each = kind.next(); each && each.name() != "root"; each = each.next()) {
        if (each.name() != "degree") continue;
        if (described.degrees.size() >= static_cast<std::size_t>(kMostDegrees)) return Error{"a chord with more than " + std::to_string(kMostDegrees) + " degrees; simplify it"};
        auto degree = degree_of(each);
        if (!degree) return degree.error();
        described.degrees.push_back(std::move(*degree));
    }
    std::optional<NoteName> bass;
    if (const XmlNode node = harmony.child("bass")) {
        const auto read = note_name(node, "bass");
        if (!read) return read.error();
        bass = *read;
    } else if (const auto inversion = small_number(harmony.child("inversion").text())) {
        bass = inverted(*root, described, *inversion);
    }
    auto chord = chord_of_harmony(*root, described, bass);
    if (!chord) return chord.error();
    out.symbol = std::move(*chord);
    return out;
}

double quarters_of_beat(XmlNode metronome) {
    constexpr std::pair<const char*, double> kUnits[] = {{"whole", 4.0}, {"half", 2.0}, {"quarter", 1.0}, {"eighth", 0.5}, {"16th", 0.25}};
    const std::string unit = metronome.child("beat-unit").text();
    for (const auto& [name, quarters] : kUnits) {
        if (unit != name) continue;
        return metronome.child("beat-unit-dot") ? quarters * 1.5 : quarters;
    }
    return 0.0;
}

}  // namespace gripline::music_xml

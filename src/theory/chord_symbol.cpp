#include "theory/chord_symbol.h"

#include <algorithm>

#include "base/text.h"
#include "theory/accidental_text.h"

namespace gripline {

std::vector<PitchClass> ChordSymbol::pitch_classes() const {
    std::vector<PitchClass> out;
    const auto add = [&](PitchClass pitch_class) {
        if (std::find(out.begin(), out.end(), pitch_class) == out.end()) out.push_back(pitch_class);
    };
    for (const Interval degree : degrees) add(root.pitch_class().up(degree.semitones()));
    if (bass) add(bass->pitch_class());
    return out;
}

std::vector<NoteName> ChordSymbol::notes() const {
    std::vector<NoteName> out;
    for (const Interval degree : degrees) out.push_back(root.up(degree));
    return out;
}

std::string ChordSymbol::chart_text(Accidentals signs) const {
    if (!quality) return text;
    std::string suffix(quality->suffix);
    if (signs == Accidentals::unicode) {  // every b or # before a digit is an accidental: "m7b5", "7#11"
        for (const char* digit : {"5", "9", "1"}) {
            suffix = replaced(std::move(suffix), std::string("b") + digit, std::string("\u266D") + digit);
            suffix = replaced(std::move(suffix), std::string("#") + digit, std::string("\u266F") + digit);
        }
    }
    return root.text(signs) + suffix + (bass ? "/" + bass->text(signs) : "");
}

std::string ChordSymbol::harte_text() const {
    std::string out = root.text() + ":";
    if (quality && !quality->harte.empty()) {
        out += quality->harte;
    } else {
        std::string list;
        const bool rooted = std::find(degrees.begin(), degrees.end(), Interval()) != degrees.end();
        if (!rooted) list = "*1";
        for (const Interval degree : degrees)
            if (degree != Interval()) list += (list.empty() ? "" : ",") + degree.degree_text();
        out += "(" + (list.empty() ? "1" : list) + ")";
    }
    if (!bass) return out;
    const int steps = (bass->letter() - root.letter() + 7) % 7;
    for (int alteration = -2; alteration <= 2; ++alteration) {
        const Interval degree = Interval::degree(steps + 1, alteration);
        if (root.up(degree).pitch_class() == bass->pitch_class()) return out + "/" + degree.degree_text();
    }
    return out;  // not reached: a bass is at most a double accidental off, and readable() names stay within that
}

Result<ChordSymbol> parse_chord(std::string_view text) {
    const bool label = text.find(':') != std::string_view::npos || trimmed(text) == "N";
    return !label ? parse_chart_symbol(text) : parse_harte_label(text);
}

}  // namespace gripline

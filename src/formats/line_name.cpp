#include "formats/line_name.h"

namespace gripline {

std::string beat_name(const LineBeat& beat) {
    std::string name = beat.role == Sounds::chord ? beat.chord : beat.sounds;
    const auto read = parse_chart_symbol(name);
    if (!read) return name;
    if (read->bass) name.erase(name.rfind('/'));
    const NoteName bass = beat.notes.front().name;
    return read->root == bass ? name : name + "/" + bass.text();
}

}  // namespace gripline

#include "formats/line_name.h"

#include "theory/chord_words.h"

namespace gripline {

std::string beat_name(const LineBeat& beat) {
    const auto read = parse_chart_symbol(beat.called);
    if (!read) return beat.called;
    const PitchClass bass = beat.notes.front().name.pitch_class();
    return read->root.pitch_class() == bass ? beat.called : beat.called + "/" + spelled_bass(*read, bass).text();
}

}  // namespace gripline

#include "formats/line_abc.h"

#include <algorithm>
#include <cmath>

#include "formats/chart_abc.h"
#include "formats/line_times.h"

namespace gripline {

namespace {

constexpr int kBarsInRow = 4;

/// ABC 2.1, section 4.1 and 4.2: C is middle C (C4), c an octave above, a comma an octave lower, an apostrophe higher; ^ sharp, _ flat, = natural.
std::string note_text(const SpelledNote& note) {
    const int accidental = note.name.accidental();
    std::string out = accidental == 0 ? "=" : std::string(static_cast<std::size_t>(std::abs(accidental)), accidental > 0 ? '^' : '_');
    const bool low = note.octave <= 4;
    out += (low ? "CDEFGAB" : "cdefgab")[note.name.letter()];
    out += std::string(static_cast<std::size_t>(low ? 4 - note.octave : note.octave - 5), low ? ',' : '\'');
    return out;
}

std::string length_text(int eighths) { return eighths == 1 ? "" : std::to_string(eighths); }
std::string rest_text(int eighths) { return eighths > 0 ? "z" + length_text(eighths) + " " : ""; }

std::string grip_text(const TimedBeat& beat) {
    std::string out = "[";
    for (const SpelledNote& note : beat.beat->notes) out += note_text(note);
    return out + "]" + length_text(beat.length) + " ";
}

std::string bar_text(const TimedBar& bar, std::string& last_chord) {
    std::string out;
    int now = bar.start;
    std::size_t next = 0;
    for (const PlacedChord& chord : bar.bar->chords) {
        const int start = bar.start + (chord.beat - 1) * bar.count, end = start + chord.beats * bar.count;
        if (chord.text() != last_chord) {
            out += "\"" + abc_symbol(chord) + "\"";
            last_chord = chord.text();
        }
        for (; next < bar.beats.size() && bar.beats[next].start < end; ++next) {
            out += rest_text(bar.beats[next].start - now) + grip_text(bar.beats[next]);
            now = bar.beats[next].start + bar.beats[next].length;
        }
        out += rest_text(end - now);
        now = std::max(now, end);
    }
    return out + "|";
}

}  // namespace

std::string line_abc(const Chart& chart, const Line& line) {
    std::string out = "X:1\nT:" + abc_field_text(chart.title.empty() ? "Line" : chart.title) + "\nM:" + chart.meter.text() + "\nL:1/8\n";
    out += "Q:" + abc_tempo(chart) + "\nK:" + abc_key(chart, "C") + "\n";
    Meter meter = chart.meter;
    std::string last_chord;
    int in_row = 0;
    for (const TimedBar& bar : timed_bars(chart, line)) {
        const bool section = !bar.bar->section.empty();
        if (in_row > 0 && (section || in_row == kBarsInRow)) {
            out += "\n";
            in_row = 0;
        }
        if (section) out += "P:" + abc_field_text(bar.bar->section) + "\n";
        if (bar.bar->meter != meter) out += "[M:" + bar.bar->meter.text() + "] ";
        meter = bar.bar->meter;
        out += (in_row++ > 0 ? " " : "") + bar_text(bar, last_chord);
    }
    return out + "]\n";
}

}  // namespace gripline

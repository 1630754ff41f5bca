#include "formats/line_picture.h"

#include <algorithm>
#include <charconv>
#include <cmath>

#include "formats/grip_svg.h"
#include "formats/line_name.h"
#include "formats/line_times.h"

namespace gripline {

namespace {

constexpr double kChordY = 18.0, kNameY = 35.0, kGripY = 40.0, kFretsY = kGripY + kGripHeight + 11.0, kNotesY = kFretsY + 13.0, kRowHeight = kNotesY + 14.0;
constexpr double kChordUnit = 12.0, kNameUnit = 8.6, kSmallUnit = 6.7;  // usual widths of a character at these sizes, measured on sans-serif faces

/// "C7/E", "Bdim7/D", "< Gb7".
std::string name_of(const LineBeat& beat) {
    std::string name = beat_name(beat);
    if (beat.from) name = (*beat.from == From::below ? "< " : "> ") + name;
    return name;
}

std::string notes_of(const LineBeat& beat) {
    std::string out;
    for (const SpelledNote& note : beat.notes) out += (out.empty() ? "" : " ") + note.name.text();
    return out;
}

/// Draws rows, bar by bar.
class RowDrawer {
public:
    RowDrawer(const Neck& neck, int across, std::vector<PictureRow>& rows) : neck_(neck), across_(across), rows_(rows) {}

    void bar(const TimedBar& timed, int number) {
        const Bar& bar = *timed.bar;
        const int counts = bar.meter.counts();
        const double whole = across_ * kGripCell, width = whole / std::max(across_, counts) * counts;
        if (rows_.empty() || !bar.section.empty() || x_ + width > whole + 0.5) {
            rows_.push_back({"", kRowHeight, "", bar.section});
            x_ = 0.0;
        }
        PictureRow& row = rows_.back();
        const double cell = width / counts;
        row.svg += "<line class=\"bar\" x1=\"" + svg_number(x_ + 0.8) + "\" y1=\"4\" x2=\"" + svg_number(x_ + 0.8) + "\" y2=\"" + svg_number(kRowHeight - 10.0) + "\"/>";
        row.svg += svg_text(x_ + width - 4.0, 12.0, std::to_string(number), "number", "end", cell, kSmallUnit);
        row.words += (row.words.empty() ? "Bar " : ". Bar ") + std::to_string(number) + ":";
        chords(row, timed, cell);
        for (const TimedBeat& beat : timed.beats) {
            if (&beat != &timed.beats.front()) row.words += ",";
            grip(row, *beat.beat, cell);
        }
        x_ += width;
        row.svg += "<line class=\"bar\" x1=\"" + svg_number(x_ - 0.8) + "\" y1=\"4\" x2=\"" + svg_number(x_ - 0.8) + "\" y2=\"" + svg_number(kRowHeight - 10.0) + "\"/>\n";
    }

private:
    const Neck& neck_;
    int across_;
    std::vector<PictureRow>& rows_;
    double x_ = 0.0;
    std::string last_chord_;

    void chords(PictureRow& row, const TimedBar& timed, double cell) {
        for (const PlacedChord& chord : timed.bar->chords) {
            const bool row_begins = x_ == 0.0 && chord.beat == 1;
            if (chord.text() == last_chord_ && !row_begins) continue;
            last_chord_ = chord.text();
            row.svg += svg_text(x_ + (chord.beat - 1) * cell + 8.0, kChordY, chord.text(), "chord", "start", cell * chord.beats - 24.0, kChordUnit);
        }
    }

    void grip(PictureRow& row, const LineBeat& beat, double cell) {
        const double left = x_ + (beat.beat - 1) * cell, middle = left + cell * 0.5 + 4.0;
        row.svg += svg_text(middle, kNameY, name_of(beat), "name", "middle", cell - 12.0, kNameUnit);
        row.svg += grip_svg(beat.grip, neck_, middle - kGripWidth * 0.5, kGripY);
        row.svg += svg_text(middle, kFretsY, beat.grip.text(), "frets", "middle", cell - 12.0, kSmallUnit);
        row.svg += svg_text(middle, kNotesY, notes_of(beat), "notes", "middle", cell - 12.0, kSmallUnit);
        row.words += " " + name_of(beat) + " " + beat.grip.text();
    }
};

}  // namespace

std::vector<PictureRow> picture_rows(const Chart& chart, const Line& line, const Neck& neck, int across) {
    std::vector<PictureRow> out;
    RowDrawer drawer(neck, across, out);
    int number = 0;
    for (const TimedBar& bar : timed_bars(chart, line)) drawer.bar(bar, ++number);
    return out;
}

std::string picture_style() {
    return ".wire{stroke:#000;stroke-width:.8}.nut{stroke:#000;stroke-width:3.2}.bar{stroke:#000;stroke-width:1}.dot{fill:#000}"
           "text{fill:#000;font-family:sans-serif;font-size:11px}.chord{font-size:19px;font-weight:bold}.name{font-size:13px}.mark{font-size:11px}"
           ".frets{font-family:monospace;font-size:11px}.number{font-size:10px}";
}

std::string picture_facts(const Chart& chart, const Neck& neck) {
    char tempo[32];  // the shortest text, whatever the locale
    const std::string counts(tempo, std::to_chars(tempo, tempo + sizeof tempo, std::round(chart.tempo_bpm * 10.0) / 10.0).ptr);
    std::string out = chart.key ? "key " + chart.key->text() + ", " : "";
    out += chart.meter.text() + ", " + counts + " counts a minute";
    if (neck.tuning != Tuning()) out += ", tuning " + neck.tuning.text();
    if (neck.capo > 0) out += ", capo at fret " + std::to_string(neck.capo);
    return out;
}

std::string picture_legend(const Neck& neck) {
    return std::string("Large: the chord of the chart. Below it what the grip is, with its bass; < an approach from below, > from above. The lowest string is at the ") + (neck.left_handed ? "right" : "left") +
           "; a number beside the neck is the first fret shown.";
}

}  // namespace gripline

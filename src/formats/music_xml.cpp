#include "formats/music_xml.h"

#include <string>

#include "formats/line_times.h"
#include "formats/music_xml_parts.h"

namespace gripline {

namespace {

using music_xml::letter;
using music_xml::longest_within;
using music_xml::NoteValue;

class ScoreWriter {
public:
    ScoreWriter(const Chart& chart, const Line& line, const Tuning& tuning, int capo) : chart_(chart), bars_(timed_bars(chart, line)), tuning_(tuning), capo_(capo) {}

    std::string write() {
        const XmlDocument document(music_xml::kDoctype);
        const XmlNode part = music_xml::add_guitar(music_xml::add_score(document, chart_.title));
        for (std::size_t i = 0; i < bars_.size(); ++i) write_bar(part, i);
        return document.text();
    }

private:
    const Chart& chart_;
    std::vector<TimedBar> bars_;
    const Tuning& tuning_;
    int capo_;
    std::string last_chord_;

    void write_bar(XmlNode part, std::size_t number) {
        const TimedBar& bar = bars_[number];
        const XmlNode measure = part.add("measure").set("number", static_cast<int>(number) + 1);
        write_attributes(measure, number);
        write_signs(measure, bar, number == 0);
        write_staff(measure, bar, 1);
        measure.add("backup").add("duration", bar.length);
        write_staff(measure, bar, 2);
    }

    void write_attributes(XmlNode measure, std::size_t number) const {
        const Meter& meter = bars_[number].bar->meter;
        const bool first = number == 0;
        if (!first && meter == bars_[number - 1].bar->meter) return;
        const XmlNode attributes = measure.add("attributes");
        if (first) attributes.add("divisions", music_xml::kDivisions);
        if (first && chart_.key) music_xml::add_key(attributes, *chart_.key);
        music_xml::add_time(attributes, meter);
        if (!first) return;
        attributes.add("staves", 2);
        write_clef(attributes, 1, "G", 2);
        write_clef(attributes, 2, "TAB", 5);
        write_strings(attributes);
    }

    static void write_clef(XmlNode attributes, int staff, const char* sign, int line) {
        const XmlNode clef = attributes.add("clef").set("number", staff);
        clef.add("sign", sign);
        clef.add("line", line);
        if (staff == 1) clef.add("clef-octave-change", -1);
    }

    void write_strings(XmlNode attributes) const {
        const XmlNode details = attributes.add("staff-details").set("number", 2);
        details.add("staff-lines", tuning_.strings());
        for (int line = 1; line <= tuning_.strings(); ++line) {  // line 1 is the lowest string
            const MidiNote open = tuning_.open(StringNumber(tuning_.strings() + 1 - line));
            const NoteName name = usual_root(open.pitch_class());
            const XmlNode string = details.add("staff-tuning").set("line", line);
            string.add("tuning-step", letter(name));
            if (name.accidental() != 0) string.add("tuning-alter", name.accidental());
            string.add("tuning-octave", spelled(open, name).octave);
        }
        if (capo_ > 0) details.add("capo", capo_);
    }

    /// Section letter, tempo and chords.
    void write_signs(XmlNode measure, const TimedBar& bar, bool first) {
        music_xml::add_section(measure, bar.bar->section);
        if (first) music_xml::add_tempo(measure, chart_);
        for (const PlacedChord& chord : bar.bar->chords) {
            if (chord.text() == last_chord_) continue;
            last_chord_ = chord.text();
            music_xml::add_harmony(measure, chord, (chord.beat - 1) * bar.count);
        }
    }

    void write_staff(XmlNode measure, const TimedBar& bar, int staff) const {
        int now = bar.start;
        for (const TimedBeat& beat : bar.beats) {
            write_rests(measure, beat.start - now, staff);
            const NoteValue& value = longest_within(beat.length);
            write_grip(measure, beat, value, staff);
            write_rests(measure, beat.length - value.eighths, staff);
            now = beat.start + beat.length;
        }
        write_rests(measure, bar.start + bar.length - now, staff);
    }

    static void end_note(XmlNode note, const NoteValue& value, int staff) {
        note.add("duration", value.eighths);
        note.add("voice", staff == 1 ? 1 : 5);
        note.add("type", value.type);
        if (value.dot) note.add("dot");
        note.add("staff", staff);
    }

    static void write_rests(XmlNode measure, int eighths, int staff) {
        while (eighths > 0) {
            const NoteValue& value = longest_within(eighths);
            const XmlNode note = measure.add("note");
            note.add("rest");
            end_note(note, value, staff);
            eighths -= value.eighths;
        }
    }

    void write_grip(XmlNode measure, const TimedBeat& beat, const NoteValue& value, int staff) const {
        const auto fretted = beat.beat->grip.notes(tuning_, capo_);
        for (std::size_t i = 0; i < beat.beat->notes.size(); ++i) {
            const SpelledNote& spelled_note = beat.beat->notes[i];
            const XmlNode note = measure.add("note");
            if (i > 0) note.add("chord");
            const XmlNode pitch = note.add("pitch");
            pitch.add("step", letter(spelled_note.name));
            if (spelled_note.name.accidental() != 0) pitch.add("alter", spelled_note.name.accidental());
            pitch.add("octave", spelled_note.octave);
            end_note(note, value, staff);
            if (staff == 1 || i >= fretted.size()) continue;
            const XmlNode technical = note.add("notations").add("technical");
            technical.add("string", fretted[i].string.number());
            technical.add("fret", fretted[i].fret.number());
        }
    }
};

}  // namespace

std::string line_music_xml(const Chart& chart, const Line& line, const Tuning& tuning, int capo) { return ScoreWriter(chart, line, tuning, capo).write(); }

}  // namespace gripline

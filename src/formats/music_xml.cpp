#include "formats/music_xml.h"

#include <array>
#include <cstdlib>
#include <pugixml.hpp>
#include <sstream>

#include "formats/harmony_kind.h"
#include "formats/line_times.h"

namespace gripline {

namespace {

using Node = pugi::xml_node;

void add(Node parent, const char* name, const std::string& text) { parent.append_child(name).text().set(text.c_str()); }
void add(Node parent, const char* name, int number) { parent.append_child(name).text().set(number); }

std::string letter(NoteName name) { return std::string(1, "CDEFGAB"[name.letter()]); }

/// The circle of fifths: how many sharps, or with a minus flats.
int fifths(const Key& key) {
    constexpr std::array kNatural{0, 2, 4, -1, 1, 3, 5};  // C D E F G A B
    return kNatural.at(static_cast<std::size_t>(key.tonic.letter())) + 7 * key.tonic.accidental() - (key.minor ? 3 : 0);
}

/// A length in eighths that one note can have: its type, and a dot or none.
struct Value {
    int eighths;
    const char* type;
    bool dot;
};
// From the longest down; MusicXML 4.0 note-type-value.
constexpr Value kValues[] = {{12, "whole", true}, {8, "whole", false}, {6, "half", true}, {4, "half", false}, {3, "quarter", true}, {2, "quarter", false}, {1, "eighth", false}};

const Value& longest_within(int eighths) {
    for (const Value& value : kValues)
        if (value.eighths <= eighths) return value;
    return kValues[6];
}

class ScoreWriter {
public:
    ScoreWriter(const Chart& chart, const Line& line, const Tuning& tuning, int capo) : chart_(chart), bars_(timed_bars(chart, line)), tuning_(tuning), capo_(capo) {}

    std::string write() {
        pugi::xml_document document;
        auto declaration = document.append_child(pugi::node_declaration);
        declaration.append_attribute("version") = "1.0";
        declaration.append_attribute("encoding") = "UTF-8";
        document.append_child(pugi::node_doctype).set_value("score-partwise PUBLIC \"-//Recordare//DTD MusicXML 4.0 Partwise//EN\" \"http://www.musicxml.org/dtds/partwise.dtd\"");
        Node score = document.append_child("score-partwise");
        score.append_attribute("version") = "4.0";
        if (!chart_.title.empty()) add(score.append_child("work"), "work-title", chart_.title);
        Node part = score.append_child("part-list").append_child("score-part");
        part.append_attribute("id") = "P1";
        add(part, "part-name", "Guitar");
        part = score.append_child("part");
        part.append_attribute("id") = "P1";
        for (std::size_t i = 0; i < bars_.size(); ++i) write_bar(part, i);
        std::ostringstream out;
        document.save(out, "  ");
        return out.str();
    }

private:
    const Chart& chart_;
    std::vector<TimedBar> bars_;
    const Tuning& tuning_;
    int capo_;
    std::string last_chord_;

    void write_bar(Node part, std::size_t number) {
        const TimedBar& bar = bars_[number];
        Node measure = part.append_child("measure");
        measure.append_attribute("number") = static_cast<int>(number) + 1;
        write_attributes(measure, number);
        write_signs(measure, bar, number == 0);
        write_staff(measure, bar, 1);
        add(measure.append_child("backup"), "duration", bar.length);
        write_staff(measure, bar, 2);
    }

    void write_attributes(Node measure, std::size_t number) const {
        const Meter& meter = bars_[number].bar->meter;
        const bool first = number == 0;
        if (!first && meter == bars_[number - 1].bar->meter) return;
        Node attributes = measure.append_child("attributes");
        if (first) add(attributes, "divisions", 2);
        if (first && chart_.key) {
            Node key = attributes.append_child("key");
            add(key, "fifths", fifths(*chart_.key));
            add(key, "mode", chart_.key->minor ? "minor" : "major");
        }
        Node time = attributes.append_child("time");
        add(time, "beats", meter.beats);
        add(time, "beat-type", meter.unit);
        if (!first) return;
        add(attributes, "staves", 2);
        write_clef(attributes, 1, "G", 2);
        write_clef(attributes, 2, "TAB", 5);
        write_strings(attributes);
    }

    static void write_clef(Node attributes, int staff, const char* sign, int line) {
        Node clef = attributes.append_child("clef");
        clef.append_attribute("number") = staff;
        add(clef, "sign", sign);
        add(clef, "line", line);
        if (staff == 1) add(clef, "clef-octave-change", -1);
    }

    void write_strings(Node attributes) const {
        Node details = attributes.append_child("staff-details");
        details.append_attribute("number") = 2;
        add(details, "staff-lines", tuning_.strings());
        for (int line = 1; line <= tuning_.strings(); ++line) {  // line 1 is the lowest string
            const MidiNote open = tuning_.open(StringNumber(tuning_.strings() + 1 - line));
            const NoteName name = usual_root(open.pitch_class());
            Node string = details.append_child("staff-tuning");
            string.append_attribute("line") = line;
            add(string, "tuning-step", letter(name));
            if (name.accidental() != 0) add(string, "tuning-alter", name.accidental());
            add(string, "tuning-octave", spelled(open, name).octave);
        }
        if (capo_ > 0) add(details, "capo", capo_);
    }

    /// Section letter, tempo and chords.
    void write_signs(Node measure, const TimedBar& bar, bool first) {
        if (!bar.bar->section.empty()) {
            Node direction = measure.append_child("direction");
            direction.append_attribute("placement") = "above";
            add(direction.append_child("direction-type"), "rehearsal", bar.bar->section);
        }
        if (first) {
            Node direction = measure.append_child("direction");
            direction.append_attribute("placement") = "above";
            Node metronome = direction.append_child("direction-type").append_child("metronome");
            add(metronome, "beat-unit", "quarter");
            std::ostringstream tempo;
            tempo << quarters_a_minute(chart_);
            add(metronome, "per-minute", tempo.str());
            direction.append_child("sound").append_attribute("tempo") = tempo.str().c_str();
        }
        for (const PlacedChord& chord : bar.bar->chords) {
            if (chord.text() == last_chord_) continue;
            last_chord_ = chord.text();
            write_harmony(measure, chord, (chord.beat - 1) * bar.count);
        }
    }

    static void write_root(Node parent, const char* name, NoteName note) {
        Node node = parent.append_child(name);
        add(node, (std::string(name) + "-step").c_str(), letter(note));
        if (note.accidental() != 0) add(node, (std::string(name) + "-alter").c_str(), note.accidental());
    }

    static void write_harmony(Node measure, const PlacedChord& chord, int offset) {
        Node harmony = measure.append_child("harmony");
        if (chord.symbol) {
            const HarmonyKind described = harmony_kind(*chord.symbol);
            write_root(harmony, "root", chord.symbol->root);
            Node kind = harmony.append_child("kind");
            kind.append_attribute("text") = described.text.c_str();
            kind.text().set(described.kind.c_str());
            if (chord.symbol->bass) write_root(harmony, "bass", *chord.symbol->bass);
            for (const HarmonyDegree& each : described.degrees) {
                Node degree = harmony.append_child("degree");
                degree.append_attribute("print-object") = "no";  // the kind's text shows it
                add(degree, "degree-value", each.number);
                add(degree, "degree-alter", each.alteration);
                add(degree, "degree-type", each.type);
            }
        } else {
            Node root = harmony.append_child("root").append_child("root-step");
            root.append_attribute("text") = "";
            root.text().set("C");
            Node kind = harmony.append_child("kind");
            kind.append_attribute("text") = "N.C.";
            kind.text().set("none");
        }
        if (offset > 0) add(harmony, "offset", offset);
    }

    void write_staff(Node measure, const TimedBar& bar, int staff) const {
        int now = bar.start;
        for (const TimedBeat& beat : bar.beats) {
            write_rests(measure, beat.start - now, staff);
            const Value& value = longest_within(beat.length);
            write_grip(measure, beat, value, staff);
            write_rests(measure, beat.length - value.eighths, staff);
            now = beat.start + beat.length;
        }
        write_rests(measure, bar.start + bar.length - now, staff);
    }

    static void end_note(Node note, const Value& value, int staff) {
        add(note, "duration", value.eighths);
        add(note, "voice", staff == 1 ? 1 : 5);
        add(note, "type", value.type);
        if (value.dot) note.append_child("dot");
        add(note, "staff", staff);
    }

    static void write_rests(Node measure, int eighths, int staff) {
        while (eighths > 0) {
            const Value& value = longest_within(eighths);
            Node note = measure.append_child("note");
            note.append_child("rest");
            end_note(note, value, staff);
            eighths -= value.eighths;
        }
    }

    void write_grip(Node measure, const TimedBeat& beat, const Value& value, int staff) const {
        const auto fretted = beat.beat->grip.notes(tuning_, capo_);
        for (std::size_t i = 0; i < beat.beat->notes.size(); ++i) {
            const SpelledNote& spelled_note = beat.beat->notes[i];
            Node note = measure.append_child("note");
            if (i > 0) note.append_child("chord");
            Node pitch = note.append_child("pitch");
            add(pitch, "step", letter(spelled_note.name));
            if (spelled_note.name.accidental() != 0) add(pitch, "alter", spelled_note.name.accidental());
            add(pitch, "octave", spelled_note.octave);
            end_note(note, value, staff);
            if (staff == 1 || i >= fretted.size()) continue;
            Node technical = note.append_child("notations").append_child("technical");
            add(technical, "string", fretted[i].string.number());
            add(technical, "fret", fretted[i].fret.number());
        }
    }
};

}  // namespace

std::string line_music_xml(const Chart& chart, const Line& line, const Tuning& tuning, int capo) { return ScoreWriter(chart, line, tuning, capo).write(); }

}  // namespace gripline

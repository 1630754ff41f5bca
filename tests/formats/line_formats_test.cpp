// Lines written to MIDI, MusicXML, ABC and tablature, and read back: by this project's reader of MIDI, by a general XML reader, by eye.
#include <doctest/doctest.h>

#include <cstring>
#include <map>
#include <pugixml.hpp>
#include <sstream>

#include "chart/chart_library.h"
#include "chart/chart_text.h"
#include "formats/harmony_kind.h"
#include "formats/line_abc.h"
#include "formats/line_midi.h"
#include "formats/line_tab.h"
#include "formats/music_xml.h"
#include "lines/walk_builder.h"

using namespace gripline;

namespace {

struct Written {
    Chart chart;
    Line line;
};
Written written(const Chart& chart, Steps steps = Steps::four) {
    LineSettings settings;
    settings.steps = steps;
    return {chart, *build_line(chart, settings)};
}
Written written(const char* text) { return written(*parse_chart(text)); }

/// Start of a beat in eighths, from the chart alone.
std::map<int, int> bar_starts(const Chart& chart) {
    std::map<int, int> out;
    const std::vector<int> played = *played_bars(chart);
    int start = 0, number = 0;
    for (const int bar : played) {
        out[++number] = start;
        const Meter& meter = chart.bars[static_cast<std::size_t>(bar)].meter;
        start += meter.beats * 8 / meter.unit;
    }
    return out;
}

}  // namespace

TEST_CASE("a line written to MIDI is read back to the same notes at the same times, for every chart of the library") {
    for (const LibraryChart& each : chart_library()) {
        CAPTURE(std::string(each.name));
        for (const Steps steps : {Steps::four, Steps::one}) {
            const Written made = written(*library_chart(each.name), steps);
            const MidiFile file = line_midi(made.chart, made.line);
            const auto read = parse_midi(midi_bytes(file));
            REQUIRE(read);
            CHECK(*read == file);
            const auto starts = bar_starts(made.chart);
            const auto notes = midi_notes(read->tracks[1]);
            std::size_t next = 0;
            for (const LineBeat& beat : made.line.beats) {
                const int count = made.chart.bars[static_cast<std::size_t>(beat.written_bar)].meter.unit == 8 ? 1 : 2;
                for (std::size_t i = 0; i < beat.notes.size(); ++i, ++next) {
                    REQUIRE(next < notes.size());
                    CHECK(notes[next].note == beat.notes[i].midi().number());
                    CHECK(notes[next].start_tick == static_cast<std::uint32_t>(240 * (starts.at(beat.bar) + (beat.beat - 1) * count)));
                    CHECK(notes[next].ticks == static_cast<std::uint32_t>(144 * count));
                    if (i > 0) CHECK(notes[next].velocity < notes[next - i].velocity);  // the bass is accented
                }
            }
            CHECK(next == notes.size());
        }
    }
}

TEST_CASE("the MIDI file carries title, tempo, meter, chords and a click") {
    const Written made = written("title: Steps\ntempo: 100\n| C7 | 3/4 F7 |");
    const MidiFile file = line_midi(made.chart, made.line);
    std::string chords;
    for (const MidiEvent& event : file.tracks[0])
        if (event.type == 0x01) chords += event.data + "@" + std::to_string(event.tick) + " ";
    CHECK(chords == "C7@0 F7@1920 ");
    CHECK(file.tracks[0][0].data == "Steps");
    CHECK(file.tracks[0][1].data == std::string("\x09\x27\xC0", 3));  // 600,000 us a quarter: 100 a minute
    CHECK(midi_notes(file.tracks[2]).size() == 7);
    CHECK(midi_notes(file.tracks[2])[1].velocity > midi_notes(file.tracks[2])[0].velocity);
}

TEST_CASE("the worked bytes of Standard MIDI File 1.0: numbers of one to four bytes") {
    // The table of variable-length quantities in the standard: 0x40, 0x7F, 0x80, 0x2000, 0x3FFF, 0x4000, 0x1FFFFF, 0x200000, 0xFFFFFFF (from memory).
    const std::pair<std::uint32_t, std::string> rows[] = {
        {0x40, "\x40"}, {0x7F, "\x7F"}, {0x80, std::string("\x81\x00", 2)}, {0x2000, std::string("\xC0\x00", 2)}, {0x3FFF, "\xFF\x7F"},
        {0x4000, std::string("\x81\x80\x00", 3)}, {0x1FFFFF, "\xFF\xFF\x7F"}, {0x200000, std::string("\x81\x80\x80\x00", 4)}, {0xFFFFFFF, "\xFF\xFF\xFF\x7F"}};
    for (const auto& [number, bytes] : rows) {
        const MidiFile file{96, {{{number, 0xC0, 0, "\x05"}}}};
        const std::string made = midi_bytes(file);
        CHECK(made.substr(22, bytes.size()) == bytes);
        CHECK(*parse_midi(made) == file);
    }
}

TEST_CASE("running status, format 0 and system exclusive are read") {
    const std::string track("\x00\x90\x3C\x40\x10\x3C\x00\x00\xF0\x02\x01\xF7\x00\xFF\x2F\x00", 16);
    const std::string bytes = std::string("MThd\0\0\0\6\0\0\0\1\0\x60MTrk\0\0\0\x10", 22) + track;
    const auto file = parse_midi(bytes);
    if (!file) FAIL(file.error().message);
    const auto notes = midi_notes(file->tracks[0]);
    REQUIRE(notes.size() == 1);
    CHECK(notes[0] == MidiFileNote{0, 16, 0, 60, 64});
    CHECK(file->tracks[0].size() == 3);
}

TEST_CASE("broken MIDI files are refused with the byte") {
    const auto file = [](const std::string& track, const char* head = "\0\1\0\1\0\x60") {
        std::string out = std::string("MThd\0\0\0\6", 8) + std::string(head, 6) + std::string("MTrk\0\0\0", 7);
        return out + static_cast<char>(track.size()) + track;
    };
    const std::string end("\x00\xFF\x2F\x00", 4);
    const std::pair<std::string, std::string> rows[] = {
        {"", "byte 0: the file or track ends early"},
        {"RIFF----", "byte 4: a Standard MIDI File begins with MThd"},
        {std::string("MThd\0\0\0\7\0\1\0\1\0\x60", 14), "byte 8: the header is 7 bytes long, not 6"},
        {file(end, "\0\2\0\1\0\x60"), "byte 10: format 2 is not read"},
        {file(end, "\0\1\0\1\xE8\x28"), "byte 14: time code"},
        {file(end, "\0\1\0\1\0\0"), "byte 14: time code or no time at all"},
        {file(end, "\0\1\0\2\0\x60"), "byte 26: the file or track ends early"},
        {file(end) + "x", "byte 26: the file goes on behind its last track"},
        {file(end).substr(0, 24), "byte 22: the track is 4 bytes long, but the file ends before"},
        {file(std::string("\x00\x3C\x40", 3) + end), "byte 23: a data byte where a status is expected"},
        {file(std::string("\x00\x90\x3C\xFF", 4) + end), "byte 25: a status byte where data is expected"},
        {file(std::string("\x00\xF4", 2) + end), "byte 24: status 244 has no place in a file"},
        {file(std::string("\xFF\xFF\xFF\xFF\x7F\x90", 6) + end), "byte 26: a number of more than four bytes"},
        {file(std::string("\x00\xFF\x01\x7F", 4) + end), "byte 26: the file or track ends early"},
        {file(std::string("\x00\x90\x3C\x40", 4)), "byte 26: the track has no end of track"},
        {file(end + end), "byte 26: the track goes on behind its end of track"},
    };
    for (const auto& [bytes, message] : rows) {
        CAPTURE(message);
        const auto read = parse_midi(bytes);
        REQUIRE_FALSE(read);
        CHECK_MESSAGE(read.error().message.starts_with(message), read.error().message);
    }
}

TEST_CASE("in MusicXML both staves hold the line's notes, the tablature's strings and frets sound them, and bars are full") {
    const Tuning tuning;
    for (const LibraryChart& each : chart_library()) {
        CAPTURE(std::string(each.name));
        const Written made = written(*library_chart(each.name), Steps::two);
        pugi::xml_document score;
        REQUIRE(score.load_string(line_music_xml(made.chart, made.line).c_str()));
        std::map<int, std::vector<int>> by_staff, frets;
        for (const pugi::xml_node measure : score.select_node("/score-partwise/part").node().children("measure")) {
            std::map<int, int> duration;
            for (const pugi::xml_node note : measure.children("note")) {
                const int staff = note.child("staff").text().as_int();
                if (!note.child("chord")) duration[staff] += note.child("duration").text().as_int();
                if (!note.child("pitch")) continue;
                const std::string step = note.child("pitch").child("step").text().as_string();
                constexpr int kNatural[] = {9, 11, 0, 2, 4, 5, 7};
                by_staff[staff].push_back(kNatural[step[0] - 'A'] + note.child("pitch").child("alter").text().as_int() + 12 * (note.child("pitch").child("octave").text().as_int() + 1));
                const auto technical = note.child("notations").child("technical");
                if (staff == 2) frets[staff].push_back(tuning.open(StringNumber(technical.child("string").text().as_int())).number() + technical.child("fret").text().as_int());
            }
            CHECK(duration[1] == measure.child("backup").child("duration").text().as_int());
            CHECK(duration[2] == duration[1]);
        }
        std::vector<int> wanted;
        for (const LineBeat& beat : made.line.beats)
            for (const SpelledNote& note : beat.notes) wanted.push_back(note.midi().number());
        CHECK(by_staff[1] == wanted);
        CHECK(by_staff[2] == wanted);
        CHECK(frets[2] == wanted);
    }
}

TEST_CASE("harmony of MusicXML 4.0: kind, and the degrees that differ") {
    const auto described = [](const char* text) {
        const HarmonyKind kind = harmony_kind(*parse_chart_symbol(text));
        std::string out = kind.kind + " \"" + kind.text + "\"";
        for (const HarmonyDegree& degree : kind.degrees) out += " " + degree.type + std::to_string(degree.number) + (degree.alteration < 0 ? "" : "+") + std::to_string(degree.alteration);
        return out;
    };
    CHECK(described("Bb6") == "major-sixth \"6\"");
    CHECK(described("C-7") == "minor-seventh \"-7\"");
    CHECK(described("F#m7b5") == "half-diminished \"m7b5\"");
    CHECK(described("Bdim7") == "diminished-seventh \"dim7\"");
    CHECK(described("G7b9") == "dominant \"7b9\" add9-1");
    CHECK(described("E7b5") == "dominant \"7b5\" alter5-1");
    CHECK(described("C/E") == "major \"\"");
    CHECK(described("Cm(maj7)") == "major-minor \"m(maj7)\"");
}

TEST_CASE("tablature and ABC of two bars, as they read") {
    LineSettings settings;
    settings.steps = Steps::one;
    settings.locked = {{1, 1, *Grip::parse("8x89xx")}, {1, 3, *Grip::parse("0x01xx")}, {1, 4, *Grip::parse("1x12xx")}, {2, 1, *Grip::parse("1x12xx")}};
    const Chart chart = *parse_chart("title: Two bars\nkey: F\n| C7 / / F7 | F7 |\n");
    const Line line = *build_line(chart, settings);
    CHECK(line_tab(chart, line) ==
          "Two bars\n\n"
          "  C7          F7\n"
          "|-----------------|-----------------|\n"
          "|-----------------|-----------------|\n"
          "|-9-------1---2---|-2---------------|\n"
          "|-8-------0---1---|-1---------------|\n"
          "|-----------------|-----------------|\n"
          "|-8-------0---1---|-1---------------|\n\n");
    CHECK(line_abc(chart, line) ==
          "X:1\nT:Two bars\nM:4/4\nL:1/8\nQ:1/4=120\nK:F\n"
          "\"C7\"[=C,_B,=E]4 [=E,,=D,_A,]2 \"F7\"[=F,,_E,=A,]2 | [=F,,_E,=A,]8 |]\n");
}

TEST_CASE("tablature fits 80 columns for every chart of the library") {
    for (const LibraryChart& each : chart_library()) {
        const Written made = written(*library_chart(each.name));
        std::istringstream lines(line_tab(made.chart, made.line));
        for (std::string row; std::getline(lines, row);) CHECK_MESSAGE(row.size() <= 80, row);
    }
}

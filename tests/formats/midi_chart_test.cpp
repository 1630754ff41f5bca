// Charts out of MIDI files: chords as text events, from lines written here and from files as other programs write them.
#include <doctest/doctest.h>

#include "formats/line_midi.h"
#include "formats/midi_chart.h"
#include "formats/round_trip.h"
#include "formats/import_words.h"
#include "lines/walk_builder.h"

using namespace gripline;

namespace {

constexpr std::uint8_t kText = 1, kLyric = 5, kMarker = 6, kMeter = 0x58, kTempo = 0x51, kKey = 0x59;
MidiEvent meta(std::uint32_t tick, std::uint8_t type, std::string data) { return {tick, 0xFF, type, std::move(data)}; }

std::string read(const MidiTrack& track, int ticks_per_quarter = 96) {
    const auto file = parse_midi(midi_bytes({ticks_per_quarter, {track}}));
    return file ? test::import_words(midi_chart(*file)) : file.error().message;
}

}  // namespace

TEST_CASE("the MIDI file of a line holds its chart: key, tempo, meters, sections, and the chord on every count") {
    test::with_every_chart([](const Chart& chart) {
        const Line line = *build_line(chart, {});
        const auto file = parse_midi(midi_bytes(line_midi(chart, line)));
        REQUIRE(file);
        const auto back = midi_chart(*file);
        if (!back) FAIL(back.error().message);
        CHECK(back->chart.title == chart.title);
        CHECK(back->chart.tempo_bpm == chart.tempo_bpm);
        CHECK(back->chart.meter == chart.meter);
        const bool eight_flats = chart.key->text() == "Dbm";  // past what a key signature of MIDI holds
        CHECK(back->chart.key == (eight_flats ? std::nullopt : chart.key));
        CHECK(test::chord_of_count(back->chart) == test::chord_of_count(chart));
        CHECK(back->remarks.empty());
        std::string sections, read_sections;
        const std::vector<int> played = *played_bars(chart);
        for (const int bar : played) sections += chart.bars[static_cast<std::size_t>(bar)].section;
        for (const Bar& bar : back->chart.bars) read_sections += bar.section;
        CHECK(read_sections == sections);
    });
}

TEST_CASE("texts, lyrics and markers that are chords") {
    CHECK(read({meta(0, kText, "C7"), meta(384, kText, "F7"), meta(576, kText, "Bb7")}) == "| C7 | F7 Bb7 |\n");
    CHECK(read({meta(0, kLyric, "C7"), meta(0, kText, "made by hand"), meta(384, kLyric, "N.C.")}) == "| C7 | N.C. |\n");
    CHECK(read({meta(0, kMarker, "C7"), meta(384, kMarker, "F7")}) == "| C7 | F7 |\n");
    CHECK(read({meta(0, kMarker, "A"), meta(0, kText, "C7"), meta(384, kMarker, "B"), meta(384, kText, "F7")}) == "[A]\n| C7 |\n[B]\n| F7 |\n");
    // A song's words next to chords: "A" is a word there.
    CHECK(read({meta(0, kLyric, "A"), meta(0, kText, "C7"), meta(96, kLyric, "quiet"), meta(192, kLyric, "rainy"), meta(192, kText, "G7")}) == "| C7 G7 |\n");
    CHECK(read({meta(0, kMeter, std::string("\3\2\x18\x08", 4)), meta(0, kText, "C7"), meta(288, kText, "F7"), meta(576, kMeter, std::string("\4\2\x18\x08", 4)), meta(576, kText, "G7")}) ==
          "| C7 | F7 | 4/4 G7 |\n");
    CHECK(read({meta(0, kText, "C7"), meta(300, kText, "F7"), meta(300, kText, "Cmja7")}) == "| C7 / / F7 |\n(bar 1: F7 on beat 4.13 goes to the nearest count, 4)\n(bar 1: the text \"Cmja7\" is no chord and is left out)\n");
}

TEST_CASE("MIDI files without a chart in them are refused with the place") {
    const MidiEvent chord = meta(0, kText, "C7");
    const std::pair<std::string, std::string> rows[] = {
        {read({}), "no chord symbols were found; a chart is made from chord symbols, not from notes"},
        {read({meta(0, kText, "hello")}), "no chord symbols were found"},
        {read({meta(0, kText, "N.C.")}), "no chord symbols were found"},
        {read({chord, meta(0, kMeter, std::string("\7\3\x18\x08", 4))}), "tick 0: unknown meter \"7/8\"; meters are 4/4, 3/4, 2/2, 5/4 and 6/8"},
        {read({chord, meta(384, kMeter, std::string("\4\x7F\x18\x08", 4))}), "tick 384: a time signature of 4 bytes that can't be read"},
        {read({chord, meta(384, kMeter, std::string("\0\2\x18\x08", 4))}), "tick 384: unknown meter \"0/4\""},
        {read({chord, meta(384, kMeter, "\4")}), "tick 384: a time signature of 1 bytes that can't be read"},
        {read({chord, meta(0x0FFFFFFF, kText, "F7")}), "a chart has at most 16384 bars"},
        {read({chord, meta(0x0FFFFFFF, kText, "F7")}, 1), "a chart has at most 16384 bars"},
        {read({chord, {0x0FFFFFFF, 0x90, 0, "\x40\x40"}}), "a chart has at most 16384 bars"},
    };
    for (const auto& [said, message] : rows) CHECK_MESSAGE(said.starts_with(message), said);
    CHECK(read({chord, meta(0, kTempo, std::string("\1\0\0", 3)), meta(0, kKey, std::string("\x7F\0", 2))}) ==
          "| C7 |\n(bar 1: the key is left out: a key of 127 fifths; keys have -7 (flats) to 7 (sharps))\n(the tempo is not within 40 to 300 counts a minute and was moved there)\n");
}

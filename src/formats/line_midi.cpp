#include "formats/line_midi.h"

#include <algorithm>
#include <cmath>

#include "formats/line_times.h"
#include "formats/music_xml_parts.h"

namespace gripline {

namespace {

constexpr int kTicksPerQuarter = 480;
constexpr int kTicks = kTicksPerQuarter / 2;  // of an eighth note, the unit of line_times.h
// General MIDI 1: program 27 is the jazz guitar, channel 10 the percussion, key 37 the side stick.
constexpr char kJazzGuitar = 26, kSideStick = 37;
constexpr std::uint8_t kProgram = 0xC0, kNoteOn = 0x90, kNoteOff = 0x80, kClickOn = 0x99, kClickOff = 0x89, kMeta = 0xFF;
constexpr std::uint8_t kText = 0x01, kName = 0x03, kMarker = 0x06, kTempo = 0x51, kMeter = 0x58, kKey = 0x59;
constexpr int kMostSigns = 7;  // sharps or flats of a key signature
// Loudness of the strokes: beats 2 and 4 a little heavier, the bass accented (common practice, no source).
constexpr int kStroke = 72, kHeavier = 10, kBass = 16, kClick = 50, kLouderClick = 80;

MidiEvent meta(std::uint32_t tick, std::uint8_t type, std::string data) { return {tick, kMeta, type, std::move(data)}; }
MidiEvent note(std::uint32_t tick, std::uint8_t status, int number, int velocity) { return {tick, status, 0, {static_cast<char>(number), static_cast<char>(velocity)}}; }
std::uint32_t ticks(int eighths) { return static_cast<std::uint32_t>(eighths * kTicks); }


std::string meter_data(const Meter& meter) {
    const char power = static_cast<char>(meter.unit == 8 ? 3 : meter.unit == 4 ? 2 : 1);  // the lower number as a power of two
    return {static_cast<char>(meter.beats), power, 24, 8};                                // 24 clocks a click, 8 thirty-seconds a quarter
}

MidiTrack signs(const Chart& chart, const std::vector<TimedBar>& bars) {
    MidiTrack out;
    if (!chart.title.empty()) out.push_back(meta(0, kName, chart.title));
    const auto quarter_us = static_cast<std::uint32_t>(std::lround(60e6 / quarters_a_minute(chart)));
    out.push_back(meta(0, kTempo, {static_cast<char>(quarter_us >> 16U & 0xFFU), static_cast<char>(quarter_us >> 8U & 0xFFU), static_cast<char>(quarter_us & 0xFFU)}));
    if (chart.key)
        if (const int signs = music_xml::fifths(*chart.key); signs >= -kMostSigns && signs <= kMostSigns) out.push_back(meta(0, kKey, {static_cast<char>(signs), static_cast<char>(chart.key->minor ? 1 : 0)}));
    const Meter* meter = nullptr;
    std::string last;
    for (const TimedBar& bar : bars) {
        if (!bar.bar->section.empty()) out.push_back(meta(ticks(bar.start), kMarker, bar.bar->section));
        if (!meter || *meter != bar.bar->meter) out.push_back(meta(ticks(bar.start), kMeter, meter_data(bar.bar->meter)));
        meter = &bar.bar->meter;
        for (const PlacedChord& chord : bar.bar->chords) {
            if (chord.text() != last) out.push_back(meta(ticks(bar.start + (chord.beat - 1) * bar.count), kText, chord.text()));
            last = chord.text();
        }
    }
    return out;
}

MidiTrack guitar(const std::vector<TimedBar>& bars) {
    MidiTrack out{meta(0, kName, "guitar"), {0, kProgram, 0, {kJazzGuitar}}};
    for (const TimedBar& bar : bars) {
        for (const TimedBeat& beat : bar.beats) {
            const std::uint32_t start = ticks(beat.start), end = start + ticks(bar.count) * kStrokeTenths / 10;
            const int stroke = kStroke + (is_heavy(bar, beat.beat->beat) ? kHeavier : 0);
            for (const SpelledNote& each : beat.beat->notes) out.push_back(note(start, kNoteOn, each.midi().number(), stroke + (&each == beat.beat->notes.data() ? kBass : 0)));
            for (const SpelledNote& each : beat.beat->notes) out.push_back(note(end, kNoteOff, each.midi().number(), 0));
        }
    }
    return out;
}

MidiTrack click(const std::vector<TimedBar>& bars) {
    MidiTrack out{meta(0, kName, "click")};
    for (const TimedBar& bar : bars) {
        for (int count = 0; count * bar.count < bar.length; ++count) {
            const std::uint32_t start = ticks(bar.start + count * bar.count);
            out.push_back(note(start, kClickOn, kSideStick, is_heavy(bar, count + 1) ? kLouderClick : kClick));
            out.push_back(note(start + ticks(bar.count) / 4, kClickOff, kSideStick, 0));
        }
    }
    return out;
}

}  // namespace

MidiFile line_midi(const Chart& chart, const Line& line) {
    const auto bars = timed_bars(chart, line);
    return {kTicksPerQuarter, {signs(chart, bars), guitar(bars), click(bars)}};
}

}  // namespace gripline

// Standard MIDI File 1.0 (MIDI Association): events and bytes, nothing of lines or charts.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"

namespace gripline {

/// One event of a track.
struct MidiEvent {
    std::uint32_t tick = 0;    ///< from the start of the track
    std::uint8_t status = 0;   ///< 0x80 to 0xEF a channel message, 0xF0 and 0xF7 system exclusive, 0xFF meta
    std::uint8_t type = 0;     ///< of a meta event
    std::string data;          ///< the bytes behind status (and type, and length)
    friend bool operator==(const MidiEvent&, const MidiEvent&) = default;
};
using MidiTrack = std::vector<MidiEvent>;  ///< in order of tick; without the end of the track

/// A whole file of format 1.
struct MidiFile {
    int ticks_per_quarter = 480;
    std::vector<MidiTrack> tracks;
    friend bool operator==(const MidiFile&, const MidiFile&) = default;
};

/// The bytes of the file.
[[nodiscard]] std::string midi_bytes(const MidiFile& file);
/// Reads formats 0 and 1 with running status, at most 16 MiB. Errors name the byte: `byte 22: ...`. Refused: format 2, time code instead of ticks,
/// a track that ends early or holds data past its length, numbers of more than four bytes.
[[nodiscard]] Result<MidiFile> parse_midi(std::string_view bytes);

/// A note with its start and length, as heard.
struct MidiFileNote {
    std::uint32_t start_tick = 0;
    std::uint32_t ticks = 0;
    int channel = 0;  ///< 0 to 15
    int note = 0;
    int velocity = 0;
    friend bool operator==(const MidiFileNote&, const MidiFileNote&) = default;
};
/// The notes of a track in order of their ends; a note that never ends is left out.
[[nodiscard]] std::vector<MidiFileNote> midi_notes(const MidiTrack& track);

}  // namespace gripline

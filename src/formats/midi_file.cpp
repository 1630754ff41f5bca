#include "formats/midi_file.h"

#include <algorithm>
#include <map>
#include <optional>

namespace gripline {

namespace {

constexpr std::size_t kMost_bytes = 1U << 24U;
constexpr std::size_t kMostEvents = 1'000'000;  // an hour of a large band; keeps what a hostile file takes below 100 MB
constexpr std::uint8_t kMeta = 0xFF, kEndOfTrack = 0x2F, kSysEx = 0xF0, kSysExOn = 0xF7;
constexpr std::uint32_t kMostNumber = 0x0FFFFFFF;  // four bytes of seven bits

void put_number(std::string& out, std::uint32_t value) {
    std::string bytes(1, static_cast<char>(value & 0x7FU));
    while ((value >>= 7U) != 0) bytes.insert(bytes.begin(), static_cast<char>((value & 0x7FU) | 0x80U));
    out += bytes;
}
void put_fixed(std::string& out, std::uint32_t value, int bytes) {
    for (int i = bytes - 1; i >= 0; --i) out += static_cast<char>((value >> (8U * static_cast<unsigned>(i))) & 0xFFU);
}

std::string track_bytes(const MidiTrack& track) {
    std::string out;
    std::uint32_t now = 0;
    for (const MidiEvent& event : track) {
        put_number(out, event.tick - now);
        now = event.tick;
        out += static_cast<char>(event.status);
        if (event.status == kMeta) out += static_cast<char>(event.type);
        if (event.status >= kSysEx) put_number(out, static_cast<std::uint32_t>(event.data.size()));
        out += event.data;
    }
    put_number(out, 0);
    return out + "\xFF\x2F" + '\0';
}

/// Reads bytes in order; the first trouble stays.
class ByteReader {
public:
    explicit ByteReader(std::string_view bytes) : bytes_(bytes), end_(bytes.size()) {}
    std::optional<Error> trouble;

    [[nodiscard]] std::size_t at() const noexcept { return at_; }
    [[nodiscard]] bool done() const noexcept { return trouble || at_ >= end_; }
    void limit(std::size_t end) noexcept { end_ = end; }
    void fail(const std::string& what) {
        if (!trouble) trouble = Error{"byte " + std::to_string(at_) + ": " + what};
    }
    std::uint8_t byte() {
        if (at_ >= end_) fail("the file or track ends early");
        return trouble ? std::uint8_t{0} : static_cast<std::uint8_t>(bytes_[at_++]);
    }
    [[nodiscard]] std::uint8_t ahead() const { return at_ < end_ ? static_cast<std::uint8_t>(bytes_[at_]) : std::uint8_t{0}; }
    std::uint32_t fixed(int count) {
        std::uint32_t value = 0;
        for (int i = 0; i < count; ++i) value = value << 8U | byte();
        return value;
    }
    std::uint32_t number() {
        std::uint32_t value = 0;
        for (int i = 0; i < 4; ++i) {
            const std::uint8_t next = byte();
            value = value << 7U | (next & 0x7FU);
            if ((next & 0x80U) == 0) return value;
        }
        fail("a number of more than four bytes");
        return 0;
    }
    std::string text(std::size_t count) {
        if (count > end_ - std::min(at_, end_)) fail("the file or track ends early");
        if (trouble) return {};
        at_ += count;
        return std::string(bytes_.substr(at_ - count, count));
    }

private:
    std::string_view bytes_;
    std::size_t at_ = 0;
    std::size_t end_;
};

/// Data bytes of a channel message.
int data_bytes(std::uint8_t status) { return status >= 0xC0 && status < 0xE0 ? 1 : 2; }

/// Reads one event; false at the end of the track.
bool read_event(ByteReader& in, MidiTrack& track, std::uint32_t& tick, std::uint8_t& running) {
    const std::uint32_t wait = in.number();
    if (wait > kMostNumber - tick) in.fail("the track lasts too long");
    tick += wait;
    MidiEvent event{tick, running, 0, {}};
    if (in.ahead() >= 0x80) event.status = in.byte();
    else if (running == 0) in.fail("a data byte where a status is expected");
    if (event.status == kMeta || event.status == kSysEx || event.status == kSysExOn) {
        running = 0;
        if (event.status == kMeta) event.type = in.byte();
        event.data = in.text(in.number());
        if (event.status == kMeta && event.type == kEndOfTrack) return false;
    } else if (event.status > kSysEx) {
        in.fail("status " + std::to_string(event.status) + " has no place in a file");
    } else {
        running = event.status;
        for (int i = data_bytes(event.status); i > 0 && !in.trouble; --i) {
            if (in.ahead() >= 0x80) in.fail("a status byte where data is expected");
            event.data += static_cast<char>(in.byte());
        }
    }
    if (!in.trouble) track.push_back(std::move(event));
    return true;
}

void read_track(ByteReader& in, MidiFile& file, std::size_t size, std::size_t& events) {
    if (in.text(4) != "MTrk") return in.fail("a track begins with MTrk");
    const std::uint32_t length = in.fixed(4);
    if (length > size - in.at()) return in.fail("the track is " + std::to_string(length) + " bytes long, but the file ends before");
    const std::size_t end = in.at() + length;
    in.limit(end);
    file.tracks.emplace_back();
    std::uint32_t tick = 0;
    std::uint8_t running = 0;
    bool ended = false;
    while (!in.done() && !ended) {
        ended = !read_event(in, file.tracks.back(), tick, running);
        if (++events > kMostEvents) in.fail("more than " + std::to_string(kMostEvents) + " events");
    }
    if (!ended) in.fail("the track has no end of track");
    else if (in.at() != end) in.fail("the track goes on behind its end of track");
    in.limit(size);
}

}  // namespace

std::string midi_bytes(const MidiFile& file) {
    std::string out = "MThd";
    put_fixed(out, 6, 4);
    put_fixed(out, 1, 2);
    put_fixed(out, static_cast<std::uint32_t>(file.tracks.size()), 2);
    put_fixed(out, static_cast<std::uint32_t>(file.ticks_per_quarter), 2);
    for (const MidiTrack& track : file.tracks) {
        const std::string bytes = track_bytes(track);
        out += "MTrk";
        put_fixed(out, static_cast<std::uint32_t>(bytes.size()), 4);
        out += bytes;
    }
    return out;
}

Result<MidiFile> parse_midi(std::string_view bytes) {
    if (bytes.size() > kMost_bytes) return Error{"the file is " + std::to_string(bytes.size()) + " bytes long, at most " + std::to_string(kMost_bytes)};
    ByteReader in(bytes);
    if (in.text(4) != "MThd") in.fail("a Standard MIDI File begins with MThd");
    if (const std::uint32_t length = in.fixed(4); length != 6) in.fail("the header is " + std::to_string(length) + " bytes long, not 6");
    if (const std::uint32_t format = in.fixed(2); format > 1) in.fail("format " + std::to_string(format) + " is not read; 0 and 1 are");
    const std::uint32_t tracks = in.fixed(2), division = in.fixed(2);
    if (division == 0 || division >= 0x8000) in.fail("time code or no time at all; ticks per quarter note, 1 to 32767, are read");
    MidiFile file;
    file.ticks_per_quarter = static_cast<int>(division);
    std::size_t events = 0;
    for (std::uint32_t i = 0; i < tracks && !in.trouble; ++i) read_track(in, file, bytes.size(), events);
    if (!in.trouble && !in.done()) in.fail("the file goes on behind its last track");
    if (in.trouble) return *in.trouble;
    return file;
}

std::vector<MidiFileNote> midi_notes(const MidiTrack& track) {
    std::vector<MidiFileNote> out;
    std::map<std::pair<int, int>, MidiFileNote> sounding;
    for (const MidiEvent& event : track) {
        const int kind = event.status & 0xF0;
        if ((kind != 0x80 && kind != 0x90) || event.data.size() != 2) continue;
        const int channel = event.status & 0x0F, note = event.data[0], velocity = event.data[1];
        const auto known = sounding.find({channel, note});
        if (known != sounding.end()) {
            known->second.ticks = event.tick - known->second.start_tick;
            out.push_back(known->second);
            sounding.erase(known);
        }
        if (kind == 0x90 && velocity > 0) sounding[{channel, note}] = {event.tick, 0, channel, note, velocity};
    }
    return out;
}

}  // namespace gripline

#include "formats/midi_chart.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "base/text.h"
#include "formats/music_xml_parts.h"

namespace gripline {

namespace {

// Meta events of Standard MIDI File 1.0.
constexpr std::uint8_t kMeta = 0xFF, kText = 0x01, kName = 0x03, kLyric = 0x05, kMarker = 0x06, kCue = 0x07, kTempo = 0x51, kMeter = 0x58, kKey = 0x59;
constexpr std::size_t kLongestChord_bytes = 64;  // as chord symbols are read

bool is_silence(std::string_view text) { return text == "N.C." || text == "NC"; }

bool is_chord(std::string_view text) {
    text = trimmed(text);
    if (text.empty() || text.size() > kLongestChord_bytes) return false;
    return is_silence(text) || (text.front() >= 'A' && text.front() <= 'G' && parse_chart_symbol(text));
}

struct Sign {
    std::uint32_t tick;
    const MidiEvent* event;
};

class MidiChartReader {
public:
    explicit MidiChartReader(const MidiFile& file) : ticks_per_quarter_(file.ticks_per_quarter) {
        for (const MidiTrack& track : file.tracks) {
            for (const MidiEvent& event : track) {
                end_ = std::max(end_, event.tick);
                if (event.status == kMeta) signs_.push_back({event.tick, &event});
            }
        }
        // A meter holds for what begins with it.
        const auto place = [](const Sign& sign) { return std::pair(sign.tick, sign.event->type != kMeter); };
        std::stable_sort(signs_.begin(), signs_.end(), [&](const Sign& a, const Sign& b) { return place(a) < place(b); });
        chord_type_ = type_with_chords();
    }

    Result<ImportedChart> read() {
        for (const Sign& sign : signs_) {
            if (auto bad = take(sign)) return *bad;
        }
        if (!builder_.chart.bars.empty())
            if (auto bad = bars_up_to(end_, false)) return *bad;
        auto out = builder_.finish();
        if (out) set_tempo(*out);
        return out;
    }

private:
    ChartBuilder builder_;
    int ticks_per_quarter_;
    std::uint32_t end_ = 0;
    std::vector<Sign> signs_;
    std::uint8_t chord_type_ = kText;  // of the events that hold the chords
    bool tempo_told_ = false, key_told_ = false;
    double quarter_us_ = 0.0;
    Meter meter_;
    double bar_tick_ = 0.0, next_tick_ = 0.0;  // of the last bar, and behind it

    static bool is_text(std::uint8_t type) { return type == kText || type == kLyric || type == kCue || type == kMarker; }

    /// The kind of text with the most chords, of those that are chords by half: a word "A" in a song's words is none.
    [[nodiscard]] std::uint8_t type_with_chords() const {
        std::uint8_t best = kText;
        int most = 0;
        for (const std::uint8_t type : {kText, kLyric, kCue, kMarker}) {
            int chords = 0, others = 0;
            for (const Sign& sign : signs_)
                if (sign.event->type == type) ++(is_chord(sign.event->data) ? chords : others);
            if (chords <= most || chords < others) continue;
            most = chords;
            best = type;
        }
        return best;
    }

    [[nodiscard]] double count_ticks() const { return ticks_per_quarter_ * (meter_.unit == 8 ? 0.5 : 1.0); }

    /// Opens bars until the last holds `tick`; a tick on a bar line belongs to the bar behind it, unless it only ends something.
    std::optional<Error> bars_up_to(double tick, bool begins) {
        while (next_tick_ < tick || (begins && next_tick_ <= tick)) {
            if (auto bad = builder_.open_bar(meter_)) return bad;
            bar_tick_ = next_tick_;
            next_tick_ += meter_.counts() * count_ticks();
        }
        return std::nullopt;
    }

    std::optional<Error> take(const Sign& sign) {
        const MidiEvent& event = *sign.event;
        switch (event.type) {
            case kMeter: return meter(sign);
            case kTempo: tempo(event); return std::nullopt;
            case kKey: key(event); return std::nullopt;
            case kName:
                if (sign.tick == 0 && builder_.chart.title.empty() && builder_.chart.bars.empty()) builder_.chart.title = clean_text(event.data);
                return std::nullopt;
            default: return is_text(event.type) ? text(sign) : std::nullopt;
        }
    }

    std::optional<Error> meter(const Sign& sign) {
        const std::string& data = sign.event->data;
        const auto number = [&](std::size_t i) { return static_cast<unsigned>(static_cast<unsigned char>(data[i])); };
        if (data.size() < 2 || number(1) > 6) return Error{"tick " + std::to_string(sign.tick) + ": a time signature of " + std::to_string(data.size()) + " bytes that can't be read"};
        const auto meter = Meter::parse(std::to_string(number(0)) + "/" + std::to_string(1U << number(1)));
        if (!meter) return Error{"tick " + std::to_string(sign.tick) + ": " + meter.error().message};
        if (sign.tick > 0)
            if (auto bad = bars_up_to(sign.tick, false)) return bad;
        if (std::abs(next_tick_ - sign.tick) > 0.5) {
            builder_.remark("the meter changes to " + meter->text() + " within a bar; it is changed at the next bar line");
        }
        meter_ = *meter;
        return std::nullopt;
    }

    void tempo(const MidiEvent& event) {
        if (event.data.size() != 3) return;
        double quarter_us = 0.0;
        for (const char c : event.data) quarter_us = quarter_us * 256.0 + static_cast<unsigned char>(c);
        if (quarter_us > 0.0 && quarter_us_ == 0.0) quarter_us_ = quarter_us;
        if (quarter_us != quarter_us_ && !std::exchange(tempo_told_, true)) builder_.remark("a change of tempo is left out; a chart has one tempo");
    }

    /// Now that the first meter is known.
    void set_tempo(ImportedChart& out) const {
        if (quarter_us_ == 0.0) return;
        const double quarters = 60e6 / quarter_us_, read = std::round(quarters * (out.chart.meter.unit == 8 ? 2.0 : 1.0) * 100.0) / 100.0;  // hundredths: microseconds can't tell more
        out.chart.tempo_bpm = std::clamp(read, kLeastTempo_bpm, kMostTempo_bpm);
        if (out.chart.tempo_bpm != read) out.remarks.emplace_back("the tempo is not within 40 to 300 counts a minute and was moved there");
    }

    void key(const MidiEvent& event) {
        if (event.data.size() != 2) return;
        const auto key = music_xml::key_of_fifths(static_cast<signed char>(event.data[0]), event.data[1] == 1);
        if (!key) return builder_.remark("the key is left out: " + key.error().message);
        if (!builder_.chart.key) builder_.chart.key = *key;
        else if (*key != *builder_.chart.key && !std::exchange(key_told_, true)) builder_.remark("a change of key is left out; a chart has one key");
    }

    std::optional<Error> text(const Sign& sign) {
        const MidiEvent& event = *sign.event;
        const std::string_view text = trimmed(event.data);
        if (event.type == kMarker && chord_type_ != kMarker) {
            if (auto bad = bars_up_to(sign.tick, true)) return bad;
            builder_.bar().section = clean_section(text);
            return std::nullopt;
        }
        if (event.type != chord_type_) return std::nullopt;
        if (!is_chord(text)) {
            if (!text.empty() && text.front() >= 'A' && text.front() <= 'G' && text.find(' ') == std::string_view::npos) builder_.remark("the text " + quoted(clean_text(text)) + " is no chord and is left out");
            return std::nullopt;
        }
        if (auto bad = bars_up_to(sign.tick, true)) return bad;
        const double counts = (sign.tick - bar_tick_) / count_ticks();
        if (is_silence(text)) return builder_.put(counts, std::nullopt);
        return builder_.put(counts, *parse_chart_symbol(text));
    }
};

}  // namespace

Result<ImportedChart> midi_chart(const MidiFile& file) { return MidiChartReader(file).read(); }

}  // namespace gripline

#include "formats/line_times.h"

namespace gripline {

namespace {

int eighths_of(const Meter& meter) { return meter.unit == 8 ? 1 : 2; }

}  // namespace

std::vector<TimedBar> timed_bars(const Chart& chart, const Line& line) {
    std::vector<TimedBar> out;
    const auto played = played_bars(chart);
    if (!played) return out;  // then there is no line either
    int start = 0;
    std::size_t next = 0;
    for (std::size_t i = 0; i < played->size(); ++i) {
        const Bar& bar = chart.bars[static_cast<std::size_t>((*played)[i])];
        TimedBar timed{&bar, start, bar.meter.counts() * eighths_of(bar.meter), eighths_of(bar.meter), {}};
        for (; next < line.beats.size() && line.beats[next].bar == static_cast<int>(i) + 1; ++next)
            timed.beats.push_back({&line.beats[next], start + (line.beats[next].beat - 1) * timed.count, 0});
        start += timed.length;
        for (std::size_t k = 0; k < timed.beats.size(); ++k) {
            TimedBeat& beat = timed.beats[k];
            int end = k + 1 < timed.beats.size() ? timed.beats[k + 1].start : start;
            for (const PlacedChord& chord : bar.chords) {  // a silence ends it
                const int at = timed.start + (chord.beat - 1) * timed.count;
                if (!chord.symbol && at > beat.start && at < end) end = at;
            }
            beat.length = end - beat.start;
        }
        out.push_back(std::move(timed));
    }
    return out;
}

bool is_heavy(const TimedBar& bar, int count) { return bar.bar->meter.counts() == 4 && count % 2 == 0; }

double quarters_a_minute(const Chart& chart) { return chart.meter.unit == 8 ? chart.tempo_bpm / 2.0 : chart.tempo_bpm; }

}  // namespace gripline

// The order in which written bars are played.
#include <algorithm>
#include <string>

#include "chart/chart.h"

namespace gripline {

namespace {

std::string at(int bar) { return "bar " + std::to_string(bar + 1) + ": "; }

/// A part that is played several times: its common bars [first, body_end), then one ending for each pass, if there are any.
struct Ending {
    int first;
    int end;  ///< one past its last bar; 0 while no sign closes it
    std::vector<int> passes;
};
struct Part {
    int first;
    int body_end;
    int times;
    std::vector<Ending> endings;
};

/// Every pass has one ending, and the endings come in order.
Result<int> times_by_endings(const Part& part) {
    int pass = 0;
    for (const Ending& ending : part.endings)
        for (const int each : ending.passes)
            if (each != ++pass) return Error{at(ending.first) + "ending " + std::to_string(each) + ", but ending " + std::to_string(pass) + " is expected"};
    if (pass < 2) return Error{at(part.endings.front().first) + "a first ending without a second; write it behind the repeat sign: :|2."};
    return pass;
}

/// The part that starts at `first`: its bars up to the closing sign, or to the end of its last ending.
Result<Part> read_part(const std::vector<Bar>& bars, int first) {
    const int size = static_cast<int>(bars.size());
    Part part{first, size, 1, {}};
    for (int i = first; i < size; ++i) {
        const Bar& bar = bars[static_cast<std::size_t>(i)];
        if (bar.opens_repeat && i > first) {
            if (bars[static_cast<std::size_t>(first)].opens_repeat && part.endings.empty()) return Error{at(i) + "a repeat opens inside the repeat that opened in bar " + std::to_string(first + 1)};
            part.body_end = part.endings.empty() ? i : part.body_end;
            break;
        }
        if (!bar.endings.empty()) {
            if (part.endings.empty()) part.body_end = i;
            part.endings.push_back({i, 0, bar.endings});
        }
        if (bar.closes_repeat == 0) continue;
        if (part.endings.empty()) {
            part.times = bar.closes_repeat;
            part.body_end = i + 1;
            return part;
        }
        part.endings.back().end = i + 1;
        const bool another = i + 1 < size && !bars[static_cast<std::size_t>(i + 1)].endings.empty();
        if (!another) break;
    }
    if (part.endings.empty()) {
        if (bars[static_cast<std::size_t>(first)].opens_repeat) return Error{at(first) + "the repeat that opens here never closes; write :| where it ends"};
        return part;
    }
    for (std::size_t k = 0; k + 1 < part.endings.size(); ++k)
        if (part.endings[k].end == 0) return Error{at(part.endings[k].first) + "this ending never closes; write :| where it ends"};
    // The last ending runs on into what follows: one bar is enough to place it.
    if (part.endings.back().end == 0) part.endings.back().end = part.endings.back().first + 1;
    auto times = times_by_endings(part);
    if (!times) return times.error();
    part.times = *times;
    return part;
}

bool play(std::vector<int>& out, int from, int end) {
    for (int i = from; i < end; ++i) out.push_back(i);
    return static_cast<int>(out.size()) <= kMostBars;
}

}  // namespace

Result<std::vector<int>> played_bars(const Chart& chart) {
    std::vector<int> out;
    const int size = static_cast<int>(chart.bars.size());
    for (int next = 0; next < size;) {
        const auto part = read_part(chart.bars, next);
        if (!part) return part.error();
        bool room = true;
        for (int pass = 1; pass <= part->times && room; ++pass) {
            room = play(out, part->first, part->body_end);
            for (const Ending& ending : part->endings)
                if (std::find(ending.passes.begin(), ending.passes.end(), pass) != ending.passes.end()) room = room && play(out, ending.first, ending.end);
        }
        if (!room) return Error{"more than " + std::to_string(kMostBars) + " bars with all repeats; shorten the chart"};
        next = part->endings.empty() ? part->body_end : part->endings.back().end;
    }
    return out;
}

Chart part_as_played(const Chart& chart, int first, int last) {
    Chart out = chart;
    out.bars.clear();
    const std::vector<int> played = played_bars(chart).value();
    for (int bar = first; bar <= last; ++bar) {
        const Bar& written = chart.bars[static_cast<std::size_t>(played[static_cast<std::size_t>(bar - 1)])];
        Bar alone;
        alone.chords = written.chords;
        alone.meter = written.meter;
        out.bars.push_back(std::move(alone));
    }
    return out;
}

}  // namespace gripline

// The tempo part of progress.h.
#include <algorithm>
#include <cmath>
#include <map>

#include "practice/progress.h"

namespace gripline {

std::string ProgressTempo::text() const {
    const std::string what = (quality.empty() ? "major" : quality) + ", " + std::string(word(column)) + ": ";
    if (!reached) return what + "none for sure yet (" + std::to_string(in_time.attempts) + (in_time.attempts == 1 ? " answer" : " answers") + ", fastest at " + std::to_string(fastest_bpm) + ")";
    const RateInterval interval = reached->count.interval();
    const auto share = [](double rate) { return std::to_string(std::lround(100.0 * rate)); };
    return what + std::to_string(std::lround(reached->tempo_bpm)) + " a minute (" + std::to_string(reached->count.right) + " of " + std::to_string(reached->count.attempts) + " right at that or faster, " + share(interval.low) +
           " to " + share(interval.high) + " %)";
}

std::vector<ProgressTempo> tempos_reached(const ProgressSource& source, const Progress& progress) {
    std::map<std::pair<std::string, ProgressColumn>, std::map<int, RateCount>> counts;
    for (const TempoTally& each : source.tempos) {
        if (!progress.part.holds(each.skill)) continue;
        counts[{each.skill.quality, column_of(each.skill)}][each.tempo_bpm] += {static_cast<long>(each.right + each.wrong), static_cast<long>(each.right)};
    }
    std::vector<ProgressTempo> out;
    for (const ProgressRow& row : progress.rows) {
        for (std::size_t c = 0; c < kProgressColumns; ++c) {
            const auto found = counts.find({row.quality, static_cast<ProgressColumn>(c)});
            if (found == counts.end()) continue;
            ProgressTempo tempo;
            tempo.quality = row.quality;
            tempo.column = static_cast<ProgressColumn>(c);
            std::vector<TempoCount> tempos;
            for (const auto& [bpm, count] : found->second) {
                tempos.push_back({static_cast<double>(bpm), count});
                tempo.in_time += count;
                tempo.fastest_bpm = std::max(tempo.fastest_bpm, bpm);
            }
            tempo.reached = tempo_reached(std::move(tempos));
            out.push_back(std::move(tempo));
        }
    }
    return out;
}

}  // namespace gripline

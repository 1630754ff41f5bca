// How long a line takes: charts of the library, and 1,000 against 10,000 bars. CPU time of this process, the least of several runs.
#include <algorithm>
#include <cstdio>
#include <ctime>
#include <string>

#include "chart/chart_library.h"
#include "chart/chart_text.h"
#include "lines/walk_builder.h"

using namespace gripline;

namespace {

double line_ms(const Chart& chart, int runs, std::uint64_t& joints, bool comes_again = false) {
    LineSettings usual;
    usual.comes_again = comes_again;
    double least_ms = 1e9;
    for (int run = 0; run < runs; ++run) {
        const std::clock_t start = std::clock();
        const auto line = build_line(chart, usual);
        least_ms = std::min(least_ms, 1000.0 * static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC);
        if (!line) return -1.0;
        joints = line->joints;
    }
    return least_ms;
}

Chart long_chart(int bars) {
    const Chart cycle = *library_chart("cycle-of-dominants");
    Chart out = cycle;
    out.bars.clear();
    for (int i = 0; i < bars; ++i) out.bars.push_back(cycle.bars[static_cast<std::size_t>(i) % cycle.bars.size()]);
    return out;
}

}  // namespace

int main() {
    std::uint64_t joints = 0;
    double slowest_ms = 0.0, slowest_again_ms = 0.0;
    for (const LibraryChart& each : chart_library()) {
        const Chart chart = *parse_chart(each.text);
        const double ms = line_ms(chart, 20, joints);
        const auto bars = played_bars(chart)->size();
        std::uint64_t again_joints = 0;
        const double again_ms = line_ms(chart, 20, again_joints, true);
        std::printf("%-24s %3zu bars %8llu joints %7.2f ms; that come again %8llu joints %7.2f ms\n", std::string(each.name).c_str(), bars, static_cast<unsigned long long>(joints), ms,
                    static_cast<unsigned long long>(again_joints), again_ms);
        if (bars == 32) slowest_ms = std::max(slowest_ms, ms);
        if (bars == 32) slowest_again_ms = std::max(slowest_again_ms, again_ms);
    }
    const double thousand_ms = line_ms(long_chart(1000), 3, joints), ten_thousand_ms = line_ms(long_chart(10000), 3, joints);
    std::printf("32 bars: %.2f ms, that come again %.2f ms (bound 10 each); 1,000 bars %.1f ms, 10,000 bars %.1f ms, ratio %.2f (bound 12)\n", slowest_ms, slowest_again_ms, thousand_ms, ten_thousand_ms, ten_thousand_ms / thousand_ms);
    return slowest_ms > 0.0 && slowest_ms < 10.0 && slowest_again_ms < 10.0 && ten_thousand_ms <= 12.0 * thousand_ms ? 0 : 1;
}

// Work grows with the length of the chart and nothing else. Counted in joints weighed, so that a busy machine can't fail it; the time is in
// tests/bench.
#include "lines/line_fixture.h"

using namespace gripline;
using namespace gripline::testing;

namespace {

std::string long_chart(int bars) {
    const char* chords[] = {"C7", "F7", "Bb7", "Eb7", "Ab7", "Db7", "Gb7", "B7", "E7", "A7", "D7", "G7"};
    std::string out = "|";
    for (int i = 0; i < bars; ++i) {
        out += std::string(" ") + chords[i / 2 % 12] + " |";
        if (i % 8 == 7) out += "\n|";
    }
    out.resize(out.rfind('|', out.size() - 2) + 1);
    return out + "\n";
}

}  // namespace

TEST_CASE("10,000 bars take at most 12 times the work of 1,000") {
    const Line shorter = line(chart(long_chart(1000)));
    const Line longer = line(chart(long_chart(10000)));
    CHECK(shorter.beats.size() == 4000);
    CHECK(longer.beats.size() == 40000);
    const double ratio = static_cast<double>(longer.joints) / static_cast<double>(shorter.joints);
    MESSAGE("joints: " << shorter.joints << " and " << longer.joints << ", ratio " << ratio);
    CHECK(ratio <= 12.0);
}

#include "dsp/history.h"

#include <doctest/doctest.h>

using gripline::dsp::History;

TEST_CASE("the history holds the last samples in order, through many wraps") {
    constexpr std::size_t kCapacity = 10;
    History history(kCapacity);
    CHECK(history.now() == 0);
    bool good = true;
    for (int i = 0; i < 1000; ++i) {
        history.push(static_cast<float>(i));
        good = good && history.now() == i + 1;
        for (std::size_t frames = 1; frames <= kCapacity; ++frames) {
            const auto last = history.last(frames);
            good = good && last.size() == frames;
            for (std::size_t k = 0; k < frames; ++k) {
                const int index = i + 1 - static_cast<int>(frames) + static_cast<int>(k);
                good = good && last[k] == (index < 0 ? 0.0F : static_cast<float>(index));
            }
        }
        for (int back = 0; back < static_cast<int>(kCapacity) && i - back >= 0; ++back) good = good && history.at(i - back) == static_cast<float>(i - back);
    }
    CHECK(good);
}

TEST_CASE("before the start of the stream there are zeros, and after clear again") {
    History history(8);
    for (const float x : history.last(8)) CHECK(x == 0.0F);
    for (int i = 0; i < 30; ++i) history.push(1.0F);
    history.clear();
    CHECK(history.now() == 0);
    for (const float x : history.last(8)) CHECK(x == 0.0F);
    history.push(2.0F);
    CHECK(history.at(0) == 2.0F);
    CHECK(history.last(2)[0] == 0.0F);
}

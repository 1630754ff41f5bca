#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numeric>

#include "audio/file_source.h"
#include "audio/sound_tap.h"
#include "support/temp_folder.h"

using namespace gripline;

TEST_CASE("A tap gives back the frames between two stream times, as far as they are kept") {
    SoundTap tap(1000);
    std::vector<float> frames(500);
    for (int block = 0; block < 200; ++block) {
        std::iota(frames.begin(), frames.end(), static_cast<float>(block * 500));
        tap.put(frames);
        tap.collect();
    }
    const auto cut = tap.cut(99.0, 99.5);
    REQUIRE(cut.size() == 500);
    CHECK(cut.front() == 99000.0F);
    CHECK(cut.back() == 99499.0F);
    CHECK(tap.cut(0.0, 5.0).empty());            // long gone: 90 s are kept
    CHECK(tap.cut(99.9, 200.0).size() == 100);   // not there yet
    CHECK(tap.cut(-1e300, 1e300).size() == 90000);
    CHECK(tap.cut(5.0, 1.0).empty());
}

TEST_CASE("Frames written as FLAC are read back within half a step of 16 bits, louder ones at full scale") {
    const test::TempFolder folder;
    std::vector<float> frames;
    for (int i = 0; i < 4800; ++i) frames.push_back(static_cast<float>(1.2 * std::sin(i * 0.05)));
    REQUIRE(write_flac(folder / "a.flac", frames, 48000).ok());
    const auto source = FileSource::open(folder / "a.flac");
    REQUIRE(source.ok());
    CHECK((*source)->rate_hz() == 48000);
    std::vector<float> back(8000);
    std::size_t got = 0;
    for (std::size_t now = 1; now > 0; got += now) now = (*source)->read(std::span(back).subspan(got));
    REQUIRE(got == frames.size());
    for (std::size_t i = 0; i < got; ++i) CHECK(std::abs(back[i] - std::clamp(frames[i], -1.0F, 1.0F)) <= 1.01F / 32768.0F);
    CHECK_FALSE(write_flac((folder / "none") + "/a.flac", frames, 48000).ok());
}

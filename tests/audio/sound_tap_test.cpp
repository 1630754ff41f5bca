#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numeric>
#include <thread>

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

TEST_CASE("A tap that nobody looked into for long stays true to the stream's time") {
    SoundTap tap(1000);
    std::vector<float> frames(500);
    const auto put_s = [&](int from_s, int to_s) {
        for (int half = 2 * from_s; half < 2 * to_s; ++half) {
            std::iota(frames.begin(), frames.end(), static_cast<float>(half * 500));
            tap.put(frames);
        }
    };
    put_s(0, 30);  // a long sound check
    const auto early = tap.cut(2.0, 3.0);
    REQUIRE(early.size() == 1000);
    CHECK(early.front() == 2000.0F);
    put_s(30, 300);
    const auto late = tap.cut(250.0, 251.0);
    REQUIRE(late.size() == 1000);
    CHECK(late.front() == 250000.0F);
    CHECK(late.back() == 250999.0F);
}

TEST_CASE("Cuts taken while frames come in hold the frames of their time") {
    SoundTap tap(1000);
    std::thread writer([&] {
        std::vector<float> frames(64);
        for (int block = 0; block < 8000; ++block) {  // exact as float: below 2^24
            std::iota(frames.begin(), frames.end(), static_cast<float>(block * 64));
            tap.put(frames);
        }
    });
    int torn = 0;
    for (int i = 0; i < 200; ++i) {
        const auto cut = tap.cut(-1e300, 1e300);
        for (std::size_t k = 1; k < cut.size(); ++k) torn += cut[k] != cut[k - 1] + 1.0F;
    }
    writer.join();
    CHECK(torn == 0);
    CHECK(tap.cut(511.0, 512.0).size() == 1000);
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

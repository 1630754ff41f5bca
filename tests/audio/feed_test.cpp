// The bodies of the audio callbacks: what they copy, count and stamp, and that they never allocate.
#include <doctest/doctest.h>

#include <limits>
#include <vector>

#include "audio/feed.h"
#include "support/alloc_count.h"

using namespace gripline;

namespace {

std::vector<float> read_all(InputFeed& feed) {
    std::vector<float> frames(10000);
    frames.resize(feed.read(frames));
    return frames;
}

}  // namespace

TEST_CASE("Two equal channels come out bit by bit; two different ones as their mean") {
    InputFeed feed({.rate_hz = 48000});
    const std::vector<float> stereo{0.1F, 0.1F, -0.3F, -0.3F, 0.5F, 0.25F, 0.0F, -1.0F / 3.0F};
    feed.take({.interleaved = stereo.data(), .frames = 4, .channels = 2});
    CHECK(read_all(feed) == std::vector<float>{0.1F, -0.3F, 0.375F, -1.0F / 6.0F});
}

TEST_CASE("One channel alone can be asked for") {
    InputFeed feed({.rate_hz = 48000, .only_channel = 2});
    const std::vector<float> stereo{0.1F, 0.2F, 0.3F, 0.4F};
    feed.take({.interleaved = stereo.data(), .frames = 2, .channels = 2});
    CHECK(read_all(feed) == std::vector<float>{0.2F, 0.4F});
}

TEST_CASE("Clipping is counted by channel before the mean can hide it, and damaged samples count as 0") {
    InputFeed feed({.rate_hz = 48000});
    const float nan = std::numeric_limits<float>::quiet_NaN(), inf = std::numeric_limits<float>::infinity();
    const std::vector<float> stereo{1.0F, 0.0F, 0.5F, -32767.0F / 32768.0F, 0.99F, -0.99F, nan, 0.5F, inf, -inf};
    feed.take({.interleaved = stereo.data(), .frames = 5, .channels = 2});
    CHECK(feed.clipped_frames() == 2);
    const auto mono = read_all(feed);
    CHECK(mono[3] == 0.25F);
    CHECK(mono[4] == 0.0F);
}

TEST_CASE("Lost frames: the gap in the device's time at an overflow, a block where it shows none, and what nobody reads") {
    InputFeed feed({.rate_hz = 48000, .room_frames = 1024});
    const std::vector<float> block(256, 0.1F);
    feed.take({.interleaved = block.data(), .frames = 256, .adc_s = 10.0});
    CHECK(feed.lost_frames() == 0);
    feed.take({.interleaved = block.data(), .frames = 256, .adc_s = 10.0 + 256.0 / 48000.0 + 0.01, .overflow = true});
    CHECK(feed.lost_frames() == 480);
    feed.take({.interleaved = block.data(), .frames = 256, .adc_s = 0.0, .overflow = true});
    CHECK(feed.lost_frames() == 480 + 256);
    feed.take({.interleaved = block.data(), .frames = 256});
    feed.take({.interleaved = block.data(), .frames = 200});
    CHECK(feed.lost_frames() == 480 + 256 + 200);
    CHECK(read_all(feed).size() == 1024);
}

TEST_CASE("The stamp pairs the first frame of the last block with the device's time") {
    InputFeed feed({.rate_hz = 48000});
    CHECK_FALSE(feed.stamp().has_value());
    feed.take({.frames = 100, .adc_s = 5.0});
    feed.take({.frames = 100, .adc_s = 5.1});
    REQUIRE(feed.stamp().has_value());
    CHECK(feed.stamp()->frame == 100);
    CHECK(feed.stamp()->adc_s == 5.1);
    CHECK(read_all(feed) == std::vector<float>(200, 0.0F));
}

TEST_CASE("Output: mono on every channel, silence after it, gain reached smoothly") {
    OutputFeed feed(4096);
    const std::vector<float> sound(1000, 0.5F);
    CHECK(feed.write(sound) == 1000);
    std::vector<float> out(2 * 1200, 9.0F);
    feed.give(out.data(), 1200, 2);
    CHECK(out[0] == 0.5F);
    CHECK(out[1] == 0.5F);
    CHECK(out[2 * 999 + 1] == 0.5F);
    CHECK(out[2 * 1000] == 0.0F);
    CHECK(out.back() == 0.0F);

    feed.set_gain(0.5F);
    CHECK(feed.write(std::vector<float>(2000, 1.0F)) == 2000);
    out.assign(2000, 9.0F);
    feed.give(out.data(), 2000, 1);
    CHECK(out.front() > 0.98F);
    CHECK(out.back() == doctest::Approx(0.5F).epsilon(0.001));
    for (std::size_t i = 1; i < out.size(); ++i) REQUIRE(out[i] <= out[i - 1]);
}

TEST_CASE("hush fades what waits and lets through what is written after it") {
    OutputFeed feed(8192);
    feed.write(std::vector<float>(4000, 0.8F));
    feed.hush();
    feed.write(std::vector<float>(100, 0.25F));
    std::vector<float> out(1000, 9.0F);
    feed.give(out.data(), out.size(), 1);
    CHECK(out[0] > 0.79F);
    CHECK(out[255] == 0.0F);
    CHECK(out[256] == 0.25F);
    CHECK(out[355] == 0.25F);
    CHECK(out[356] == 0.0F);
    CHECK(feed.waiting_frames() == 0);
}

TEST_CASE("Neither callback body allocates, whatever the block size") {
    InputFeed in({.rate_hz = 48000, .room_frames = 8192});
    OutputFeed out(8192);
    std::vector<float> block(4096 * 2, 0.25F);
    const test::AllocCount count;
    for (const std::size_t frames : {1U, 64U, 255U, 256U, 257U, 4096U}) {
        in.take({.interleaved = block.data(), .frames = frames, .channels = 2, .adc_s = 1.0, .overflow = frames == 64});
        out.write({block.data(), frames});
        if (frames == 257) out.hush();
        out.give(block.data(), frames, 2);
    }
    CHECK(count.here() == 0);
    CHECK(in.blocks() == 6);
    CHECK(out.blocks() == 6);
}

TEST_CASE("The counter counts: a must-fail beside the must-work") {
    const test::AllocCount count;
    std::vector<float> grown;
    grown.push_back(1.0F);
    CHECK(count.here() == 1);
    CHECK(count.everywhere() >= 1);
}

TEST_CASE("The output says which written frame will be heard when, and counts silence only while sound is expected") {
    OutputFeed feed(1024);
    std::vector<float> block(256), sound(300, 0.25F);
    feed.give(block.data(), 256, 1, 9.0);
    CHECK_FALSE(feed.stamp().has_value());
    CHECK(feed.starved_frames() == 0);
    CHECK(feed.write(sound) == 300);
    CHECK(feed.written_frames() == 300);
    feed.expect_sound(true);
    feed.give(block.data(), 256, 1, 10.0);
    REQUIRE(feed.stamp().has_value());
    CHECK(feed.stamp()->frame == 0);
    CHECK(feed.stamp()->clock_s == 10.0);
    feed.give(block.data(), 256, 1, 10.5);
    CHECK(feed.stamp()->frame == 256);
    CHECK(feed.stamp()->clock_s == 10.5);
    CHECK(feed.starved_frames() == 256 - 44);
    feed.expect_sound(false);
    feed.give(block.data(), 256, 1, 11.0);
    CHECK(feed.starved_frames() == 256 - 44);
    CHECK(feed.stamp()->clock_s == 10.5);
}

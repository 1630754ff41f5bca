// Opening, losing and regaining devices, with a fake sound library. Times are shortened tenfold.
#include <doctest/doctest.h>

#include <chrono>
#include <functional>
#include <thread>

#include "audio/device_source.h"
#include "audio/output_player.h"
#include "support/alloc_count.h"
#include "support/fake_host.h"

using namespace gripline;

namespace {

const SoundCardConfig kQuick{.watch = {.first_s = 0.5, .next_s = 0.1}, .look_s = 0.005, .retry_s = 0.03, .answer_s = 2.0};

struct Bench {
    std::shared_ptr<test::FakeWorld> world = std::make_shared<test::FakeWorld>();
    SoundCard card{std::make_unique<test::FakeHost>(world), kQuick};

    /// Pumps sound for up to 5 s, until `done`.
    bool pump_until(const std::function<bool()>& done) {
        for (int i = 0; i < 5000; ++i) {
            if (done()) return true;
            world->pump();
            std::this_thread::sleep_for(std::chrono::milliseconds(1));
        }
        return false;
    }
};

std::unique_ptr<DeviceSource> opened(SoundCard& card, const LineChoice& choice = {}) {
    auto source = DeviceSource::open(card, choice);
    REQUIRE(source.ok());
    return std::move(*source);
}

std::size_t read_all(SoundSource& source) {
    std::vector<float> hop(256);
    std::size_t frames = 0;
    while (const std::size_t got = source.read(hop)) frames += got;
    return frames;
}

}  // namespace

TEST_CASE("An input is opened at 48 kHz, says what it is, and gives its sound") {
    Bench bench;
    const auto source = opened(bench.card);
    CHECK(source->name() == "fake card (2 in, 48000 Hz)");
    CHECK(source->rate_hz() == 48000);
    bench.world->pump(0.5F);
    std::vector<float> hop(300, 0.0F);
    CHECK(source->read(hop) == 256);
    CHECK(hop[255] == 0.5F);
    CHECK(source->state() == SourceState::running);
    CHECK(source->trouble().empty());
}

TEST_CASE("A card that takes 44.1 kHz only is opened so; a rate asked for that it doesn't take is an error") {
    Bench bench;
    bench.world->rates_hz = {44100};
    CHECK(opened(bench.card)->rate_hz() == 44100);
    CHECK(DeviceSource::open(bench.card, {.device = "", .rate_hz = 96000}).error().message == "fake card does not take 96000 Hz");
    CHECK(DeviceSource::open(bench.card, {.device = "", .only_channel = 3}).error().message == "fake card has no channel 3 (1 to 2)");
}

TEST_CASE("Busy, and no device at all, are errors with words; the card works on") {
    Bench bench;
    bench.world->busy = true;
    CHECK(DeviceSource::open(bench.card).error().message == "fake card is in use by another program");
    bench.world->busy = false;
    CHECK(DeviceSource::open(bench.card).ok());
    CHECK(bench.pump_until([&] { return bench.world->closed == 1; }));
    {
        const std::lock_guard guard(bench.world->lock);
        bench.world->devices.clear();
    }
    CHECK(bench.card.devices()->empty());
    CHECK(DeviceSource::open(bench.card).error().message.rfind("no sound input found", 0) == 0);
}

TEST_CASE("A device that stops calling is lost, is looked for, and runs on when it is back, on the same source") {
    Bench bench;
    const auto source = opened(bench.card);
    REQUIRE(bench.pump_until([&] { return read_all(*source) > 0; }));
    std::this_thread::sleep_for(std::chrono::milliseconds(60));
    CHECK(source->state() == SourceState::running);  // patience of 0.1 s not yet over

    auto devices = [&] {
        const std::lock_guard guard(bench.world->lock);
        return std::exchange(bench.world->devices, {});
    }();
    for (int i = 0; i < 1000 && source->state() == SourceState::running; ++i) std::this_thread::sleep_for(std::chrono::milliseconds(1));
    CHECK(source->state() == SourceState::lost);
    CHECK(source->trouble() == "fake card gives no sound any more: check its cable and the sound server; looking for it again");
    const int tries = bench.world->begun;
    std::this_thread::sleep_for(std::chrono::milliseconds(150));
    CHECK(bench.world->begun > tries);
    CHECK(source->state() == SourceState::lost);
    read_all(*source);
    {
        const std::lock_guard guard(bench.world->lock);
        bench.world->devices = devices;
    }
    CHECK(bench.pump_until([&] { return source->state() == SourceState::running; }));
    CHECK(bench.pump_until([&] { return read_all(*source) > 0; }));
    CHECK(source->trouble().empty());
}

TEST_CASE("A device that can be opened again but gives nothing stays lost, and says so all the while, until it sounds") {
    Bench bench;
    const auto source = opened(bench.card);
    REQUIRE(bench.pump_until([&] { return read_all(*source) > 0; }));
    // Nobody pumps: the device is there and opens, but never calls.
    for (int i = 0; i < 1000 && source->state() == SourceState::running; ++i) std::this_thread::sleep_for(std::chrono::milliseconds(1));
    REQUIRE(source->state() == SourceState::lost);
    const int opened_before = bench.world->begun;
    int ran = 0;
    for (int i = 0; i < 5000 && bench.world->begun == opened_before; ++i) {
        ran += source->state() == SourceState::running ? 1 : 0;
        std::this_thread::sleep_for(std::chrono::milliseconds(1));
    }
    CHECK(ran == 0);
    CHECK(bench.world->begun > opened_before);
    CHECK(bench.pump_until([&] { return source->state() == SourceState::running; }));
    CHECK(source->trouble().empty());
}

TEST_CASE("A stream that the library sees end is lost at once; a busy device on the way back is said so") {
    Bench bench;
    const auto source = opened(bench.card);
    REQUIRE(bench.pump_until([&] { return read_all(*source) > 0; }));
    bench.world->busy = true;
    bench.world->alive = false;
    for (int i = 0; i < 50 && source->state() == SourceState::running; ++i) std::this_thread::sleep_for(std::chrono::milliseconds(1));
    CHECK(source->state() == SourceState::lost);
    for (int i = 0; i < 200 && source->trouble().find("in use") == std::string::npos; ++i) std::this_thread::sleep_for(std::chrono::milliseconds(1));
    CHECK(source->trouble() == "fake card is in use by another program; trying again");
    bench.world->alive = true;
    bench.world->busy = false;
    CHECK(bench.pump_until([&] { return source->state() == SourceState::running; }));
}

TEST_CASE("A library that would hang when closed is left alone for good, and quitting doesn't wait for it") {
    const auto world = std::make_shared<test::FakeWorld>();
    {
        SoundCard card(std::make_unique<test::FakeHost>(world), kQuick);
        const auto source = opened(card);
        world->closable = false;
        world->alive = false;
        for (int i = 0; i < 500 && source->state() == SourceState::running; ++i) std::this_thread::sleep_for(std::chrono::milliseconds(1));
        CHECK(source->trouble() == "the sound server behind fake card has gone: start it again, then quit and start gripline again");
        CHECK_FALSE(card.devices().ok());
    }
    CHECK(world->closed == 0);
    CHECK(world->ended == 0);
    CHECK(world->begun == 1);
}

TEST_CASE("A library that hangs in a call is given up on, for the caller and at the end") {
    const auto world = std::make_shared<test::FakeWorld>();
    world->hangs = true;
    const auto begin = std::chrono::steady_clock::now();
    {
        auto quick = kQuick;
        quick.answer_s = 0.1;
        SoundCard card(std::make_unique<test::FakeHost>(world), quick);
        CHECK(card.devices().error().message.rfind("the sound system has not answered for", 0) == 0);
    }
    CHECK(std::chrono::steady_clock::now() - begin < std::chrono::seconds(3));
    world->hangs = false;  // lets the thread left behind end
}

TEST_CASE("Letting go of a source closes its stream") {
    Bench bench;
    opened(bench.card).reset();
    CHECK(bench.pump_until([&] { return bench.world->closed == 1; }));
}

TEST_CASE("The output plays what is queued, at the volume asked for, and says when there is none") {
    Bench bench;
    OutputPlayer player(bench.card);
    CHECK(player.available());
    CHECK(player.trouble().empty());
    const std::vector<float> sound(1000, 0.06F);
    CHECK(player.play(sound));
    CHECK(player.playing());
    CHECK(bench.pump_until([&] { return !player.playing(); }));
    player.set_volume_db(99.0);
    CHECK(player.volume_db() == OutputPlayer::kHighest_db);
    player.set_volume_db(-99.0);
    CHECK(player.volume_db() == OutputPlayer::kLowest_db);
    CHECK_FALSE(player.play(std::vector<float>(3'000'000, 0.1F)));

    {
        const std::lock_guard guard(bench.world->lock);  // the sound card may be looking for devices again
        bench.world->devices.clear();
    }
    SoundCard empty(std::make_unique<test::FakeHost>(bench.world), kQuick);
    OutputPlayer none(empty);
    CHECK_FALSE(none.available());
    CHECK(none.trouble().rfind("no sound output found", 0) == 0);
    CHECK_FALSE(none.play(sound));
    CHECK(none.rate_hz() == 48000);
    none.hush();
}

TEST_CASE("A lost input brings the output back too, and reading allocates nothing") {
    Bench bench;
    const auto source = opened(bench.card);
    OutputPlayer player(bench.card);
    REQUIRE(bench.pump_until([&] { return read_all(*source) > 0; }));
    bench.world->alive = false;
    for (int i = 0; i < 500 && source->state() == SourceState::running; ++i) std::this_thread::sleep_for(std::chrono::milliseconds(1));
    bench.world->alive = true;
    CHECK(bench.pump_until([&] { return source->state() == SourceState::running && player.available(); }));
    std::vector<float> hop(256);
    const test::AllocCount count;
    for (int i = 0; i < 100; ++i) static_cast<void>(source->read(hop) + source->lost_frames() + static_cast<std::size_t>(source->state()));
    CHECK(count.here() == 0);
}

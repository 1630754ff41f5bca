// The analysis thread with a fake source: the same evidence as without a thread, the input's state, loss and return, no allocation.
#include <doctest/doctest.h>

#include <chrono>
#include <cmath>
#include <functional>
#include <numbers>
#include <thread>

#include <ctime>

#include "audio/noise.h"
#include "audio/strum.h"
#include "dsp/muted_strum.h"
#include "listen/latest.h"
#include "listen/listener.h"
#include "listen/pitch_listener.h"
#include "listen/recording.h"
#include "support/alloc_count.h"
#include "support/fake_source.h"

using namespace gripline;

namespace {

/// Half a second of silence, then strums a second apart; the last rings out.
std::vector<float> strums(int count) {
    std::vector<float> sound(24000, 0.0F);
    const auto one = render_strum(*plan_strum(*Grip::parse("3x23xx"), Tuning()), 48000, 1.0, -12.0);
    for (int i = 0; i < count; ++i) sound.insert(sound.end(), one.begin(), one.end());
    Noise noise(3);
    for (float& frame : sound) frame += 0.0005F * noise.next();
    return sound;
}

bool within(double seconds, const std::function<bool()>& done) {
    const auto end = std::chrono::steady_clock::now() + std::chrono::duration<double>(seconds);
    while (std::chrono::steady_clock::now() < end) {
        if (done()) return true;
        std::this_thread::sleep_for(std::chrono::milliseconds(2));
    }
    return done();
}

struct Rig {
    explicit Rig(const ListenerConfig& config = {}) : listener(std::make_unique<test::FakeSource>(feed), config) {}

    std::shared_ptr<test::FakeFeed> feed = std::make_shared<test::FakeFeed>();
    Listener listener;
    std::vector<dsp::StrumEvidence> evidence;

    void give(std::span<const float> sound) { REQUIRE(feed->ring.write(sound) == sound.size()); }
    bool heard(double stream_s) {
        return within(20.0, [&] {
            take();
            return listener.input().stream_s >= stream_s - 0.034 && feed->ring.size() == 0;
        });
    }
    void take() {
        dsp::StrumEvidence one;
        while (listener.take(one)) evidence.push_back(one);
    }
};

bool same(const dsp::StrumEvidence& a, const dsp::StrumEvidence& b) {
    return a.strum == b.strum && a.step == b.step && a.last == b.last && a.onset_s == b.onset_s && a.heard_s == b.heard_s && a.body == b.body && a.attack == b.attack &&
           a.before == b.before && a.late == b.late && a.tuning_cents == b.tuning_cents && a.level_db == b.level_db;
}

}  // namespace

TEST_CASE("Live listening and listening to a recording give the same evidence, bit by bit, however the sound arrives") {
    const auto sound = strums(4);
    const auto feed = std::make_shared<test::FakeFeed>();
    feed->ring.write(sound);
    feed->state = SourceState::ended;
    test::FakeSource recorded(feed);
    std::vector<dsp::StrumEvidence> wanted;
    hear_source(recorded, 0.0, {}, [&](const dsp::StrumEvidence& one) {
        wanted.push_back(one);
        return true;
    });
    REQUIRE(wanted.size() >= 4);
    CHECK(wanted.back().strum == 4);

    Rig rig;
    rig.listener.start();
    for (std::size_t at = 0, size = 1; at < sound.size(); at += size, size = 1 + (size * 7919) % 9000) {
        rig.give(std::span(sound).subspan(at, std::min(size, sound.size() - at)));
        std::this_thread::sleep_for(std::chrono::milliseconds(3));
    }
    rig.feed->state = SourceState::ended;
    REQUIRE(within(20.0, [&] {
        rig.take();
        return rig.evidence.size() >= wanted.size();
    }));
    REQUIRE(rig.evidence.size() == wanted.size());
    for (std::size_t i = 0; i < wanted.size(); ++i) CHECK(same(rig.evidence[i], wanted[i]));
    CHECK(rig.listener.source_name() == "fake source");
}

TEST_CASE("A lost source is seen, and after its return time and strum numbers go on") {
    const auto sound = strums(2);
    Rig rig;
    rig.listener.start();
    rig.give(sound);
    REQUIRE(rig.heard(2.5));
    rig.feed->state = SourceState::lost;
    REQUIRE(within(5.0, [&] { return rig.listener.input().source == SourceState::lost; }));
    CHECK(rig.listener.trouble() == "pulled out");
    rig.take();
    REQUIRE_FALSE(rig.evidence.empty());
    const auto before = rig.evidence.back();
    CHECK(before.strum == 2);
    rig.evidence.clear();

    rig.feed->state = SourceState::running;
    rig.feed->lost = 77;
    rig.give(sound);
    REQUIRE(rig.heard(5.0));
    rig.feed->state = SourceState::ended;
    REQUIRE(within(5.0, [&] { return rig.listener.input().source == SourceState::ended; }));
    rig.take();
    REQUIRE_FALSE(rig.evidence.empty());
    CHECK(rig.evidence.front().strum == 3);
    CHECK(rig.evidence.front().onset_s == doctest::Approx(3.0).epsilon(0.01));
    for (const auto& one : rig.evidence) CHECK(one.heard_s > before.heard_s);
    CHECK(rig.listener.input().lost_frames == 77);
    CHECK(rig.listener.input().stream_s == doctest::Approx(5.0));
}

TEST_CASE("The input's state shows level, clipping and a dead cable") {
    Rig rig;
    rig.listener.start();
    CHECK(rig.listener.input().stream_s == 0.0);
    rig.give(std::vector<float>(120000, 0.00002F));
    REQUIRE(rig.heard(2.5));
    CHECK(rig.listener.input().silent);
    CHECK_FALSE(rig.listener.input().clipping);
    std::vector<float> square;
    for (int i = 0; i < 24000; ++i) square.push_back(i / 100 % 2 == 0 ? 1.0F : -1.0F);
    rig.give(square);
    REQUIRE(rig.heard(3.0));
    CHECK(rig.listener.input().clipping);
    CHECK_FALSE(rig.listener.input().silent);
    CHECK(rig.listener.input().peak_db == doctest::Approx(0.0));
    CHECK(rig.listener.input().level_db == doctest::Approx(0.0).epsilon(0.5));
}

TEST_CASE("Listening allocates nothing, on any thread, with strums coming in and evidence being taken") {
    Rig rig;
    const auto sound = strums(4);
    rig.evidence.reserve(200);
    rig.listener.start();
    rig.give(std::span(sound).first(48000));
    REQUIRE(rig.heard(1.0));
    const auto held = std::make_unique<dsp::StrumEvidence>();
    int taken = 0;
    const test::AllocCount count;
    rig.feed->ring.write(std::span(sound).subspan(48000));
    for (int i = 0; i < 3000 && rig.feed->ring.size() > 0; ++i) {
        std::this_thread::sleep_for(std::chrono::milliseconds(2));
        while (rig.listener.take(*held)) ++taken;
        static_cast<void>(rig.listener.input());
    }
    CHECK(count.everywhere() == 0);
    CHECK(taken > 3);
}

TEST_CASE("Stopping is prompt, and starting again goes on; never started is fine too") {
    Rig rig;
    rig.listener.start();
    rig.listener.start();
    const auto begin = std::chrono::steady_clock::now();
    rig.listener.stop();
    CHECK(std::chrono::steady_clock::now() - begin < std::chrono::milliseconds(200));
    rig.listener.start();
    rig.give(std::vector<float>(4800, 0.1F));
    CHECK(rig.heard(0.1));
    const Listener never(std::make_unique<test::FakeSource>(std::make_shared<test::FakeFeed>()));
}

TEST_CASE("A waiting listener costs less than 3 % of a core") {
    Rig rig;
    rig.listener.start();
    const auto cpu_s = [] {
        timespec time{};
        clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &time);
        return static_cast<double>(time.tv_sec) + 1e-9 * static_cast<double>(time.tv_nsec);
    };
    const double before_s = cpu_s();
    std::this_thread::sleep_for(std::chrono::seconds(1));
    const double share = cpu_s() - before_s;
    MESSAGE("waiting: " << 100.0 * share << " % of a core");
    CHECK(share < 0.03);
}

TEST_CASE("The latest value crosses threads whole, and never goes back") {
    using Value = std::array<int, 64>;
    Latest<Value> latest;
    std::atomic<bool> done{false};
    std::thread setter([&] {
        Value value{};
        for (int n = 1; n <= 100'000; ++n) {
            value.fill(n);
            latest.set(value);
        }
        done = true;
    });
    int last = 0, wrong = 0;
    while (!done) {
        const Value& value = latest.get();
        for (const int n : value) wrong += n == value[0] ? 0 : 1;
        wrong += value[0] >= last ? 0 : 1;
        last = value[0];
    }
    setter.join();
    CHECK(wrong == 0);
    CHECK(latest.get()[0] == 100'000);
}

TEST_CASE("A source goes from strums to single strings and back, and each hears what comes in its turn") {
    Rig rig;
    rig.listener.start();
    rig.give(strums(1));
    REQUIRE(rig.heard(1.5));
    REQUIRE_FALSE(rig.evidence.empty());
    PitchListener strings(rig.listener.give_source());
    // A string of 110 Hz, five partials, for a second: a sine's frequency is its own witness.
    std::vector<float> tone(48000);
    for (std::size_t i = 0; i < tone.size(); ++i) {
        for (int n = 1; n <= 5; ++n) tone[i] += static_cast<float>(0.1 / n * std::sin(2.0 * 3.14159265358979 * 110.0 * n * static_cast<double>(i) / 48000.0));
    }
    rig.give(tone);
    dsp::PitchReading reading, last;
    while (strings.take(reading)) last = reading;
    CHECK(std::abs(1200.0 * std::log2(last.hz / 110.0)) < 1.0);
    Listener again(strings.give_source());
    again.start();
    rig.give(strums(1));
    dsp::StrumEvidence evidence;
    CHECK(within(20.0, [&] { return again.take(evidence); }));
    CHECK(std::abs(evidence.onset_s - 0.5) < 0.05);  // stream time began anew, half a second of quiet before the strum
}

TEST_CASE("Muted strums are told live, each once, near its start, to whom wishes for them") {
    Rig rig({.muted_strums = true}), without;
    rig.listener.start();
    without.listener.start();
    const auto muted = render_strum(*plan_strum(*Grip::parse("320003"), Tuning(), 0, PlannedFault{PlannedFaultKind::dead_strum}), 48000, 0.5, -18.0);
    std::vector<float> sound(96000, 0.0F);
    for (const std::size_t at : {24000U, 43200U}) std::copy(muted.begin(), muted.end(), sound.begin() + static_cast<std::ptrdiff_t>(at));
    Noise noise(3);
    for (float& frame : sound) frame += 0.0002F * noise.next();
    rig.give(sound);
    without.give(sound);
    REQUIRE(rig.heard(2.0));
    REQUIRE(without.heard(2.0));
    dsp::MutedStrum one;
    CHECK_FALSE(without.listener.take_muted(one));
    CHECK(std::isinf(without.listener.input().decided_s));
    std::vector<double> at_s;
    while (rig.listener.take_muted(one))
        if (one.muted) at_s.push_back(one.at_s);
    REQUIRE(at_s.size() == 2);
    CHECK(std::abs(at_s[0] - 0.5) < 0.02);
    CHECK(std::abs(at_s[1] - 0.9) < 0.02);
    CHECK(rig.listener.input().decided_s > 1.9);
}

TEST_CASE("The tool's own clicks are left out live when it is said, and only then") {
    Rig left_out, whole;
    left_out.listener.leave_out_clicks(true);
    std::vector<float> clicks(48000);
    for (std::size_t i = 0; i < clicks.size(); ++i) clicks[i] = 0.1F * std::sin(2.0F * std::numbers::pi_v<float> * 5200.0F / 48000.0F * static_cast<float>(i));  // the plain click's pitch (metronome.cpp)
    for (Rig* rig : {&left_out, &whole}) {
        rig->listener.start();
        rig->give(clicks);
        REQUIRE(rig->heard(1.0));
    }
    CHECK(whole.listener.input().level_db > -27.0);  // -23 as played; the resampler takes some
    CHECK(left_out.listener.input().level_db < -65.0);
}

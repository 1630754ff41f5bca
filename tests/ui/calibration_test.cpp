// The calibration against a loop whose delay is known; the delays kept for each pair of devices.
#include "ui/calibration.h"

#include <doctest/doctest.h>

#include <cmath>
#include <fstream>
#include <functional>

#include "audio/noise.h"
#include "support/sweep.h"
#include "support/temp_folder.h"
#include "ui/kept_delays.h"

using namespace gripline;

namespace {

/// Output and input joined by a delay. The input's stream began `origin` seconds before the music, as the stamps say; look() lets 8 ms pass.
class LoopSound final : public WalkSound {
public:
    double delay_s = 0.03, gain = 0.2, noise = 0.0005, jitter_s = 0.0;
    bool joined = true, stamps = true, has_input = true;
    std::function<float(double)> also = [](double) { return 0.0F; };  // at a music second

    bool take(dsp::StrumEvidence&) override { return false; }
    [[nodiscard]] bool hears() const override { return has_input; }
    [[nodiscard]] bool sounds() const override { return true; }
    [[nodiscard]] std::string source_name() const override { return "loop"; }
    [[nodiscard]] std::string output_name() const override { return "loop"; }
    [[nodiscard]] std::string trouble() const override { return ""; }
    [[nodiscard]] int rate_hz() const override { return 48000; }
    void begin_music() override { music_ = true; }
    [[nodiscard]] std::size_t wanted_frames() const override {
        const double due = (now_s_ + 0.4) * 48000.0 - static_cast<double>(out_.size());
        return due > 0.0 ? static_cast<std::size_t>(due) : 0;
    }
    void write(std::span<const float> frames) override { out_.insert(out_.end(), frames.begin(), frames.end()); }
    void end_music() override { music_ = false; }
    void look() override { now_s_ += 0.008; }
    [[nodiscard]] double heard_s() const override { return now_s_; }
    [[nodiscard]] std::optional<double> input_origin_s() const override { return stamps ? std::optional(kOrigin_s) : std::nullopt; }
    [[nodiscard]] std::uint64_t gap_frames() const override { return gaps; }
    void set_volume_db(double) override {}
    [[nodiscard]] double volume_db() const override { return 0.0; }
    void set_delay(const std::optional<MeasuredDelay>& delay) override { delay_ = delay; }
    [[nodiscard]] std::optional<MeasuredDelay> delay() const override { return delay_; }
    void listen_plainly(bool plainly) override { plainly_ = plainly; }
    std::size_t read_plain(std::span<float> frames) override {
        REQUIRE(plainly_);
        const auto until = static_cast<std::size_t>((now_s_ + kOrigin_s) * 48000.0);
        std::size_t count = 0;
        for (; count < frames.size() && read_ < until; ++count, ++read_) {
            const double music_s = static_cast<double>(read_) / 48000.0 - kOrigin_s;
            const double jitter = jitter_s * std::sin(std::floor(music_s * 1.5) * 2.4);
            const auto from = static_cast<std::ptrdiff_t>(std::lround((music_s - delay_s - jitter) * 48000.0));
            const float heard = joined && from >= 0 && from < static_cast<std::ptrdiff_t>(out_.size()) ? out_[static_cast<std::size_t>(from)] : 0.0F;
            frames[count] = static_cast<float>(gain) * heard + static_cast<float>(noise) * room_.next() + also(music_s);
        }
        return count;
    }
    [[nodiscard]] int input_rate_hz() const override { return 48000; }
    bool player_strums(const Strum&, double) override { return false; }
    [[nodiscard]] InputState input() const override { return {}; }

    std::uint64_t gaps = 0;

private:
    static constexpr double kOrigin_s = 0.35;
    Noise room_{3};
    std::vector<float> out_;
    std::size_t read_ = 0;
    double now_s_ = 0.0;
    bool music_ = false, plainly_ = false;
    std::optional<MeasuredDelay> delay_;
};

}  // namespace

namespace {

Result<MeasuredDelay> measure(LoopSound& sound, CalibrationWay way = CalibrationWay::clicks) {
    Calibration calibration(sound, way);
    int steps = 0;
    while (calibration.step()) REQUIRE(++steps < 5000);
    CHECK(calibration.sounded() == calibration.clicks());
    return calibration.result();
}

void write_text(const std::string& path, const std::string& text) { std::ofstream(path, std::ios::binary) << text; }

}  // namespace

TEST_CASE("A loop's delay is measured to a tenth of a millisecond: a quiet one, a noisy one, one that is told too long by the devices") {
    for (const double delay_s : {-0.02, 0.0, 0.0123, 0.2}) {
        for (const double noise : {0.0001, 0.004}) {
            CAPTURE(delay_s);
            CAPTURE(noise);
            if (test::kSanitized && delay_s != 0.0123) continue;
            LoopSound sound;
            sound.delay_s = delay_s;
            sound.noise = noise;
            const auto measured = measure(sound);
            REQUIRE_MESSAGE(measured.ok(), (measured.ok() ? "" : measured.error().message));
            CHECK(std::abs(measured->delay_ms - 1000.0 * delay_s) <= 0.1);
            CHECK(measured->spread_ms < 0.3);
            CHECK_FALSE(measured->by_hand);
        }
    }
}

TEST_CASE("What can't be measured is refused with the reason and what to do: no join, silence, jitter, no stamps, no input, a sound that broke off") {
    const auto refused = [](const std::function<void(LoopSound&)>& spoil) {
        LoopSound sound;
        spoil(sound);
        const auto measured = measure(sound);
        REQUIRE_FALSE(measured.ok());
        return measured.error().message;
    };
    CHECK(refused([](LoopSound& sound) { sound.joined = false; }).find("0 of 10 were heard, 7 are needed") != std::string::npos);
    CHECK(refused([](LoopSound& sound) { sound.joined = false; sound.noise = 0.0; }).find("wholly silent") != std::string::npos);
    CHECK(refused([](LoopSound& sound) { sound.jitter_s = 0.02; }).find("ms apart") != std::string::npos);
    CHECK(refused([](LoopSound& sound) { sound.stamps = false; }).find("tell no times") != std::string::npos);
    CHECK(refused([](LoopSound& sound) { sound.has_input = false; }).find("no input") != std::string::npos);
    CHECK(refused([](LoopSound& sound) { sound.gaps = 5; }).find("broke off") != std::string::npos);
}

TEST_CASE("Claps with the clicks, ten milliseconds apart from even, give the delay by hand") {
    LoopSound sound;
    sound.joined = false;
    Noise hand(17);
    sound.also = [&](double music_s) {
        const double beat = (music_s - 1.2 - 0.045) / (60.0 / 90.0);
        const double off_s = 0.01 * std::sin(2.4 * std::round(beat));
        const double since_s = music_s - 1.2 - 0.045 - off_s - std::round(beat) * 60.0 / 90.0;
        return since_s >= 0.0 && since_s < 0.05 && beat > -0.5 ? 0.4F * hand.next() * static_cast<float>(std::exp(-since_s / 0.008)) : 0.0F;
    };
    const auto measured = measure(sound, CalibrationWay::claps);
    REQUIRE_MESSAGE(measured.ok(), (measured.ok() ? "" : measured.error().message));
    CHECK(measured->by_hand);
    CHECK(std::abs(measured->delay_ms - 45.0) < 6.0);
    CHECK(measured->spread_ms > 3.0);
    CHECK(measured->spread_ms < 15.0);
}

TEST_CASE("Delays are kept for each pair of devices, replaced when measured again, and read back") {
    const test::TempFolder folder;
    const std::filesystem::path path = std::filesystem::path(folder / "config") / "gripline" / "delays.json";
    REQUIRE(load_delays(path).ok());
    CHECK(load_delays(path)->empty());
    CHECK_FALSE(keep_delay(path, {"usb \"one\"", "headphones", {12.5, 0.25, false}, "2026-11-25"}).has_value());
    CHECK_FALSE(keep_delay(path, {"built in", "headphones", {80.0, 9.0, true}, "2026-11-25"}).has_value());
    CHECK_FALSE(keep_delay(path, {"usb \"one\"", "headphones", {13.5, 0.5, false}, "2026-11-26"}).has_value());
    const auto delays = load_delays(path);
    REQUIRE(delays.ok());
    CHECK(delays->size() == 2);
    CHECK(delay_of(*delays, "usb \"one\"", "headphones")->delay_ms == 13.5);
    CHECK(delay_of(*delays, "built in", "headphones")->by_hand);
    CHECK_FALSE(delay_of(*delays, "built in", "speakers").has_value());
}

TEST_CASE("A file of delays that can't be read is an error with its place, and is set aside when a delay is kept") {
    const test::TempFolder folder;
    const std::string path = folder / "delays.json";
    const char* const broken[] = {"", "{", "[]", "{\"delays\": 3}", "{\"delays\": [3]}", "{\"delays\": [{\"input\": 1, \"output\": \"b\", \"delay_ms\": 1, \"spread_ms\": 1}]}",
                                  "{\"delays\": [{\"input\": \"a\", \"output\": \"b\", \"delay_ms\": \"1\", \"spread_ms\": 1}]}",
                                  "{\"delays\": [{\"input\": \"a\", \"output\": \"b\", \"delay_ms\": 1e9, \"spread_ms\": 1}]}"};
    for (const char* const text : broken) {
        CAPTURE(text);
        write_text(path, text);
        const auto delays = load_delays(path);
        REQUIRE_FALSE(delays.ok());
        CHECK(delays.error().message.find("delays.json") != std::string::npos);
        CHECK(delays.error().message.find("gripline calibrate") != std::string::npos);
        CHECK_FALSE(keep_delay(path, {"a", "b", {1.0, 0.1, false}, ""}).has_value());
        CHECK(std::filesystem::exists(path + ".unreadable"));
        CHECK(load_delays(path)->size() == 1);
    }
    CHECK(keep_delay("", {"a", "b", {}, ""}).has_value());
    CHECK(keep_delay("/proc/nowhere/delays.json", {"a", "b", {}, ""}).has_value());
}

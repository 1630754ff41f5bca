// Recordings through the chain: from the beginning, from the middle, stopped early, broken.
#include <doctest/doctest.h>

#include <sndfile.h>

#include "audio/strum.h"
#include "listen/recording.h"
#include "support/temp_folder.h"

using namespace gripline;

namespace {

/// Three strums, at 0.5, 1.5 and 2.5 s.
void save_take(const std::string& path) {
    std::vector<float> sound(24000, 0.0F);
    for (const char* const grip : {"3x23xx", "8x89xx", "1x01xx"}) {
        const auto one = render_strum(*plan_strum(*Grip::parse(grip), Tuning()), 48000, 1.0, -12.0);
        sound.insert(sound.end(), one.begin(), one.end());
    }
    SF_INFO info{.frames = 0, .samplerate = 48000, .channels = 1, .format = SF_FORMAT_WAV | SF_FORMAT_FLOAT, .sections = 0, .seekable = 0};
    SNDFILE* const file = sf_open(path.c_str(), SFM_WRITE, &info);
    REQUIRE(file != nullptr);
    sf_writef_float(file, sound.data(), static_cast<sf_count_t>(sound.size()));
    sf_close(file);
}

std::vector<double> onsets(const std::string& path, const HearConfig& config = {}) {
    std::vector<double> out;
    const auto heard = hear_recording(path, config, [&](const dsp::StrumEvidence& evidence) {
        if (evidence.last) out.push_back(evidence.onset_s);
        return true;
    });
    CHECK(heard.ok());
    return out;
}

}  // namespace

TEST_CASE("Every strum is handed out, at its time in the file, from wherever listening begins") {
    const test::TempFolder folder;
    save_take(folder / "take.wav");
    // MIREX: an onset counts as found within 50 ms.
    const auto all = onsets(folder / "take.wav");
    REQUIRE(all.size() == 3);
    for (int i = 0; i < 3; ++i) CHECK(std::abs(all[static_cast<std::size_t>(i)] - (0.5 + i)) < 0.05);
    const auto later = onsets(folder / "take.wav", {.from_s = 1.2, .lead_in_s = 0.3});
    REQUIRE(later.size() == 2);
    for (int i = 0; i < 2; ++i) CHECK(std::abs(later[static_cast<std::size_t>(i)] - (1.5 + i)) < 0.05);
    CHECK(onsets(folder / "take.wav", {.from_s = 99.0}).empty());
}

TEST_CASE("Hearing stops when its taker has enough, and says how it went") {
    const test::TempFolder folder;
    save_take(folder / "take.wav");
    int calls = 0;
    const auto heard = hear_recording(folder / "take.wav", {}, [&](const dsp::StrumEvidence&) { return ++calls < 2; });
    REQUIRE(heard.ok());
    CHECK(calls == 2);
    CHECK(heard->length_s < 1.0);
    CHECK(heard->rate_hz == 48000);
    CHECK(heard->channels == 1);
    CHECK_FALSE(heard->clipping);
}

TEST_CASE("A file cut short hands out what it holds and is then an error") {
    const test::TempFolder folder;
    save_take(folder / "take.wav");
    std::filesystem::resize_file(folder / "take.wav", 44 + 4 * 96000);
    int strums = 0;
    const auto heard = hear_recording(folder / "take.wav", {}, [&](const dsp::StrumEvidence& evidence) {
        strums += evidence.last ? 1 : 0;
        return true;
    });
    REQUIRE_FALSE(heard.ok());
    CHECK(strums == 2);
    CHECK(heard.error().message.find("take.wav: is cut short") != std::string::npos);
    CHECK_FALSE(hear_recording(folder / "missing.wav", {}, [](const dsp::StrumEvidence&) { return true; }).ok());
}

// Recordings of every format that libsndfile offers, and broken ones. Files are made here, with libsndfile itself.
#include <doctest/doctest.h>

#include <sndfile.h>
#include <sys/stat.h>

#include <cmath>
#include <fstream>
#include <limits>
#include <numbers>
#include <vector>

#include "audio/file_source.h"
#include "support/fake_clock.h"
#include "support/temp_folder.h"
#include "support/tone.h"

using namespace gripline;

namespace {

/// A second of a tone of 440 Hz at -12 dB on every channel, the last channel a little softer.
std::vector<float> tone(int rate_hz, int channels, double seconds = 1.0) {
    std::vector<float> frames;
    for (int i = 0; i < static_cast<int>(seconds * rate_hz); ++i)
        for (int c = 0; c < channels; ++c)
            frames.push_back(static_cast<float>((c == channels - 1 && c > 0 ? 0.2 : 0.25) * std::sin(2.0 * std::numbers::pi * 440.0 * i / rate_hz)));
    return frames;
}

bool save(const std::string& path, const std::vector<float>& frames, int rate_hz, int channels, int format) {
    SF_INFO info{.frames = 0, .samplerate = rate_hz, .channels = channels, .format = format, .sections = 0, .seekable = 0};
    SNDFILE* const file = sf_open(path.c_str(), SFM_WRITE, &info);
    if (file == nullptr) return false;
    const sf_count_t count = static_cast<sf_count_t>(frames.size()) / channels;
    const bool whole = sf_writef_float(file, frames.data(), count) == count;
    sf_close(file);
    return whole;
}

/// Four old formats can't state every rate, as seen with libsndfile 1.2.0: VOC keeps a whole-number time constant, HTK a period in steps
/// of 100 ns, WVE is always 8 kHz, XI states none and is taken for 44.1 kHz. All others state it exactly.
bool rate_fits(int rate_hz, int format) {
    switch (format & SF_FORMAT_TYPEMASK) {
        case SF_FORMAT_VOC: return rate_hz >= 47000 && rate_hz <= 51000;
        case SF_FORMAT_HTK: return rate_hz == 48076;
        case SF_FORMAT_WVE: return rate_hz == 8000;
        case SF_FORMAT_XI: return rate_hz == 44100;
        default: return rate_hz == 48000;
    }
}

std::unique_ptr<FileSource> opened(const std::string& path, const FileSourceConfig& config = {}) {
    auto source = FileSource::open(path, config);
    if (!source) FAIL(source.error().message);
    return std::move(*source);
}

std::string refused(const std::string& path) {
    const auto source = FileSource::open(path);
    REQUIRE_FALSE(source.ok());
    REQUIRE(source.error().message.rfind(path + ": ", 0) == 0);
    return source.error().message.substr(path.size() + 2);
}

std::vector<float> read_all(FileSource& source) {
    std::vector<float> all, hop(256);
    while (const std::size_t got = source.read(hop)) all.insert(all.end(), hop.begin(), hop.begin() + static_cast<std::ptrdiff_t>(got));
    return all;
}

void cut(const std::string& path, double share) {
    std::filesystem::resize_file(path, static_cast<std::uintmax_t>(share * static_cast<double>(std::filesystem::file_size(path))));
}

}  // namespace

TEST_CASE("Every format and coding that libsndfile writes is read, at the right length and level") {
    const test::TempFolder folder;
    int formats = 0, read = 0;
    sf_command(nullptr, SFC_GET_FORMAT_MAJOR_COUNT, &formats, sizeof formats);
    for (int m = 0; m < formats; ++m) {
        SF_FORMAT_INFO major{.format = m, .name = nullptr, .extension = nullptr};
        sf_command(nullptr, SFC_GET_FORMAT_MAJOR, &major, sizeof major);
        if (major.format == SF_FORMAT_RAW) continue;
        int codings = 0;
        sf_command(nullptr, SFC_GET_FORMAT_SUBTYPE_COUNT, &codings, sizeof codings);
        for (int s = 0; s < codings; ++s) {
            SF_FORMAT_INFO coding{.format = s, .name = nullptr, .extension = nullptr};
            sf_command(nullptr, SFC_GET_FORMAT_SUBTYPE, &coding, sizeof coding);
            for (const int channels : {1, 2}) {
                SF_INFO info{.frames = 0, .samplerate = 48000, .channels = channels, .format = major.format | coding.format, .sections = 0, .seekable = 0};
                if (sf_format_check(&info) == 0) continue;
                const std::string path = folder / ("take" + std::to_string(m) + "-" + std::to_string(s) + "-" + std::to_string(channels) + "." + major.extension);
                if (!save(path, tone(48000, channels), 48000, channels, info.format)) continue;
                CAPTURE(std::string(major.name));
                CAPTURE(std::string(coding.name));
                CAPTURE(channels);
                const auto source = opened(path);
                const auto frames = read_all(*source);
                CAPTURE(source->rate_hz());
                CHECK(rate_fits(source->rate_hz(), info.format));
                CHECK(source->channels() == channels);
                CHECK(source->state() == SourceState::ended);
                CHECK(source->trouble() == "");
                CHECK(frames.size() >= 47800);
                CHECK(frames.size() <= 51000);
                if (frames.size() < 40000) continue;
                const double wanted_db = 20.0 * std::log10((channels == 1 ? 0.25 : 0.225) / std::numbers::sqrt2);
                CHECK(test::rms_db(std::span(frames).subspan(5000, 30000)) == doctest::Approx(wanted_db).epsilon(0.05));
                ++read;
            }
        }
    }
    MESSAGE(read << " files of " << formats << " formats read");
    CHECK(read > 60);
}

TEST_CASE("8 to 192 kHz and 1 to 32 channels are read; beyond, the message states the limit") {
    const test::TempFolder folder;
    for (const int rate_hz : {8000, 11025, 192000}) {
        save(folder / "rate.wav", tone(rate_hz, 1), rate_hz, 1, SF_FORMAT_WAV | SF_FORMAT_PCM_24);
        const auto source = opened(folder / "rate.wav");
        CHECK(source->rate_hz() == rate_hz);
        CHECK(read_all(*source).size() == static_cast<std::size_t>(rate_hz));
    }
    for (const int rate_hz : {7999, 192001, 1, 384000}) {
        save(folder / "rate.wav", tone(8000, 1), rate_hz, 1, SF_FORMAT_WAV | SF_FORMAT_PCM_16);
        CHECK(refused(folder / "rate.wav") == "sample rate " + std::to_string(rate_hz) + " Hz is out of range (8000 to 192000 Hz); convert it");
    }
    save(folder / "many.wav", tone(8000, 32, 0.1), 8000, 32, SF_FORMAT_WAV | SF_FORMAT_PCM_16);
    CHECK(read_all(*opened(folder / "many.wav")).size() == 800);
    save(folder / "many.wav", tone(8000, 33, 0.1), 8000, 33, SF_FORMAT_WAV | SF_FORMAT_PCM_16);
    CHECK(refused(folder / "many.wav") == "33 channels are out of range (1 to 32); save fewer");
}

TEST_CASE("What is no recording is refused by name, with the reason") {
    const test::TempFolder folder;
    CHECK(refused(folder / "missing.wav") == "there is no such file");
    CHECK(refused(folder.path().string()) == "is a folder; name a recording in it");
    std::ofstream(folder / "empty.wav").flush();
    CHECK(refused(folder / "empty.wav") == "is empty (0 bytes)");
    std::ofstream(folder / "text.wav") << "Dear diary, today I practised.\n";
    CHECK(refused(folder / "text.wav").rfind("is no recording that can be read", 0) == 0);
    std::ofstream(folder / "noise.bin", std::ios::binary) << std::string("\xFF\xFE\x00\x01 RIFF WAVE fmt ", 20);
    CHECK(refused(folder / "noise.bin").rfind("is no recording that can be read", 0) == 0);
    REQUIRE(::mkfifo((folder / "pipe.wav").c_str(), 0600) == 0);
    CHECK(refused(folder / "pipe.wav") == "is no ordinary file; save the sound to a file first");
    save(folder / "zero.wav", {}, 48000, 1, SF_FORMAT_WAV | SF_FORMAT_PCM_16);
    CHECK(refused(folder / "zero.wav") == "holds no sound (0 frames)");
    CHECK_FALSE(FileSource::open("").ok());
}

TEST_CASE("A file cut short gives what it holds and then says so") {
    const test::TempFolder folder;
    const std::vector<std::pair<std::string, int>> kinds{{"a.wav", SF_FORMAT_WAV | SF_FORMAT_PCM_16}, {"b.wav", SF_FORMAT_WAV | SF_FORMAT_FLOAT},
                                                         {"c.aiff", SF_FORMAT_AIFF | SF_FORMAT_PCM_24}, {"d.flac", SF_FORMAT_FLAC | SF_FORMAT_PCM_16},
                                                         {"e.ogg", SF_FORMAT_OGG | SF_FORMAT_VORBIS}};
    for (const auto& [name, format] : kinds) {
        CAPTURE(name);
        REQUIRE(save(folder / name, tone(48000, 1, 40.0), 48000, 1, format));
        cut(folder / name, 0.6);
        const auto source = opened(folder / name);
        CHECK(source->trouble() == "");
        const auto frames = read_all(*source);
        CHECK(frames.size() > 48000);
        CHECK(frames.size() < 30 * 48000);
        CHECK(source->trouble().rfind((folder / name) + ": is cut short", 0) == 0);
    }
}

TEST_CASE("A head whose length was never filled in is no fault: programs that write to a pipe leave it so") {
    const test::TempFolder folder;
    save(folder / "piped.wav", tone(48000, 1), 48000, 1, SF_FORMAT_WAV | SF_FORMAT_PCM_16);
    {
        std::fstream file(folder / "piped.wav", std::ios::in | std::ios::out | std::ios::binary);
        const std::string unknown(4, '\xFF');
        file.seekp(4).write(unknown.data(), 4);
        file.seekp(40).write(unknown.data(), 4);
    }
    const auto source = opened(folder / "piped.wav");
    CHECK(read_all(*source).size() == 48000);
    CHECK(source->trouble() == "");
}

TEST_CASE("NaN, infinities and absurd values are heard as 0 and counted; clipping is counted by channel") {
    const test::TempFolder folder;
    const float nan = std::numeric_limits<float>::quiet_NaN(), inf = std::numeric_limits<float>::infinity();
    save(folder / "bad.wav", {nan, 0.5F, inf, -inf, 1e30F, 0.5F, 1.0F, 0.0F, 0.25F, 0.25F}, 48000, 2, SF_FORMAT_WAV | SF_FORMAT_FLOAT);
    const auto source = opened(folder / "bad.wav");
    CHECK(read_all(*source) == std::vector<float>{0.25F, 0.0F, 0.25F, 0.5F, 0.25F});
    CHECK(source->bad_samples() == 4);
    CHECK(source->clipped_frames() == 1);
}

TEST_CASE("Listening can begin anywhere; beyond the end there is just no sound") {
    const test::TempFolder folder;
    for (const auto& [name, format] : {std::pair<const char*, int>{"a.wav", SF_FORMAT_WAV | SF_FORMAT_FLOAT}, {"b.flac", SF_FORMAT_FLAC | SF_FORMAT_PCM_24}}) {
        const auto sound = tone(44100, 1);
        save(folder / name, sound, 44100, 1, format);
        const auto from_there = read_all(*opened(folder / name, {.start_s = 0.75, .clock = nullptr}));
        REQUIRE(from_there.size() == 44100 - 33075);
        for (std::size_t i = 0; i < from_there.size(); i += 100) CHECK(from_there[i] == doctest::Approx(sound[33075 + i]).epsilon(1e-5));
        const auto beyond = opened(folder / name, {.start_s = 5.0, .clock = nullptr});
        CHECK(read_all(*beyond).empty());
        CHECK(beyond->state() == SourceState::ended);
        CHECK(beyond->trouble() == "");
    }
}

TEST_CASE("Paced by a clock, a recording gives what time has passed, no more") {
    const test::TempFolder folder;
    save(folder / "a.wav", tone(48000, 1), 48000, 1, SF_FORMAT_WAV | SF_FORMAT_FLOAT);
    const auto clock = std::make_shared<test::FakeClock>();
    const auto source = opened(folder / "a.wav", {.start_s = 0.0, .clock = clock});
    CHECK(read_all(*source).empty());
    CHECK(source->state() == SourceState::running);
    clock->advance(0.25);
    CHECK(read_all(*source).size() == 12000);
    clock->advance(10.0);
    CHECK(read_all(*source).size() == 36000);
    CHECK(source->state() == SourceState::ended);
    CHECK(source->name() == "recording a.wav");
}

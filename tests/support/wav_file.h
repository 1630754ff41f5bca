// WAV files written byte by byte (Multimedia Programming Interface and Data Specifications 1.0, 1991; formats 1 and 3), so that tests can also write broken ones.
#pragma once

#include <cstdint>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <span>
#include <string>

namespace gripline::test {

/// What the head of a WAV file states; it need not be true.
struct WavHead {
    std::uint16_t format = 3;  ///< 1 whole numbers, 3 floating point
    std::uint16_t channels = 1;
    std::uint32_t rate_hz = 48000;
    std::uint16_t bits = 32;
    std::uint32_t data_bytes = 0;
};

/// The 44 bytes before the sound.
inline std::string wav_head(const WavHead& head) {
    std::string out;
    const auto number = [&out](auto value) {
        for (std::size_t i = 0; i < sizeof value; ++i) out += static_cast<char>((static_cast<std::uint64_t>(value) >> (8 * i)) & 0xFFU);
    };
    const auto frame_bytes = static_cast<std::uint16_t>(head.channels * head.bits / 8);
    out += "RIFF";
    number(static_cast<std::uint32_t>(36 + head.data_bytes));
    out += "WAVEfmt ";
    number(std::uint32_t{16});
    number(head.format);
    number(head.channels);
    number(head.rate_hz);
    number(static_cast<std::uint32_t>(head.rate_hz * frame_bytes));
    number(frame_bytes);
    number(head.bits);
    out += "data";
    number(head.data_bytes);
    return out;
}

inline std::string float_bytes(std::span<const float> frames) {
    std::string out(frames.size_bytes(), '\0');
    std::memcpy(out.data(), frames.data(), frames.size_bytes());  // test machines are little-endian, as WAV is
    return out;
}

inline void write_bytes(const std::filesystem::path& path, const std::string& bytes) {
    std::ofstream(path, std::ios::binary).write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
}

/// A good mono file.
inline void write_wav(const std::filesystem::path& path, std::span<const float> frames, std::uint32_t rate_hz) {
    WavHead head;
    head.rate_hz = rate_hz;
    head.data_bytes = static_cast<std::uint32_t>(frames.size_bytes());
    write_bytes(path, wav_head(head) + float_bytes(frames));
}

}  // namespace gripline::test

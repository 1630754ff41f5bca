// A recording as a source: whatever libsndfile reads, a block at a time, mixed to mono. Also writes recordings, for this is the one place that knows libsndfile.
#pragma once

#include <memory>
#include <optional>
#include <span>
#include <string>

#include "audio/sound_source.h"
#include "base/clock.h"
#include "base/result.h"

namespace gripline {

inline constexpr int kLowestFileRate_hz = 8000;
inline constexpr int kHighestFileRate_hz = 192000;
inline constexpr int kMostFileChannels = 32;

struct FileSourceConfig {
    double start_s = 0.0;                ///< where to begin; beyond the end there is no sound, and that is no error
    std::shared_ptr<const Clock> clock;  ///< set: paced in real time by it, for watching; unset: as fast as it is read
};

/// Reads in constant memory, whatever the length.
class FileSource final : public SoundSource {
public:
    /// Errors name the file, what is wrong, the limit and what to do: missing, unreadable, a folder, empty, no sound format, rate not within
    /// 8000 to 192000 Hz, more than 32 channels, no sound in it.
    static Result<std::unique_ptr<FileSource>> open(const std::string& path, const FileSourceConfig& config = {});
    ~FileSource() override;

    [[nodiscard]] int rate_hz() const override;
    /// 0 at the end, and, when paced, while the clock owes nothing.
    std::size_t read(std::span<float> frames) noexcept override;
    [[nodiscard]] SourceState state() const noexcept override;
    [[nodiscard]] std::uint64_t clipped_frames() const noexcept override;
    [[nodiscard]] std::string name() const override;
    /// After the end: when the file was cut short or damaged, how much of it could be read.
    [[nodiscard]] std::string trouble() const override;

    /// As the file's head states it; 0 when it doesn't.
    [[nodiscard]] double length_s() const;
    [[nodiscard]] int channels() const;
    /// Samples that were no numbers (NaN, infinite, absurd) and were heard as 0.
    [[nodiscard]] std::uint64_t bad_samples() const noexcept;

private:
    struct Inside;
    explicit FileSource(std::unique_ptr<Inside> inside);
    std::unique_ptr<Inside> inside_;
};

/// Writes mono frames as FLAC of 16 bits, the file whole and on the disk when this returns (a killed process leaves none of that name). An error names the
/// file and what to do.
Result<std::string> write_flac(const std::string& path, std::span<const float> frames, int rate_hz);

/// The other way: mono sound into a WAV file of 16 bits, a block at a time. A file of that name is replaced.
class WavWriter {
public:
    /// Errors name the file and what is wrong.
    static Result<WavWriter> create(const std::string& path, int rate_hz);
    WavWriter(WavWriter&&) noexcept;
    WavWriter& operator=(WavWriter&&) noexcept;
    ~WavWriter();
    /// Samples past full scale are cut there.
    [[nodiscard]] std::optional<Error> write(std::span<const float> frames);
    /// Ends the file. Without it the file ends when the writer goes, and nobody hears of a full disk.
    [[nodiscard]] std::optional<Error> close();

private:
    struct Inside;
    explicit WavWriter(std::unique_ptr<Inside> inside);
    std::unique_ptr<Inside> inside_;
};

}  // namespace gripline

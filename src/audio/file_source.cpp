#include "audio/file_source.h"

#include <fcntl.h>
#include <sndfile.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <atomic>
#include <cmath>
#include <cstdio>
#include <filesystem>
#include <sstream>
#include <vector>

#include "audio/mono.h"

namespace gripline {
namespace {

constexpr std::size_t kBlockFrames = 1024;
/// A file that ends this much before its stated end is called cut short; lossy formats may be off by a frame or two of theirs.
constexpr double kToleratedShortfall_s = 0.05;
/// Lengths from here on are what programs write into a head when they don't know the length yet.
constexpr unsigned long long kUnknownLength_bytes = 0x7FFFF000ULL;
/// A chunk may be a few bytes off through careless padding.
constexpr unsigned long long kToleratedPadding_bytes = 8;

Error bad(const std::string& path, const std::string& what) { return Error{path + ": " + what}; }

std::string seconds(double value) {
    std::array<char, 32> text{};
    std::snprintf(text.data(), text.size(), "%.2f s", value);
    return text.data();
}

/// What can be said before libsndfile is asked; it would say "System error", or wait at a pipe.
std::optional<Error> unfit(const std::string& path) {
    std::error_code failed;
    const auto status = std::filesystem::status(path, failed);
    if (status.type() == std::filesystem::file_type::not_found) return bad(path, "there is no such file");
    if (status.type() == std::filesystem::file_type::directory) return bad(path, "is a folder; name a recording in it");
    if (failed) return bad(path, "can't be looked at: " + failed.message());
    if (status.type() != std::filesystem::file_type::regular) return bad(path, "is no ordinary file; save the sound to a file first");
    if (std::filesystem::file_size(path, failed) == 0) return bad(path, "is empty (0 bytes)");
    std::FILE* const file = std::fopen(path.c_str(), "rb");
    if (file == nullptr) return bad(path, "can't be opened; check that you may read it");
    std::fclose(file);
    return std::nullopt;
}

/// libsndfile reads on silently when a head promises more than the file holds, and says so in its log alone.
std::string shortfall_in_log(SNDFILE* file) {
    std::array<char, 16384> log{};
    sf_command(file, SFC_GET_LOG_INFO, log.data(), static_cast<int>(log.size()) - 1);
    std::istringstream lines(log.data());
    for (std::string line; std::getline(lines, line);) {
        const bool sound_chunk = line.rfind("data", 0) == 0 || line.find("SSND") != std::string::npos;
        unsigned long long promised = 0, held = 0;
        const auto colon = line.find(':');
        if (!sound_chunk || colon == std::string::npos || std::sscanf(line.c_str() + colon, ": %llu (should be %llu)", &promised, &held) != 2) continue;
        if (promised < kUnknownLength_bytes && promised > held + kToleratedPadding_bytes)
            return "is cut short: " + std::to_string(held) + " of " + std::to_string(promised) + " bytes of sound are there";
    }
    return {};
}

}  // namespace

struct FileSource::Inside {
    SNDFILE* file = nullptr;
    SF_INFO info{};
    FileSourceConfig config;
    std::string path, shortfall;
    std::vector<float> interleaved;
    double origin_s = 0.0;
    std::uint64_t start_frame = 0, frames = 0;  // frames: given out so far
    MixCount mixed;
    bool begun = false;
    std::atomic<bool> ended{false};  // last to be written: then everything above stands still and any thread may look

    ~Inside() { sf_close(file); }
    [[nodiscard]] double position_s() const { return static_cast<double>(start_frame + frames) / info.samplerate; }
    [[nodiscard]] std::size_t owed() noexcept;
    void skip_to_start();
    void end() noexcept { ended = true; }
};

Result<std::unique_ptr<FileSource>> FileSource::open(const std::string& path, const FileSourceConfig& config) {
    if (const auto error = unfit(path)) return *error;
    auto inside = std::make_unique<Inside>();
    inside->config = config;
    inside->path = path;
    inside->file = sf_open(path.c_str(), SFM_READ, &inside->info);
    const SF_INFO& info = inside->info;
    if (inside->file == nullptr)
        return bad(path, "is no recording that can be read (WAV, FLAC, Ogg, MP3, AIFF ...): " + std::string(sf_strerror(nullptr)));
    const int format = info.format & SF_FORMAT_TYPEMASK;
    if (format == SF_FORMAT_RAW) return bad(path, "has no head that states rate and format; save it as WAV or FLAC");
    if (info.samplerate < kLowestFileRate_hz || info.samplerate > kHighestFileRate_hz)
        return bad(path, "sample rate " + std::to_string(info.samplerate) + " Hz is out of range (8000 to 192000 Hz); convert it");
    if (info.channels < 1 || info.channels > kMostFileChannels)
        return bad(path, std::to_string(info.channels) + " channels are out of range (1 to " + std::to_string(kMostFileChannels) + "); save fewer");
    inside->shortfall = info.frames == SF_COUNT_MAX ? "is cut short: the end of the stream is missing" : shortfall_in_log(inside->file);
    if (info.frames <= 0) return bad(path, inside->shortfall.empty() ? "holds no sound (0 frames)" : inside->shortfall);
    inside->interleaved.resize(kBlockFrames * static_cast<std::size_t>(info.channels));
    inside->skip_to_start();
    return std::unique_ptr<FileSource>(new FileSource(std::move(inside)));
}

void FileSource::Inside::skip_to_start() {
    const double wanted = std::round(std::max(0.0, config.start_s) * info.samplerate);
    if (wanted < 1.0) return;
    if (wanted >= static_cast<double>(info.frames)) {
        start_frame = static_cast<std::uint64_t>(info.frames);
        end();
        return;
    }
    start_frame = static_cast<std::uint64_t>(wanted);
    if (sf_seek(file, static_cast<sf_count_t>(start_frame), SEEK_SET) >= 0) return;
    sf_count_t left = static_cast<sf_count_t>(start_frame);  // a format that can't seek is read up to there
    for (sf_count_t got = 1; left > 0 && got > 0; left -= got) got = sf_readf_float(file, interleaved.data(), std::min<sf_count_t>(left, kBlockFrames));
}

std::size_t FileSource::Inside::owed() noexcept {
    if (!config.clock) return kBlockFrames;
    const double now_s = config.clock->now_s();
    if (!begun) origin_s = now_s;
    begun = true;
    const double due = std::floor((now_s - origin_s) * info.samplerate + 1e-6) - static_cast<double>(frames);
    return due < 1.0 ? 0 : static_cast<std::size_t>(std::min(due, static_cast<double>(kBlockFrames)));
}

FileSource::FileSource(std::unique_ptr<Inside> inside) : inside_(std::move(inside)) {}
FileSource::~FileSource() = default;

std::size_t FileSource::read(std::span<float> frames) noexcept {
    const std::size_t want = std::min({frames.size(), kBlockFrames, inside_->ended ? 0 : inside_->owed()});
    if (want == 0) return 0;
    const sf_count_t got = sf_readf_float(inside_->file, inside_->interleaved.data(), static_cast<sf_count_t>(want));
    if (got <= 0) {
        inside_->end();
        return 0;
    }
    const auto count = static_cast<std::size_t>(got);
    const auto channels = static_cast<std::size_t>(inside_->info.channels);
    const MixCount mixed = mix_to_mono({inside_->interleaved.data(), count * channels}, inside_->info.channels, 0, frames.first(count));
    inside_->mixed.clipped_frames += mixed.clipped_frames;
    inside_->mixed.bad_samples += mixed.bad_samples;
    inside_->frames += count;
    return count;
}

std::string FileSource::trouble() const {
    if (!inside_->ended) return {};
    if (!inside_->shortfall.empty()) return inside_->path + ": " + inside_->shortfall + "; what there is was heard, record or copy it again";
    if (inside_->position_s() < length_s() - kToleratedShortfall_s)
        return inside_->path + ": is cut short or damaged: " + seconds(inside_->position_s()) + " of " + seconds(length_s()) + " could be read; record or copy it again";
    return {};
}

int FileSource::rate_hz() const { return inside_->info.samplerate; }
SourceState FileSource::state() const noexcept { return inside_->ended ? SourceState::ended : SourceState::running; }
std::uint64_t FileSource::clipped_frames() const noexcept { return inside_->mixed.clipped_frames; }
std::string FileSource::name() const { return "recording " + std::filesystem::path(inside_->path).filename().string(); }
double FileSource::length_s() const {
    // libsndfile says SF_COUNT_MAX when the end of an Ogg stream is missing.
    return inside_->info.frames == SF_COUNT_MAX ? 0.0 : static_cast<double>(inside_->info.frames) / inside_->info.samplerate;
}
int FileSource::channels() const { return inside_->info.channels; }
std::uint64_t FileSource::bad_samples() const noexcept { return inside_->mixed.bad_samples; }

Result<std::string> write_flac(const std::string& path, std::span<const float> frames, int rate_hz) {
    const std::string fresh = path + ".new";
    const Error failed = bad(path, "can't be written; check the folder and that there is room");
    SF_INFO info{};
    info.samplerate = rate_hz;
    info.channels = 1;
    info.format = SF_FORMAT_FLAC | SF_FORMAT_PCM_16;
    const int file = ::open(fresh.c_str(), O_RDWR | O_CREAT | O_TRUNC | O_CLOEXEC, 0644);
    if (file < 0) return failed;
    SNDFILE* const sound = sf_open_fd(file, SFM_WRITE, &info, SF_FALSE);
    bool good = sound != nullptr;
    if (good) {
        sf_command(sound, SFC_SET_CLIPPING, nullptr, SF_TRUE);
        good = sf_writef_float(sound, frames.data(), static_cast<sf_count_t>(frames.size())) == static_cast<sf_count_t>(frames.size());
        good = sf_close(sound) == 0 && good;
    }
    good = ::fsync(file) == 0 && good;
    ::close(file);
    if (!good || std::rename(fresh.c_str(), path.c_str()) != 0) {
        std::remove(fresh.c_str());
        return failed;
    }
    return path;
}

struct WavWriter::Inside {
    SNDFILE* file = nullptr;
    std::string path;
    ~Inside() {
        if (file != nullptr) sf_close(file);
    }
};

WavWriter::WavWriter(std::unique_ptr<Inside> inside) : inside_(std::move(inside)) {}
WavWriter::WavWriter(WavWriter&&) noexcept = default;
WavWriter& WavWriter::operator=(WavWriter&&) noexcept = default;
WavWriter::~WavWriter() = default;

Result<WavWriter> WavWriter::create(const std::string& path, int rate_hz) {
    auto inside = std::make_unique<Inside>();
    inside->path = path;
    SF_INFO info{};
    info.samplerate = rate_hz;
    info.channels = 1;
    info.format = SF_FORMAT_WAV | SF_FORMAT_PCM_16;
    inside->file = sf_open(path.c_str(), SFM_WRITE, &info);
    if (inside->file == nullptr) return bad(path, "can't be written: " + std::string(sf_strerror(nullptr)));
    sf_command(inside->file, SFC_SET_CLIPPING, nullptr, SF_TRUE);
    return WavWriter(std::move(inside));
}

std::optional<Error> WavWriter::write(std::span<const float> frames) {
    const auto count = static_cast<sf_count_t>(frames.size());
    if (sf_write_float(inside_->file, frames.data(), count) == count) return std::nullopt;
    return bad(inside_->path, "can't be written to its end (is the disk full?)");
}

std::optional<Error> WavWriter::close() {
    sf_write_sync(inside_->file);
    const int trouble = sf_close(inside_->file);
    inside_->file = nullptr;
    if (trouble != 0) return bad(inside_->path, "can't be written to its end (is the disk full?)");
    return std::nullopt;
}

}  // namespace gripline

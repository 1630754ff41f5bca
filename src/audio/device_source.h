// A live input as a source.
#pragma once

#include <memory>
#include <optional>

#include "audio/sound_card.h"
#include "audio/sound_source.h"

namespace gripline {

/// When the device is lost, state() is `lost` and trouble() says so, until the sound card has brought it back; then it runs on.
class DeviceSource final : public SoundSource {
public:
    /// Errors are SoundCard::open's.
    static Result<std::unique_ptr<DeviceSource>> open(SoundCard& card, const LineChoice& choice = {});
    explicit DeviceSource(std::shared_ptr<SoundLine> line) : line_(std::move(line)) {}
    ~DeviceSource() override { line_->let_go(); }

    [[nodiscard]] int rate_hz() const override { return line_->plan.rate_hz; }
    std::size_t read(std::span<float> frames) noexcept override { return line_->in->read(frames); }
    [[nodiscard]] SourceState state() const noexcept override { return line_->state(); }
    [[nodiscard]] std::uint64_t lost_frames() const noexcept override { return line_->in->lost_frames(); }
    [[nodiscard]] std::uint64_t clipped_frames() const noexcept override { return line_->in->clipped_frames(); }
    /// "usb interface (2 in, 48000 Hz)".
    [[nodiscard]] std::string name() const override;
    [[nodiscard]] std::string trouble() const override { return line_->trouble(); }
    /// Which frame the device took in when, on its own clock; nullopt before the first.
    [[nodiscard]] std::optional<FrameStamp> stamp() const noexcept { return line_->in->stamp(); }
    [[nodiscard]] std::uint64_t frames_read() const noexcept { return line_->in->frames_read(); }
    /// The device's name alone.
    [[nodiscard]] const std::string& device_name() const noexcept { return line_->plan.device.name; }

private:
    std::shared_ptr<SoundLine> line_;
};

}  // namespace gripline

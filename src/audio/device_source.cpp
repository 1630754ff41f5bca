#include "audio/device_source.h"

namespace gripline {

Result<std::unique_ptr<DeviceSource>> DeviceSource::open(SoundCard& card, const LineChoice& choice) {
    auto line = card.open(choice, SoundDirection::input);
    if (!line) return line.error();
    return std::make_unique<DeviceSource>(std::move(*line));
}

std::string DeviceSource::name() const {
    const StreamPlan& plan = line_->plan;
    return plan.device.name + " (" + std::to_string(plan.channels) + " in, " + std::to_string(plan.rate_hz) + " Hz)";
}

}  // namespace gripline

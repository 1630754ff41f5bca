// Sound devices as the player sees them, and how one is chosen.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"

namespace gripline {

enum class SoundDirection { input, output };

struct Device {
    int number = 0;        ///< as listed; what the player types
    std::string name;
    std::string host_api;  ///< "ALSA", "JACK Audio Connection Kit" ...
    int inputs = 0, outputs = 0;
    double default_rate_hz = 0.0;
    bool default_input = false, default_output = false;
};

/// Picks by number ("3"), by name or part of it ("usb", "ALSA: usb"; case does not matter, an exact name wins), or, when `choice` is empty, the system's
/// default, or else the first there is. Errors say what was asked, what there is, and what to do.
[[nodiscard]] Result<Device> choose_device(const std::vector<Device>& devices, std::string_view choice, SoundDirection direction);

}  // namespace gripline

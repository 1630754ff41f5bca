#include "audio/device.h"

#include <algorithm>
#include <cctype>

namespace gripline {
namespace {

constexpr std::size_t kMostNamed = 4;

std::string lower(std::string_view text) {
    std::string out(text);
    std::transform(out.begin(), out.end(), out.begin(), [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
    return out;
}

std::string full_name(const Device& device) { return device.host_api + ": " + device.name; }

Error none(SoundDirection direction) {
    if (direction == SoundDirection::input)
        return Error{"no sound input found: plug in an interface or microphone and check that the sound server runs; the built-in player works without"};
    return Error{"no sound output found: plug in an interface or headphones and check that the sound server runs; everything but listening to examples works without"};
}

Result<Device> choose_by_number(const std::vector<Device>& fit, const std::vector<Device>& all, const std::string& choice, const std::string& kind) {
    const auto with_number = [&](const Device& d) { return std::to_string(d.number) == choice; };
    const auto found = std::find_if(fit.begin(), fit.end(), with_number);
    if (found != fit.end()) return *found;
    const auto other = std::find_if(all.begin(), all.end(), with_number);
    if (other != all.end()) return Error{"device " + choice + " (" + other->name + ") has no " + kind + "s: `gripline devices` lists those that have"};
    return Error{"there is no device " + choice + ": `gripline devices` lists them by number"};
}

}  // namespace

Result<Device> choose_device(const std::vector<Device>& devices, std::string_view choice, SoundDirection direction) {
    const bool input = direction == SoundDirection::input;
    const std::string kind = input ? "input" : "output";
    std::vector<Device> fit;
    std::copy_if(devices.begin(), devices.end(), std::back_inserter(fit), [input](const Device& d) { return (input ? d.inputs : d.outputs) > 0; });
    if (fit.empty()) return none(direction);
    if (choice.empty()) {
        const auto found = std::find_if(fit.begin(), fit.end(), [input](const Device& d) { return input ? d.default_input : d.default_output; });
        return found != fit.end() ? *found : fit.front();
    }
    const std::string wanted = lower(choice);
    if (std::all_of(wanted.begin(), wanted.end(), [](unsigned char c) { return std::isdigit(c) != 0; })) return choose_by_number(fit, devices, wanted, kind);
    std::vector<Device> exact, part;
    for (const Device& device : fit) {
        if (lower(device.name) == wanted || lower(full_name(device)) == wanted) exact.push_back(device);
        if (lower(full_name(device)).find(wanted) != std::string::npos) part.push_back(device);
    }
    const auto& found = exact.empty() ? part : exact;
    if (found.size() == 1) return found.front();
    if (found.empty()) return Error{"no " + kind + " is named like \"" + std::string(choice) + "\": `gripline devices` lists them"};
    std::string names;
    for (std::size_t i = 0; i < std::min(found.size(), kMostNamed); ++i)
        names += (i > 0 ? ", " : "") + std::to_string(found[i].number) + " (" + full_name(found[i]) + ")";
    if (found.size() > kMostNamed) names += " and " + std::to_string(found.size() - kMostNamed) + " more";
    return Error{"\"" + std::string(choice) + "\" fits " + std::to_string(found.size()) + " " + kind + "s: " + names + "; say which by its number"};
}

}  // namespace gripline

// gripline devices: the sound inputs and outputs, and which input to remember.
#include <memory>
#include <ostream>

#include "audio/sound_card.h"
#include "audio/stderr_log.h"
#include "cli/commands.h"
#include "cli/text_table.h"
#include "formats/verdict_json.h"
#include "ui/settings.h"

namespace gripline {

namespace {

Result<std::vector<Device>> devices_now() {
    const StderrToLog quiet;  // sound libraries print a page of their own while they look for devices
    SoundCard card;
    return card.devices();
}

void print_table(const std::vector<Device>& devices, const std::string& remembered, std::ostream& out) {
    TextTable table(out, {{"number", 6, true}, {"in", 3, true}, {"out", 3, true}, {"rate Hz", 7, true}, {"system", 8}, {"name", 20}});
    for (const Device& device : devices) {
        const std::string usual = std::string(device.default_input ? "in " : "") + (device.default_output ? "out" : "");
        const std::string mark = device.inputs > 0 && device.name == remembered ? "  (remembered input)" : "";
        table.row({std::to_string(device.number), std::to_string(device.inputs), std::to_string(device.outputs), decimal(device.default_rate_hz, 0), usual,
                   device.host_api + ": " + device.name + mark});
    }
}

/// One object a line, by hand: a handful of fields, and the text quoted by the one place that knows how.
std::string device_json(const Device& device, bool remembered) {
    const auto truth = [](bool value) { return value ? "true" : "false"; };
    return "{\"number\":" + std::to_string(device.number) + ",\"name\":" + json_string(device.name) + ",\"host_api\":" + json_string(device.host_api) +
           ",\"inputs\":" + std::to_string(device.inputs) + ",\"outputs\":" + std::to_string(device.outputs) + ",\"rate_hz\":" + decimal(device.default_rate_hz, 0) +
           ",\"default_input\":" + truth(device.default_input) + ",\"default_output\":" + truth(device.default_output) + ",\"remembered\":" + truth(remembered) + "}";
}

}  // namespace

int devices(const DevicesOptions& options, std::ostream& out, std::ostream& err) {
    const auto found = devices_now();
    if (!found) return refuse(err, found.error().message);
    const auto path = settings_path();
    LoadedSettings loaded = load_settings(path);
    for (const std::string& complaint : loaded.complaints) err << "gripline: " << complaint << '\n';
    if (!options.use.empty()) {
        const auto chosen = choose_device(*found, options.use, SoundDirection::input);
        if (!chosen) return refuse(err, chosen.error().message);
        loaded.settings.device = chosen->name;
        if (const std::string failed = save_settings(path, loaded.settings, loaded.unreadable); !failed.empty()) return refuse(err, failed);
        err << "from now on gripline listens to " << chosen->name << '\n';
    }
    if (options.json) {
        for (const Device& device : *found) out << device_json(device, device.inputs > 0 && device.name == loaded.settings.device) << '\n';
    } else {
        print_table(*found, loaded.settings.device, out);
    }
    if (found->empty()) err << "gripline: there is no sound device; gripline practice --player works without one\n";
    return kExitDone;
}

}  // namespace gripline

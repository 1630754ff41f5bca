// Choosing a device by number and name, and telling that a stream has stopped.
#include <doctest/doctest.h>

#include "audio/device.h"
#include "audio/stream_watch.h"

using namespace gripline;

namespace {

const std::vector<Device> kDevices{
    {.number = 0, .name = "Built-in Audio", .host_api = "ALSA", .inputs = 2, .outputs = 2, .default_rate_hz = 44100},
    {.number = 1, .name = "USB Interface", .host_api = "ALSA", .inputs = 4, .outputs = 0, .default_rate_hz = 48000, .default_input = true},
    {.number = 2, .name = "USB Interface Mix", .host_api = "ALSA", .inputs = 2, .outputs = 0, .default_rate_hz = 48000},
    {.number = 3, .name = "HDMI", .host_api = "ALSA", .inputs = 0, .outputs = 8, .default_rate_hz = 48000, .default_output = true},
    {.number = 4, .name = "system", .host_api = "JACK Audio Connection Kit", .inputs = 2, .outputs = 2, .default_rate_hz = 48000},
};

int chosen(std::string_view choice, SoundDirection direction = SoundDirection::input) {
    const auto device = choose_device(kDevices, choice, direction);
    return device ? device->number : -1;
}

std::string refused(std::string_view choice, SoundDirection direction = SoundDirection::input) {
    const auto device = choose_device(kDevices, choice, direction);
    REQUIRE_FALSE(device.ok());
    return device.error().message;
}

}  // namespace

TEST_CASE("A device is chosen by number, name, part of a name, host API and name, or as the default") {
    CHECK(chosen("") == 1);
    CHECK(chosen("", SoundDirection::output) == 3);
    CHECK(chosen("2") == 2);
    CHECK(chosen("usb interface") == 1);  // exact, although number 2 holds it too
    CHECK(chosen("interface MIX") == 2);
    CHECK(chosen("JACK") == 4);
    CHECK(chosen("alsa: built-in audio") == 0);
    CHECK(chosen("system", SoundDirection::output) == 4);
}

TEST_CASE("What can't be chosen is refused with what to do") {
    CHECK(refused("7") == "there is no device 7: `gripline devices` lists them by number");
    CHECK(refused("99999999999999999999") == "there is no device 99999999999999999999: `gripline devices` lists them by number");
    CHECK(refused("3") == "device 3 (HDMI) has no inputs: `gripline devices` lists those that have");
    CHECK(refused("1", SoundDirection::output) == "device 1 (USB Interface) has no outputs: `gripline devices` lists those that have");
    CHECK(refused("piano") == "no input is named like \"piano\": `gripline devices` lists them");
    CHECK(refused("usb") == "\"usb\" fits 2 inputs: 1 (ALSA: USB Interface), 2 (ALSA: USB Interface Mix); say which by its number");
    CHECK(choose_device({}, "", SoundDirection::input).error().message.rfind("no sound input found: plug in", 0) == 0);
    CHECK(choose_device({}, "usb", SoundDirection::output).error().message.rfind("no sound output found: plug in", 0) == 0);
}

TEST_CASE("Without a default the first device that fits is taken") {
    auto devices = kDevices;
    devices[1].default_input = devices[3].default_output = false;
    CHECK(choose_device(devices, "", SoundDirection::input)->number == 0);
    CHECK(choose_device(devices, "", SoundDirection::output)->number == 0);
}

TEST_CASE("A stream is lost after 2.5 s without a first callback, 0.5 s without the next, or when it ends") {
    StreamWatch watch;
    watch.begin(100.0, 40);
    CHECK_FALSE(watch.lost(102.4, 40, true));
    CHECK(watch.lost(102.6, 40, true));
    watch.begin(200.0, 40);
    CHECK_FALSE(watch.lost(202.0, 41, true));
    CHECK_FALSE(watch.lost(202.4, 41, true));
    CHECK(watch.lost(202.6, 41, true));
    CHECK_FALSE(watch.lost(202.7, 42, true));
    CHECK(watch.lost(202.71, 43, false));
}

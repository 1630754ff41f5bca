// gripline calibrate: how late the sound devices are, measured once and kept for the pair.
#include <unistd.h>

#include <chrono>
#include <ctime>
#include <iostream>
#include <nlohmann/json.hpp>
#include <thread>

#include "audio/stderr_log.h"
#include "cli/commands.h"
#include "cli/text_table.h"
#include "ui/calibration.h"
#include "ui/kept_delays.h"
#include "ui/live_walk_sound.h"
#include "ui/settings.h"

namespace gripline {

namespace {

using Json = nlohmann::ordered_json;

constexpr std::chrono::milliseconds kLook(5);
/// A device that gives no sound for so long is not waited for.
constexpr double kPatience_s = 40.0;

std::string today() {
    const std::time_t now = std::time(nullptr);
    std::tm local{};
    char text[16] = "";
    if (localtime_r(&now, &local) != nullptr) (void)std::strftime(text, sizeof text, "%Y-%m-%d", &local);
    return text;
}

double tenths(double value) { return std::round(value * 10.0) / 10.0 + 0.0; }

void tell(const KeptDelay& row, bool json, std::ostream& out) {
    if (json) {
        out << Json{{"input", row.input}, {"output", row.output}, {"delay_ms", tenths(row.delay.delay_ms)}, {"spread_ms", tenths(row.delay.spread_ms)}, {"by_hand", row.delay.by_hand}, {"measured_on", row.measured_on}}.dump(-1, ' ', false, Json::error_handler_t::replace)
            << '\n';
        return;
    }
    out << row.input << " with " << row.output << ": " << decimal(row.delay.delay_ms, 1) << " ms, spread " << decimal(row.delay.spread_ms, 1) << " ms" << (row.delay.by_hand ? ", by hand" : "") << ", " << row.measured_on << '\n';
}

int list_delays(const CalibrateOptions& options, std::ostream& out, std::ostream& err) {
    const auto delays = load_delays(delays_path());
    if (!delays) return refuse(err, delays.error().message);
    if (delays->empty()) err << "gripline: nothing has been measured yet\n";
    for (const KeptDelay& row : *delays) tell(row, options.json, out);
    return kExitDone;
}

void say_what_comes(const CalibrateOptions& options, const LiveWalkSound& sound, std::ostream& out) {
    out << "Input: " << sound.source_name() << "\nOutput: " << sound.output_name() << "\n\n";
    if (options.by_hand) out << "Sixteen clicks will sound, evenly. From the fifth on clap, or strike damped strings, exactly with each.\n";
    else out << "Ten quiet clicks will sound, unevenly. Let the input hear them: microphone held to the headphone or loudspeaker, or a cable from output to input.\n";
    out << "Take headphones off your ears or turn them down first: loud sound damages hearing. The clicks start quiet.\n";
}

/// Sounds and records; the words of progress go to `out` unless it is for machines.
Result<MeasuredDelay> measure(const CalibrateOptions& options, LiveWalkSound& sound, std::ostream& out) {
    Calibration calibration(sound, options.by_hand ? CalibrationWay::claps : CalibrationWay::clicks);
    const SteadyClock clock;
    const double until_s = clock.now_s() + kPatience_s;
    int told = 0;
    while (calibration.step()) {
        if (clock.now_s() > until_s) return Error{"the sound devices stand still" + (sound.trouble().empty() ? std::string() : " (" + sound.trouble() + ")") + "; check them with gripline devices"};
        std::this_thread::sleep_for(kLook);
        const int sounded = calibration.sounded();
        if (sounded > told && !options.json) out << "\rclick " << sounded << " of " << calibration.clicks() << std::flush;
        told = sounded;
    }
    if (!options.json) out << '\n';
    auto measured = calibration.result();
    if (!measured && sound.trouble().empty()) return Error{measured.error().message + ". Nothing was kept"};
    if (!measured) return Error{sound.trouble() + ". Nothing was kept"};
    return measured;
}

}  // namespace

int calibrate(const CalibrateOptions& options, std::ostream& out, std::ostream& err) {
    if (options.list) return list_delays(options, out, err);
    std::string failure;
    KeptDelay kept;
    {
        const StderrToLog log;
        SoundCard card;
        WalkSoundOptions devices;
        devices.input.device = options.device.empty() ? load_settings(settings_path()).settings.device : options.device;
        devices.output.device = options.output;
        LiveWalkSound sound(card, devices);
        sound.set_volume_db(options.volume_db);
        if (!sound.hears() || !sound.sounds() || sound.player_is_input()) {
            failure = "there is nothing to measure: " + (sound.notice().empty() ? std::string("no input or no output") : sound.notice());
        } else {
            if (!options.json) say_what_comes(options, sound, out);
            if (!options.now && !options.json && isatty(STDIN_FILENO) != 0) {
                out << "Enter begins. " << std::flush;
                std::string line;
                if (!std::getline(std::cin, line)) return kExitDone;
            }
            const auto measured = measure(options, sound, out);
            if (!measured) failure = measured.error().message;
            else kept = {sound.input_name(), sound.output_name(), *measured, today()};
        }
    }
    if (!failure.empty()) return refuse(err, failure);
    if (const auto bad = keep_delay(delays_path(), kept)) return refuse(err, bad->message);
    tell(kept, options.json, out);
    return kExitDone;
}

}  // namespace gripline

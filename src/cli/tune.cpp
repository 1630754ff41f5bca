// gripline tune: the tuner, on a recording, as lines of the live input, or as a screen.
#include <unistd.h>

#include <chrono>
#include <cmath>
#include <memory>
#include <nlohmann/json.hpp>
#include <optional>
#include <ostream>
#include <thread>

#include "audio/device_source.h"
#include "audio/file_source.h"
#include "audio/stderr_log.h"
#include "base/clock.h"
#include "cli/commands.h"
#include "cli/exercise_words.h"
#include "cli/text_table.h"
#include "listen/pitch_listener.h"
#include "practice/tuner.h"
#include "ui/settings.h"
#include "ui/tuner_app.h"

namespace gripline {

namespace {

constexpr const char* kNothingRang = "no string rang steadily for half a second; play one open string at a time";

double tenths(double value) { return std::round(value * 10.0) / 10.0 + 0.0; }  // + 0.0: no "-0.0"

/// One line for each time a string has become steady, and at the end what is too far out.
class TunerLines {
public:
    TunerLines(const TuneOptions& options, const TunerConfig& config, std::ostream& out) : json_(options.json), tuner_(config), out_(out) {}

    void take(const dsp::PitchReading& reading) {
        tuner_.take(reading);
        const TunerView& view = tuner_.view();
        unsteady_ = view.steady ? 0 : unsteady_ + 1;
        if (view.sounding != told_ && (!view.sounding || view.steady)) told_.reset();
        if (unsteady_ >= kAgain) told_.reset();
        if (view.steady && !told_) tell(reading);
    }

    void finish() {
        const auto refusal = tuning_refusal(tuner_.view());
        if (json_) {
            nlohmann::ordered_json line;
            line["strings"] = nlohmann::ordered_json::array();
            for (const TunerString& string : tuner_.view().strings) {
                nlohmann::ordered_json one{{"string", string.string.number()}, {"note", plain_name(string.note)}};
                one["cents"] = string.cents ? nlohmann::ordered_json(tenths(*string.cents)) : nlohmann::ordered_json(nullptr);
                line["strings"].push_back(one);
            }
            line["fit_to_practise"] = any_ ? nlohmann::ordered_json(!refusal) : nlohmann::ordered_json(nullptr);
            if (!any_) line["reason"] = kNothingRang;
            if (refusal) line["refusal"] = *refusal;
            out_ << line.dump() << std::endl;
        } else if (refusal) {
            out_ << *refusal << std::endl;
        }
    }
    [[nodiscard]] bool heard_any() const noexcept { return any_; }

private:
    void tell(const dsp::PitchReading& reading) {
        const TunerView& view = tuner_.view();
        any_ = true;
        told_ = view.sounding;
        if (!json_) {
            out_ << decimal(reading.at_s, 2) << " s  " << tuner_words(view) << " (" << decimal(view.hz, 2) << " Hz)" << std::endl;
            return;
        }
        for (const TunerString& string : view.strings) {
            if (string.string != *view.sounding) continue;
            const nlohmann::ordered_json line{{"at_s", std::round(reading.at_s * 1000.0) / 1000.0}, {"string", string.string.number()}, {"note", plain_name(string.note)},
                                              {"hz", std::round(view.hz * 1000.0) / 1000.0}, {"cents", tenths(view.cents)}, {"stiffness", std::round(reading.stiffness * 1e7) / 1e7},
                                              {"level_db", tenths(reading.level_db)}};
            out_ << line.dump() << std::endl;
        }
    }

    static constexpr int kAgain = 8;  // readings: a third of a second of turning the peg
    bool json_, any_ = false;
    int unsteady_ = 0;
    std::optional<StringNumber> told_;
    Tuner tuner_;
    std::ostream& out_;
};

int tune_recording(const TuneOptions& options, const TunerConfig& config, std::ostream& out, std::ostream& err) {
    auto opened = FileSource::open(options.input);
    if (!opened) return refuse(err, opened.error().message);
    const FileSource& file = **opened;
    PitchListener listener(std::move(*opened));
    TunerLines lines(options, config, out);
    dsp::PitchReading reading;
    while (listener.take(reading) && out.good()) lines.take(reading);
    lines.finish();
    if (!lines.heard_any()) err << "gripline: " << options.input << ": " << kNothingRang << '\n';
    if (file.bad_samples() > 0) return refuse(err, bad_samples_text(options.input, file.bad_samples()));
    if (const std::string trouble = file.trouble(); !trouble.empty()) return refuse(err, trouble);
    return kExitDone;
}

void tune_as_lines(const TuneOptions& options, const TunerConfig& config, PitchListener& listener, std::ostream& out, std::ostream& err) {
    const SteadyClock clock;
    const double until_s = clock.now_s() + options.for_s;
    TunerLines lines(options, config, out);
    while (out.good() && (options.for_s <= 0.0 || clock.now_s() < until_s)) {
        dsp::PitchReading reading;
        while (listener.take(reading)) lines.take(reading);
        std::this_thread::sleep_for(std::chrono::milliseconds(10));
    }
    lines.finish();
    if (!lines.heard_any()) err << "gripline: " << kNothingRang << '\n';
}

int tune_live(const TuneOptions& options, const TunerConfig& config, std::ostream& out, std::ostream& err) {
    std::string trouble;
    {
        const bool screen = !options.json && isatty(STDIN_FILENO) != 0 && isatty(STDOUT_FILENO) != 0;
        auto quiet = std::make_unique<StderrToLog>();  // sound libraries print a page of their own
        SoundCard card;
        auto source = DeviceSource::open(card, {.device = options.device.empty() ? load_settings(settings_path()).settings.device : options.device});
        if (source) {
            PitchListener listener(std::move(*source));
            if (!screen) {
                quiet.reset();
                err << "listening to " << listener.source().name() << (options.for_s > 0.0 ? "" : "; Ctrl-C ends") << std::endl;
                tune_as_lines(options, config, listener, out, err);
                return kExitDone;
            }
            TerminalOptions terminal_options;
            if (options.ascii) terminal_options.characters = CharacterSet::ascii;
            auto terminal = Terminal::open(terminal_options);
            if (terminal) {
                Tuner tuner(config);
                tuner_loop(listener, tuner, config, **terminal);
                return kExitDone;
            }
            trouble = terminal.error().message;
        } else {
            trouble = source.error().message;
        }
    }
    return refuse(err, trouble);
}

}  // namespace

int tune(const TuneOptions& options, std::ostream& out, std::ostream& err) {
    const auto neck = read_neck(options.tuning, options.capo, false);
    if (!neck) return refuse(err, neck.error().message);
    const TunerConfig config{.tuning = neck->tuning, .capo = options.capo, .a4_hz = options.a4_hz};
    return options.input.empty() ? tune_live(options, config, out, err) : tune_recording(options, config, out, err);
}

}  // namespace gripline

#include "cli/live_mark.h"

#include <chrono>
#include <iostream>
#include <memory>
#include <string>
#include <thread>

#include "audio/device_source.h"
#include "audio/stderr_log.h"
#include "base/clock.h"
#include "cli/commands.h"
#include "cli/mark_answers.h"
#include "ui/settings.h"

namespace gripline {

namespace {

/// Between two looks for evidence; a verdict may wait for 150 to 300 ms of sound, so this costs nothing that a player could notice.
constexpr std::chrono::milliseconds kLook(2);
/// A first callback takes up to two and a half seconds on an idle sound server (stream_watch.h).
constexpr double kFirstSound_s = 3.0;

/// Waits until sound comes in, so that the first strum is not missed. False when none does.
bool wait_for_sound(const Listener& listener, const Clock& clock) {
    const double until_s = clock.now_s() + kFirstSound_s;
    while (listener.input().stream_s <= 0.0) {
        if (clock.now_s() > until_s) return false;
        std::this_thread::sleep_for(kLook);
    }
    return true;
}

/// Evidence of strums that came before the row began is of no use.
void drain(Listener& listener) {
    const auto evidence = std::make_unique<dsp::StrumEvidence>();
    while (listener.take(*evidence)) {}
}

}  // namespace

CaseAnswer mark_one_live(Listener& listener, const Target& target, const LiveRow& row) {
    const SteadyClock clock;
    drain(listener);
    StrumCase strum;
    strum.target = target;
    strum.from_s = listener.input().stream_s + row.from_s;
    TakeMarker marker({&strum}, 0, row.judge);
    const auto evidence = std::make_unique<dsp::StrumEvidence>();
    const double until_s = clock.now_s() + row.patience_s;
    std::string trouble;
    while (!marker.done() && clock.now_s() < until_s) {
        const double heard_s = listener.input().stream_s;
        if (listener.take(*evidence)) {
            marker.consider(*evidence);
            continue;
        }
        marker.pass(heard_s);
        const SourceState state = listener.input().source;
        trouble = state == SourceState::running ? "" : listener.trouble();
        if (state == SourceState::ended) {
            while (!marker.done() && listener.take(*evidence)) marker.consider(*evidence);
            break;
        }
        std::this_thread::sleep_for(kLook);
    }
    const bool settled = marker.done();
    CaseAnswer answer = marker.finish("").front();
    if (!settled) answer.error = trouble;
    return answer;
}

int mark_live(const MarkOptions& options, const std::vector<CaseRow>& rows, const JudgeConfig& judge, std::ostream& out, std::ostream& err) {
    const SteadyClock clock;
    const std::string device = options.device.empty() ? load_settings(settings_path()).settings.device : options.device;
    std::unique_ptr<SoundCard> card;
    std::unique_ptr<DeviceSource> source;
    std::string trouble;
    {
        const StderrToLog quiet;  // sound libraries print a page of their own while they look for devices
        card = std::make_unique<SoundCard>();
        auto opened = DeviceSource::open(*card, {.device = device});
        if (opened) source = std::move(*opened);
        else trouble = opened.error().message;
    }
    if (!source) return refuse(err, trouble);
    Listener listener(std::move(source));
    listener.start();
    if (!wait_for_sound(listener, clock)) return refuse(err, listener.source_name() + ": no sound arrives; is it in use by another program, or suspended?");
    err << "listening to " << listener.source_name() << std::endl;
    MarkAnswers answers(options, out);
    for (std::size_t i = 0; i < rows.size() && out.good(); ++i) {
        CaseAnswer answer;
        if (!rows[i].strum) {
            answer.error = rows[i].error;
        } else {
            err << i + 1 << " of " << rows.size() << ": strum " << asked_text(rows[i].strum->target) << (options.step ? "; press Enter first" : "") << std::endl;
            std::string line;
            if (options.step && !std::getline(std::cin, line)) return refuse(err, "standard input ended; --step reads an Enter for each row from it");
            if (options.step) err << "listening" << std::endl;
            answer = mark_one_live(listener, rows[i].strum->target, {options.step ? rows[i].strum->from_s : 0.0, options.patience_s, judge});
        }
        answers.give(rows[i], answer);
        out << std::flush;
    }
    err << "lost frames: " << listener.input().lost_frames << std::endl;
    return answers.finish(err);
}

}  // namespace gripline

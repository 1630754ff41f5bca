// gripline walk: the play-along, live (walk_live.h) or on a recorded take, through the same chain and judge.
#include <algorithm>
#include <ostream>

#include "base/text.h"
#include "cli/commands.h"
#include "cli/kept_take.h"
#include "cli/text_table.h"
#include "cli/walk_beats.h"
#include "cli/walk_live.h"
#include "cli/walk_report.h"
#include "formats/walk_json.h"
#include "listen/recording.h"
#include "practice/walk_summary.h"
#include "ui/kept_guitars.h"

namespace gripline {

namespace {

/// Gives each beat out as soon as it is settled, and keeps it for the whole.
class WalkGiver {
public:
    WalkGiver(WalkAlong& walk, bool json, std::ostream& out) : walk_(walk), json_(json), out_(out), table_(out) {}

    void give() {
        while (auto result = walk_.next()) {
            const WalkBeat& beat = walk_.beats()[result->index];
            if (json_) out_ << walk_beat_json(beat, *result) << '\n';
            else table_.row(beat, *result);
            results_.push_back(std::move(*result));
        }
    }
    void give_summary(double tempo_bpm) {
        const WalkSummary summary = summarise_walk(walk_.beats(), results_, walk_.strums_between(), tempo_bpm);
        if (json_) out_ << walk_summary_json(summary) << '\n';
        else print_walk_summary(summary, out_);
    }
    [[nodiscard]] const std::vector<BeatResult>& results() const { return results_; }

private:
    WalkAlong& walk_;
    bool json_;
    std::ostream& out_;
    WalkTable table_;
    std::vector<BeatResult> results_;
};

/// What to say of a take that ends before the chart does.
std::string short_take_text(const WalkOptions& options, const WalkAlong& walk, double end_s) {
    const WalkBeat& next = walk.beats()[walk.given()];
    return options.input + ": the take ends at " + decimal(end_s, 2) + " s, before bar " + std::to_string(next.bar) + ", beat " + std::to_string(next.beat) + " of the chart is over (" + decimal(next.at_s, 2) +
           " s); the chart's last beat lies at " + decimal(walk.beats().back().at_s, 2) + " s";
}

}  // namespace

int walk(const WalkOptions& options, std::ostream& out, std::ostream& err) {
    if (options.input.empty()) return walk_live(options, out, err);
    auto plan = plan_walk(options);
    if (!plan) return refuse(err, plan.error().message);
    for (const std::string& each : plan->remarks) err << "gripline: " << each << '\n';
    const double half_s = plan->count_s / 2.0;
    std::vector<std::string> complaints;
    const auto guitar = options.keeping.guitar ? known_guitar_named(std::string(trimmed(*options.keeping.guitar)), complaints) : nullptr;
    for (const std::string& each : complaints) err << "gripline: " << plain_line(each) << '\n';
    WalkAlong along(std::move(plan->beats), plan->count_s, {.guitar = guitar});
    WalkGiver giver(along, options.json, out);
    const HearConfig config{.from_s = std::max(0.0, options.start_s - half_s)};
    const auto heard = hear_recording(options.input, config, [&](const dsp::StrumEvidence& evidence) {
        along.consider(evidence);
        giver.give();
        return !along.done() && out.good();
    });
    if (!heard) return refuse(err, heard.error().message);
    if (heard->bad_samples > 0) return refuse(err, bad_samples_text(options.input, heard->bad_samples));
    if (!along.done()) {
        const double end_s = std::max(0.0, config.from_s - config.lead_in_s) + heard->length_s;
        along.finish(end_s);
        giver.give();
        if (!along.done()) {
            const std::string told = short_take_text(options, along, end_s);
            if (along.given() == 0) return refuse(err, told + "; --start-s says where beat 1 of bar 1 lies");
            err << "gripline: " << told << "; what comes after its end is not marked\n";
        }
    }
    giver.give_summary(plan->tempo_bpm);
    if (options.keeping.who && !options.keeping.none) {
        const auto kept = keep_take(options, along.beats(), giver.results(), plan->tempo_bpm);
        if (!kept) return refuse(err, kept.error().message);
        err << *kept << '\n';
    }
    if (heard->clipping) err << "gripline: " << options.input << ": the recording clips; notes may be misheard; record at a lower level\n";
    return kExitDone;
}

}  // namespace gripline

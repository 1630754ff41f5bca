// gripline practice: the practice screen, or, where no terminal is, a demonstration as text.
#include <memory>
#include <ostream>
#include <utility>

#include <unistd.h>

#include "cli/commands.h"
#include "cli/exercise_words.h"
#include "cli/practice_pools.h"
#include "practice/warm_up.h"
#include "ui/demonstration.h"
#include "ui/name_it_app.h"
#include "ui/practice_app.h"

namespace gripline {
namespace {

Result<PracticePlan> practice_plan(const PracticeOptions& options) {
    PracticePlan plan;
    plan.planned = options.plan || !options.joints.empty() || !options.key.empty() || !options.qualities.empty() || !options.approach.empty();
    if (plan.planned && (!options.root.empty() || !options.family.empty())) {
        return Error{"a planned session goes through roots and families itself: leave --root and --family out, or pin it with --key and --quality"};
    }
    if (!options.key.empty()) {
        const auto key = NoteName::parse(options.key);
        if (!key) return Error{"--key: " + key.error().message};
        plan.pins.key = key->pitch_class();
    }
    plan.pins.qualities = options.qualities;
    if (!options.approach.empty()) plan.pins.from = options.approach == "below" ? From::below : From::above;
    if (!options.exercise.empty()) plan.asking = parse_asking(options.exercise).value();
    if (options.tempo_bpm > 0.0) plan.tempo_bpm = options.tempo_bpm;
    if (!options.joints.empty()) {
        auto joints = joints_of_chart(options, plan.pins, plan.asking);
        if (!joints) return joints.error();
        plan.pool = std::make_shared<const Exercise>(std::move(joints).value());
    }
    plan.most_new = options.most_new;
    plan.steps = options.steps;
    plan.minutes = options.minutes;
    if (options.plan && plan.steps == 0 && plan.minutes <= 0.0) plan.minutes = 10.0;  // the plan of ten minutes
    plan.break_after_min = options.break_after_min;
    plan.tones = plan.led() && !options.no_tones;
    if (options.warm_up || (plan.planned && !options.no_warm_up)) plan.warm_up = kWarmUpSteps;
    plan.gestures = {parse_gesture(options.two_muted).value_or(GestureAsks::again), parse_gesture(options.three_muted).value_or(GestureAsks::next)};
    if (options.no_gestures) plan.gestures = {GestureAsks::nothing, GestureAsks::nothing};
    return plan;
}

/// "Name it" needs neither guitar nor input, and has a screen of its own.
int practice_name_it(const PracticeOptions& options, Exercise pool, const Neck& neck, const PracticePlan& plan, std::ostream& out, std::ostream& err) {
    NameItStart start;
    start.pool = std::move(pool);
    start.neck = neck;
    start.plan = plan;
    start.keeping = options.keeping;
    if (options.ascii) start.terminal.characters = CharacterSet::ascii;
    return run_name_it(start, out, err);
}

}  // namespace

int practice(const PracticeOptions& options, std::ostream& out, std::ostream& err) {
    const auto asked = read_exercise(options.family, options.stage, options.strings);
    if (!asked) return refuse(err, asked.error().message);
    const auto neck = read_neck(options.tuning, options.capo, options.left_handed);
    if (!neck) return refuse(err, neck.error().message);
    PracticeStart start;
    if (!options.root.empty()) {
        const auto root = NoteName::parse(options.root);
        if (!root) return refuse(err, "--root: " + root.error().message);
        start.root = *root;
    }
    const auto plan = practice_plan(options);
    if (!plan) return refuse(err, plan.error().message);
    start.plan = *plan;
    if (plan->asking == Asking::scale_note) {
        if (!options.stage.empty() && asked->stage != StageKind::scale) return refuse(err, "--exercise scale-note asks single notes: leave --stage out, or say --stage scale");
    }
    if (options.warm_up && plan->asking == Asking::name_it) return refuse(err, "--warm-up warms up hands, and --exercise name-it needs none: leave it out");
    if (!options.questions.empty() && plan->asking != Asking::name_it) return refuse(err, "--question belongs to --exercise name-it");
    Exercise to_name;
    if (plan->asking == Asking::name_it) {
        auto pool = name_it_pool(options, *asked, *neck, plan->pins);
        if (!pool) return refuse(err, pool.error().message);
        to_name = std::move(pool).value();
    }
    const bool terminal = isatty(STDIN_FILENO) != 0 && isatty(STDOUT_FILENO) != 0;
    if (!terminal || options.demonstration) {
        if (!terminal && !options.demonstration) err << "gripline: no terminal here, so a demonstration follows; the practice screen opens in a terminal\n";
        return run_demonstration({}, out);
    }
    if (plan->asking == Asking::name_it) return practice_name_it(options, std::move(to_name), *neck, *plan, out, err);
    start.family = asked->family;
    start.stage = start.plan.asking == Asking::scale_note ? std::optional(StageKind::scale) : asked->stage;
    start.strings = asked->strings;
    if (!options.device.empty()) start.device = options.device;
    start.player = options.player;
    start.neck = *neck;
    start.a4_hz = options.a4_hz;
    start.keeping = options.keeping;
    if (options.ascii) start.terminal.characters = CharacterSet::ascii;
    return run_practice(start, out, err);
}

}  // namespace gripline

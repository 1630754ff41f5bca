#include "ui/quiz_play.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "formats/quiz_result_json.h"
#include "ui/quiz_screen.h"

namespace gripline {
namespace {

QuizProgress progress_of(const QuizPlayConfig& config) { return config.resumed ? config.resumed->progress : QuizProgress{}; }

/// What the built-in player strums in the sound check: open strings.
PracticeStep open_strings(const Quiz& quiz) {
    PracticeStep step;
    step.tuning = quiz.tuning;
    step.capo = quiz.capo;
    step.a4_hz = quiz.a4_hz;
    step.grip = Grip(quiz.tuning.strings());
    for (int string = quiz.tuning.strings(); string > quiz.tuning.strings() - 3; --string) step.grip.set(StringNumber(string), Fret(0));
    return step;
}

}  // namespace

QuizPlay::QuizPlay(QuizPlayConfig config, PracticeSound& sound, double now_s)
    : config_(std::move(config)), sound_(sound),
      runner_(config_.head.quiz, draw_questions(config_.head.quiz, config_.head.student).value(), progress_of(config_), config_.pace),
      check_(config_.head.quiz.a4_hz), attempts_(config_.head.run), notice_(config_.notice) {
    check_.begin_anew(now_s);
    if (runner_.state() == QuizState::over) begin(now_s);
}

/// The sound is good: the folder of the run is made, and the count-down runs.
void QuizPlay::begin(double now_s) {
    begun_ms_ = config_.wall_ms();
    begun_s_ = now_s;
    QuizFacts facts = config_.head.facts;
    facts.input = sound_.source_name();
    facts.noise_db = check_.noise_db();
    facts.level_db = check_.level_db();
    facts.tuning_cents = check_.tuning_cents();
    lost_before_ = sound_.input().lost_frames;
    auto keeper = [&] {
        if (config_.resumed) return QuizKeeper::go_on(config_.folder, *config_.resumed, begun_ms_);
        config_.head.started_ms = begun_ms_;
        config_.head.facts = facts;
        return QuizKeeper::begin(config_.folder, config_.head);
    }();
    if (!keeper) {
        failure_ = keeper.error().message;
        over_ = true;
        return;
    }
    keeper_ = std::move(*keeper);
    if (config_.resumed) {
        facts.lost_frames = config_.resumed->head.facts.lost_frames;
        keeper_->facts(facts, begun_ms_);
    }
    page_ = Page::quiz;
    notice_.clear();
    runner_.start(moment(now_s));
    if (runner_.state() == QuizState::over) finish(now_s);
}

void QuizPlay::check_sound(double now_s) {
    const InputState input = sound_.input();
    check_.pass(now_s, {input.level_db, input.source == SourceState::running, input.clipping, input.hum, input.silent});
    while (sound_.take(evidence_))
        if (evidence_.last && evidence_.onset_s >= own_sound_until_s_) check_.strum(evidence_.level_db, strum_tuning_cents(evidence_));
    if (check_.stage() == CheckStage::good && deaf_words().empty()) begin(now_s);
}

void QuizPlay::hear(const dsp::StrumEvidence& evidence, double now_s) {
    if (walk_) {
        walk_->consider(evidence);
        return;
    }
    if (!runner_.wants(evidence.onset_s)) return;
    if (const auto verdict = judge_.consider(evidence)) runner_.hear(*verdict, moment(now_s));
}

/// Beats of a walked part that are settled go to the runner.
void QuizPlay::walk_on(double now_s) {
    if (!walk_) return;
    walk_->pass(moment(now_s).stream_s);
    while (const auto beat = walk_->next()) runner_.hear_beat(*beat, moment(now_s));
    if (walk_->done() || runner_.state() != QuizState::walking) walk_.reset();
}

void QuizPlay::ask_judge(double now_s) {
    if (told_ == runner_.askings() || runner_.question() == nullptr) return;
    told_ = runner_.askings();
    walk_.reset();
    const QuizQuestion& asked = *runner_.question();
    if (runner_.state() == QuizState::walking) return begin_walk(asked);
    judge_.ask(asked.step.target());
    if (asked.asking == Asking::by_ear) sound_for_ear(asked.step, now_s, false);
}

void QuizPlay::sound_for_ear(const PracticeStep& step, double now_s, bool again) {
    const auto length_s = sound_.sound_target(step);
    if (length_s) runner_.sounding(*length_s, moment(now_s), again);
    else notice_ = length_s.error().message;
}

void QuizPlay::begin_walk(const QuizQuestion& first) {
    const auto beats = runner_.walk_beats();
    walk_ = std::make_unique<WalkAlong>(beats, first.beat->count_s);
    std::vector<PlannedClick> clicks;
    for (int i = 0; i < config_.pace.count_in; ++i) clicks.push_back({i * first.beat->count_s, i == 0});
    for (const WalkBeat& beat : beats) clicks.push_back({config_.pace.count_in * first.beat->count_s + beat.at_s - beats.front().at_s, beat.beat == 1});
    const auto begun = sound_.begin_clicks(clicks);
    clicks_ = begun.ok();
    laid_ = false;
    if (!begun) notice_ = begun.error().message + " The count is on the screen.";
}

/// The beats are moved to where their clicks are heard, as soon as that is known and before the first.
void QuizPlay::lay_walk() {
    if (!clicks_) return;
    if (runner_.state() != QuizState::walking) {
        sound_.end_clicks();
        clicks_ = false;
        return;
    }
    const auto origin_s = sound_.clicks_origin_s();
    if (!origin_s || laid_ || !walk_) return;
    laid_ = true;
    const double lead_s = config_.pace.count_in * runner_.question()->beat->count_s, first_s = *origin_s + lead_s;
    const double by_s = first_s - runner_.asked_stream_s();
    if (std::abs(by_s) > lead_s / 2.0 || sound_.input().stream_s > runner_.asked_stream_s()) return;  // a clock gone astray, or too late
    walk_->shift(by_s);
    runner_.lay_first_beat(first_s);
}

bool QuizPlay::asks_by_ear() const { return runner_.question() != nullptr && runner_.question()->asking == Asking::by_ear; }

bool QuizPlay::by_ear_to_come() const {
    const auto& questions = runner_.questions();
    return std::any_of(questions.begin() + static_cast<std::ptrdiff_t>(runner_.place()), questions.end(), [](const QuizQuestion& question) { return question.asking == Asking::by_ear; });
}

std::string QuizPlay::deaf_words() const {
    const std::string trouble = by_ear_to_come() ? sound_.output_trouble() : "";
    if (trouble.empty()) return {};
    return "This quiz has questions by ear, and nothing can be heard: " + trouble + ". If that does not help, leave with q and begin the quiz again.";
}

/// What is new goes into the run's folder and into the history.
void QuizPlay::write_down() {
    keeper_->follow(runner_, sound_.tap(), config_.wall_ms(), sound_.input().stream_s);
    const bool wanted = config_.keeper != nullptr && (!sound_.player_is_input() || config_.keep_player);
    for (Attempt& attempt : attempts_.follow(runner_.progress(), runner_.questions()))
        if (wanted) config_.keeper->keep(std::move(attempt), sound_.source_name());
}

void QuizPlay::listen(double now_s) {
    if (page_ == Page::check) return check_sound(now_s);
    if (!keeper_ || page_ == Page::done) return;
    // Without an output a question by ear can't be heard: its clock stands still as when the input is lost.
    runner_.set_input(sound_.input().source == SourceState::running && !(asks_by_ear() && !sound_.output_trouble().empty()), moment(now_s));
    runner_.pass(moment(now_s));
    ask_judge(now_s);
    lay_walk();
    while (sound_.take(evidence_)) hear(evidence_, now_s);
    walk_on(now_s);
    write_down();
    if (runner_.state() == QuizState::over) finish(now_s);
}

void QuizPlay::finish(double now_s) {
    const std::int64_t now_ms = config_.wall_ms();
    QuizFacts facts = keeper_->head().facts;
    facts.lost_frames += sound_.input().lost_frames - lost_before_;
    lost_before_ = sound_.input().lost_frames;
    keeper_->facts(facts, now_ms);
    const double wall_s = static_cast<double>(now_ms - begun_ms_) / 1000.0;
    const auto written = keeper_->finish(runner_, sound_.tap(), now_ms, wall_s - (now_s - begun_s_));
    page_ = Page::done;
    if (!written) {
        failure_ = written.error().message;
        return;
    }
    result_path_ = *written;
    code_ = hand_in_code(quiz_result_json(load_quiz_result(result_path_).value()));
}

void QuizPlay::play(bool mistake) {
    if (!sound_.player_is_input()) {
        notice_ = "The built-in player is not the input.";
        return;
    }
    const bool asks = page_ == Page::quiz && runner_.question() != nullptr;
    const auto played = sound_.play(asks ? runner_.question()->step : open_strings(config_.head.quiz), mistake && asks);
    if (!played) notice_ = played.error().message;
}

/// In the sound check, so that headphones are on and set before the clock runs.
void QuizPlay::try_output() {
    const auto length_s = sound_.sound_target(open_strings(config_.head.quiz));
    notice_ = length_s ? "Three open strings sound now; if you hear nothing, check output and volume." : length_s.error().message;
    if (length_s) own_sound_until_s_ = sound_.input().stream_s + *length_s + config_.pace.own_sound_tail_s;
}

void QuizPlay::press(const KeyPress& key, double now_s) {
    const char c = key.character;
    notice_.clear();
    if (page_ == Page::ask_hand_in) {
        if (c == 'y') {
            runner_.hand_in();
            write_down();
            finish(now_s);
        } else {
            page_ = Page::quiz;
        }
        return;
    }
    if (page_ == Page::done || (page_ == Page::check && c == 'q')) {
        over_ = page_ == Page::done ? c == 'q' || key.special == SpecialKey::enter || key.special == SpecialKey::escape : true;
        return;
    }
    switch (c) {
        case 'p': play(false); break;
        case 'm': play(true); break;
        case 'q': page_ = Page::ask_hand_in; break;
        case 'c':
            if (page_ == Page::check) check_.begin_anew(now_s);
            break;
        case 'h':
            if (page_ == Page::check && by_ear_to_come()) try_output();
            else if (page_ == Page::quiz && runner_.state() == QuizState::asking && asks_by_ear()) sound_for_ear(runner_.question()->step, now_s, true);
            break;
        case ' ':
            if (page_ == Page::quiz && !runner_.pause(moment(now_s))) notice_ = "This quiz can't be paused.";
            break;
        default: notice_ = page_ == Page::check ? "c begins the check anew, q leaves." : "No key is needed: strum. q hands in.";
    }
}

void QuizPlay::draw(Canvas& canvas, double now_s) const { draw_quiz(canvas, view(now_s)); }

}  // namespace gripline

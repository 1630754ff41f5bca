#include "ui/practice_run.h"

#include <cmath>
#include <utility>

#include "practice/exercise_asking.h"
#include "ui/practice_keys.h"
#include "ui/practice_screen.h"
#include "ui/practice_words.h"
#include "ui/tuner_screen.h"

namespace gripline {
namespace {

constexpr double kNoticeShown_s = 4.0;  // two lines read at ease (judgement)
constexpr double kTempoStep_bpm = 5.0;  // as in a walk

}  // namespace

PracticeRun::PracticeRun(const PracticeRunConfig& config, PracticeSound& sound, double now_s)
    : config_(config), sound_(sound), session_(config.times),
      tuner_({.tuning = config.neck.tuning, .capo = config.neck.capo, .a4_hz = config.a4_hz}), session_clock_(now_s), pair_play_(sound) {
    if (!sound.player_is_input()) judge_ = Judge({.guitar = config.guitar});
    if (config.plan.warm_up <= 0 || !begin_warm_up(now_s)) begin(now_s);
    if (!config.notice.empty()) say(config.notice, now_s);
    if (config.show_cautions) {
        help_ = first_start_help();
        open_page(Page::help, now_s);
    }
}

void PracticeRun::press(const KeyPress& key, double now_s, int columns, int rows) {
    if (practice_command(key) == PracticeCommand::quit) over_ = true;
    else if (page_ == Page::help) turn_page(columns, rows, now_s);
    else if (page_ == Page::tuner) press_in_tuner(key, now_s);
    else if (page_ == Page::progress) press_in_progress(key, now_s);
    else command(key, now_s);
    ask_judge();
}

/// Nothing is asked while another page is looked at.
void PracticeRun::open_page(Page page, double now_s) {
    page_ = page;
    pair_play_.end();
    forget_gestures();
    paused_for_page_ = session_.state() != PracticeState::paused;
    if (paused_for_page_) session_.pause(moment(now_s));
}

void PracticeRun::close_page(double now_s) {
    forget_gestures();
    page_ = Page::practice;
    if (paused_for_page_ && session_.state() == PracticeState::paused) session_.pause(moment(now_s));
    paused_for_page_ = false;
}

void PracticeRun::turn_page(int columns, int rows, double now_s) {
    if (++help_.page < help_pages(help_, columns, rows)) return;
    if (ending_) {
        over_ = true;
        return;
    }
    config_.show_cautions = false;
    close_page(now_s);
}

void PracticeRun::press_in_tuner(const KeyPress& key, double now_s) {
    if (key.character == 'u' || key.special == SpecialKey::escape) {
        sound_.listen_to_strings(false);
        session_.new_stream(moment(now_s));
        close_page(now_s);
    } else if (key.character == 'r') {
        tuner_.reset();
    } else if (key.character == 'p' && sound_.player_is_input()) {
        tuner_.pluck_comes();
        play_open_string();
    }
}

void PracticeRun::open_progress(double now_s) {
    if (!config_.progress) {
        say("No history is kept in this session.", now_s);
        return;
    }
    auto kept = config_.progress();
    if (!kept) {
        say("No progress to show: " + kept.error().message, now_s);
        return;
    }
    progress_.emplace(std::move(kept->source), kept->notice, "g back  q quit");
    open_page(Page::progress, now_s);
}

void PracticeRun::press_in_progress(const KeyPress& key, double now_s) {
    if (key.character != 'g' && progress_->press(key)) return;
    session_.new_stream(moment(now_s));
    close_page(now_s);
    progress_.reset();
}

/// The built-in player sounds the open strings one after the other, the lowest first.
void PracticeRun::play_open_string() {
    const int strings = config_.neck.tuning.strings();
    played_string_ = played_string_ <= 1 ? strings : played_string_ - 1;
    PracticeStep one;
    one.tuning = config_.neck.tuning;
    one.capo = config_.neck.capo;
    one.a4_hz = config_.a4_hz;
    one.grip = Grip(strings);
    one.grip.set(StringNumber(played_string_), Fret(0));
    (void)sound_.play(one, false);  // fails only when many strums wait already: pressed again, it sounds later
}

void PracticeRun::command(const KeyPress& key, double now_s) {
    const auto asked = practice_command(key);
    if (!asked) {
        const std::string which = key.character == 0 ? "That key" : std::string("Key ") + key.character;
        say(which + " does nothing here: ? shows the keys.", now_s);
        return;
    }
    notice_.clear();
    obey(*asked, now_s);
}

void PracticeRun::obey(PracticeCommand command, double now_s) {
    const int strings = config_.neck.tuning.strings();
    switch (command) {
        case PracticeCommand::quit: over_ = true; break;
        case PracticeCommand::help:
            help_ = practice_help();
            open_page(Page::help, now_s);
            break;
        case PracticeCommand::pause: session_.pause(moment(now_s)); break;
        case PracticeCommand::again: session_.repeat(moment(now_s)); break;
        case PracticeCommand::next:
            choose_next();
            session_.skip(moment(now_s));
            break;
        case PracticeCommand::back:
            if (planned_) say("Planned steps do not go back; what was missed comes again.", now_s);
            else session_.back(moment(now_s));
            break;
        case PracticeCommand::hear_target: sound_target(now_s); break;
        case PracticeCommand::hear_key: sound_target(now_s, PromptStyle::together, true); break;
        case PracticeCommand::hear_bass_first: sound_target(now_s, PromptStyle::bass_first); break;
        case PracticeCommand::hear_notes: sound_target(now_s, PromptStyle::note_by_note); break;
        case PracticeCommand::show_grip: session_.show_grip(); break;
        case PracticeCommand::player_right: play(false, now_s); break;
        case PracticeCommand::player_mistake: play(true, now_s); break;
        case PracticeCommand::root_up: change(root_moved(config_.course, 1), now_s); break;
        case PracticeCommand::root_down: change(root_moved(config_.course, -1), now_s); break;
        case PracticeCommand::family: change(next_family(config_.course), now_s); break;
        case PracticeCommand::stage: change(next_stage(config_.course, strings), now_s); break;
        case PracticeCommand::string_set: change(next_string_set(config_.course, strings), now_s); break;
        case PracticeCommand::order: change(next_order(config_.course), now_s); break;
        case PracticeCommand::faster: change_tempo(kTempoStep_bpm, now_s); break;
        case PracticeCommand::slower: change_tempo(-kTempoStep_bpm, now_s); break;
        case PracticeCommand::input: change_input(now_s); break;
        case PracticeCommand::progress: open_progress(now_s); break;
        case PracticeCommand::tuner:
            open_page(Page::tuner, now_s);
            tuner_.reset();
            tuner_.await_pluck();
            played_string_ = 0;
            sound_.listen_to_strings(true);
            break;
    }
}

void PracticeRun::change(const Course& course, double now_s) {
    end_warm_up();
    leave_plan();
    config_.course = course;
    const bool pairs = config_.plan.asking == Asking::into_target;
    auto exercise = pairs ? make_into_target(course, config_.neck, config_.a4_hz) : make_exercise(course, config_.neck, config_.a4_hz);
    if (exercise) exercise = asked_in_way(std::move(exercise).value(), config_.plan.asking, course.order);
    nothing_why_ = exercise ? "" : exercise.error().message;
    if (exercise && !exercise->left_out.empty()) {
        say("Left out: " + exercise->left_out.front() + (exercise->left_out.size() > 1 ? " (and others)" : ""), now_s);
    }
    session_.set_exercise(exercise ? std::move(exercise).value() : Exercise{}, course.order, config_.seed++, moment(now_s));
    ask_judge();
}

void PracticeRun::play(bool mistake, double now_s) {
    const PracticeStep* asked = session_.asked();
    if (asked == nullptr) return;
    if (!sound_.player_is_input()) {
        say("The built-in player is not the input now: i changes the input.", now_s);
        return;
    }
    if (given_for(*asked) != nullptr && asked->asked.asking == Asking::into_target) {
        pair_play_.player(mistake ? PairPlay::Player::plays_mistake : PairPlay::Player::plays_right);
        say(mistake ? "The player plays both on their counts, the approach with a likely mistake." : "The player plays both on their counts.", now_s);
        return;
    }
    auto played = sound_.play(*asked, mistake);
    say(played ? *played : played.error().message, now_s);
}

void PracticeRun::sound_target(double now_s, PromptStyle style, bool key_first) {
    const PracticeStep* asked = session_.asked();
    if (asked == nullptr) return;
    pair_play_.end();
    const PracticeStep prompt = prompt_of(*asked);
    std::vector<SoundedStep> row = key_first ? key_cadence(prompt) : std::vector<SoundedStep>{};
    for (SoundedStep& each : prompt_sounds(prompt, style)) row.push_back(std::move(each));
    const auto length_s = sound_.sound_row(row);
    if (!length_s) {
        say(length_s.error().message, now_s);
        return;
    }
    if (!prompt_is_asking(asked->asked.asking)) session_.helped();
    own_sound_until_s_ = now_s + *length_s;
    if (!sound_.player_is_input()) session_.own_sound_until(moment(now_s).stream_s + *length_s);
}

void PracticeRun::change_input(double now_s) {
    pair_play_.end();
    close();  // what the one before has heard is its own
    auto changed = sound_.change_input();
    say(changed ? *changed : changed.error().message, now_s);
    if (!changed) return;
    forget_gestures();
    session_.new_stream(moment(now_s));
}

void PracticeRun::say(std::string words, double now_s) {
    notice_ = std::move(words);
    notice_until_s_ = now_s + kNoticeShown_s;
}

std::string PracticeRun::notice(double now_s) const { return now_s < notice_until_s_ ? notice_ : ""; }

void PracticeRun::ask_judge() {
    if (told_ == session_.askings() || session_.asked() == nullptr) return;
    told_ = session_.askings();
    judge_.ask(session_.asked()->target());
}

bool PracticeRun::tune() {
    bool any = false;
    dsp::PitchReading reading;
    while (sound_.take_pitch(reading)) {
        tuner_.take(reading);
        any = true;
    }
    return any;
}

/// Once the guitar has been found out of tune, each strum is judged by its own tuning, until older strums tell the same.
void PracticeRun::hear(dsp::StrumEvidence& evidence, double now_s) {
    const auto alone = strum_tuning_cents(evidence);
    const double remembered_cents = evidence.tuning_cents;
    if (strums_alone_ && alone) evidence.tuning_cents = *alone;
    const auto verdict = judge_.consider(evidence);
    if (!verdict) return;
    const HeardStrum heard{*verdict, alone, remembered_cents};
    if (verdict->kind != VerdictKind::right && may_be_muted(verdict->onset_s)) {
        held_ = heard;
        return;
    }
    if (gestures_.holds(verdict->onset_s)) gestures_.forget();
    held_.reset();
    answer(heard, now_s);
}

void PracticeRun::answer(const HeardStrum& heard, double now_s) {
    const auto alone = heard.alone_cents;
    session_.hear(heard.verdict, moment(now_s), alone ? std::optional(against_concert_pitch(*alone, config_.a4_hz)) : std::nullopt);
    keep_attempts();
    if (session_.state() == PracticeState::right_shown) choose_next();
    sound_answer(now_s);
    if (session_.state() == PracticeState::out_of_tune) strums_alone_ = true;
    else if (alone && std::abs(against_concert_pitch(*alone - heard.remembered_cents, 440.0)) <= kStrumsAgree_cents) strums_alone_ = false;
}

/// What the session has for the history goes there, unless the built-in player played it.
void PracticeRun::keep_attempts() {
    const bool wanted = config_.keeper != nullptr && (!sound_.player_is_input() || config_.keep_player);
    while (auto attempt = session_.take_attempt()) {
        if (warm_up_ > 0) summary_.add_warm_up(*attempt);
        else summary_.add(*attempt);
        if (planned_) planned_->answered(*attempt, wall_ms());
        if (wanted) config_.keeper->keep(std::move(*attempt), sound_.source_name());
    }
}

void PracticeRun::close() {
    session_.close();
    keep_attempts();
}

bool PracticeRun::listen(double now_s) {
    if (config_.keeper != nullptr) {
        if (auto notice = config_.keeper->take_notice(); !notice.empty()) say(std::move(notice), now_s);
    }
    if (page_ == Page::tuner) return tune();
    const auto state = session_.state();
    const auto askings = session_.askings();
    const int judged = session_.counts().right + session_.counts().wrong + session_.counts().unheard;
    session_.pass(moment(now_s));
    ask_judge();
    if (page_ == Page::practice) {
        follow_asking(now_s);
        watch_time(now_s);
    }
    take_muted();
    while (sound_.take(evidence_)) {
        if (evidence_.step == 0) undecided_.push_back(evidence_.onset_s);
        if (pair_play_.runs()) pair_play_.consider(evidence_);
        else if (session_.asked() != nullptr && session_.asked()->asked.asking == Asking::into_target) continue;  // between two count-ins
        else if (session_.wants(evidence_.onset_s)) hear(evidence_, now_s);
    }
    follow_gestures(now_s);
    const bool counted = play_pair(now_s);
    const int judged_now = session_.counts().right + session_.counts().wrong + session_.counts().unheard;
    return counted || state != session_.state() || askings != session_.askings() || judged != judged_now;
}

void PracticeRun::draw_tuner_page(Canvas& canvas) const {
    TunerPicture picture;
    picture.tuner = tuner_.view();
    picture.tuning = config_.neck.tuning.text();
    picture.a4_hz = config_.a4_hz;
    picture.source = sound_.source_name();
    picture.trouble = input_warning(sound_.input(), sound_.trouble());
    picture.keys = sound_.player_is_input() ? "u back   p play a string   q quit" : "u back   r forget the strings   q quit";
    draw_tuner(picture, canvas);
}

void PracticeRun::draw(Canvas& canvas, double now_s) const {
    if (page_ == Page::tuner) {
        draw_tuner_page(canvas);
        return;
    }
    if (page_ == Page::progress) {
        progress_->draw(canvas);
        return;
    }
    if (page_ == Page::help) {
        draw_help(canvas, help_);
        return;
    }
    PracticeFacts facts;
    facts.input = sound_.input();
    facts.source_name = sound_.source_name();
    facts.trouble = sound_.trouble();
    facts.player_is_input = sound_.player_is_input();
    facts.own_sound = now_s < own_sound_until_s_;
    facts.order = config_.course.order;
    facts.neck = config_.neck;
    facts.notice = notice(now_s);
    facts.planned = planned_.has_value();
    facts.warm_up = warm_up_;
    facts.warmed_up = warmed_up_;
    facts.why = why_;
    facts.nothing_why = nothing_why_;
    if (!facts.player_is_input) facts.gestures = config_.plan.gestures.text();
    facts.in_time = {pair_play_.count(), config_.plan.tempo_bpm, pair_play_.silent(), sound_.delay_known()};
    if (config_.keeper != nullptr) facts.not_kept = config_.keeper->trouble();
    draw_practice(canvas, practice_view(session_, facts));
}

}  // namespace gripline

// What the keys of a walk do. The second half of walk_run.h.
#include <algorithm>
#include <array>
#include <cmath>

#include "chart/chart.h"
#include "ui/walk_keys.h"
#include "ui/walk_run.h"
#include "ui/walk_screen.h"

namespace gripline {

namespace {

constexpr double kTempoKey_bpm = 5.0, kVolumeKey_db = 3.0;
constexpr std::array<double, 4> kSteps_bpm = {0.0, 2.0, 5.0, 10.0};

std::string whole(double value) { return std::to_string(std::lround(value)); }

HelpView walk_help() {
    HelpView view;
    view.title = "Help";
    view.leads_to = "the walk";
    view.paragraphs = {
        "Space starts a count-in; then strum the grip that is shown on each beat, with the click. Each beat is judged for its notes, its bass and its time while the music goes on. "
        "At the end the chart shows every beat: o right, < early, > late, X wrong, - unheard.",
        "",
    };
    for (std::string& line : walk_key_lines()) view.paragraphs.push_back(std::move(line));
    view.paragraphs.emplace_back("");
    view.paragraphs.emplace_back("Early and late are against the click as you hear it: gripline calibrate measures the delay of your devices once.");
    view.paragraphs.emplace_back("");
    for (std::string& paragraph : caution_paragraphs()) view.paragraphs.push_back(std::move(paragraph));
    return view;
}

}  // namespace

void WalkRun::press(const KeyPress& key, double now_s, int columns, int rows) {
    if (walk_command(key) == WalkCommand::quit) {
        if (state_ == WalkState::walking) end_music(sound_.heard_s(), now_s);
        if (state_ == WalkState::ending) finish(now_s);
        over_ = true;
    } else if (help_) {
        turn_page(columns, rows);
    } else if (state_ == WalkState::ended) {
        press_at_end(key, now_s, columns, rows);
    } else {
        command(key, now_s);
    }
}

void WalkRun::turn_page(int columns, int rows) {
    if (++help_->page < help_pages(*help_, columns, rows)) return;
    config_.show_cautions = false;
    help_.reset();
}

void WalkRun::press_at_end(const KeyPress& key, double now_s, int columns, int rows) {
    const auto asked = walk_command(key);
    const int last = last_judged_chorus(*hearing_);
    const int scrolls = walk_end_scrolls(walk_end_view(facts(now_s), *summary_, end_chorus_), columns, rows);
    if (key.character == ' ') start(now_s);
    else if (asked == WalkCommand::help) help_ = walk_help();
    else if (key.special == SpecialKey::left) end_chorus_ = std::max(end_chorus_ - 1, 1);
    else if (key.special == SpecialKey::right) end_chorus_ = std::min(end_chorus_ + 1, last);
    else if (key.special == SpecialKey::up || key.special == SpecialKey::page_up) end_scroll_ = std::max(end_scroll_ - (key.special == SpecialKey::up ? 1 : rows / 2), 0);
    else if (key.special == SpecialKey::down || key.special == SpecialKey::page_down) end_scroll_ = std::min(end_scroll_ + (key.special == SpecialKey::down ? 1 : rows / 2), scrolls);
    else if (key.character == 'b' || key.special == SpecialKey::escape || key.special == SpecialKey::enter) state_ = WalkState::standing;
}

void WalkRun::command(const KeyPress& key, double now_s) {
    const auto asked = walk_command(key);
    if (!asked) {
        say((key.character == 0 ? "That key" : std::string("Key ") + key.character) + " does nothing here: ? shows the keys.", now_s);
        return;
    }
    notice_.clear();
    WalkWishes& wishes = config_.wishes;
    switch (*asked) {
        case WalkCommand::start_stop: start_or_stop(now_s); break;
        case WalkCommand::help:
            if (state_ == WalkState::walking) end_music(sound_.heard_s(), now_s);
            help_ = walk_help();
            break;
        case WalkCommand::quit: over_ = true; break;
        case WalkCommand::faster: change_tempo(kTempoKey_bpm, now_s); break;
        case WalkCommand::slower: change_tempo(-kTempoKey_bpm, now_s); break;
        case WalkCommand::click:
            wishes.click = static_cast<ClickMode>((static_cast<int>(wishes.click) + 1) % 4);
            say("Click: " + click_words(wishes.click, score(), wishes.bars) + ".", now_s);
            break;
        case WalkCommand::softer:
        case WalkCommand::louder:
            sound_.set_volume_db(sound_.volume_db() + (asked == WalkCommand::louder ? kVolumeKey_db : -kVolumeKey_db));
            say(sound_.sounds() ? "Volume " + whole(sound_.volume_db()) + " dB against the quiet beginning." : "There is no output: nothing can be heard.", now_s);
            break;
        case WalkCommand::line_player:
            wishes.line = static_cast<LinePlayer>((static_cast<int>(wishes.line) + 1) % 3);
            say(std::string("From the next chorus on: ") + line_player_words(wishes.line) + ".", now_s);
            break;
        case WalkCommand::tempo_steps: {
            TempoSteps& steps = music_ ? music_->steps : config_.steps;
            const auto at = std::find(kSteps_bpm.begin(), kSteps_bpm.end(), steps.step_bpm());
            steps.set_step_bpm(at == kSteps_bpm.end() || at + 1 == kSteps_bpm.end() ? kSteps_bpm.front() : *(at + 1));
            say(steps.step_bpm() > 0.0 ? "Tempo steps of " + whole(steps.step_bpm()) + ": up when a chorus passes, down when it fails twice." : "No tempo steps.", now_s);
            break;
        }
        case WalkCommand::first_bar_on: change_bars(1, 0, now_s); break;
        case WalkCommand::first_bar_back: change_bars(-1, 0, now_s); break;
        case WalkCommand::last_bar_on: change_bars(0, 1, now_s); break;
        case WalkCommand::last_bar_back: change_bars(0, -1, now_s); break;
        case WalkCommand::all_bars: change_bars(-kMostBars, kMostBars, now_s); break;
        case WalkCommand::landing: change_landing(now_s); break;
        case WalkCommand::player_plays:
            player_.set_playing(!player_.playing());
            say(!config_.player_is_input ? "The built-in player is not the input: start with --player." : player_.playing() ? "The player plays along." : "The player rests.", now_s);
            break;
        case WalkCommand::player_mistake:
            player_.mistake_next();
            say(config_.player_is_input ? "The player makes a mistake on its next beat." : "The built-in player is not the input: start with --player.", now_s);
            break;
    }
    if (music_) music_->wishes = wishes;
}

void WalkRun::change_tempo(double by_bpm, double now_s) {
    TempoSteps& steps = music_ ? music_->steps : config_.steps;
    steps.set_tempo_bpm(steps.tempo_bpm() + by_bpm);
    say((state_ == WalkState::walking ? "From the next chorus on: " : "") + whole(steps.tempo_bpm()) + " a minute.", now_s);
}

void WalkRun::change_bars(int first_by, int last_by, double now_s) {
    if (state_ != WalkState::standing) return say("Bars can be changed when the music has stopped: space stops it.", now_s);
    BarRange bars{std::max(config_.wishes.bars.first + first_by, 1), std::max(config_.wishes.bars.last + last_by, 1)};
    const int most = static_cast<int>(score().bars.size());
    if (first_by > 0) bars.last = std::max(bars.last, std::min(bars.first, most));   // each end pushes the other
    if (last_by < 0) bars.first = std::min(bars.first, bars.last);
    bars = within(score(), bars);
    if (beat_from(score(), bars, first_count(score(), bars)) == nullptr) return say("There is nothing to play in these bars.", now_s);
    config_.wishes.bars = bars;
    lead_back();
    say(bars == all_bars(score()) ? "The whole chart." : "Bars " + std::to_string(bars.first) + " to " + std::to_string(bars.last) + ", over and over.", now_s);
}

void WalkRun::change_landing(double now_s) {
    if (state_ != WalkState::standing) return say("Landing can be chosen when the music has stopped: space stops it.", now_s);
    config_.landing = !config_.landing;
    if (beat_from(score(), config_.wishes.bars, first_count(score(), config_.wishes.bars)) == nullptr) {
        config_.wishes.bars = all_bars(score());
        lead_back();
    }
    say(config_.landing ? "Landing alone: the first beat of each chord and the approach to it." : "Every beat.", now_s);
}

}  // namespace gripline

#include "ui/walk_run.h"

#include <algorithm>
#include <cmath>

#include "ui/walk_screen.h"

namespace gripline {

namespace {

constexpr double kNoticeShown_s = 4.0;  // as in practice
constexpr std::size_t kBlock_frames = 1024;
/// A verdict is there so long after its strum at the latest (kStepsS of the judge and the chain's windows), half a count at 40 a minute included.
constexpr double kLastVerdict_s = 1.2;
/// And so long it is waited for when the input's sound stands still.
constexpr double kPatience_s = 2.5;
/// While the input is lost, beats older than this are unheard.
constexpr double kLost_s = 0.5;
/// The clocks of both devices are known after a tenth of a second; beyond this they tell no times at all.
constexpr double kNoClocks_s = 2.0;

std::string whole(double value) { return std::to_string(std::lround(value)); }

}  // namespace

WalkRun::WalkRun(const WalkScore& whole, const WalkScore& landing, const WalkRunConfig& config, WalkSound& sound, double now_s)
    : whole_(whole), landing_(landing), config_(config), sound_(sound), player_(config.player), block_(kBlock_frames) {
    config_.wishes.bars = within(whole_, config_.wishes.bars);
    lead_back();
    if (!config.notice.empty()) say(config.notice, now_s);
    else if (sound.hears() && !config.player_is_input && !sound.delay()) say("Delay not measured: gripline calibrate", now_s);
    if (config.show_cautions) {
        help_ = first_start_help();
        help_->paragraphs.back() = "Space starts a count-in; strum the grip that is shown on each beat. The key ? shows all others.";
        help_->leads_to = "the walk";
    }
}

void WalkRun::say(std::string words, double now_s) {
    notice_ = std::move(words);
    notice_until_s_ = now_s + kNoticeShown_s;
}

/// The whole line leads back to its first grip by itself.
void WalkRun::lead_back() {
    const bool loops = config_.loop_end && config_.wishes.choruses != 1 && config_.wishes.bars != all_bars(whole_);
    whole_.loop_end = loops ? config_.loop_end(config_.wishes.bars, false) : std::nullopt;
    landing_.loop_end = loops ? config_.loop_end(config_.wishes.bars, true) : std::nullopt;
}

void WalkRun::start_or_stop(double now_s) {
    if (state_ == WalkState::walking) end_music(sound_.heard_s(), now_s);
    else if (state_ != WalkState::ending) start(now_s);
}

void WalkRun::start(double now_s) {
    notice_.clear();
    if (music_) config_.steps = music_->steps;
    music_.emplace(score(), sound_.rate_hz(), config_.wishes, config_.steps);
    hearing_.emplace(score(), JudgeConfig{.guitar = config_.player_is_input ? nullptr : config_.guitar});
    summary_.reset();
    player_.start();
    while (sound_.take(evidence_)) {}
    told_ = expected_ = 0;
    origin_s_.reset();
    started_s_ = now_s;
    gap_frames_ = 0;
    shown_ = {0, -1};
    state_ = WalkState::walking;
    sound_.begin_music();
    music_->start(config_.wishes.bars.first, sound_.hears());
    play_on(now_s);
}

/// The music ends; what was strummed just before is still to be judged.
void WalkRun::end_music(double at_s, double now_s) {
    gap_frames_ = sound_.gap_frames();
    sound_.end_music();
    state_ = WalkState::ending;
    ended_s_ = now_s;
    ended_at_s_ = at_s;
    hearing_->end_at(at_s);
    config_.steps = music_->steps;
}

void WalkRun::finish(double now_s) {
    if (origin_s_) hearing_->stop(ended_at_s_, *origin_s_);
    tell_judged();
    if (hearing_->results().empty()) {
        state_ = WalkState::standing;
        say(!sound_.hears() ? "The walk is over. Nothing was judged without an input." : config_.wishes.line == LinePlayer::tool ? "The tool has played." : "Stopped before a beat was judged.", now_s);
        return;
    }
    state_ = WalkState::ended;
    end_chorus_ = last_judged_chorus(*hearing_);
    end_scroll_ = 0;
    summary_ = summarise(*hearing_, 60.0 / hearing_->count_s(hearing_->results().back().result.index));
    if (!config_.done) return;
    std::string said = config_.done({score(), *hearing_, music_->schedule(), *summary_, gap_frames_, sound_.input().lost_frames});
    if (!said.empty()) say(std::move(said), now_s);
}

void WalkRun::play_on(double now_s) {
    const auto judged = [this](std::size_t passage) { return hearing_->chorus(passage); };
    for (std::size_t wanted = sound_.wanted_frames(); wanted > 0;) {
        const std::span<float> frames(block_.data(), std::min(wanted, block_.size()));
        music_->render(frames, judged);
        sound_.write(frames);
        wanted -= frames.size();
    }
    if (music_->finished_at(sound_.heard_s())) end_music(music_->schedule().end_s(), now_s);
}

bool WalkRun::hear(double now_s) {
    if (state_ == WalkState::walking)
        if (const auto origin_s = sound_.input_origin_s()) origin_s_ = origin_s;
    if (!origin_s_) {
        if (sound_.hears() && state_ == WalkState::walking && now_s - started_s_ > kNoClocks_s) say("The sound devices tell no times: nothing can be judged.", now_s);
        return false;
    }
    const std::size_t before = hearing_->results().size();
    const auto& passages = music_->schedule().passages();
    for (; expected_ < passages.size(); ++expected_) hearing_->expect(expected_, passages[expected_], *origin_s_);
    const double heard_s = state_ == WalkState::walking ? sound_.heard_s() : ended_at_s_;
    if (config_.player_is_input && state_ == WalkState::walking) player_.play_ahead(score(), music_->schedule(), heard_s, *origin_s_, sound_);
    while (sound_.take(evidence_)) hearing_->consider(evidence_, music_->schedule(), *origin_s_);
    const InputState input = sound_.input();
    const double stream_s = input.source == SourceState::lost ? std::max(input.stream_s, *origin_s_ + heard_s - kLost_s) : input.stream_s;
    // Music that stands still (its output is lost) lets no beat go by.
    hearing_->pass(state_ == WalkState::walking ? std::min(stream_s, *origin_s_ + heard_s) : stream_s, *origin_s_);
    tell_judged();
    if (state_ == WalkState::ending && (stream_s > *origin_s_ + ended_at_s_ + kLastVerdict_s || input.source == SourceState::lost)) finish(now_s);
    return hearing_->results().size() != before;
}

std::optional<WalkRun::CountNow> WalkRun::count_now() const {
    if (state_ != WalkState::walking) return std::nullopt;
    const auto place = music_->schedule().place(std::max(sound_.heard_s(), 0.0));
    if (!place) return std::nullopt;
    const Passage& passage = music_->schedule().passages()[place->passage];
    return CountNow{place->passage, place->count, place->share * (passage.at_s(place->count + 1) - passage.at_s(place->count))};
}

void WalkRun::tell_judged() {
    for (; told_ < hearing_->results().size(); ++told_) {
        const BeatResult& result = hearing_->results()[told_].result;
        if (config_.judged) config_.judged(hearing_->beats()[result.index], result, 60.0 / hearing_->count_s(result.index));
    }
}

bool WalkRun::listen(double now_s) {
    sound_.look();
    const WalkState state = state_;
    bool news = false;
    if (state_ == WalkState::walking) play_on(now_s);
    if (state_ == WalkState::walking || state_ == WalkState::ending) {
        news = hear(now_s);
    } else {
        while (sound_.take(evidence_)) {}
    }
    if (state_ == WalkState::ending && (!origin_s_ || now_s - ended_s_ > kPatience_s)) finish(now_s);
    if (state_ == WalkState::walking) {
        const auto place = count_now();
        const std::pair<std::size_t, int> now = place ? std::pair(place->passage, place->count) : std::pair<std::size_t, int>(0, -1);
        news = news || now != shown_;
        shown_ = now;
    }
    std::string trouble = sound_.trouble();
    news = news || trouble != trouble_ || state != state_;
    trouble_ = std::move(trouble);
    return news;
}

std::string WalkRun::delay_words() const {
    if (config_.player_is_input || !sound_.hears()) return "";
    const auto delay = sound_.delay();
    if (!delay) return "";
    return "Delay " + whole(delay->delay_ms) + " ms" + (delay->by_hand ? " (by hand)" : "");
}

WalkFacts WalkRun::facts(double now_s) const {
    WalkFacts out;
    out.score = &score();
    const bool runs = state_ == WalkState::walking || state_ == WalkState::ending;
    out.music = runs && music_ ? &*music_ : nullptr;
    out.hearing = (runs || state_ == WalkState::ended) && hearing_ ? &*hearing_ : nullptr;
    out.state = state_;
    out.heard_s = state_ == WalkState::walking ? sound_.heard_s() : 0.0;
    out.wishes = config_.wishes;
    out.steps = steps();
    out.landing = config_.landing;
    out.volume_db = sound_.volume_db();
    out.input = sound_.input();
    out.listened = sound_.hears();
    out.silent = !sound_.sounds();
    out.player_is_input = config_.player_is_input;
    out.source_name = sound_.source_name();
    out.trouble = sound_.trouble();
    out.notice = notice(now_s);
    out.delay = delay_words();
    out.unmeasured = sound_.hears() && !config_.player_is_input && !sound_.delay();
    return out;
}

void WalkRun::draw(Canvas& canvas, double now_s) const {
    if (help_) {
        draw_help(canvas, *help_);
    } else if (state_ == WalkState::ended) {
        WalkEndView view = walk_end_view(facts(now_s), *summary_, end_chorus_);
        view.scroll = end_scroll_;
        draw_walk_end(canvas, view);
    } else {
        draw_walk(canvas, walk_view(facts(now_s)));
    }
}

}  // namespace gripline

#include "ui/walk_music.h"

#include <algorithm>
#include <cmath>

#include "base/text.h"

namespace gripline {

namespace {

struct ClickRow {
    ClickMode mode;
    const char* option;
    const char* words;
};
constexpr ClickRow kClicks[] = {
    {ClickMode::accented, "accented", " accented"},  // behind the counts
    {ClickMode::accents_alone, "accents", " alone"},
    {ClickMode::plain, "plain", "every count alike"},
    {ClickMode::off, "off", "off"},
};

/// The rest after a chorus that tempo steps hang on: long enough for the last beat to be judged (0.6 s) and what follows to be rendered ahead (0.4 s).
constexpr double kLeastRest_s = 1.2;

std::string whole(double value) { return std::to_string(std::lround(value)); }

/// "2 and 4", "1"; "each bar's strong counts" where the bars differ.
std::string accent_words(const WalkScore& score, BarRange bars) {
    const auto accents = [&](int bar) -> const std::vector<int>& { return score.bars[static_cast<std::size_t>(bar - 1)].accents; };
    std::string out;
    for (const int count : accents(bars.first)) out += (out.empty() ? "" : " and ") + std::to_string(count);
    for (int bar = bars.first; bar <= bars.last; ++bar)
        if (accents(bar) != accents(bars.first)) return "each bar's strong counts";
    return out;
}

}  // namespace

std::string click_words(ClickMode mode, const WalkScore& score, BarRange bars) {
    const auto* row = std::find_if(std::begin(kClicks), std::end(kClicks), [&](const ClickRow& each) { return each.mode == mode; });
    const bool accents = mode == ClickMode::accented || mode == ClickMode::accents_alone;
    return accents ? accent_words(score, within(score, bars)) + row->words : row->words;
}

Result<ClickMode> parse_click(const std::string& word) {
    for (const ClickRow& row : kClicks)
        if (word == row.option) return row.mode;
    return Error{quoted(word) + " is no click: accented, accents, plain or off"};
}

const char* line_player_words(LinePlayer who) {
    switch (who) {
        case LinePlayer::player: return "you play";
        case LinePlayer::by_turns: return "call and answer";
        case LinePlayer::tool: break;
    }
    return "the tool plays";
}

WalkMusic::WalkMusic(const WalkScore& score, int rate_hz, const WalkWishes& wishes_, const TempoSteps& steps_)
    : wishes(wishes_), steps(steps_), score_(score), rate_hz_(rate_hz), band_(rate_hz) {}

void WalkMusic::start(int from_bar, bool listened) {
    band_.reset();
    schedule_ = {};
    passage_ = 0;
    count_ = chorus_ = 0;
    from_bar_ = std::clamp(from_bar, wishes.bars.first, wishes.bars.last);
    listened_ = listened;
    tools_turn_ = true;
    all_planned_ = false;
    last_tempo_bpm_ = steps.tempo_bpm();
    step_words_.clear();
    add_counts(PassageKind::count_in, 0.0, wishes.count_in_bars);
}

void WalkMusic::add_counts(PassageKind kind, double least_s, int bars) {
    const int next = chorus_ == 0 ? from_bar_ : wishes.bars.first;  // counted as the bar that follows
    const ScoreBar& bar = score_.bars[static_cast<std::size_t>(next - 1)];
    const double tempo_bpm = kind == PassageKind::rest ? last_tempo_bpm_ : steps.tempo_bpm();
    while (bar.counts * bar.share * bars * 60.0 / tempo_bpm < least_s) ++bars;
    Passage passage{.kind = kind, .tempo_bpm = tempo_bpm, .counts = bar.counts * bars, .chorus = chorus_ + 1, .bars = {next, next}};
    if (bar.share != 1.0)
        for (int count = 0; count <= passage.counts; ++count) passage.places.push_back(count * bar.share);
    schedule_.add(passage);
}

void WalkMusic::add_chorus(int from_bar) {
    const BarRange bars = within(score_, {from_bar, wishes.bars.last});
    Passage passage;
    passage.tempo_bpm = last_tempo_bpm_ = steps.tempo_bpm();
    passage.counts = counts_of(score_, bars);
    if (std::any_of(score_.bars.begin(), score_.bars.end(), [](const ScoreBar& bar) { return bar.share != 1.0; })) passage.places = count_places(score_, bars);
    passage.chorus = ++chorus_;
    passage.bars = bars;
    passage.tool_plays = wishes.line == LinePlayer::tool || (wishes.line == LinePlayer::by_turns && tools_turn_);
    tools_turn_ = wishes.line != LinePlayer::by_turns || !passage.tool_plays;
    passage.judged = listened_ && !passage.tool_plays;
    schedule_.add(passage);
}

void WalkMusic::decide(const ChorusResult& result) {
    const bool passed = result.passes();
    const TempoStep step = steps.take(result);
    step_words_ = passed ? "Passed" : !result.notes_pass() ? "Notes: " + std::to_string(result.right) + " of " + std::to_string(result.beats) + " right"
                                                           : "Time: " + std::to_string(result.in_time) + " of " + std::to_string(result.heard) + " in time";
    step_words_ += step == TempoStep::same ? ". Again at " : step == TempoStep::up ? ". Up to " : ", twice not passed. Down to ";
    step_words_ += whole(steps.tempo_bpm()) + " a minute.";
}

/// What comes after the last passage. A chorus on which a tempo step hangs is followed by a rest, so that it can be judged to its last beat.
void WalkMusic::plan_passage(const std::function<ChorusResult(std::size_t)>& judged) {
    const auto& passages = schedule_.passages();
    if (passages.empty()) return add_chorus(from_bar_);
    const Passage last = passages.back();
    const std::size_t index = passages.size() - 1;
    if (last.kind == PassageKind::count_in) return add_chorus(chorus_ == 0 ? from_bar_ : wishes.bars.first);
    if (last.kind == PassageKind::rest) {
        decide(judged(index - 1));
        return add_counts(PassageKind::count_in, 0.0, wishes.count_in_bars);
    }
    if (wishes.choruses > 0 && chorus_ >= wishes.choruses) {
        all_planned_ = true;
        return;
    }
    const bool whole_chorus = last.bars == wishes.bars;
    if (steps.step_bpm() > 0.0 && last.judged && whole_chorus) return add_counts(PassageKind::rest, kLeastRest_s, 1);
    if (steps.tempo_bpm() != last_tempo_bpm_) {
        last_tempo_bpm_ = steps.tempo_bpm();
        return add_counts(PassageKind::count_in, 0.0, wishes.count_in_bars);
    }
    add_chorus(wishes.bars.first);
}

/// Plans the sounds of the next count, which must lie in a passage.
void WalkMusic::plan_count() {
    const Passage& passage = schedule_.passages()[passage_];
    const auto frame_of = [&](int count) { return static_cast<std::uint64_t>(std::llround(passage.at_s(count) * rate_hz_)); };
    if (passage.kind == PassageKind::count_in) {
        const int each = score_.bars[static_cast<std::size_t>(passage.bars.first - 1)].counts;
        band_.click(frame_of(count_), count_ % each == 0 ? Click::accent : Click::weak);
    } else if (passage.kind == PassageKind::chorus) {
        const int count = first_count(score_, passage.bars) + count_;
        const ScoreBar& bar = bar_on(score_, count);
        const bool accent = std::find(bar.accents.begin(), bar.accents.end(), count - bar.first_count + 1) != bar.accents.end();
        if (wishes.click == ClickMode::accented || wishes.click == ClickMode::plain || (wishes.click == ClickMode::accents_alone && accent))
            band_.click(frame_of(count_), wishes.click != ClickMode::accented ? Click::alike : accent ? Click::accent : Click::weak);
        const ScoreBeat* beat = beat_on(score_, passage.bars, count);
        if (passage.tool_plays && beat != nullptr && beat->count == count) {
            const Target& target = beat->beat.target;
            if (auto strum = plan_strum(*target.grip, target.tuning, target.capo)) {
                strum->a4_hz = target.a4_hz;
                strum->seed = static_cast<std::uint32_t>(count + 1);
                strum->ring_s = 0.92 * (passage.at_s(std::min(count_ + beat->length_counts, passage.counts)) - passage.at_s(count_));  // the hand lets go just before the next grip (common practice)
                band_.strum(frame_of(count_), *strum);
            }
        }
    }
    if (++count_ < passage.counts) return;
    count_ = 0;
    ++passage_;
}

void WalkMusic::render(std::span<float> frames, const std::function<ChorusResult(std::size_t)>& judged) {
    const double until_s = static_cast<double>(band_.position() + frames.size()) / rate_hz_;
    for (;;) {
        if (passage_ >= schedule_.passages().size()) {
            if (all_planned_ || schedule_.end_s() >= until_s) break;
            plan_passage(judged);
            continue;
        }
        const Passage& passage = schedule_.passages()[passage_];
        if (passage.at_s(count_) >= until_s) break;
        plan_count();
    }
    band_.process(frames);
}

}  // namespace gripline

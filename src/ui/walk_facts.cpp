#include "ui/walk_facts.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "practice/walk_words.h"
#include "theory/chord_words.h"
#include "ui/practice_words.h"
#include "ui/walk_keys.h"

namespace gripline {

namespace {

constexpr std::size_t kMarksShown = 16;  // as many as the widest screens have room for

std::string whole(double value) { return std::to_string(std::lround(value)); }

/// Where the music is: the passage that is heard, and the count of the chorus.
struct Now {
    const Passage* passage = nullptr;  // nullptr: no music
    int count = 0;                     // from 0, of the passage
    BarRange bars;                     // of the chorus, or of the one that follows
    int in_score = 0;                  // count from the score's first
};

Now now_of(const WalkFacts& facts) {
    Now out;
    out.bars = facts.wishes.bars;
    out.in_score = first_count(*facts.score, out.bars);
    if (facts.music == nullptr || facts.state != WalkState::walking) return out;
    const auto& passages = facts.music->schedule().passages();
    const auto place = facts.music->schedule().place(std::max(facts.heard_s, 0.0));
    if (!place) return out;
    out.passage = &passages[place->passage];
    out.count = place->count;
    const bool in_chorus = out.passage->kind == PassageKind::chorus;
    if (in_chorus) out.bars = out.passage->bars;
    else if (place->passage + 1 < passages.size() && passages[place->passage + 1].kind == PassageKind::chorus) out.bars = passages[place->passage + 1].bars;
    out.in_score = first_count(*facts.score, out.bars) + (in_chorus ? out.count : 0);
    return out;
}

GripPanel panel_of(const ScoreBeat* beat) {
    GripPanel panel;
    if (beat == nullptr || !beat->beat.target.grip) return panel;
    const Grip& grip = *beat->beat.target.grip;
    panel.chord = plain_chord_text(beat->beat.chord);  // the large letters know no other signs
    panel.sounds = beat->sounds;
    panel.fret_string = grip.text();
    for (int number = grip.strings(); number >= 1; --number) {
        const auto fret = grip.fret(StringNumber(number));
        if (!fret) continue;
        panel.strings.push_back(std::to_string(number));
        panel.frets.push_back(std::to_string(fret->number()));
    }
    return panel;
}

std::size_t bar_index(const WalkScore& score, int count) { return static_cast<std::size_t>(&bar_on(score, count) - score.bars.data()); }

std::string place_words(const WalkFacts& facts, const Now& now) {
    const std::string bar = "bar " + std::to_string(bar_index(*facts.score, now.in_score) + 1) + " of " + std::to_string(facts.score->bars.size());
    if (now.passage == nullptr) return bar;
    std::string chorus = "chorus " + std::to_string(now.passage->chorus);
    if (facts.wishes.choruses > 0) chorus += " of " + std::to_string(facts.wishes.choruses);
    return chorus + ", " + bar;
}

/// The grip that is due and the one after it.
void fill_grips(WalkView& view, const WalkFacts& facts, const Now& now) {
    const bool in_chorus = now.passage != nullptr && now.passage->kind == PassageKind::chorus;
    const ScoreBeat* due = in_chorus ? beat_on(*facts.score, now.bars, now.in_score) : beat_from(*facts.score, now.bars, now.in_score);
    const ScoreBeat* next = beat_from(*facts.score, now.bars, due != nullptr ? due->count + 1 : now.in_score + 1);
    const bool last_chorus = in_chorus && facts.wishes.choruses > 0 && now.passage->chorus >= facts.wishes.choruses;
    const bool comes_again = next == nullptr && !last_chorus;
    if (comes_again) next = beat_from(*facts.score, facts.wishes.bars, first_count(*facts.score, facts.wishes.bars));
    view.now_label = !in_chorus ? "first" : due == nullptr ? "silence" : "now, beat " + std::to_string(due->beat.beat);
    view.now = panel_of(due);
    view.next_label = next == nullptr ? "the end" : comes_again ? "next chorus" : "next";
    view.next = panel_of(next);
}

void fill_headline(WalkView& view, const WalkFacts& facts, const Now& now) {
    if (facts.state == WalkState::ending) {
        view.headline = "The last strums are being judged.";
        return;
    }
    if (now.passage == nullptr) {
        if (facts.unmeasured) view.last_word = "Early and late are off by your devices' delay: gripline calibrate measures it.";
        view.headline = "Space starts, after a count-in.";
        return;
    }
    view.counting_in = now.passage->kind != PassageKind::chorus;
    if (now.passage->kind == PassageKind::rest) {
        view.headline = facts.music->step_words().empty() || facts.music->schedule().passages().back().kind == PassageKind::rest ? "Rest." : facts.music->step_words();
    } else if (now.passage->kind == PassageKind::count_in) {
        view.headline = "Count in" + (facts.music->step_words().empty() ? std::string(".") : ". " + facts.music->step_words());
        view.tone = Tone::warning;
    } else if (now.passage->tool_plays) {
        view.headline = "Listen: the tool plays.";
    } else if (!now.passage->judged) {
        view.headline = "You play. Nothing is judged without an input.";
    } else {
        view.headline = "You play.";
        view.tone = Tone::good;
    }
}

BeatMark mark_of(const WalkBeat& beat, const BeatResult& result) {
    BeatMark mark;
    mark.place = std::to_string(beat.bar) + "." + std::to_string(beat.beat);
    mark.verdict = word(result.verdict.kind);
    if (result.off_ms) mark.off = signed_words(*result.off_ms);
    mark.tone = result.verdict.kind == VerdictKind::right ? Tone::good : Tone::bad;
    return mark;
}

void fill_heard(WalkView& view, const WalkFacts& facts) {
    PracticeCounts counts;
    if (facts.hearing != nullptr) {
        const auto& results = facts.hearing->results();
        for (const HeardBeat& each : results) ++(each.result.verdict.kind == VerdictKind::right ? counts.right : each.result.verdict.kind == VerdictKind::wrong ? counts.wrong : counts.unheard);
        for (std::size_t i = results.size() > kMarksShown ? results.size() - kMarksShown : 0; i < results.size(); ++i) {
            const WalkBeat& beat = facts.hearing->beats()[results[i].result.index];
            view.last.push_back(mark_of(beat, results[i].result));
            if (results[i].result.verdict.kind == VerdictKind::wrong) view.last_word = view.last.back().place + ": " + beat_words(beat, results[i].result);
        }
    }
    view.counts_words = counts_words(counts);
}

std::string warning_of(const WalkFacts& facts) {
    if (!facts.trouble.empty() || !facts.listened) return facts.trouble;
    if (facts.input.source == SourceState::lost) return "The input is lost: check its cable; it is looked for again.";
    if (facts.input.silent) return "No signal at all: check cable, volume, mute, and the choice of input (--device).";
    return input_warning(facts.input, "");
}

std::vector<BarCell> bar_cells(const WalkFacts& facts) {
    std::vector<BarCell> out;
    int number = 0;
    for (const ScoreBar& bar : facts.score->bars) {
        BarCell cell;
        cell.chords = bar.chords;
        cell.section = bar.section;
        cell.number = ++number;
        cell.in_loop = number >= facts.wishes.bars.first && number <= facts.wishes.bars.last;
        out.push_back(std::move(cell));
    }
    return out;
}

char mark_sign(const BeatResult& result, double tempo_bpm) {
    if (result.verdict.kind == VerdictKind::unheard) return kMarkUnheard;
    if (result.verdict.kind == VerdictKind::wrong) return kMarkWrong;
    if (result.off_ms && std::abs(*result.off_ms) > in_time_ms(tempo_bpm)) return *result.off_ms < 0.0 ? kMarkEarly : kMarkLate;
    return kMarkRight;
}

}  // namespace

std::string wishes_words(const WalkFacts& facts) {
    std::string out = "click: " + click_words(facts.wishes.click, *facts.score, facts.wishes.bars) + ", " + line_player_words(facts.wishes.line);
    if (facts.wishes.bars != all_bars(*facts.score)) out += ", bars " + std::to_string(facts.wishes.bars.first) + " to " + std::to_string(facts.wishes.bars.last);
    if (facts.landing) out += ", landing";
    if (facts.steps.step_bpm() > 0.0) out += ", steps of " + whole(facts.steps.step_bpm()) + " up to " + whole(facts.steps.most_bpm());
    if (facts.volume_db != 0.0) out += ", " + signed_words(facts.volume_db) + " dB";
    return out;
}

WalkView walk_view(const WalkFacts& facts) {
    WalkView view;
    const Now now = now_of(facts);
    view.title = facts.score->title;
    view.place = place_words(facts, now);
    view.tempo = whole(now.passage != nullptr ? now.passage->tempo_bpm : facts.steps.tempo_bpm()) + " a minute";
    if (now.passage != nullptr && facts.steps.tempo_bpm() != now.passage->tempo_bpm) view.tempo += ", then " + whole(facts.steps.tempo_bpm());
    fill_grips(view, facts, now);
    const ScoreBar& bar = bar_on(*facts.score, now.in_score);
    view.counts = bar.counts;
    if (now.passage != nullptr) view.count = now.passage->kind == PassageKind::chorus ? now.in_score - bar.first_count + 1 : now.count % bar.counts + 1;
    fill_headline(view, facts, now);
    fill_heard(view, facts);
    view.bars = bar_cells(facts);
    view.bars[bar_index(*facts.score, now.in_score)].current = true;
    view.settings = wishes_words(facts);
    view.level = {facts.input.level_db, facts.input.peak_db, facts.listened && facts.input.source == SourceState::running};
    view.source = facts.source_name + (facts.delay.empty() ? "" : ". " + facts.delay);
    view.warning = warning_of(facts);
    view.notice = facts.notice;
    view.keys = walk_key_words(facts.state == WalkState::walking, facts.player_is_input);
    return view;
}

int last_judged_chorus(const WalkHearing& hearing) { return hearing.results().empty() ? 0 : hearing.results().back().chorus; }

std::vector<BeatResult> beat_results(const WalkHearing& hearing) {
    std::vector<BeatResult> out;
    for (const HeardBeat& each : hearing.results()) out.push_back(each.result);
    return out;
}

WalkSummary summarise(const WalkHearing& hearing, double tempo_bpm) { return summarise_walk(hearing.beats(), beat_results(hearing), hearing.strums_between(), tempo_bpm); }

WalkEndView walk_end_view(const WalkFacts& facts, const WalkSummary& summary, int chorus) {
    WalkEndView view;
    view.title = facts.score->title;
    view.headline = walk_headline(summary);
    view.lines = walk_lines(summary);
    view.suggestion = summary.suggestion;
    view.bars = bar_cells(facts);
    for (std::size_t i = 0; i < view.bars.size(); ++i) view.bars[i].marks.assign(static_cast<std::size_t>(facts.score->bars[i].counts), kMarkNone);
    if (!facts.notice.empty()) view.lines.push_back(facts.notice);
    double tempo_bpm = facts.steps.tempo_bpm();
    for (const HeardBeat& each : facts.hearing->results()) {
        if (each.chorus != chorus) continue;
        const WalkBeat& beat = facts.hearing->beats()[each.result.index];
        tempo_bpm = 60.0 / facts.hearing->count_s(each.result.index);
        view.bars[static_cast<std::size_t>(beat.bar - 1)].marks[static_cast<std::size_t>(beat.beat - 1)] = mark_sign(each.result, tempo_bpm);
    }
    if (last_judged_chorus(*facts.hearing) > 1) view.title += ", chorus " + std::to_string(chorus) + " at " + whole(tempo_bpm) + " a minute";
    view.foot = "space again  b back  " + std::string(last_judged_chorus(*facts.hearing) > 1 ? "left, right: chorus  " : "") + "q quit";
    return view;
}

}  // namespace gripline

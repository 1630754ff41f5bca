#include "ui/practice_words.h"

#include <algorithm>

#include "fretboard/diagram.h"
#include "practice/exercise_asking.h"
#include "practice/verdict_words.h"
#include "ui/practice_keys.h"
#include "ui/practice_words_pair.h"

namespace gripline {
namespace {

/// After so many wrong answers in a row the keys that help are named (judgement).
constexpr int kHintAfterWrong = 3;

/// By ear, what is asked must not be read.
bool by_ear(const PracticeSession& session) { return session.asked()->asked.asking == Asking::by_ear && !session.grip_shown(); }

/// The step beside it is shown, the step asked is not.
bool from_given(const PracticeSession& session) { return session.asked()->asked.asking == Asking::next_step && !session.grip_shown(); }

/// A note of a scale on one string: it is played, not strummed, and its own name says what is asked.
bool single_note(const PracticeStep& step) { return step.notes().size() == 1; }

std::string asked_words(const PracticeStep& step) {
    if (single_note(step)) return step.bass + " on string " + std::to_string(step.notes().front().string.number());
    return step.chord + " with " + step.bass + " in the bass";
}

void fill_asked(PracticeView& view, const PracticeSession& session, const Neck& neck, int warmed_up) {
    const PracticeStep* asked = session.asked();
    if (asked == nullptr) return;
    if (!session.grip_shown()) {
        view.place = "step " + std::to_string(session.steps_done() - warmed_up + 1);
        if (by_ear(session)) return;
        if (const PracticeStep* given = given_for(*asked)) {
            view.chord = given->chord;
            view.bass = given->bass;
            view.fret_string = given->grip.text();
            view.diagram = neck_diagram(given->grip, neck);
            return;
        }
        view.chord = single_note(*asked) ? asked->bass : asked->chord;
        view.bass = asked->bass;
        view.fret_string = "from memory";
        return;
    }
    view.place = "step " + std::to_string(session.place() + 1) + " of " + std::to_string(session.exercise().steps.size());
    view.chord = single_note(*asked) ? asked->bass : asked->chord;
    view.bass = asked->bass;
    view.fret_string = asked->grip.text();
    const bool shown = session.verdict().has_value() && session.verdict()->kind != VerdictKind::unheard;
    view.strings = strings_heard(*asked, session.verdict());
    view.heard = shown;
    view.diagram = neck_diagram(asked->grip, neck);
}

void fill_listening(PracticeView& view, const PracticeSession& session, const std::string& why) {
    const PracticeStep& asked = *session.asked();
    view.state = "Listening";
    if (!session.verdict()) {
        if (!why.empty()) {
            view.details.push_back("Why this: " + why + ".");
            view.brief_why = "Why: " + why.substr(0, why.find_first_of(";,"));
        }
        if (by_ear(session)) {
            view.headline = "Listen, then play it. h sounds it again.";
            return;
        }
        view.headline = from_given(session) ? "From here play " + next_step_words(asked) + "." : (single_note(asked) ? "Play " : "Strum ") + asked_words(asked) + ".";
        return;
    }
    view.headline = "Again: " + (by_ear(session) ? "what you heard; h sounds it" : from_given(session) ? next_step_words(asked) : asked_words(asked)) + ".";
    view.details.push_back("Last time: " + verdict_words(*session.verdict(), asked).headline);
    if (session.wrong_in_a_row() >= kHintAfterWrong) view.next = "h lets you hear it, n leaves it out.";
}

std::string next_words(const PracticeStep& next) {
    if (next.asked.asking == Asking::by_ear) return "Next: listen.";
    if (next.asked.asking == Asking::into_target) return "Next: " + pair_asked_words(next) + ".";
    if (const PracticeStep* given = given_for(next)) return "Next: from " + given->chord + ", bass " + given->bass + ", " + next_step_words(next) + ".";
    const std::string chord = "Next: " + (single_note(next) ? asked_words(next) : next.chord + ", bass " + next.bass);
    return chord + (next.asked.asking == Asking::named ? "." : ", " + next.grip.text() + ".");
}

/// "approach from below into F7", "C dominant seventh".
std::string planned_words(const PracticeStep& step) {
    const Attempt& asked = step.asked;
    if (asked.from && step.given) return "approach from " + std::string(word(*asked.from)) + " into " + step.given->chord;
    if (asked.from) return std::string("approach from ") + (*asked.from == From::below ? "below" : "above") + " into " + asked.root.text() + asked.quality;
    return asked.root.text() + " " + std::string(name(asked.family)) + (asked.place == Sounds::passing ? ", passing" : "");
}

/// The row of easy grips that comes first.
void fill_warm_up(PracticeView& view, const PracticeSession& session, int steps) {
    view.exercise = "Warm-up, strings " + session.exercise().string_set;
    view.place = "warm-up " + std::to_string(std::min(session.steps_done() + 1, steps)) + " of " + std::to_string(steps);
}

void fill_verdict(PracticeView& view, const PracticeSession& session, int warm_up) {
    VerdictWords words = session.pair() ? pair_words(*session.pair(), *session.asked()) : verdict_words(*session.verdict(), *session.asked());
    const std::string again = session.pair() ? "The same again after a count-in." : single_note(*session.asked()) ? "The same again: play when ready." : "The same again: strum when ready.";
    view.state = "Heard";
    view.headline = std::move(words.headline);
    view.details = std::move(words.details);
    switch (session.state()) {
        case PracticeState::right_shown:
            view.tone = Tone::good;
            view.next = warm_up > 0 && session.steps_done() + 1 >= warm_up ? "Next: practice begins." : next_words(*session.next());
            break;
        case PracticeState::wrong_shown:
            view.tone = Tone::bad;
            view.next = again;
            break;
        default:
            view.tone = Tone::warning;
            view.next = again;
    }
}

void fill_state(PracticeView& view, const PracticeSession& session, const PracticeFacts& facts) {
    switch (session.state()) {
        case PracticeState::nothing_to_ask:
            view.state = "Waiting";
            view.headline = "Nothing to ask: " + facts.nothing_why;
            break;
        case PracticeState::paused:
            view.state = "Paused";
            view.headline = "Paused. Space goes on.";
            break;
        case PracticeState::listening:
            if (session.asked()->asked.asking == Asking::into_target) fill_pair_listening(view, session, facts);
            else fill_listening(view, session, facts.why);
            if (facts.warm_up > 0 && !session.verdict()) {
                view.details.emplace_back("Slowly and softly, to warm up. At pain stop; a teacher or a clinician knows better than a program.");
                view.brief_why = "Slowly, softly; at pain stop.";
            }
            break;
        case PracticeState::out_of_tune:
            view.state = "Out of tune";
            view.headline = out_of_tune_words(session.out_of_tune_cents().value_or(0.0)) + " (key u).";
            view.details.push_back("A capo or a hard grip may pull strings too. Nothing is judged or counted until a strum is in tune.");
            view.next = std::string("In tune again: ") + (single_note(*session.asked()) ? "play " : "strum ") + asked_words(*session.asked()) + ".";
            view.tone = Tone::warning;
            break;
        default: fill_verdict(view, session, facts.warm_up);
    }
    if (facts.input.source != SourceState::running) view.state = "No input";
    else if (facts.own_sound && session.state() == PracticeState::listening) view.state = "Sounding";
}

}  // namespace

std::string input_warning(const InputState& input, const std::string& trouble, bool can_change) {
    if (input.source == SourceState::lost) return trouble.empty() ? std::string("The input is lost: check cable and device") + (can_change ? "; i changes the input." : ".") : trouble;
    if (input.source == SourceState::ended) return can_change ? "The recording has ended: i changes the input." : "The recording has ended.";
    if (input.silent) return std::string("No signal at all: check cable, volume, mute and ") + (can_change ? "the choice of input (i)." : "the input's own switches.");
    if (input.clipping) return "The input clips: turn the guitar or the input down.";
    if (input.hum) return "Mains hum: check the cable, move away from lamps, screens and power supplies.";
    if (input.lost_frames > 0) return std::to_string(input.lost_frames) + " frames of sound lost so far: close other programs.";
    return {};
}

std::string counts_words(const PracticeCounts& counts) {
    return "right " + std::to_string(counts.right) + "  wrong " + std::to_string(counts.wrong) + "  unheard " + std::to_string(counts.unheard);
}

PracticeView practice_view(const PracticeSession& session, const PracticeFacts& facts) {
    PracticeView view;
    const Exercise& exercise = session.exercise();
    if (!exercise.family.empty()) {
        const std::string strings = exercise.string_set.size() == 1 ? ", string " : ", strings ";
        view.exercise = exercise.family + ", " + exercise.stage + strings + exercise.string_set + ", " + word(facts.order);
    }
    fill_asked(view, session, facts.neck, facts.warmed_up);
    if (const PracticeStep* asked = session.asked(); asked != nullptr && facts.planned) {
        const bool hidden = by_ear(session);
        view.exercise = (hidden ? "by ear" : planned_words(*asked) + ", strings " + exercise.string_set) + ", planned";
        view.place = "step " + std::to_string(session.steps_done() - facts.warmed_up + 1);
    }
    if (facts.warm_up > 0) fill_warm_up(view, session, facts.warm_up);
    fill_state(view, session, facts);
    view.level = {facts.input.level_db, facts.input.peak_db, facts.input.source == SourceState::running};
    view.source = facts.source_name;
    view.warning = input_warning(facts.input, facts.trouble);
    if (view.warning.empty()) view.warning = facts.not_kept;
    view.notice = facts.notice;
    view.gestures = facts.gestures;
    view.counts = counts_words(session.counts());
    view.keys = practice_key_words(facts.player_is_input, session.grip_shown() ? std::nullopt : std::optional(session.asked()->asked.asking));
    return view;
}

}  // namespace gripline

#include "practice/walk_attempts.h"

#include <algorithm>

#include "practice/attempt_id.h"
#include "practice/practice_attempts.h"
#include "theory/serving.h"

namespace gripline {
namespace {

constexpr double kLongestAnswer_s = 86'400.0;
constexpr double kFarthestOff_ms = 60'000.0;

/// The strings that sound.
StringSet strings_in(const Grip& grip, const Tuning& tuning, int capo) {
    std::vector<StringNumber> strings;
    for (const GripNote& note : grip.notes(tuning, capo)) strings.push_back(note.string);
    return StringSet(std::move(strings));
}

std::string quality_of(const std::string& symbol) {
    const auto chord = parse_chart_symbol(symbol);
    return chord && chord->quality != nullptr ? std::string(chord->quality->suffix) : symbol;
}

}  // namespace

const LineBeat& trained_by(const Line& line, std::size_t beat) {
    const bool approach = line.beats[beat].role == Sounds::approach;
    return line.beats[approach ? (beat + 1) % line.beats.size() : beat];
}

Attempt asked_on(const Line& line, std::size_t index) {
    const LineBeat& beat = line.beats[index];
    const LineBeat& trained = trained_by(line, index);
    Attempt asked;
    asked.family = trained.scale.family;
    asked.root = trained.scale.root;
    asked.quality = quality_of(trained.chord);
    asked.chord = beat.called;
    asked.grip = beat.grip;
    if (!beat.notes.empty()) asked.bass_degree = degree_in_scale(asked.root, asked.family, beat.notes.front().name.pitch_class());
    asked.place = beat.role;
    if (beat.role == Sounds::approach) asked.from = beat.from;
    asked.motion = beat.motion;
    return asked;
}

Attempt attempt_of_beat(const WalkBeat& beat, const BeatResult& result, double tempo_bpm) {
    Attempt attempt = beat.asked;
    const Grip grip = beat.target.grip.value_or(attempt.grip);
    const auto notes = grip.notes(beat.target.tuning, beat.target.capo);
    if (grip.text() != attempt.grip.text()) {
        attempt.grip = grip;
        attempt.chord.clear();
        attempt.motion.reset();
        attempt.bass_degree = notes.empty() ? "" : degree_in_scale(attempt.root, attempt.family, notes.front().note.pitch_class());
    }
    attempt.strings = strings_in(grip, beat.target.tuning, beat.target.capo);
    attempt.tempo_bpm = tempo_bpm;
    take_verdict(result.verdict, attempt);
    if (result.off_ms) attempt.off_ms = std::clamp(*result.off_ms, -kFarthestOff_ms, kFarthestOff_ms);
    return attempt;
}

Attempt QuizAttempts::attempt(const QuizQuestion& question, const QuizTry& one, std::size_t place, std::size_t try_index) const {
    constexpr std::size_t kTriesOfOne = 4096;  // strums that one question can hear, unheard ones among them
    Attempt a;
    if (auto id = parse_attempt_id(run_)) {
        const std::size_t number = place * kTriesOfOne + std::min(try_index, kTriesOfOne - 1) + 1;
        for (std::size_t byte = 0; byte < 4; ++byte) (*id)[id->size() - 1 - byte] ^= static_cast<std::uint8_t>(number >> (8 * byte));
        a.id = text_of(*id);
    }
    a.asking = question.asking;
    a.family = question.family;
    a.root = question.root;
    a.quality = question.quality;
    a.stage = question.stage;
    a.strings = question.strings;
    a.chord = question.step.chord;
    a.grip = question.step.grip;
    const auto notes = question.step.notes();
    if (!notes.empty()) a.bass_degree = degree_in_scale(question.root, question.family, notes.front().note.pitch_class());
    a.place = question.role;
    if (question.role == Sounds::approach) a.from = question.from;
    a.motion = question.motion;
    if (question.beat) a.tempo_bpm = 60.0 / question.beat->count_s;
    Verdict verdict;
    verdict.kind = one.verdict;
    verdict.confidence = one.confidence;
    verdict.heard = one.heard;
    verdict.faults = one.faults;
    take_verdict(verdict, a);
    return a;
}

void QuizAttempts::take(const QuizQuestion& question, const std::vector<QuizTry>& tries, std::size_t place, std::vector<Attempt>& out) {
    int number = 1;
    for (std::size_t i = 0; i < tries.size(); ++i) {
        const bool wrong = tries[i].verdict == VerdictKind::wrong;
        if (i >= tries_ && !question.step.chord.empty()) {
            Attempt one = attempt(question, tries[i], place, i);
            one.try_number = number;
            if (question.beat && one.verdict != VerdictKind::unheard) one.off_ms = std::clamp(tries[i].answer_s * 1000.0, -kFarthestOff_ms, kFarthestOff_ms);
            else if (!question.beat) one.answer_s = std::clamp(tries[i].answer_s, 0.0, kLongestAnswer_s);
            out.push_back(std::move(one));
        }
        number += wrong ? 1 : 0;
    }
}

std::vector<Attempt> QuizAttempts::follow(const QuizProgress& progress, const std::vector<QuizQuestion>& questions) {
    std::vector<Attempt> out;
    for (; answers_ < progress.answers.size(); ++answers_, tries_ = 0) {
        const QuizAnswer& answer = progress.answers[answers_];
        take(answer.question, answer.tries, answers_, out);
        if (answer.tries.empty() && answer.outcome == QuizOutcome::unheard && !answer.question.step.chord.empty()) out.push_back(attempt(answer.question, {}, answers_, 0));
    }
    if (answers_ < questions.size() && progress.tries.size() > tries_) {
        take(questions[answers_], progress.tries, answers_, out);
        tries_ = progress.tries.size();
    }
    return out;
}

}  // namespace gripline

#include "cli/pile_take.h"

#include <algorithm>

#include "cli/commands.h"
#include "formats/quiz_toml.h"
#include "judge/judge.h"
#include "listen/recording.h"
#include "practice/strum_alignment.h"
#include "practice/walk_along.h"

namespace gripline {

namespace {

/// First hearing: a sketch of every strum that sounds notes.
Result<Heard> sketch_take(const std::filesystem::path& take, double a4_hz, std::vector<StrumSketch>& out) {
    return hear_recording(take.string(), {}, [&](const dsp::StrumEvidence& evidence) {
        if (!evidence.last) return true;
        const Verdict heard = transcribe(evidence, a4_hz);
        if (heard.kind != VerdictKind::unheard) out.push_back({evidence.strum, evidence.onset_s, heard.strengths, heard.bass});
        return true;
    });
}

QuizTry try_of(const Verdict& verdict, double answer_s) {
    QuizTry out;
    out.verdict = verdict.kind;
    out.confidence = verdict.confidence;
    out.answer_s = answer_s;
    out.sound_at_s = std::max(0.0, verdict.onset_s);
    out.level_db = verdict.level_db;
    out.tuning_cents = verdict.tuning_cents;
    out.heard = verdict.heard;
    out.faults = verdict.faults;
    return out;
}

QuizOutcome outcome_of(VerdictKind kind) {
    return kind == VerdictKind::right ? QuizOutcome::right : kind == VerdictKind::wrong ? QuizOutcome::wrong : QuizOutcome::unheard;
}

/// Second hearing, strums to questions in order.
Result<Heard> judge_in_order(const std::filesystem::path& take, const std::vector<StrumSketch>& strums, const std::vector<std::optional<std::size_t>>& places, std::vector<QuizAnswer>& answers) {
    std::vector<std::pair<std::uint64_t, std::size_t>> wanted;  // strum, question
    for (std::size_t i = 0; i < places.size(); ++i)
        if (places[i]) wanted.emplace_back(strums[*places[i]].strum, i);
    Judge judge;
    std::size_t next = 0;
    bool asked = false;
    double before_s = 0.0;
    return hear_recording(take.string(), {}, [&](const dsp::StrumEvidence& evidence) {
        if (next == wanted.size()) return false;
        const auto [strum, question] = wanted[next];
        if (evidence.strum < strum) return true;
        if (!asked) judge.ask(answers[question].question.step.target());
        asked = true;
        auto verdict = judge.consider(evidence);
        if (!verdict && evidence.last) verdict = judge.verdict_now(evidence);
        if (!verdict) return true;
        answers[question].tries.push_back(try_of(*verdict, next == 0 ? 0.0 : verdict->onset_s - before_s));
        answers[question].outcome = outcome_of(verdict->kind);
        before_s = verdict->onset_s;
        asked = false;
        ++next;
        return next < wanted.size();
    });
}

/// Second hearing of a line walked in time.
Result<Heard> judge_in_time(const std::filesystem::path& take, const TimeAlignment& place, std::vector<QuizAnswer>& answers) {
    std::vector<WalkBeat> beats;
    for (const QuizAnswer& answer : answers) {
        const QuizBeat& beat = *answer.question.beat;
        beats.push_back({beat.bar, beat.beat, 0, answer.question.step.chord, place.start_s + beat.at_s * place.stretch, answer.question.step.target()});
    }
    WalkAlong along(std::move(beats), answers.front().question.beat->count_s * place.stretch);
    const auto give = [&] {
        while (const auto beat = along.next()) {
            QuizAnswer& answer = answers[beat->index];
            answer.outcome = outcome_of(beat->verdict.kind);
            if (beat->any_strum) answer.tries.push_back(try_of(beat->verdict, beat->off_ms.value_or(0.0) / 1000.0));
        }
    };
    const double half_s = answers.front().question.beat->count_s / 2.0;
    auto heard = hear_recording(take.string(), {.from_s = std::max(0.0, place.start_s - half_s)}, [&](const dsp::StrumEvidence& evidence) {
        along.consider(evidence);
        give();
        return !along.done();
    });
    along.finish(1e300);  // the take is over: beats without a strum are unheard
    give();
    return heard;
}

}  // namespace

Result<QuizResult> mark_take(const Quiz& quiz, const std::string& student, const std::filesystem::path& take) {
    const auto questions = draw_questions(quiz, student);
    if (!questions) return questions.error();
    QuizResult out;
    out.title = quiz.title;
    out.fingerprint = quiz_fingerprint(quiz);
    for (const QuizPart& part : quiz.parts) out.parts.push_back({part.title, part.pass_percent});
    out.tuning = quiz.tuning;
    out.capo = quiz.capo;
    out.a4_hz = quiz.a4_hz;
    out.student = student;
    out.recording = take.filename().string();
    std::vector<StrumSketch> strums;
    const auto sketched = sketch_take(take, quiz.a4_hz, strums);
    if (!sketched) return sketched.error();
    if (sketched->bad_samples > 0) return Error{bad_samples_text(take.string(), sketched->bad_samples)};
    out.used_s = sketched->length_s;
    std::vector<AlignmentTarget> targets;
    for (const QuizQuestion& question : *questions) {
        QuizAnswer& answer = out.answers.emplace_back();
        answer.question = question;
        answer.outcome = QuizOutcome::unheard;
        targets.push_back(alignment_target(question.step.target(), question.beat ? question.beat->at_s : 0.0));
    }
    const bool walked = std::all_of(questions->begin(), questions->end(), [](const QuizQuestion& question) { return question.beat && question.part == 0; });
    const auto place = walked ? align_in_time(targets, strums, questions->front().beat->count_s) : std::nullopt;
    if (walked && !place) return out;  // nothing was played
    const auto judged = walked ? judge_in_time(take, *place, out.answers) : judge_in_order(take, strums, align_in_order(targets, strums), out.answers);
    if (!judged) return judged.error();
    return out;
}

}  // namespace gripline

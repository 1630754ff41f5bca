#include "cli/pile_take.h"

#include <algorithm>

#include "cli/commands.h"
#include "formats/quiz_toml.h"
#include "judge/judge.h"
#include "listen/evidence_spool.h"
#include "listen/recording.h"
#include "practice/strum_alignment.h"
#include "practice/walk_along.h"

namespace gripline {

namespace {

/// A take is listened to once: sketches of its strums tell which is which, then what was kept of it is judged.
class TakeHearing {
public:
    TakeHearing(std::filesystem::path take, const std::filesystem::path& spool_folder) : take_(std::move(take)), spool_(spool_folder) {}

    /// Listens; a sketch of every strum that sounds notes.
    Result<Heard> listen(double a4_hz, std::vector<StrumSketch>& out) {
        Judge judge;
        Target nothing;  // asked of the judge: it tells what it heard
        nothing.a4_hz = a4_hz;
        judge.ask(nothing);
        return hear_recording(take_.string(), {}, [&](const dsp::StrumEvidence& evidence) {
            spool_.put(evidence);
            if (!evidence.last) return true;
            const Verdict heard = judge.verdict_now(evidence);
            if (heard.kind != VerdictKind::unheard) out.push_back({evidence.strum, evidence.onset_s, heard.strengths, heard.bass});
            return true;
        });
    }
    /// All its evidence again, from the beginning. Where it could not be kept, the take is listened to again.
    [[nodiscard]] std::optional<Error> again(const EvidenceTaker& taker) {
        if (spool_.whole()) return spool_.replay(taker) ? std::nullopt : std::optional(Error{take_.string() + ": what was heard of it could not be read back; mark it again"});
        const auto heard = hear_recording(take_.string(), {}, taker);
        return heard ? std::nullopt : std::optional(heard.error());
    }

private:
    std::filesystem::path take_;
    EvidenceSpool spool_;
};

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

/// Strums to questions in order.
std::optional<Error> judge_in_order(TakeHearing& take, const std::vector<StrumSketch>& strums, const std::vector<std::optional<std::size_t>>& places, std::vector<QuizAnswer>& answers) {
    std::vector<std::pair<std::uint64_t, std::size_t>> wanted;  // strum, question
    for (std::size_t i = 0; i < places.size(); ++i)
        if (places[i]) wanted.emplace_back(strums[*places[i]].strum, i);
    Judge judge;
    std::size_t next = 0;
    bool asked = false;
    double before_s = 0.0;
    return take.again([&](const dsp::StrumEvidence& evidence) {
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

/// A line walked in time.
std::optional<Error> judge_in_time(TakeHearing& take, const TimeAlignment& place, std::vector<QuizAnswer>& answers) {
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
    const double from_s = place.start_s - answers.front().question.beat->count_s / 2.0;
    auto trouble = take.again([&](const dsp::StrumEvidence& evidence) {
        if (evidence.onset_s < from_s) return true;
        along.consider(evidence);
        give();
        return !along.done();
    });
    along.finish(1e300);  // the take is over: beats without a strum are unheard
    give();
    return trouble;
}

}  // namespace

Result<QuizResult> mark_take(const Quiz& quiz, const std::string& student, const std::filesystem::path& take, const std::filesystem::path& spool_folder) {
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
    TakeHearing hearing(take, spool_folder);
    const auto sketched = hearing.listen(quiz.a4_hz, strums);
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
    const auto trouble = walked ? judge_in_time(hearing, *place, out.answers) : judge_in_order(hearing, strums, align_in_order(targets, strums), out.answers);
    if (trouble) return *trouble;
    return out;
}

}  // namespace gripline

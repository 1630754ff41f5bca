// A result with everything in it, for tests.
#pragma once

#include "practice/quiz_fixture.h"
#include "practice/quiz_result.h"

namespace gripline::test {

inline QuizTry one_try(VerdictKind verdict, double confidence) {
    QuizTry out;
    out.verdict = verdict;
    out.confidence = confidence;
    out.answer_s = 2.125;
    out.sound_at_s = 2.5;
    out.level_db = -21.5;
    out.tuning_cents = -3.5;
    out.heard = {MidiNote(48), MidiNote(58), MidiNote(63)};
    if (verdict == VerdictKind::wrong) {
        Fault fault;
        fault.kind = FaultKind::wrong_note;
        fault.string = StringNumber(3);
        fault.frets = -1;
        fault.asked = MidiNote(64);
        fault.heard = MidiNote(63);
        fault.probability = 0.875;
        out.faults = {fault};
    }
    return out;
}

/// Answers to the first questions of a quiz as given; the rest are not reached.
inline QuizResult result_of(const Quiz& quiz, const std::string& student, const std::vector<QuizOutcome>& outcomes) {
    QuizResult result;
    result.run = "00112233445566778899aabbccddeeff";
    result.title = quiz.title;
    result.fingerprint = "f";
    for (const QuizPart& part : quiz.parts) result.parts.push_back({part.title, part.pass_percent});
    result.student = student;
    result.started_ms = 1'764'000'000'000;
    result.utc_offset_min = 60;
    result.facts = {"gripline 0.1.0", "Linux", "line in", -66.0, -18.5, 4.0, 12, 0.25};
    result.breaks.push_back({"input lost", 1, 1'764'000'060'000, 3.5});
    const std::vector<QuizQuestion> questions = draw_questions(quiz, student).value();
    for (std::size_t i = 0; i < questions.size(); ++i) {
        QuizAnswer answer;
        answer.question = questions[i];
        answer.outcome = i < outcomes.size() ? outcomes[i] : QuizOutcome::not_reached;
        if (answer.outcome == QuizOutcome::wrong) answer.tries.push_back(one_try(VerdictKind::wrong, 0.0625));
        if (answer.outcome == QuizOutcome::right) answer.tries.push_back(one_try(VerdictKind::right, 0.9375));
        answer.used_s = 3.25;
        result.used_s += 3.25;
        result.answers.push_back(std::move(answer));
    }
    return result;
}

}  // namespace gripline::test

// What came of a quiz: every answer of one student's run, and the facts about it.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "judge/verdict.h"
#include "practice/quiz.h"

namespace gripline {

/// A try's sound_at_s: its sound was not kept, since more than a minute and a half came after it, or a break.
inline constexpr double kNotInSound = -1.0;

/// One strum on a question.
struct QuizTry {
    VerdictKind verdict = VerdictKind::unheard;  ///< unheard (a knock, a dead strum) uses up no try
    double confidence = 0.0;                     ///< chance, 0 to 1, that it was right
    double answer_s = 0.0;                       ///< from the asking to the first string; in time: from the beat, + is late
    double sound_at_s = 0.0;                     ///< where it begins in the answer's sound, or kNotInSound
    double level_db = -120.0;
    double tuning_cents = 0.0;
    std::vector<MidiNote> heard;
    std::vector<Fault> faults;
};

enum class QuizOutcome { right, wrong, unheard, not_reached };
/// "right", "wrong", "unheard" (no strum came in time), "not reached" (the quiz ended before).
[[nodiscard]] std::string_view word(QuizOutcome outcome) noexcept;

/// The sound behind an answer: a file beside the result.
struct AnswerSound {
    std::string file;    ///< a plain file name; empty: none was kept
    std::string sha256;  ///< of its bytes, hex
    friend bool operator==(const AnswerSound&, const AnswerSound&) = default;
};

struct QuizAnswer {
    QuizQuestion question;
    QuizOutcome outcome = QuizOutcome::not_reached;
    double used_s = 0.0;          ///< of the question's time
    std::vector<QuizTry> tries;   ///< in order; the last one decided
    AnswerSound sound;

    /// Chance that the deciding strum was right; 0 without one.
    [[nodiscard]] double confidence() const noexcept { return tries.empty() ? 0.0 : tries.back().confidence; }
};

/// The clock stood still, or the program was away.
struct QuizBreak {
    std::string reason;        ///< "paused", "input lost", "program stopped"
    int question = 0;          ///< index of the question that was open or came next
    std::int64_t at_ms = 0;    ///< when it began: milliseconds since 1970-01-01 00:00 UTC
    double away_s = 0.0;       ///< by the wall clock, for the program was perhaps not there to count
};

/// The machine and its input as they were.
struct QuizFacts {
    std::string program;       ///< "gripline 0.1.0"
    std::string system;        ///< "Linux 6.1.0 x86_64"
    std::string input;         ///< name of the sound input
    double noise_db = -120.0;  ///< at the sound check, dB below full scale
    double level_db = -120.0;  ///< loudest strum of the sound check
    double tuning_cents = 0.0; ///< at the sound check
    std::uint64_t lost_frames = 0;
    double clock_off_s = 0.0;  ///< wall clock against the steady one over the run, breaks left out; far from 0: the clock was set
};

enum class QuizEnding { finished, time_over, handed_in };
/// "finished", "time over", "handed in".
[[nodiscard]] std::string_view word(QuizEnding ending) noexcept;

struct ResultPart {
    std::string title;
    int pass_percent = 70;
};

struct QuizResult {
    std::string run;           ///< 32 hex digits, unlike any other run's
    std::string title;         ///< of the quiz
    std::string fingerprint;   ///< of the quiz
    std::vector<ResultPart> parts;
    Tuning tuning;
    int capo = 0;
    double a4_hz = 440.0;
    std::string student;
    std::int64_t started_ms = 0;  ///< milliseconds since 1970-01-01 00:00 UTC
    int utc_offset_min = 0;       ///< of the clock there: + is east
    double used_s = 0.0;          ///< of the quiz's time
    QuizEnding ending = QuizEnding::finished;
    std::string recording;        ///< file name of the take that was marked; empty: live
    std::string recording_sha256;
    QuizFacts facts;
    std::vector<QuizBreak> breaks;
    std::vector<QuizAnswer> answers;  ///< one a question, in the order asked
};

/// Between these the judge is unsure, and a teacher should listen. Bounds: outside them fewer than one verdict in ten is wrong when the confidence is
/// calibrated (expected calibration error 0.028, DEVELOPERS.md, 2026-11).
inline constexpr double kUnsureFrom = 0.1, kUnsureTo = 0.9;
/// A strum decided the answer, and its confidence lies between the bounds.
[[nodiscard]] bool unsure(const QuizAnswer& answer) noexcept;

struct PartMark {
    int right = 0, of = 0;
    bool passed = false;
    /// 0 to 100; 0 of nothing.
    [[nodiscard]] double percent() const noexcept { return of > 0 ? 100.0 * right / of : 0.0; }
};
/// One for each part: questions right, of all questions of the part (those not reached count as not right).
[[nodiscard]] std::vector<PartMark> marks(const QuizResult& result);
/// Of the whole; passed when every part is.
[[nodiscard]] PartMark whole_mark(const QuizResult& result);

/// What to practise, likeliest need first, at most `most` sentences: the skills with the most wrong answers.
[[nodiscard]] std::vector<std::string> what_to_practise(const QuizResult& result, std::size_t most = 3);

}  // namespace gripline

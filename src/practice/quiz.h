// A quiz as its file says it: what is asked, of whom the same, in what time, and what is a pass.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "base/result.h"
#include "fretboard/neck.h"
#include "fretboard/string_set.h"
#include "lines/line.h"
#include "practice/attempt.h"
#include "practice/exercise.h"
#include "theory/spelling.h"

namespace gripline {

/// Which questions come in which order.
enum class QuizOrder {
    fixed,          ///< as the file has them
    same,           ///< drawn with the seed, for everyone the same
    own_order,      ///< the same questions for everyone, each student's in an order of their own
    own_questions,  ///< each student's drawn for them
};
inline constexpr int kQuizOrders = 4;
/// "fixed", "same", "own order", "own questions".
[[nodiscard]] std::string_view word(QuizOrder order) noexcept;
[[nodiscard]] Result<QuizOrder> parse_quiz_order(std::string_view text);

/// Every step of every scale that serves these chords, as far as the neck holds it.
struct SkillsAsked {
    std::vector<std::string> qualities{"7"};        ///< suffixes as on a chart
    std::vector<NoteName> keys{NoteName{}};         ///< roots of the chords
    std::vector<Sounds> roles{Sounds::chord};       ///< chord, passing, approach
    std::vector<From> sides{From::below, From::above};  ///< of approaches
    StageKind stage = StageKind::shell;
    StringSet strings{{StringNumber(6), StringNumber(4), StringNumber(3)}};
    friend bool operator==(const SkillsAsked&, const SkillsAsked&) = default;
};
struct NamedGrip {
    Grip grip;
    std::string chord;  ///< "C7"; may be empty where the grip is shown
    friend bool operator==(const NamedGrip&, const NamedGrip&) = default;
};
struct GripsAsked {
    std::vector<NamedGrip> grips;
    friend bool operator==(const GripsAsked&, const GripsAsked&) = default;
};
/// The steps of the line over a chart, always in its order.
struct ChartAsked {
    std::string text;  ///< the chart itself, for parse_chart()
    std::string key;   ///< empty: as written
    std::optional<double> tempo_bpm;  ///< walked in time with a click; nullopt: each step in its own time
    friend bool operator==(const ChartAsked&, const ChartAsked&) = default;
};

struct QuizPart {
    std::string title;
    Asking asking = Asking::named;  ///< shown, named or by_ear
    std::variant<SkillsAsked, GripsAsked, ChartAsked> what;
    int number = 0;          ///< of questions; 0: all there are
    int pass_percent = 70;   ///< right answers from which the part is passed
    friend bool operator==(const QuizPart&, const QuizPart&) = default;
};

struct Quiz {
    std::string title;
    QuizOrder order = QuizOrder::same;
    std::uint64_t seed = 1;
    double question_time_s = 20.0;  ///< for each question that is not walked, all its tries together
    double time_s = 0.0;            ///< in all; 0: no limit
    int tries = 1;
    bool show_after_miss = false;   ///< the right grip, and what was heard
    bool may_pause = false;
    Tuning tuning;
    int capo = 0;
    double a4_hz = 440.0;
    std::vector<QuizPart> parts;    ///< at least one
    friend bool operator==(const Quiz&, const Quiz&) = default;
};

/// Bounds of a quiz file, chosen so that no slip of the pen makes a quiz of a day, and a line of five minutes at 300 counts a minute still fits (judgement).
inline constexpr int kMostQuizParts = 20, kMostQuizQuestions = 2000, kMostQuizTries = 5;
inline constexpr double kLeastQuestionTime_s = 2.0, kMostQuestionTime_s = 600.0, kMostQuizTime_s = 4.0 * 3600.0;

/// Where a walked question lies.
struct QuizBeat {
    int bar = 1, beat = 1;
    double at_s = 0.0;     ///< from the first beat of the part
    double count_s = 0.5;  ///< length of a count
};

struct QuizQuestion {
    int part = 0;                    ///< index into Quiz::parts
    Asking asking = Asking::named;
    PracticeStep step;
    // What it trains, as in Attempt.
    std::string quality;
    NoteName root;
    Family family = Family::dominant_seventh;
    StageKind stage = StageKind::shell;
    StringSet strings{{StringNumber(6), StringNumber(4), StringNumber(3)}};
    Sounds role = Sounds::chord;
    std::optional<From> from;
    std::optional<int> motion;       ///< of the bass from the question before, in a line
    std::string joint;               ///< first beat of a new chord in a line: "C7 > F7"; else empty
    std::optional<QuizBeat> beat;    ///< walked questions
};

/// The same student, however the name was typed: blanks squeezed, ASCII letters small.
[[nodiscard]] std::string student_key(std::string_view name);

/// The questions of a student, bit for bit the same on every machine. Errors: the neck holds nothing of a part, or it asks for more questions
/// than a part has (grips and charts), or a chart can't be read.
[[nodiscard]] Result<std::vector<QuizQuestion>> draw_questions(const Quiz& quiz, std::string_view student);

/// All that a part could ask, in a fixed order. Errors as above, without the part's number.
[[nodiscard]] Result<std::vector<QuizQuestion>> question_pool(const Quiz& quiz, std::size_t part);

/// One line for lists: "named  C7 with E in the bass  12-x-10-12-x-x".
[[nodiscard]] std::string question_text(const QuizQuestion& question);

}  // namespace gripline

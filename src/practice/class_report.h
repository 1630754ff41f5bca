// A class: the runs of many students, joined, counted once, and summed up for one page.
#pragma once

#include <string>
#include <vector>

#include "practice/quiz_result.h"
#include "practice/statistics_rate.h"

namespace gripline {

/// A teacher who has listened says what an answer was.
struct Overrule {
    int question = 0;   ///< index into the answers
    bool right = false;
    std::string why;    ///< may be empty
};

/// One result as it came in.
struct ClassRun {
    QuizResult result;
    std::string folder;               ///< where result and sounds lie
    std::string code;                 ///< hand-in code
    std::vector<Overrule> overruled;  ///< applied already
};

/// The answers with what the teacher said.
void apply_overrules(QuizResult& result, const std::vector<Overrule>& overruled);

struct StudentRow {
    std::string student;        ///< as typed in the run that counts, or a code
    const ClassRun* run = nullptr;  ///< that counts: the last one of the quiz
    int runs = 1;               ///< of this quiz
    PartMark mark;
    std::vector<PartMark> parts;
    int unsure = 0;             ///< answers that need an ear and have not had one
    std::vector<std::string> remarks;  ///< "interrupted twice, 47 s away", "played by the built-in player"
    std::optional<double> before_percent;  ///< in the quiz before
};

/// Right answers of one kind: a question, a joint, a quality, a key, a direction.
struct KindRow {
    std::string what;
    RateCount count;
};

/// An answer that a teacher should listen to.
struct EarRow {
    std::string student;
    const ClassRun* run = nullptr;
    std::size_t question = 0;
    double confidence = 0.0;
};

struct ClassReport {
    std::string title;                    ///< of the quiz
    std::string fingerprint;
    std::vector<ResultPart> parts;
    std::vector<StudentRow> students;     ///< by name
    std::vector<EarRow> ear;              ///< nearest to even chances first
    std::vector<KindRow> questions, joints, qualities, keys, directions;  ///< hardest first; only what was asked
    RateCount all;
    int passed = 0;
    int doubles = 0;                      ///< runs that were given in twice, counted once
    std::string before_title;             ///< of the quiz before; empty: there is none
    std::optional<double> mean_change;    ///< percentage points over the students who took both
};

/// Runs of several quizzes may be given: the one taken last is reported, the one before it compared with. Doubles (the same run number) are left out, the
/// first stays. `runs` must outlive the report.
[[nodiscard]] ClassReport class_report(const std::vector<ClassRun>& runs);

}  // namespace gripline

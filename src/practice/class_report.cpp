#include "practice/class_report.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <map>
#include <set>

namespace gripline {
namespace {

using Runs = std::vector<const ClassRun*>;

/// Each run number once.
Runs without_doubles(const std::vector<ClassRun>& runs, int& doubles) {
    Runs out;
    std::set<std::string> seen;
    for (const ClassRun& run : runs) {
        if (seen.insert(run.result.run).second) out.push_back(&run);
        else ++doubles;
    }
    return out;
}

/// Fingerprints of the quizzes, the one taken last first.
std::vector<std::string> quizzes_by_time(const Runs& runs) {
    std::map<std::string, std::int64_t> last;
    for (const ClassRun* run : runs) last[run->result.fingerprint] = std::max(last[run->result.fingerprint], run->result.started_ms);
    std::vector<std::string> out;
    for (const auto& [fingerprint, at] : last) out.push_back(fingerprint);
    std::sort(out.begin(), out.end(), [&](const std::string& a, const std::string& b) { return last[a] > last[b]; });
    return out;
}

/// A student's runs of one quiz: the last one counts.
struct Joined {
    const ClassRun* last = nullptr;
    int runs = 0;
};
std::map<std::string, Joined> joined(const Runs& runs, const std::string& fingerprint) {
    std::map<std::string, Joined> out;
    for (const ClassRun* run : runs) {
        if (run->result.fingerprint != fingerprint) continue;
        Joined& student = out[student_key(run->result.student)];
        ++student.runs;
        if (student.last == nullptr || run->result.started_ms >= student.last->result.started_ms) student.last = run;
    }
    return out;
}

std::string times(std::size_t count) { return count == 1 ? "once" : count == 2 ? "twice" : std::to_string(count) + " times"; }

std::vector<std::string> remarks_on(const QuizResult& result) {
    std::vector<std::string> out;
    double away_s = 0.0;
    for (const QuizBreak& one : result.breaks) away_s += one.away_s;
    if (!result.breaks.empty()) out.push_back("interrupted " + times(result.breaks.size()) + ", " + std::to_string(std::lround(away_s)) + " s away");
    if (result.ending != QuizEnding::finished) out.push_back(std::string(word(result.ending)));
    if (result.facts.input.find("built-in player") != std::string::npos) out.push_back("played by the built-in player");
    if (result.facts.lost_frames > 0) out.push_back(std::to_string(result.facts.lost_frames) + " frames of sound lost");
    constexpr double kClockSet_s = 5.0;  // a clock that is put right by the network moves by less (judgement)
    if (std::abs(result.facts.clock_off_s) > kClockSet_s) out.push_back("the clock was set during the run");
    return out;
}

/// Adds up right answers by what `kinds` says of each question; an empty text counts nowhere.
std::vector<KindRow> by_kind(const std::vector<StudentRow>& students, const std::function<std::string(const QuizQuestion&)>& kind) {
    std::map<std::string, RateCount> counts;
    for (const StudentRow& student : students) {
        for (const QuizAnswer& answer : student.run->result.answers) {
            const std::string what = kind(answer.question);
            if (what.empty()) continue;
            counts[what] += {1, answer.outcome == QuizOutcome::right ? 1L : 0L};
        }
    }
    std::vector<KindRow> out;
    for (const auto& [what, count] : counts) out.push_back({what, count});
    std::stable_sort(out.begin(), out.end(), [](const KindRow& a, const KindRow& b) { return a.count.right * b.count.attempts < b.count.right * a.count.attempts; });
    return out;
}

std::string quality_of(const QuizQuestion& question) { return (question.quality.empty() ? "major" : question.quality) + ", " + std::string(word(question.role)); }

std::string direction_of(const QuizQuestion& question) {
    if (question.from) return "approach from " + std::string(word(*question.from));
    if (!question.motion) return {};
    return *question.motion > 0 ? "bass up" : *question.motion < 0 ? "bass down" : "bass stays";
}

bool digit(char c) { return c >= '0' && c <= '9'; }

/// By name, numbers by their value: "student 2" before "student 10".
bool earlier_name(const std::string& a, const std::string& b) {
    std::size_t i = 0, j = 0;
    while (i < a.size() && j < b.size()) {
        if (!digit(a[i]) || !digit(b[j])) {
            if (a[i] != b[j]) return a[i] < b[j];
            ++i, ++j;
            continue;
        }
        const auto number = [](const std::string& text, std::size_t& at) {
            while (at < text.size() && text[at] == '0') ++at;
            const std::size_t from = at;
            while (at < text.size() && digit(text[at])) ++at;
            return text.substr(from, at - from);
        };
        const std::string one = number(a, i), other = number(b, j);
        if (one.size() != other.size()) return one.size() < other.size();
        if (one != other) return one < other;
    }
    return a.size() - i < b.size() - j;
}

void fill_students(ClassReport& report, const std::map<std::string, Joined>& now, const std::map<std::string, Joined>& before) {
    double change = 0.0;
    int both = 0;
    for (const auto& [key, student] : now) {
        StudentRow& row = report.students.emplace_back();
        row.student = student.last->result.student;
        row.run = student.last;
        row.runs = student.runs;
        row.mark = whole_mark(student.last->result);
        row.parts = marks(student.last->result);
        row.remarks = remarks_on(student.last->result);
        report.passed += row.mark.passed ? 1 : 0;
        report.all += {row.mark.of, row.mark.right};
        if (const auto earlier = before.find(key); earlier != before.end()) {
            row.before_percent = whole_mark(earlier->second.last->result).percent();
            change += row.mark.percent() - *row.before_percent;
            ++both;
        }
    }
    if (both > 0) report.mean_change = change / both;
    std::stable_sort(report.students.begin(), report.students.end(), [](const StudentRow& a, const StudentRow& b) { return earlier_name(student_key(a.student), student_key(b.student)); });
}

void fill_ear(ClassReport& report) {
    for (StudentRow& row : report.students) {
        const auto& answers = row.run->result.answers;
        for (std::size_t i = 0; i < answers.size(); ++i) {
            const bool heard = std::any_of(row.run->overruled.begin(), row.run->overruled.end(), [&](const Overrule& one) { return one.question == static_cast<int>(i); });
            if (heard || !unsure(answers[i])) continue;
            ++row.unsure;
            report.ear.push_back({row.student, row.run, i, answers[i].confidence()});
        }
    }
    std::stable_sort(report.ear.begin(), report.ear.end(), [](const EarRow& a, const EarRow& b) { return std::abs(a.confidence - 0.5) < std::abs(b.confidence - 0.5); });
}

}  // namespace

void apply_overrules(QuizResult& result, const std::vector<Overrule>& overruled) {
    for (const Overrule& one : overruled)
        if (one.question >= 0 && one.question < static_cast<int>(result.answers.size()))
            result.answers[static_cast<std::size_t>(one.question)].outcome = one.right ? QuizOutcome::right : QuizOutcome::wrong;
}

ClassReport class_report(const std::vector<ClassRun>& given) {
    ClassReport report;
    const Runs runs = without_doubles(given, report.doubles);
    const auto quizzes = quizzes_by_time(runs);
    if (quizzes.empty()) return report;
    report.fingerprint = quizzes.front();
    const auto now = joined(runs, quizzes.front());
    const auto before = quizzes.size() > 1 ? joined(runs, quizzes[1]) : std::map<std::string, Joined>{};
    if (!before.empty()) report.before_title = before.begin()->second.last->result.title;
    report.title = now.begin()->second.last->result.title;
    report.parts = now.begin()->second.last->result.parts;
    fill_students(report, now, before);
    fill_ear(report);
    report.questions = by_kind(report.students, question_text);
    report.joints = by_kind(report.students, [](const QuizQuestion& question) { return question.joint; });
    report.qualities = by_kind(report.students, quality_of);
    report.keys = by_kind(report.students, [](const QuizQuestion& question) { return question.root.text(); });
    report.directions = by_kind(report.students, direction_of);
    return report;
}

}  // namespace gripline

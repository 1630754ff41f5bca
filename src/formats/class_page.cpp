#include "formats/class_page.h"

#include <array>
#include <cmath>
#include <ostream>

#include "formats/markup.h"
#include "formats/quiz_result_json.h"
#include "practice/verdict_words.h"

namespace gripline {
namespace {

/// Black on white, read without colour; a sheet a student begins a page when printed.
constexpr std::string_view kHead =
    "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
    "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'; media-src 'self' file:\">\n"
    "<meta name=\"viewport\" content=\"width=device-width\">\n<style>\n"
    "body{font:16px/1.45 sans-serif;max-width:76em;margin:1.5em auto;padding:0 1em;color:#111;background:#fff}\n"
    "table{border-collapse:collapse;margin:.6em 0;width:100%}th,td{text-align:left;padding:.25em .6em;border-bottom:1px solid #bbb;vertical-align:top}\n"
    "td.n,th.n{text-align:right;font-variant-numeric:tabular-nums;white-space:nowrap}caption{text-align:left;font-weight:bold;padding:.4em 0}\n"
    ".scroll{overflow-x:auto}audio{height:2em;max-width:16em}.quiet{color:#555}.sheet{margin-top:3em;border-top:2px solid #111}\n"
    "@media print{audio,.ear{display:none}.sheet{break-before:page;border:0}}\n"
    "</style>\n";

std::string whole(double number) { return std::to_string(std::lround(number)); }

std::string percent_of(const RateCount& count) { return whole(100.0 * count.rate()) + " %"; }

std::string interval_of(const RateCount& count) {
    const RateInterval interval = count.interval();
    return whole(100.0 * interval.low) + " to " + whole(100.0 * interval.high) + " %";
}

std::string change_of(const StudentRow& row) {
    if (!row.before_percent) return "";
    const long points = std::lround(row.mark.percent() - *row.before_percent);
    return (points > 0 ? "+" : "") + std::to_string(points);
}

/// Whatever is shown of a path or a name goes through here.
std::string part_title(const ClassReport& report, std::size_t part) {
    return escaped(report.parts[part].title.empty() ? "Part " + std::to_string(part + 1) : report.parts[part].title);
}

/// A path as a relative URL: bytes that mean something there are percent-encoded (RFC 3986).
std::string url_of(const std::string& path) {
    constexpr std::string_view kDigits = "0123456789ABCDEF";
    std::string out;
    for (const char c : path) {
        const auto byte = static_cast<unsigned char>(c);
        const bool plain = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '/' || c == '.' || c == '-' || c == '_';
        if (plain) out += c;
        else ((out += '%') += kDigits[byte >> 4U]) += kDigits[byte & 15U];
    }
    return out.starts_with("/") ? "file://" + out : out;
}

class PageWriter {
public:
    PageWriter(const ClassReport& report, const ClassPageOptions& options, std::ostream& out) : report_(report), options_(options), out_(out) {}

    void write() {
        out_ << kHead << "<title>" << escaped(report_.title) << "</title>\n</head>\n<body>\n<h1>" << escaped(report_.title) << "</h1>\n";
        summary();
        ear();
        students();
        kinds("questions", "Questions, hardest first", "Question", report_.questions);
        kinds("joints", "Changes of chord in lines, hardest first", "Change", report_.joints);
        kinds("qualities", "Chord qualities and roles, hardest first", "Quality", report_.qualities);
        kinds("keys", "Keys (root of the scale), hardest first", "Key", report_.keys);
        kinds("directions", "Directions, hardest first", "Direction", report_.directions);
        out_ << "<p class=\"quiet\">Shares stand with Wilson's 95 per cent interval: of few answers little can be said. " << escaped(kDigestWords) << "</p>\n";
        for (const StudentRow& row : report_.students) sheet(row);
        out_ << "</body>\n</html>\n";
    }

private:
    void summary() {
        out_ << "<p id=\"summary\">" << report_.students.size() << (report_.students.size() == 1 ? " student, " : " students, ") << report_.passed << " passed. Right answers in all: " << report_.all.right << " of " << report_.all.attempts << " (" << percent_of(report_.all) << ").";
        if (report_.mean_change) out_ << " Since \"" << escaped(report_.before_title) << "\": " << (*report_.mean_change > 0 ? "+" : "") << whole(*report_.mean_change) << " points in the mean of those who took both.";
        if (report_.doubles > 0) out_ << " Given in more than once and counted once: " << report_.doubles << ".";
        out_ << "</p>\n";
        if (options_.complaints.empty()) return;
        out_ << "<h2>Not counted</h2>\n<ul id=\"complaints\">\n";
        for (const std::string& complaint : options_.complaints) out_ << "<li>" << escaped(complaint) << "</li>\n";
        out_ << "</ul>\n";
    }

    /// Where the sound of an answer is to be heard.
    std::string sound_of(const ClassRun& run, const QuizAnswer& answer) const {
        if (options_.codes) return "answer of run " + escaped(run.result.run.substr(0, 8));
        if (!answer.sound.file.empty()) {
            const auto path = (std::filesystem::path(run.folder) / answer.sound.file).lexically_normal();
            const auto relative = path.lexically_relative(options_.folder.lexically_normal());
            return "<audio controls preload=\"none\" src=\"" + escaped(url_of((relative.empty() ? path : relative).generic_string())) + "\"></audio>";
        }
        if (run.result.recording.empty() || answer.tries.empty()) return "no sound kept";
        return escaped(run.result.recording) + " at " + whole(answer.tries.back().sound_at_s) + " s";
    }

    void ear() {
        if (report_.ear.empty()) return;
        out_ << "<section class=\"ear\">\n<h2>For your ear</h2>\n<p>" << report_.ear.size() << (report_.ear.size() == 1 ? " answer" : " answers") << " with a confidence between " << whole(100 * kUnsureFrom) << " and " << whole(100 * kUnsureTo)
             << " per cent, nearest to even chances first. Listen, and say what it was: <code>gripline quiz overrule FOLDER QUESTION right</code> (or wrong).</p>\n"
             << "<div class=\"scroll\"><table id=\"ear\">\n<tr><th>Student</th><th class=\"n\">Question</th><th>Asked</th><th>Marked</th><th class=\"n\">Chance of right</th><th>Sound</th></tr>\n";
        for (const EarRow& row : report_.ear) {
            const QuizAnswer& answer = row.run->result.answers[row.question];
            out_ << "<tr><td>" << escaped(row.student) << "</td><td class=\"n\">" << row.question + 1 << "</td><td>" << escaped(question_text(answer.question)) << "</td><td>" << word(answer.outcome) << "</td><td class=\"n\">" << whole(100.0 * row.confidence)
                 << " %</td><td>" << sound_of(*row.run, answer) << "</td></tr>\n";
        }
        out_ << "</table></div>\n</section>\n";
    }

    void students() {
        out_ << "<h2>Students</h2>\n<div class=\"scroll\"><table id=\"students\">\n<tr><th>Student</th><th class=\"n\">Right</th><th class=\"n\">Per cent</th><th>Passed</th>";
        for (std::size_t i = 0; i < report_.parts.size(); ++i) out_ << "<th class=\"n\">" << part_title(report_, i) << "</th>";
        out_ << "<th class=\"n\">Unsure</th><th class=\"n\">Change</th><th>Code</th><th>Remarks</th></tr>\n";
        for (const StudentRow& row : report_.students) {
            out_ << "<tr><td>" << escaped(row.student) << "</td><td class=\"n\">" << row.mark.right << " of " << row.mark.of << "</td><td class=\"n\">" << whole(row.mark.percent()) << "</td><td>" << (row.mark.passed ? "yes" : "no") << "</td>";
            for (const PartMark& mark : row.parts) out_ << "<td class=\"n\">" << mark.right << " of " << mark.of << (mark.passed ? "" : ", not passed") << "</td>";
            out_ << "<td class=\"n\">" << row.unsure << "</td><td class=\"n\">" << change_of(row) << "</td><td><code>" << escaped(row.run->code) << "</code></td><td>" << remarks(row) << "</td></tr>\n";
        }
        out_ << "</table></div>\n";
    }

    static std::string remarks(const StudentRow& row) {
        std::string out = row.runs > 1 ? std::to_string(row.runs) + " runs, the last counts" : "";
        for (const std::string& remark : row.remarks) out += (out.empty() ? "" : "; ") + escaped(remark);
        const std::size_t heard = row.run->overruled.size();
        if (heard > 0) out += (out.empty() ? "" : "; ") + std::to_string(heard) + " marked by ear";
        return out;
    }

    void kinds(const char* id, const char* heading, const char* what, const std::vector<KindRow>& rows) {
        if (rows.empty()) return;
        out_ << "<h2>" << heading << "</h2>\n<div class=\"scroll\"><table id=\"" << id << "\">\n<tr><th>" << what << "</th><th class=\"n\">Right</th><th class=\"n\">Share</th><th class=\"n\">95 % interval</th></tr>\n";
        for (const KindRow& row : rows)
            out_ << "<tr><td>" << escaped(row.what) << "</td><td class=\"n\">" << row.count.right << " of " << row.count.attempts << "</td><td class=\"n\">" << percent_of(row.count) << "</td><td class=\"n\">" << interval_of(row.count) << "</td></tr>\n";
        out_ << "</table></div>\n";
    }

    void sheet(const StudentRow& row) {
        out_ << "<section class=\"sheet\">\n<h2>" << escaped(row.student) << "</h2>\n<p>" << escaped(report_.title) << ": " << row.mark.right << " of " << row.mark.of << " right, " << whole(row.mark.percent()) << " per cent, " << (row.mark.passed ? "passed" : "not passed")
             << ".</p>\n<table>\n<tr><th class=\"n\">No.</th><th>Asked</th><th>Answer</th><th>What was heard</th></tr>\n";
        const auto& answers = row.run->result.answers;
        for (std::size_t i = 0; i < answers.size(); ++i) {
            const QuizAnswer& answer = answers[i];
            const bool told = answer.outcome == QuizOutcome::wrong && !answer.tries.empty() && !answer.tries.back().faults.empty();
            out_ << "<tr><td class=\"n\">" << i + 1 << "</td><td>" << escaped(question_text(answer.question)) << "</td><td>" << word(answer.outcome) << (unsure(answer) ? " (unsure)" : "") << "</td><td>"
                 << (told ? escaped(fault_words(answer.tries.back().faults.front(), answer.question.step)) : "") << "</td></tr>\n";
        }
        out_ << "</table>\n";
        for (const std::string& words : what_to_practise(row.run->result)) out_ << "<p>" << escaped(words) << "</p>\n";
        out_ << "</section>\n";
    }

    const ClassReport& report_;
    const ClassPageOptions& options_;
    std::ostream& out_;
};

}  // namespace

void write_class_page(const ClassReport& report, const ClassPageOptions& options, std::ostream& out) { PageWriter(report, options, out).write(); }

}  // namespace gripline

#include "formats/quiz_sheet.h"

#include <ostream>

#include "formats/grip_svg.h"
#include "formats/markup.h"

namespace gripline {
namespace {

constexpr std::string_view kHead =
    "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
    "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'\">\n<meta name=\"viewport\" content=\"width=device-width\">\n<style>\n"
    "body{font:16px/1.4 sans-serif;max-width:48em;margin:1.5em auto;padding:0 1em;color:#111;background:#fff}\n"
    "ol{list-style:none;padding:0;display:grid;grid-template-columns:repeat(auto-fill,minmax(10em,1fr));gap:1em}\n"
    "li{border:1px solid #999;padding:.5em;break-inside:avoid}.chord{font-size:1.5em;font-weight:bold}\n"
    "svg{display:block;width:7em;height:auto}.wire{stroke:#111;fill:none}.nut{stroke:#111;stroke-width:3}.dot{fill:#111}.mark{font:9px sans-serif;fill:#111}\n"
    "@media print{body{margin:0;max-width:none}}\n</style>\n";

constexpr double kAbove = 14.0;  // room for the marks above the strings

std::string picture(const Grip& grip, const Neck& neck, const std::string& words) {
    const double width = kGripWidth + 2.0 * kGripMargin, height = kGripHeight + kAbove;
    return "<svg viewBox=\"0 0 " + svg_number(width) + " " + svg_number(height) + "\" role=\"img\" aria-label=\"" + escaped(words) + "\">" + grip_svg(grip, neck, kGripMargin, kAbove) + "</svg>";
}

/// A neck without a grip, to be drawn on.
std::string empty_neck(int strings) {
    std::string out = "<svg viewBox=\"0 0 " + svg_number(kGripWidth + 2.0 * kGripMargin) + " " + svg_number(kGripHeight + kAbove) + "\" role=\"img\" aria-label=\"an empty neck\">";
    const double step = kGripWidth / (strings - 1);
    for (int i = 0; i < strings; ++i) out += "<path class=\"wire\" d=\"M" + svg_number(kGripMargin + i * step) + " " + svg_number(kAbove) + "v" + svg_number(kGripHeight - kAbove) + "\"/>";
    for (int i = 0; i <= 5; ++i) out += "<path class=\"wire\" d=\"M" + svg_number(kGripMargin) + " " + svg_number(kAbove + i * (kGripHeight - kAbove) / 5.0) + "h" + svg_number(kGripWidth) + "\"/>";
    return out + "</svg>";
}

void write_question(std::size_t number, const QuizQuestion& question, const Neck& neck, bool answers, std::ostream& out) {
    const bool hidden = question.asking == Asking::by_ear && !answers;
    const bool shown = answers || question.asking == Asking::shown;
    out << "<li>" << number << ". <span class=\"chord\">" << (hidden ? "by ear" : escaped(question.step.chord)) << "</span><br>";
    if (!hidden) out << "bass " << escaped(question.step.bass);
    if (question.beat) out << ", bar " << question.beat->bar << ", beat " << question.beat->beat;
    if (shown) out << "<br>" << escaped(question.step.grip.text());
    out << (shown ? picture(question.step.grip, neck, question.step.grip.text()) : empty_neck(neck.tuning.strings())) << "</li>\n";
}

}  // namespace

void write_quiz_sheet(const Quiz& quiz, const std::vector<QuizQuestion>& questions, const QuizSheetOptions& options, std::ostream& out) {
    Neck neck;
    neck.tuning = quiz.tuning;
    neck.capo = quiz.capo;
    out << kHead << "<title>" << escaped(quiz.title) << "</title>\n</head>\n<body>\n<h1>" << escaped(quiz.title) << (options.answers ? ", with answers" : "") << "</h1>\n<p>Name: "
        << (options.student.empty() ? "______________________" : escaped(options.student)) << "</p>\n";
    int part = -1;
    for (std::size_t i = 0; i < questions.size(); ++i) {
        if (questions[i].part != part) {
            if (part >= 0) out << "</ol>\n";
            part = questions[i].part;
            const QuizPart& of = quiz.parts[static_cast<std::size_t>(part)];
            out << "<h2>" << (of.title.empty() ? "Part " + std::to_string(part + 1) : escaped(of.title)) << "</h2>\n<ol>\n";
        }
        write_question(i + 1, questions[i], neck, options.answers, out);
    }
    out << (part >= 0 ? "</ol>\n" : "") << "</body>\n</html>\n";
}

}  // namespace gripline

#include "formats/line_svg.h"

#include <algorithm>

#include "chart/chart_text.h"
#include "formats/grip_svg.h"
#include "formats/markup.h"

namespace gripline {

namespace {

constexpr double kMargin = 10.0, kHead = 62.0, kSection = 26.0;
constexpr const char* kNamespace = "http://www.w3.org/2000/svg";
constexpr const char* kCaution = "Stop at pain and rest often. A teacher or a clinician knows better than a page.";

std::string title_of(const Chart& chart) { return chart.title.empty() ? "Walking line" : chart.title; }

/// The bars of the chart as they are written, without headings and comments.
std::string bars_of(const Chart& chart) {
    std::string out;
    const std::string whole = chart_text(chart);
    for (std::string_view text = whole; !text.empty();) {
        const auto end = std::min(text.find('\n'), text.size());
        const std::string_view row = text.substr(0, end);
        if (row.starts_with('|') || row.starts_with('[')) out += escaped(row) + "\n";
        text.remove_prefix(std::min(end + 1, text.size()));
    }
    return out;
}

std::string moved(double x, double y, const std::string& inside) { return "<g transform=\"translate(" + svg_number(x) + " " + svg_number(y) + ")\">" + inside + "</g>\n"; }

}  // namespace

std::string line_svg(const Chart& chart, const Line& line, const Neck& neck, int across) {
    const double across_width = across * kGripCell;
    std::string body = svg_text(kMargin, 30.0, title_of(chart), "title", "start", across_width, 13.0) + svg_text(kMargin, 50.0, picture_facts(chart, neck), "facts", "start", across_width, 7.0) + "\n";
    std::string words;
    double y = kHead;
    for (const PictureRow& row : picture_rows(chart, line, neck, across)) {
        if (!row.section.empty()) {
            body += svg_text(kMargin, y + 17.0, "[" + row.section + "]", "section", "start", across_width, 10.0);
            y += kSection;
        }
        body += moved(kMargin, y, row.svg);
        words += (words.empty() ? "" : ". ") + row.words;
        y += row.height;
    }
    const std::string width = svg_number(across_width + 2.0 * kMargin), height = svg_number(y + kMargin);
    return "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<svg xmlns=\"" + std::string(kNamespace) + "\" version=\"1.1\" width=\"" + width + "\" height=\"" + height + "\" viewBox=\"0 0 " + width + " " + height +
           "\" role=\"img\">\n<title>" + escaped(title_of(chart)) + "</title>\n<desc>" + escaped(words) + "</desc>\n<style>" + picture_style() + ".title{font-size:24px;font-weight:bold}.facts{font-size:13px}.section{font-size:17px;font-weight:bold}</style>\n" +
           "<rect width=\"" + width + "\" height=\"" + height + "\" fill=\"#fff\"/>\n" + body + "</svg>\n";
}

std::string line_html(const Chart& chart, const Line& line, const Neck& neck, int across) {
    std::string out = "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<title>" + escaped(title_of(chart)) + "</title>\n<style>\n" + picture_style() +
                      "\nbody{margin:1rem auto;max-width:60rem;padding:0 .5rem;color:#000;background:#fff;font-family:sans-serif}h1{margin:0;font-size:1.6rem}p{margin:.3rem 0}h2{font-size:1.1rem;margin:.4rem 0 0;break-after:avoid}\n"
                      "pre{margin:.5rem 0;font-size:1.05rem;line-height:1.35;white-space:pre-wrap;break-inside:avoid}svg{display:block;width:100%;height:auto;break-inside:avoid}footer{font-size:.8rem;margin-top:.6rem}.legend{font-size:.85rem}\n@page{margin:10mm}@media print{body{margin:0;max-width:none;padding:0}}\n</style>\n</head>\n<body>\n<h1>" +
                      escaped(title_of(chart)) + "</h1>\n<p>" + escaped(picture_facts(chart, neck)) + "</p>\n<p class=\"legend\">" + escaped(picture_legend(neck)) + "</p>\n<main>\n";
    out += "<pre>" + bars_of(chart) + "</pre>\n";
    for (const PictureRow& row : picture_rows(chart, line, neck, across)) {
        if (!row.section.empty()) out += "<h2>[" + escaped(row.section) + "]</h2>\n";
        out += "<svg xmlns=\"" + std::string(kNamespace) + "\" viewBox=\"0 0 " + svg_number(across * kGripCell) + " " + svg_number(row.height) + "\" role=\"img\" aria-label=\"" + escaped(row.words) + "\">" + row.svg + "</svg>\n";
    }
    return out + "</main>\n<footer>" + escaped(kCaution) + "</footer>\n</body>\n</html>\n";
}

}  // namespace gripline

#include "chart/chart_text.h"

#include <algorithm>
#include <charconv>
#include <optional>
#include <utility>

#include "base/text.h"
#include "chart/bar_text.h"
#include "chart/row_text.h"

namespace gripline {

namespace {

constexpr std::size_t kLongest_bytes = 1U << 20U;
constexpr std::size_t kLongestSection_bytes = 12;

std::string tempo_text(double tempo_bpm) {
    char out[32];
    return {out, std::to_chars(out, out + sizeof out, tempo_bpm).ptr};  // the shortest text that reads back equal
}

Result<double> parse_tempo(std::string_view text) {
    double tempo = 0.0;
    const auto [end, trouble] = std::from_chars(text.data(), text.data() + text.size(), tempo);
    if (trouble == std::errc() && end == text.data() + text.size() && tempo >= kLeastTempo_bpm && tempo <= kMostTempo_bpm) return tempo;
    return Error{"unknown tempo " + quoted(text) + "; a tempo is " + tempo_text(kLeastTempo_bpm) + " to " + tempo_text(kMostTempo_bpm) + " counts a minute"};
}

/// "[A]", "A:", or "A" alone: the section's letter; else empty.
std::string_view section_of(std::string_view text, bool alone) {
    if (text.size() > 2 && text.front() == '[' && text.back() == ']') return trimmed(text.substr(1, text.size() - 2));
    const bool letter = !text.empty() && text.front() >= 'A' && text.front() <= 'Z';
    if (letter && text.size() == 2 && text[1] == ':') return text.substr(0, 1);
    return letter && alone && text.size() == 1 ? text : std::string_view{};
}

class ChartReader {
public:
    Result<Chart> read(std::string_view text) {
        if (text.size() > kLongest_bytes) return Error{"the chart is " + std::to_string(text.size()) + " bytes long, at most " + std::to_string(kLongest_bytes)};
        if (text.starts_with("\xEF\xBB\xBF")) text.remove_prefix(3);
        for (line_ = 1; !text.empty(); ++line_) {
            const std::size_t end = std::min(text.find('\n'), text.size());
            if (auto bad = take(text.substr(0, end))) return Error{"line " + std::to_string(line_) + ", " + bad->message};
            text.remove_prefix(std::min(end + 1, text.size()));
        }
        if (chart_.bars.empty()) return Error{"the chart has no bars; write them as | C7 | F7 |"};
        if (!section_.empty()) return Error{"section " + quoted(section_) + " has no bars"};
        chart_.comments = std::move(comments_);
        if (const auto played = played_bars(chart_); !played) return played.error();
        return std::move(chart_);
    }

private:
    Chart chart_;
    Meter meter_;
    int line_ = 1;
    std::string section_;                 // waits for its bars
    std::vector<std::string> comments_;   // wait for their row

    std::optional<Error> take(std::string_view line) {
        for (const char c : line)
            if ((static_cast<unsigned char>(c) < 0x20 && c != '\t' && c != '\r') || c == 0x7f) return Error{"a control character; a chart is plain text"};
        for (std::size_t at = line.find('\xC2'); at != std::string_view::npos; at = line.find('\xC2', at + 1))  // U+0080 to U+009F: some terminals obey them
            if (at + 1 < line.size() && static_cast<unsigned char>(line[at + 1]) >= 0x80 && static_cast<unsigned char>(line[at + 1]) < 0xA0) return Error{"a control character; a chart is plain text"};
        const std::string_view bare = trimmed(line);
        if (bare.starts_with("title:") || bare.starts_with("Title:")) return heading(bare);  // may hold a # or a |
        line = without_comment(line);
        if (line.empty()) return std::nullopt;
        if (line.find('|') != std::string_view::npos) return row(line);
        if (const auto section = section_of(line, true); !section.empty()) return open_section(section);
        if (const auto meter = Meter::parse(line)) {
            set_meter(*meter);
            return std::nullopt;
        }
        if (line.find(':') != std::string_view::npos) return heading(line);
        return Error{quoted(line) + " is neither a heading (title:, key:, meter:, tempo:), a section ([A]) nor a row of bars (| C7 | F7 |)"};
    }

    /// A comment starts the line or follows a blank, so that F# stays a note.
    std::string_view without_comment(std::string_view line) {
        for (std::size_t i = 0; i < line.size(); ++i) {
            if (line[i] != '#' || (i > 0 && line[i - 1] != ' ' && line[i - 1] != '\t')) continue;
            comments_.emplace_back(trimmed(line.substr(i + 1)));
            line = line.substr(0, i);
        }
        return trimmed(line);
    }

    void set_meter(const Meter& meter) {
        meter_ = meter;
        if (chart_.bars.empty()) chart_.meter = meter;
    }

    std::optional<Error> heading(std::string_view line) {
        const auto colon = line.find(':');
        std::string word(trimmed(line.substr(0, colon)));
        for (char& c : word) c = c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
        const std::string_view value = trimmed(line.substr(colon + 1));
        const bool known = word == "title" || word == "key" || word == "meter" || word == "time" || word == "tempo";
        if (!known) return Error{"unknown heading " + quoted(word) + "; headings are title, key, meter, tempo"};
        if (!chart_.bars.empty()) return Error{"the heading " + quoted(word) + " comes after bars; headings stand above them"};
        if (word == "title") {
            chart_.title = value;
        } else if (word == "key") {
            const auto key = Key::parse(value);
            if (!key) return key.error();
            chart_.key = *key;
        } else if (word == "tempo") {
            const auto tempo = parse_tempo(value);
            if (!tempo) return tempo.error();
            chart_.tempo_bpm = *tempo;
        } else {
            const auto meter = Meter::parse(value);
            if (!meter) return meter.error();
            set_meter(*meter);
        }
        return std::nullopt;
    }

    std::optional<Error> open_section(std::string_view letter) {
        if (letter.size() > kLongestSection_bytes) return Error{"section " + quoted(letter) + " is too long; at most " + std::to_string(kLongestSection_bytes) + " bytes"};
        if (!section_.empty()) return Error{"section " + quoted(section_) + " has no bars"};
        section_ = letter;
        return std::nullopt;
    }

    std::optional<Error> row(std::string_view line) {
        const auto front = trimmed(line.substr(0, line.find('|')));
        if (const auto section = section_of(front, false); !section.empty()) {
            if (auto bad = open_section(section)) return bad;
            line.remove_prefix(line.find('|'));
        }
        const std::size_t first = chart_.bars.size();
        const auto added = parse_row(line, chart_.bars, meter_);
        if (!added) return added.error();
        if (*added == 0) return Error{"the row has no bars"};
        chart_.bars[first].section = std::exchange(section_, {});
        chart_.bars[first].comments = std::exchange(comments_, {});
        return std::nullopt;
    }
};

std::string endings_text(const std::vector<int>& endings) {
    std::string out;
    for (const int each : endings) out += (out.empty() ? "" : ",") + std::to_string(each);
    return out.empty() ? out : out + ".";
}

}  // namespace

Result<Chart> parse_chart(std::string_view text) { return ChartReader().read(text); }

std::string chart_text(const Chart& chart) {
    std::string out;
    if (!chart.title.empty()) out += "title: " + chart.title + "\n";
    if (chart.key) out += "key: " + chart.key->text() + "\n";
    out += "meter: " + chart.meter.text() + "\ntempo: " + tempo_text(chart.tempo_bpm) + "\n";
    Meter meter = chart.meter;
    for (std::size_t i = 0; i < chart.bars.size(); ++i) {
        const Bar& bar = chart.bars[i];
        const bool new_row = i == 0 || bar.starts_row || !bar.section.empty();
        if (new_row) {
            out += "\n";
            for (const auto& comment : bar.comments) out += "# " + comment + "\n";
            if (!bar.section.empty()) out += "[" + bar.section + "]\n";
            out += "|";
        }
        out += (bar.opens_repeat ? ":" : "") + endings_text(bar.endings) + " ";
        if (bar.meter != meter) out += bar.meter.text() + " ";
        meter = bar.meter;
        out += bar_text(bar) + (bar.closes_repeat > 0 ? " :|" : " |");
        if (bar.closes_repeat > 2) out += " x" + std::to_string(bar.closes_repeat) + (i + 1 < chart.bars.size() && !chart.bars[i + 1].starts_row ? " |" : "");
    }
    out += "\n";
    for (const auto& comment : chart.comments) out += "# " + comment + "\n";
    return out;
}

}  // namespace gripline

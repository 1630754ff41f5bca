#include "formats/chart_abc.h"

#include <charconv>

#include "theory/accidental_text.h"

namespace gripline {

namespace {

/// A length in eighths as rests that one sign can have.
std::string rests(int eighths) {
    std::string out;
    for (const int value : {8, 6, 4, 3, 2, 1})
        for (; eighths >= value; eighths -= value) out += "z" + (value == 1 ? std::string() : std::to_string(value)) + " ";
    return out;
}

std::string endings_text(const std::vector<int>& endings) {
    std::string out;
    for (const int each : endings) out += (out.empty() ? "" : ",") + std::to_string(each);
    return out;
}

class AbcChartWriter {
public:
    explicit AbcChartWriter(const Chart& chart) : chart_(chart) {}

    std::string write() {
        out_ = "X:1\nT:" + abc_field_text(chart_.title) + "\nM:" + chart_.meter.text() + "\nL:1/8\nQ:" + abc_tempo(chart_) + "\nK:" + abc_key(chart_, "none") + "\n";
        meter_ = chart_.meter;
        for (std::size_t i = 0; i < chart_.bars.size(); ++i) bar(i);
        out_ += "]\n";  // of the last bar line, |]
        comments(chart_.comments);
        return out_;
    }

private:
    const Chart& chart_;
    std::string out_;
    Meter meter_;

    void comments(const std::vector<std::string>& lines) {
        for (const std::string& line : lines) out_ += "% " + line + "\n";
    }

    /// How often the repeat that opens in bar `first` is played.
    [[nodiscard]] int times(std::size_t first) const {
        for (std::size_t i = first; i < chart_.bars.size(); ++i)
            if (chart_.bars[i].closes_repeat > 0) return chart_.bars[i].closes_repeat;
        return 2;
    }

    void bar(std::size_t i) {
        const Bar& bar = chart_.bars[i];
        const bool new_row = i == 0 || bar.starts_row || !bar.section.empty();
        if (new_row) {
            if (i > 0) out_ += "\n";
            comments(bar.comments);
            if (!bar.section.empty()) out_ += "P:" + abc_field_text(bar.section) + "\n";
        }
        if (bar.opens_repeat) out_ += "|" + std::string(static_cast<std::size_t>(times(i) - 1), ':');
        if (!bar.endings.empty()) out_ += "[" + endings_text(bar.endings);
        out_ += " ";
        if (bar.meter != meter_) out_ += "[M:" + bar.meter.text() + "] ";
        meter_ = bar.meter;
        if (bar.repeats_last) out_ += "[r:as before] ";
        for (const PlacedChord& chord : bar.chords) {
            if (chord.scale) out_ += "[r:walk on " + chord.scale->text() + "]";
            out_ += "\"" + abc_symbol(chord) + "\"" + rests(chord.beats * (bar.meter.unit == 8 ? 1 : 2));
        }
        out_ += std::string(static_cast<std::size_t>(bar.closes_repeat > 0 ? bar.closes_repeat - 1 : 0), ':') + "|";
    }
};

}  // namespace

std::string chart_abc(const Chart& chart) { return AbcChartWriter(chart).write(); }

std::string abc_field_text(const std::string& text) {
    std::string out;
    for (const char c : text) {
        if (c == '%' || c == '\\') out += '\\';
        out += c == '\n' || c == '\r' ? ' ' : c;
    }
    return out;
}

std::string abc_key(const Chart& chart, const char* none) {
    if (!chart.key) return none;
    const NoteName tonic = chart.key->tonic;
    return Key{tonic.accidental() * tonic.accidental() > 1 ? tonic.as_root() : tonic, chart.key->minor}.text();
}

std::string abc_symbol(const PlacedChord& chord) {
    if (!chord.symbol || chord.text().find('%') == std::string::npos) return chord.text();
    return replaced(replaced(chord.symbol->chart_text(), "%7", "m7b5"), "%", "m7b5");
}

std::string abc_tempo(const Chart& chart) {
    char number[32];
    return (chart.meter.unit == 8 ? "1/8=" : "1/4=") + std::string(number, std::to_chars(number, number + sizeof number, chart.tempo_bpm).ptr);
}

}  // namespace gripline

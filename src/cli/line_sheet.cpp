#include "cli/line_sheet.h"

#include <algorithm>
#include <ostream>
#include <string>
#include <vector>

#include "cli/text_table.h"
#include "formats/line_name.h"
#include "theory/chord_words.h"
#include "ui/text_layout.h"

namespace gripline {

namespace {

constexpr std::size_t kBar_columns = 5, kBeat_columns = 15;  // five beats of the longest grip, 10-x-11-11-x-x, are 80 columns

std::string padded(std::string text, std::size_t columns) {
    text.resize(std::max(columns, text.size() + 1), ' ');
    return text;
}

/// "C7/E", "Bdim7/D", "Gb7/Bb above".
std::string head_of(const LineBeat& beat) {
    std::string name = plain_chord_text(beat_name(beat));
    if (beat.from) name += *beat.from == From::below ? " <" : " >";
    return beat.locked ? name + " *" : name;
}

void print_row(std::ostream& out, std::string row) {
    row.erase(row.find_last_not_of(' ') + 1);
    out << row << '\n';
}

/// One beat of each chord that is played through the scale of a chord of another name, in order.
std::vector<const LineBeat*> played_otherwise(const Line& line) {
    std::vector<const LineBeat*> out;
    for (const LineBeat& beat : line.beats) {
        const auto symbol = parse_chart_symbol(beat.chord);
        if (symbol && text_on(*symbol, symbol->root) == played_chord(beat.scale)) continue;
        if (std::none_of(out.begin(), out.end(), [&](const LineBeat* each) { return plain_chord_text(each->chord) == plain_chord_text(beat.chord) && played_chord(each->scale) == played_chord(beat.scale); })) out.push_back(&beat);
    }
    return out;
}

/// "Gm7 is played as Bb6, C7b9 as Dbm6": which scale's chord stands for each that is not its own.
void print_played_as(std::ostream& out, const Line& line) {
    constexpr int kColumns = 80;
    std::string words;
    for (const LineBeat* each : played_otherwise(line)) words += (words.empty() ? "" : ", ") + plain_chord_text(each->chord) + (words.empty() ? " is played as " : " as ") + played_chord(each->scale);
    for (const std::string& row : wrap(words, kColumns)) out << row << '\n';
}

std::string place(const LineBeat& beat) { return "bar " + std::to_string(beat.bar) + ", beat " + std::to_string(beat.beat) + ": "; }
std::string hundredths(std::int64_t value) { return decimal(static_cast<double>(value) / 100.0, 2); }

}  // namespace

void print_chart_head(const Chart& chart, std::ostream& out) {
    if (!chart.title.empty()) out << chart.title << '\n';
    if (chart.key) out << "key " << chart.key->text() << ", ";
    out << chart.meter.text() << ", " << decimal(chart.tempo_bpm, chart.tempo_bpm == static_cast<int>(chart.tempo_bpm) ? 0 : 1) << " counts a minute\n"
        << "< from below, > from above, * chosen by hand\n";
}

void print_line(const Chart& chart, const Line& line, std::ostream& out) {
    for (std::size_t first = 0; first < line.beats.size();) {
        const int bar = line.beats[first].bar;
        const Bar& written = chart.bars[static_cast<std::size_t>(line.beats[first].written_bar)];
        const std::size_t across = written.meter.counts() > 5 ? 3 : 5;
        std::size_t end = first;
        std::string names = padded(std::to_string(bar), kBar_columns), grips(kBar_columns, ' ');
        while (end < line.beats.size() && line.beats[end].bar == bar && end - first < across) {
            names += padded(head_of(line.beats[end]), kBeat_columns);
            grips += padded(line.beats[end].grip.text(), kBeat_columns);
            ++end;
        }
        if (!written.section.empty() && (first == 0 || line.beats[first - 1].bar != bar)) out << '[' << written.section << "]\n";
        print_row(out, names);
        print_row(out, grips);
        first = end;
    }
    print_played_as(out, line);
    for (const LineBeat& beat : line.beats)
        if (!beat.remark.empty()) out << place(beat) << beat.remark << '\n';
}

void print_reasons(const Line& line, std::ostream& out) {
    for (const LineBeat* each : played_otherwise(line)) out << plain_chord_text(each->chord) << " is played as " << played_chord(each->scale) << ": " << each->scale.reason << '\n';
    for (const LineBeat& beat : line.beats) {
        out << place(beat) << beat.grip.text() << " costs " << beat.costs.text();
        if (beat.second) out << "; second best " << beat.second->text() << ", the line " << hundredths(beat.second_hundredths) << " dearer";
        out << '\n';
    }
}

}  // namespace gripline

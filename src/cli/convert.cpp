// gripline convert: charts from one kind of file to another, and lines over them to be read, played or printed.
#include <ostream>

#include "cli/chart_file.h"
#include "cli/commands.h"
#include "cli/line_file.h"
#include "cli/line_words.h"
#include "lines/walk_builder.h"

namespace gripline {

namespace {

/// The chart: a file, the standard input, or a chart of the library.
Result<ImportedChart> open(const ConvertOptions& options) {
    if (options.from.empty() && options.in != "-") {
        ImportedChart out;
        auto chart = open_chart(options.in, &out.remarks);
        if (!chart) return chart.error();
        out.chart = std::move(*chart);
        return out;
    }
    const auto kind = file_kind(options.in, options.from, "--from");
    if (!kind) return kind.error();
    auto out = open_chart_of(options.in, *kind);
    if (out)
        for (std::string& each : out->remarks) each = (options.in == "-" ? "standard input" : options.in) + ": " + each;
    return out;
}

std::string counted(std::size_t count, const char* what) { return std::to_string(count) + " " + what + (count == 1 ? "" : "s"); }

int write_chart(const ConvertOptions& options, FileKind kind, const Chart& chart, std::ostream& out, std::ostream& err) {
    const auto bytes = chart_bytes(kind, chart);
    if (!bytes) return refuse(err, options.out + ": " + bytes.error().message);
    if (options.out == "-") {
        out << *bytes;
        return kExitDone;
    }
    if (const auto bad = write_file(options.out, *bytes, options.force)) return refuse(err, bad->message);
    out << options.out << ": " << file_kind_row(kind).what << ", " << counted(chart.bars.size(), "bar") << '\n';
    return kExitDone;
}

/// Sound, into a file.
std::optional<Error> write_sound(const ConvertOptions& options, const Chart& chart, const Line& line, const Neck& neck) {
    if (options.out == "-") return Error{"sound can't go to the standard output; name a file"};
    LineSoundConfig sound;
    sound.click = options.click || options.answer;
    sound.choruses = options.choruses;
    sound.answer = options.answer;
    sound.faster_bpm = options.faster_bpm;
    sound.a4_hz = options.a4_hz;
    return write_line_sound(options.out, chart, line, neck, sound, options.force);
}

int write_walk(const ConvertOptions& options, FileKind kind, const Chart& chart, std::ostream& out, std::ostream& err) {
    auto settings = line_settings(options.line);
    if (!settings) return refuse(err, settings.error().message);
    settings->neck.left_handed = options.left_handed;
    if (options.choruses > 1) settings->comes_again = true;
    const auto line = build_line(chart, *settings);
    if (!line) return refuse(err, options.in + ": " + line.error().message);
    for (const LineBeat& beat : line->beats)
        if (!beat.remark.empty()) err << "gripline: bar " << beat.bar << ", beat " << beat.beat << ": " << beat.remark << '\n';
    if (kind == FileKind::wav) {
        if (const auto bad = write_sound(options, chart, *line, settings->neck)) return refuse(err, bad->message);
    } else {
        const auto bytes = line_bytes(kind, chart, *line, *settings, options.across);
        if (!bytes) return refuse(err, options.out + ": " + bytes.error().message);
        if (options.out == "-") {
            out << *bytes;
            return kExitDone;
        }
        if (const auto bad = write_file(options.out, *bytes, options.force)) return refuse(err, bad->message);
    }
    out << options.out << ": " << file_kind_row(kind).what << " of the line, " << counted(line->beats.size(), "grip") << '\n';
    return kExitDone;
}

/// Options that the kind has no use for.
std::string misplaced(const ConvertOptions& options, const FileKindRow& row) {
    const bool sound = options.click || options.answer || options.choruses > 1 || options.faster_bpm > 0.0, picture = options.left_handed || options.across != kUsualAcross;
    if (options.as_line && !row.holds_line) return "--line: a " + std::string(row.what) + " can't hold a line; MusicXML, ABC, MIDI, tab, svg, html and wav can";
    if (sound && row.kind != FileKind::wav) return "--click, --choruses, --answer and --faster are for sound (.wav), not for a " + std::string(row.what);
    if (picture && row.kind != FileKind::svg && row.kind != FileKind::html) return "--across and --left-handed are for pictures (.svg, .html), not for a " + std::string(row.what);
    if ((options.answer || options.faster_bpm > 0.0) && options.choruses < 2) return "--answer and --faster need two choruses or more: --choruses 4";
    return {};
}

}  // namespace

int convert(const ConvertOptions& options, std::ostream& out, std::ostream& err) {
    const auto kind = file_kind(options.out, options.to, "--to");
    if (!kind) return refuse(err, kind.error().message);
    const FileKindRow& row = file_kind_row(*kind);
    if (const std::string what = misplaced(options, row); !what.empty()) return refuse(err, what);
    const auto read = open(options);
    if (!read) return refuse(err, read.error().message);
    for (const std::string& each : read->remarks) err << "gripline: " << each << '\n';
    auto chart = chart_in_key(read->chart, options.line.key);
    if (!chart) return refuse(err, chart.error().message);
    if (options.tempo_bpm > 0.0) chart->tempo_bpm = options.tempo_bpm;
    const bool as_line = options.as_line || !row.holds_chart;
    return as_line ? write_walk(options, *kind, *chart, out, err) : write_chart(options, *kind, *chart, out, err);
}

}  // namespace gripline

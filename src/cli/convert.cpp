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

int write_walk(const ConvertOptions& options, FileKind kind, const Chart& chart, std::ostream& out, std::ostream& err) {
    const auto settings = line_settings(options.line);
    if (!settings) return refuse(err, settings.error().message);
    const auto line = build_line(chart, *settings);
    if (!line) return refuse(err, options.in + ": " + line.error().message);
    for (const LineBeat& beat : line->beats)
        if (!beat.remark.empty()) err << "gripline: bar " << beat.bar << ", beat " << beat.beat << ": " << beat.remark << '\n';
    if (options.out == "-" && kind == FileKind::wav) return refuse(err, "sound can't go to the standard output; name a file");
    if (options.out == "-") {
        const auto bytes = line_bytes(kind, chart, *line, *settings);
        if (!bytes) return refuse(err, bytes.error().message);
        out << *bytes;
        return kExitDone;
    }
    LineSoundConfig sound;
    sound.click = options.click;
    sound.choruses = options.choruses;
    sound.a4_hz = options.a4_hz;
    if (const auto bad = write_line(options.out, kind, chart, *line, *settings, options.force, sound)) return refuse(err, bad->message);
    out << options.out << ": " << file_kind_row(kind).what << " of the line, " << counted(line->beats.size(), "grip") << '\n';
    return kExitDone;
}

}  // namespace

int convert(const ConvertOptions& options, std::ostream& out, std::ostream& err) {
    const auto kind = file_kind(options.out, options.to, "--to");
    if (!kind) return refuse(err, kind.error().message);
    const FileKindRow& row = file_kind_row(*kind);
    if (options.as_line && !row.holds_line) return refuse(err, "--line: a " + std::string(row.what) + " can't hold a line; MusicXML, ABC, MIDI, tab, svg, html and wav can");
    if ((options.click || options.choruses > 1) && *kind != FileKind::wav) return refuse(err, "--click and --choruses are for sound (.wav), not for a " + std::string(row.what));
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

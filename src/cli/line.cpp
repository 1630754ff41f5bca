// gripline line: the walking line over a chart.
#include <ostream>
#include <string>
#include <vector>

#include "chart/chart_library.h"
#include "chart/chart_text.h"
#include "cli/chart_file.h"
#include "cli/commands.h"
#include "cli/line_file.h"
#include "cli/line_sheet.h"
#include "cli/line_words.h"
#include "cli/text_table.h"
#include "formats/line_json.h"
#include "lines/walk_builder.h"

namespace gripline {

namespace {

int list_charts(std::ostream& out) {
    TextTable table(out, {{"chart", 24}, {"bars", 4, true}, {"key", 4}, {"meter", 5}, {"title", 40}});
    for (const LibraryChart& each : chart_library()) {
        const auto chart = parse_chart(each.text);
        if (!chart) continue;  // a test reads every one of them
        table.row({std::string(each.name), std::to_string(played_bars(*chart)->size()), chart->key ? chart->key->text() : "", chart->meter.text(), chart->title});
    }
    return kExitDone;
}

/// A file, a chart of the library, or as "-" text on standard input.
Result<Chart> chart_of(const std::string& word, std::vector<std::string>& remarks) {
    if (word != "-") return open_chart(word, &remarks);
    const auto read = open_chart_of(word, FileKind::chart);
    if (!read) return read.error();
    return read->chart;
}

}  // namespace

int line(const LineOptions& options, std::ostream& out, std::ostream& err) {
    if (options.list) return list_charts(out);
    std::vector<std::string> remarks;
    const auto written = chart_of(options.chart, remarks);
    if (!written) return refuse(err, written.error().message);
    for (const std::string& each : remarks) err << "gripline: " << each << '\n';
    const auto chart = chart_in_key(*written, options.key);
    if (!chart) return refuse(err, chart.error().message);
    const auto settings = line_settings(options);
    if (!settings) return refuse(err, settings.error().message);
    const auto lines = build_lines(*chart, *settings, options.alternatives, options.explain);
    if (!lines) return refuse(err, options.chart + ": " + lines.error().message);
    if (static_cast<int>(lines->size()) < options.alternatives)
        err << "gripline: only " << lines->size() << " of " << options.alternatives << " lines differ from each other in a quarter of their beats\n";
    if (!options.to.empty()) {
        const auto kind = file_kind(options.to, "", "gripline convert --to");
        if (!kind) return refuse(err, kind.error().message);
        const bool plain_text = *kind == FileKind::chart && !options.to.ends_with(".chart");  // .txt: of a line that is tablature
        if (const auto trouble = write_line(options.to, plain_text ? FileKind::tab : *kind, *chart, lines->front(), *settings, options.overwrite)) return refuse(err, trouble->message);
    }
    if (!options.json) print_chart_head(*chart, out);
    for (std::size_t i = 0; i < lines->size(); ++i) {
        const Line& each = (*lines)[i];
        if (options.json) {
            for (const LineBeat& beat : each.beats) out << beat_json(beat, options.alternatives > 1 ? static_cast<int>(i) + 1 : 0, options.explain) << '\n';
            continue;
        }
        out << "\nline " << i + 1 << " of " << lines->size() << ", cost " << decimal(static_cast<double>(each.hundredths) / 100.0, 2) << '\n';
        print_line(*chart, each, out);
        if (options.explain) print_reasons(each, out);
    }
    return kExitDone;
}

}  // namespace gripline

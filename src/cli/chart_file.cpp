#include "cli/chart_file.h"

#include <filesystem>
#include <fstream>
#include <iostream>

#include "base/text.h"
#include "chart/chart_library.h"
#include "chart/chart_text.h"
#include "formats/abc_reader.h"
#include "formats/midi_chart.h"
#include "formats/music_xml_reader.h"
#include "formats/mxl.h"

namespace gripline {

namespace {

constexpr std::size_t kMost_bytes = (16U << 20U) + 1;  // one more than any reader takes, so that it is the one to refuse

std::string read_at_most(std::istream& in, std::size_t most_bytes) {
    std::string text;
    char block[65536];
    while (text.size() < most_bytes && in) {
        in.read(block, static_cast<std::streamsize>(std::min(sizeof block, most_bytes - text.size())));
        text.append(block, static_cast<std::size_t>(in.gcount()));
    }
    return text;
}

Result<std::string> file_bytes(const std::string& path) {
    if (path == "-") return read_at_most(std::cin, kMost_bytes);
    std::error_code trouble;
    if (!std::filesystem::exists(path, trouble)) return Error{path + ": there is no such file"};
    const bool ordinary = std::filesystem::is_regular_file(path, trouble);  // asked first: a named pipe would be waited for
    std::ifstream in;
    if (ordinary) in.open(path, std::ios::binary);
    if (!ordinary || !in) return Error{path + ": can't be read; a chart is an ordinary file"};
    if (const auto size = std::filesystem::file_size(path, trouble); !trouble && size >= kMost_bytes)
        return Error{path + ": the file is " + std::to_string(size) + " bytes long, at most " + std::to_string(kMost_bytes - 1) + " are read"};
    return read_at_most(in, kMost_bytes);
}

bool is_archive(std::string_view bytes) { return bytes.starts_with("PK\3\4"); }

}  // namespace

Result<ImportedChart> read_chart(std::string_view bytes, FileKind kind) {
    if (kind == FileKind::mxl || (kind == FileKind::music_xml && is_archive(bytes))) {
        const auto score = read_mxl(bytes);
        if (!score) return score.error();
        return read_music_xml(*score);
    }
    if (kind == FileKind::music_xml) return read_music_xml(bytes);
    if (kind == FileKind::abc) return read_abc(bytes);
    if (kind == FileKind::midi) {
        const auto file = parse_midi(bytes);
        if (!file) return file.error();
        return midi_chart(*file);
    }
    if (kind != FileKind::chart) return Error{"a " + std::string(file_kind_row(kind).what) + " can't be read as a chart"};
    auto chart = parse_chart(bytes);
    if (!chart) return chart.error();
    return ImportedChart{std::move(*chart), {}};
}

Result<ImportedChart> open_chart_of(const std::string& path, FileKind kind) {
    const auto bytes = file_bytes(path);
    if (!bytes) return bytes.error();
    auto chart = read_chart(*bytes, kind);
    if (!chart) return Error{(path == "-" ? "standard input" : path) + ": " + chart.error().message};
    return chart;
}

Result<Chart> open_chart(const std::string& word, std::vector<std::string>* remarks) {
    std::error_code trouble;
    if (!std::filesystem::exists(word, trouble)) {
        auto chart = library_chart(word);
        if (!chart) return Error{gripline::quoted(word) + " is no file, and there is " + chart.error().message};
        return chart;
    }
    const auto kind = file_kind(word, "", "");
    auto chart = open_chart_of(word, kind ? *kind : FileKind::chart);
    if (!chart) return chart.error();
    if (remarks)
        for (const std::string& each : chart->remarks) remarks->push_back(word + ": " + each);
    return chart->chart;
}

Result<Chart> chart_in_key(const Chart& chart, const std::string& key) {
    if (key.empty()) return chart;
    const auto asked = Key::parse(key);
    if (!asked) return Error{"--key: " + asked.error().message};
    if (!chart.key) return Error{"--key: the chart names no key to move from; add a heading such as key: F"};
    if (asked->minor && !chart.key->minor) return Error{"--key: " + key + " is minor, but the chart is in " + chart.key->text()};
    return transposed(chart, asked->tonic);
}

}  // namespace gripline

#include "cli/line_file.h"

#include <filesystem>
#include <fstream>
#include <functional>

#include "chart/chart_text.h"
#include "formats/chart_abc.h"
#include "formats/chart_music_xml.h"
#include "formats/line_abc.h"
#include "formats/line_midi.h"
#include "formats/line_svg.h"
#include "formats/line_tab.h"
#include "formats/music_xml.h"
#include "formats/mxl.h"

namespace gripline {

namespace {

/// Lets `write` make a file beside the one that is wanted, then puts it in its place.
std::optional<Error> replace_file(const std::string& wanted, bool overwrite, const std::function<std::optional<Error>(const std::string&)>& write) {
    std::error_code trouble;
    std::string path = wanted;
    if (std::filesystem::is_symlink(wanted, trouble))  // what it points to is replaced, not the link
        if (const auto target = std::filesystem::canonical(wanted, trouble); !trouble) path = target.string();
    const auto there = std::filesystem::status(path, trouble);
    if (std::filesystem::exists(there)) {
        if (!std::filesystem::is_regular_file(there)) return Error{path + ": is no ordinary file; name a file to write"};
        if (!overwrite) return Error{path + " exists; --force replaces it"};
    }
    const std::string part = path + ".part";
    if (std::filesystem::exists(part, trouble)) return Error{part + " exists and is in the way; remove it"};
    auto bad = write(part);
    if (!bad) {
        std::filesystem::rename(part, path, trouble);
        if (trouble) bad = Error{path + ": can't be written: " + trouble.message()};
    }
    if (bad) std::filesystem::remove(part, trouble);
    return bad;
}

std::optional<Error> write_bytes(const std::string& path, const std::string& bytes) {
    std::ofstream out(path, std::ios::binary | std::ios::trunc);
    if (!out) return Error{path + ": can't be written; does its folder exist, and may you write there?"};
    out.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
    out.close();
    if (!out) return Error{path + ": can't be written to its end (is the disk full?)"};
    return std::nullopt;
}

}  // namespace

Result<std::string> chart_bytes(FileKind kind, const Chart& chart) {
    switch (kind) {
        case FileKind::chart: return chart_text(chart);
        case FileKind::music_xml: return chart_music_xml(chart);
        case FileKind::mxl: return mxl_bytes(chart_music_xml(chart));
        case FileKind::abc: return chart_abc(chart);
        default: return Error{"a " + std::string(file_kind_row(kind).what) + " holds the line over a chart, not the chart alone"};
    }
}

Result<std::string> line_bytes(FileKind kind, const Chart& chart, const Line& line, const LineSettings& settings, int across) {
    const Neck& neck = settings.neck;
    switch (kind) {
        case FileKind::music_xml: return line_music_xml(chart, line, neck.tuning, neck.capo);
        case FileKind::mxl: return mxl_bytes(line_music_xml(chart, line, neck.tuning, neck.capo));
        case FileKind::abc: return line_abc(chart, line);
        case FileKind::midi: return midi_bytes(line_midi(chart, line));
        case FileKind::tab: return line_tab(chart, line);
        case FileKind::svg: return line_svg(chart, line, neck, across);
        case FileKind::html: return line_html(chart, line, neck, across);
        default: return Error{"a " + std::string(file_kind_row(kind).what) + " can't hold a line here"};
    }
}

std::optional<Error> write_line(const std::string& path, FileKind kind, const Chart& chart, const Line& line, const LineSettings& settings, bool overwrite) {
    if (kind == FileKind::wav) return write_line_sound(path, chart, line, settings.neck, {}, overwrite);
    const auto bytes = line_bytes(kind, chart, line, settings);
    if (!bytes) return Error{path + ": " + bytes.error().message};
    return write_file(path, *bytes, overwrite);
}

std::optional<Error> write_line_sound(const std::string& path, const Chart& chart, const Line& line, const Neck& neck, const LineSoundConfig& sound, bool overwrite) {
    return replace_file(path, overwrite, [&](const std::string& part) { return write_line_sound(part, chart, line, neck, sound); });
}

std::optional<Error> write_file(const std::string& path, const std::string& bytes, bool overwrite) {
    return replace_file(path, overwrite, [&](const std::string& part) { return write_bytes(part, bytes); });
}

}  // namespace gripline

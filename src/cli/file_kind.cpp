#include "cli/file_kind.h"

#include <algorithm>
#include <array>
#include <filesystem>

#include "base/text.h"

namespace gripline {

namespace {

constexpr std::array kKinds{
    FileKindRow{FileKind::chart, "chart", ".chart .txt", true, true, false, "chart as plain text"},
    FileKindRow{FileKind::music_xml, "musicxml", ".musicxml .xml", true, true, true, "MusicXML"},
    FileKindRow{FileKind::mxl, "mxl", ".mxl", true, true, true, "compressed MusicXML"},
    FileKindRow{FileKind::abc, "abc", ".abc", true, true, true, "ABC"},
    FileKindRow{FileKind::midi, "midi", ".mid .midi", true, false, true, "MIDI file"},
    FileKindRow{FileKind::tab, "tab", ".tab", false, false, true, "plain tablature"},
    FileKindRow{FileKind::svg, "svg", ".svg", false, false, true, "picture of the grips"},
    FileKindRow{FileKind::html, "html", ".html .htm", false, false, true, "page to print"},
    FileKindRow{FileKind::wav, "wav", ".wav", false, false, true, "sound"},
};

bool has_word(std::string_view list, std::string_view word) {
    while (!list.empty()) {
        const auto end = std::min(list.find(' '), list.size());
        if (list.substr(0, end) == word) return true;
        list.remove_prefix(std::min(end + 1, list.size()));
    }
    return false;
}

std::string known(bool endings) {
    std::string out;
    for (const FileKindRow& row : kKinds) out += (out.empty() ? "" : ", ") + std::string(endings ? row.endings.substr(0, row.endings.find(' ')) : row.word);
    return out;
}

}  // namespace

std::span<const FileKindRow> file_kinds() noexcept { return kKinds; }

const FileKindRow& file_kind_row(FileKind kind) noexcept {
    return *std::find_if(kKinds.begin(), kKinds.end(), [&](const FileKindRow& row) { return row.kind == kind; });
}

Result<FileKind> file_kind(const std::string& path, const std::string& word, const char* option) {
    if (!word.empty()) {
        const auto found = std::find_if(kKinds.begin(), kKinds.end(), [&](const FileKindRow& row) { return row.word == word; });
        if (found != kKinds.end()) return found->kind;
        return Error{std::string(option) + ": unknown kind " + gripline::quoted(word) + "; known are " + known(false)};
    }
    if (path == "-") return Error{std::string("\"-\" has no ending that tells the kind; say it with ") + option + ": " + known(false)};
    std::string ending = std::filesystem::path(path).extension().string();
    std::transform(ending.begin(), ending.end(), ending.begin(), [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; });
    const auto found = std::find_if(kKinds.begin(), kKinds.end(), [&](const FileKindRow& row) { return has_word(row.endings, ending); });
    if (found != kKinds.end()) return found->kind;
    return Error{path + ": " + (ending.empty() ? std::string("no ending tells the kind") : "the ending " + gripline::quoted(ending) + " tells no kind") + "; known are " + known(true) + " (or say it with " + option + ")"};
}

}  // namespace gripline

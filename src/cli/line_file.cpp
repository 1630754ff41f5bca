#include "cli/line_file.h"

#include <algorithm>
#include <filesystem>
#include <fstream>

#include "formats/line_abc.h"
#include "formats/line_midi.h"
#include "formats/line_tab.h"
#include "formats/music_xml.h"

namespace gripline {

std::optional<Error> write_line(const std::string& path, const Chart& chart, const Line& line, const LineSettings& settings, bool overwrite) {
    std::string ending = std::filesystem::path(path).extension().string();
    std::transform(ending.begin(), ending.end(), ending.begin(), [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; });
    std::string bytes;
    if (ending == ".musicxml" || ending == ".xml") bytes = line_music_xml(chart, line, settings.neck.tuning, settings.neck.capo);
    else if (ending == ".mid" || ending == ".midi") bytes = midi_bytes(line_midi(chart, line));
    else if (ending == ".abc") bytes = line_abc(chart, line);
    else if (ending == ".tab" || ending == ".txt") bytes = line_tab(chart, line);
    else return Error{path + ": a line is written to .musicxml, .mid, .abc or .tab"};
    std::error_code trouble;
    if (!overwrite && std::filesystem::exists(path, trouble)) return Error{path + " exists; --overwrite replaces it"};
    std::ofstream out(path, std::ios::binary | std::ios::trunc);
    out.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
    out.close();
    if (!out) return Error{path + ": can't be written"};
    return std::nullopt;
}

}  // namespace gripline

#include "house/include_directions.h"

#include <algorithm>
#include <fstream>
#include <map>
#include <set>
#include <sstream>

namespace gripline::house {

namespace {

using Names = std::set<std::string>;

/// A module and the modules whose headers it may include, besides its own.
const std::map<std::string, Names>& allowed() {
    static const std::map<std::string, Names> table{
        {"base", {}},
        {"theory", {"base"}},
        {"fretboard", {"base", "theory"}},
        {"chart", {"base", "theory"}},
        {"lines", {"base", "theory", "fretboard", "chart"}},
        {"dsp", {}},
        {"audio", {"base", "theory", "fretboard"}},
        {"listen", {"base", "audio", "dsp"}},
        {"judge", {"base", "theory", "fretboard", "dsp"}},
        {"practice", {"base", "theory", "fretboard", "chart", "lines", "dsp", "judge"}},
        {"formats", {"base", "theory", "fretboard", "chart", "lines", "dsp", "judge", "practice"}},
        {"ui", {"base", "theory", "fretboard", "chart", "lines", "dsp", "audio", "listen", "judge", "practice", "formats"}},
        {"cli", {"base", "theory", "fretboard", "chart", "lines", "dsp", "audio", "listen", "judge", "practice", "formats", "ui"}},
        {"main", {"cli"}},
    };
    return table;
}

/// Libraries that one file pair alone may see, by the headers that give them away.
const std::map<std::string, std::string>& lone_libraries() {
    static const std::map<std::string, std::string> table{
        {"portaudio.h", "PortAudio"}, {"pa_linux_alsa.h", "PortAudio"}, {"sqlite3.h", "SQLite"},
        {"ncurses.h", "ncurses"},     {"curses.h", "ncurses"},          {"ncursesw/ncurses.h", "ncurses"}, {"ncursesw/curses.h", "ncurses"},
        {"kiss_fft.h", "KissFFT"},    {"kiss_fftr.h", "KissFFT"},       {"kissfft/kiss_fft.h", "KissFFT"}, {"kissfft/kiss_fftr.h", "KissFFT"},
        {"sndfile.h", "libsndfile"},  {"sndfile.hh", "libsndfile"},     {"CLI/CLI.hpp", "CLI11"},      {"pugixml.hpp", "pugixml"},     {"zip.h", "libzip"},
    };
    return table;
}

std::string place(const Include& include) { return include.file + ":" + std::to_string(include.line) + ": "; }

/// "src/judge/judge.h" -> "judge", "dsp/onset.cpp" -> "dsp", "src/main.cpp" -> "main".
std::string module_of_file(const std::string& file) {
    if (file.starts_with("dsp/")) return "dsp";
    const std::string rest = file.substr(file.find('/') + 1);
    const auto slash = rest.find('/');
    return slash == std::string::npos ? "main" : rest.substr(0, slash);
}

std::string module_of_header(const std::string& header) {
    const auto slash = header.find('/');
    return slash == std::string::npos ? "" : header.substr(0, slash);
}

/// The pair that a file belongs to: "cli/arguments.cpp", "cli/arguments_walk.cpp" and "cli/arguments_parts.h" are one in several files.
std::string without_ending(const std::string& file) {
    const std::string stem = file.substr(0, file.rfind('.'));
    const std::string family = "/arguments_";
    const auto part = stem.find(family);
    return part == std::string::npos ? stem : stem.substr(0, part + family.size() - 1);
}

}  // namespace

std::vector<Include> includes_of(const std::string& file, const std::string& text) {
    std::vector<Include> out;
    std::istringstream lines(text);
    std::string line;
    for (int number = 1; std::getline(lines, line); ++number) {
        std::string squeezed;
        std::remove_copy_if(line.begin(), line.end(), std::back_inserter(squeezed), [](char c) { return c == ' ' || c == '\t' || c == '\r'; });
        if (!squeezed.starts_with("#include")) continue;
        const auto open = squeezed.find_first_of("\"<");
        const auto close = open == std::string::npos ? open : squeezed.find(squeezed[open] == '<' ? '>' : '"', open + 1);
        if (close == std::string::npos) continue;
        out.push_back({file, number, squeezed.substr(open + 1, close - open - 1), squeezed[open] == '"'});
    }
    return out;
}

std::vector<Include> read_includes(const std::filesystem::path& root) {
    std::vector<Include> out;
    for (const char* top : {"src", "dsp"}) {
        for (const auto& entry : std::filesystem::recursive_directory_iterator(root / top)) {
            const auto ending = entry.path().extension();
            if (!entry.is_regular_file() || (ending != ".h" && ending != ".cpp" && ending != ".c" && ending != ".hpp")) continue;
            std::ifstream in(entry.path());
            const std::string text{std::istreambuf_iterator<char>(in), {}};
            const auto found = includes_of(std::filesystem::relative(entry.path(), root).generic_string(), text);
            out.insert(out.end(), found.begin(), found.end());
        }
    }
    std::sort(out.begin(), out.end(), [](const Include& a, const Include& b) { return std::tie(a.file, a.line) < std::tie(b.file, b.line); });
    return out;
}

std::vector<std::string> broken_rules(const std::vector<Include>& includes) {
    std::vector<std::string> broken;
    std::map<std::string, Names> seen_by;  // library -> file pairs
    for (const Include& include : includes) {
        const std::string from = module_of_file(include.file);
        const std::string to = module_of_header(include.header);
        if (!allowed().contains(from)) {
            broken.push_back(place(include) + "module \"" + from + "\" is not in the table");
        } else if (include.quoted) {
            if (to.empty()) broken.push_back(place(include) + "\"" + include.header + "\" names no module; write \"module/file.h\"");
            else if (!allowed().contains(to)) broken.push_back(place(include) + "module \"" + to + "\" is not in the table");
            else if (to != from && !allowed().at(from).contains(to)) broken.push_back(place(include) + from + " may not include " + to + " (\"" + include.header + "\")");
        } else if (allowed().contains(to) && to != "main") {
            broken.push_back(place(include) + "<" + include.header + "> is the project's own; write it in quotes");
        }
        if (const auto library = lone_libraries().find(include.header); library != lone_libraries().end()) seen_by[library->second].insert(without_ending(include.file));
    }
    for (const auto& [library, pairs] : seen_by) {
        if (pairs.size() < 2) continue;
        std::string sentence = library + " is seen by more than one file pair:";
        for (const auto& pair : pairs) sentence += " " + pair;
        broken.push_back(sentence);
    }
    return broken;
}

}  // namespace gripline::house

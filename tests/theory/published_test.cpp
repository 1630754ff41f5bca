// Against values of a general-purpose music-theory library: fixtures/published, library and version on the first line of each file.
#include <doctest/doctest.h>

#include <cmath>
#include <fstream>
#include <set>
#include <sstream>
#include <string>
#include <utility>
#include <vector>

#include "theory/chord_symbol.h"
#include "theory/family.h"

using namespace gripline;

namespace {

/// Rows of a published table, cells split at commas; the heading and lines with # are left out.
std::vector<std::vector<std::string>> rows_of(const char* file) {
    std::ifstream in(std::string(GRIPLINE_FIXTURES) + "/published/" + file);
    REQUIRE_MESSAGE(in.good(), "missing fixture ", file);
    std::vector<std::vector<std::string>> rows;
    bool heading = true;
    for (std::string line; std::getline(in, line);) {
        if (line.empty() || line[0] == '#') continue;
        if (std::exchange(heading, false)) continue;
        std::vector<std::string> cells;
        std::istringstream cut(line);
        for (std::string cell; std::getline(cut, cell, ',');) cells.push_back(cell);
        rows.push_back(cells);
    }
    return rows;
}

std::set<int> classes_of_names(const std::string& names) {
    std::set<int> out;
    std::istringstream in(names);
    for (std::string each; in >> each;) out.insert(NoteName::parse(each)->pitch_class().value());
    return out;
}

}  // namespace

TEST_CASE("chord notes and their spelling are those of the library, for every published symbol in thirteen keys") {
    const auto rows = rows_of("chords_tonal.csv");
    CHECK(rows.size() == 481);
    for (const auto& row : rows) {
        CAPTURE(row.at(0));
        const auto chord = parse_chord(row.at(0));
        REQUIRE(chord.ok());
        std::set<int> own;
        for (const PitchClass each : chord->pitch_classes()) own.insert(each.value());
        CHECK(own == classes_of_names(row.at(1)));
        std::set<std::string> spelled_here, spelled_there;
        for (const NoteName& each : chord->notes()) spelled_here.insert(each.text());
        std::istringstream in(row.at(1));
        for (std::string each; in >> each;) spelled_there.insert(each);
        CHECK(spelled_here == spelled_there);
    }
}

TEST_CASE("scale pitch classes are those of the library, four families in thirteen keys") {
    const auto rows = rows_of("scales_tonal.csv");
    CHECK(rows.size() == 78);
    for (const auto& row : rows) {
        CAPTURE(row.at(0));
        CAPTURE(row.at(1));
        std::set<int> wanted, own;
        std::istringstream in(row.at(2));
        for (int each = 0; in >> each;) wanted.insert(each);
        for (const auto& step : harmonised_scale(*NoteName::parse(row.at(0)), *parse_family(row.at(1)))) own.insert(step.name.pitch_class().value());
        CHECK(own == wanted);
    }
}

TEST_CASE("MIDI numbers and frequencies of every spelling are those of the library") {
    const auto rows = rows_of("notes_tonal.csv");
    CHECK(rows.size() == 210);
    for (const auto& row : rows) {
        CAPTURE(row.at(0));
        const auto note = SpelledNote::parse(row.at(0));
        REQUIRE(note.ok());
        CHECK(note->midi().number() == std::stoi(row.at(1)));
        CHECK(std::abs(frequency_hz(note->midi()) - std::stod(row.at(2))) <= 0.00006);  // the file rounds to four decimals
    }
}

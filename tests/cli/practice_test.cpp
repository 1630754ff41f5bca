// gripline practice without a terminal: what it refuses, and why.
#include <doctest/doctest.h>

#include <fstream>

#include "cli/run.h"
#include "support/temp_folder.h"

using namespace gripline;

TEST_CASE("Pins and questions that leave nothing to ask are refused with their reason, before any screen") {
    const test::TempFolder folder;
    const std::string one_chord = folder / "one.chart";
    std::ofstream(one_chord) << "| C7 | C7 |\n";
    struct Row {
        std::vector<std::string> words;
        std::string says;
    };
    const std::vector<Row> refused = {
        {{"--joints", one_chord}, "has no joint"},
        {{"--joints", folder / "nowhere.chart"}, "--joints: "},
        {{"--joints", "blues", "--quality", "m6"}, "no joint is left by: m6"},
        {{"--joints", "blues", "--exercise", "next-step"}, "no step of a scale"},
        {{"--joints", "blues", "--exercise", "name-it"}, "leave --joints out"},
        {{"--joints", "blues", "--stage", "drop-2"}, "leave --stage out"},
        {{"--exercise", "name-it", "--stage", "shell", "--question", "quality"}, "several qualities"},
        {{"--exercise", "name-it", "--question", "colour"}, "--question: "},
        {{"--exercise", "name-it", "--approach", "above"}, "leave the side out"},
        {{"--exercise", "name-it", "--strings", "6-5-1"}, "--strings: "},
        {{"--exercise", "named", "--question", "quality"}, "--question belongs to"},
    };
    for (const Row& row : refused) {
        std::vector<std::string> words{"practice"};
        words.insert(words.end(), row.words.begin(), row.words.end());
        const test::Run run = test::run(words);
        CAPTURE(row.says);
        CAPTURE(run.err);
        CHECK(run.status == 1);
        CHECK(run.err.find(row.says) != std::string::npos);
        CHECK(run.out.empty());
    }
}

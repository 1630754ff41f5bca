// Includes run one way only, and each library is seen by one file pair (the table of DEVELOPERS.md).
#include <doctest/doctest.h>

#include "house/include_directions.h"

using namespace gripline::house;

TEST_CASE("every include in src and dsp follows the table") {
    const auto includes = read_includes(GRIPLINE_SOURCE);
    CHECK(includes.size() > 40);  // the reader does read
    for (const auto& sentence : broken_rules(includes)) FAIL_CHECK(sentence);
}

TEST_CASE("includes that look upwards are found") {
    struct Row {
        const char* file;
        const char* line;
    };
    const Row must_fail[] = {
        {"src/theory/pitch.cpp", "#include \"fretboard/grip.h\""},
        {"src/base/result.h", "#include \"theory/pitch.h\""},
        {"dsp/onset.cpp", "#include \"base/result.h\""},
        {"dsp/onset.cpp", "#  include \"listen/listener.h\""},
        {"src/listen/listener.cpp", "#include \"judge/judge.h\""},
        {"src/judge/judge.cpp", "#include \"listen/listener.h\""},
        {"src/judge/judge.cpp", "#include \"audio/sound_source.h\""},
        {"src/practice/session.cpp", "#include \"formats/csv.h\""},
        {"src/practice/session.cpp", "#include \"ui/canvas.h\""},
        {"src/ui/canvas.cpp", "#include \"cli/arguments.h\""},
        {"src/main.cpp", "#include \"ui/canvas.h\""},
        {"src/chart/chart.cpp", "#include \"fretboard/grip.h\""},
        {"src/nowhere/x.cpp", "#include <vector>"},
        {"src/theory/pitch.cpp", "#include \"pitch.h\""},
        {"src/theory/pitch.cpp", "#include <theory/pitch.h>"},
        {"src/theory/pitch.cpp", "#include \"../fretboard/grip.h\""},
    };
    for (const Row& row : must_fail) {
        CAPTURE(row.file);
        CAPTURE(row.line);
        CHECK(broken_rules(includes_of(row.file, row.line)).size() == 1);
    }
}

TEST_CASE("includes along the arrows pass") {
    CHECK(broken_rules(includes_of("src/judge/judge.cpp", "#include \"judge/judge.h\"\n#include \"dsp/strum_evidence.h\"\n#include <vector>\n")).empty());
    CHECK(broken_rules(includes_of("src/cli/hear.cpp", "#include \"ui/canvas.h\"\n#include \"listen/listener.h\"\n")).empty());
    CHECK(broken_rules(includes_of("src/main.cpp", "#include \"cli/program.h\"\n")).empty());
}

TEST_CASE("a library seen by two file pairs is found; by one pair it passes") {
    auto includes = includes_of("src/audio/stream.cpp", "#include <portaudio.h>");
    const auto same_pair = includes_of("src/audio/stream.h", "#include <portaudio.h>");
    includes.insert(includes.end(), same_pair.begin(), same_pair.end());
    CHECK(broken_rules(includes).empty());
    const auto other_pair = includes_of("src/audio/devices.cpp", "#include <portaudio.h>");
    includes.insert(includes.end(), other_pair.begin(), other_pair.end());
    CHECK(broken_rules(includes).size() == 1);
}

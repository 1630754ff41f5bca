#include "chart/chart_library.h"

#include <doctest/doctest.h>

#include <filesystem>

#include "chart/chart_text.h"

using namespace gripline;

TEST_CASE("every chart of the library reads, writes back to an equal chart and comes home from all twelve keys") {
    CHECK(chart_library().size() >= 20);
    for (const LibraryChart& each : chart_library()) {
        CAPTURE(std::string(each.name));
        const auto chart = parse_chart(each.text);
        if (!chart) FAIL(chart.error().message);
        REQUIRE(chart->key);
        CHECK_FALSE(chart->title.empty());
        CHECK(*parse_chart(chart_text(*chart)) == *chart);
        for (int key = 0; key < 12; ++key) {
            const Chart moved = transposed(*chart, usual_root(PitchClass(key)));
            const int up = chart->key->tonic.pitch_class().up_to(PitchClass(key));
            for (std::size_t bar = 0; bar < chart->bars.size(); ++bar)
                for (std::size_t i = 0; i < chart->bars[bar].chords.size(); ++i)
                    CHECK(moved.bars[bar].chords[i].symbol->root.pitch_class() == chart->bars[bar].chords[i].symbol->root.pitch_class().up(up));
            CHECK(*parse_chart(chart_text(moved)) == moved);
        }
    }
}

TEST_CASE("the songs are 32 bars long, a blues twelve") {
    const auto length = [](const char* name) { return played_bars(*library_chart(name))->size(); };
    CHECK(length("ferry-at-noon") == 32);
    CHECK(length("slate-roofs") == 32);
    CHECK(length("snow-on-the-mill") == 32);
    CHECK(length("blues") == 12);
    CHECK(length("minor-blues") == 12);
    CHECK(length("rhythm-a") == 16);
    CHECK(length("rhythm-bridge") == 8);
}

TEST_CASE("every file of the library folder is built in, and an unknown name lists them") {
    std::size_t files = 0;
    for (const auto& entry : std::filesystem::directory_iterator(GRIPLINE_SOURCE "/src/chart/library")) {
        ++files;
        CHECK(library_chart(entry.path().stem().string()).ok());
    }
    CHECK(files == chart_library().size());
    const auto none = library_chart("blue");
    REQUIRE_FALSE(none);
    CHECK(none.error().message.starts_with("no chart \"blue\" in the library; it holds blues, "));
}

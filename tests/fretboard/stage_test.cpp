// The worked grips: common practice, no source. Frets and notes were written down by hand from the neck, not computed.
#include <doctest/doctest.h>

#include <string>
#include <vector>

#include "fretboard/stage.h"

using namespace gripline;

namespace {
Stage stage_of(const char* root, Family family, StageKind kind, const char* set, const Neck& neck = {}) {
    auto stage = build_stage(*NoteName::parse(root), family, kind, *StringSet::parse(set), neck);
    REQUIRE_MESSAGE(stage.ok(), (stage.ok() ? "" : stage.error().message));
    return *stage;
}
std::string notes_of(const Step& step) {
    std::string out;
    for (const auto& note : step.notes) out += (out.empty() ? "" : " ") + note.name.text();
    return out;
}
struct Worked {
    const char* bass;
    const char* chord;
    const char* drop3;
    const char* notes;
    const char* shell;
    const char* shell_notes;
};
}  // namespace

TEST_CASE("the C dominant seventh family: drop 3 and shell for each bass note") {
    const std::vector<Worked> rows{
        {"C", "C7", "8x898x", "C Bb E G", "8x89xx", "C Bb E"},
        {"D", "Bdim7", "10-x-9-10-9-x", "D B F Ab", "10-x-9-10-x-x", "D B F"},
        {"E", "C7", "12-x-10-12-11-x", "E C G Bb", "12-x-10-12-x-x", "E C G"},
        {"F", "Bdim7", "1x010x", "F D Ab B", "1x01xx", "F D Ab"},
        {"G", "C7", "3x231x", "G E Bb C", "3x23xx", "G E Bb"},
        {"Ab", "Bdim7", "4x343x", "Ab F B D", "4x34xx", "Ab F B"},
        {"Bb", "C7", "6x555x", "Bb G C E", "6x55xx", "Bb G C"},
        {"B", "Bdim7", "7x676x", "B Ab D F", "7x67xx", "B Ab D"},
    };
    const Stage drop3 = stage_of("C", Family::dominant_seventh, StageKind::drop3, "6-4-3-2");
    const Stage shell = stage_of("C", Family::dominant_seventh, StageKind::shell, "6-4-3");
    REQUIRE(drop3.steps.size() == rows.size());
    for (std::size_t i = 0; i < rows.size(); ++i) {
        CAPTURE(rows[i].bass);
        REQUIRE(drop3.steps[i].grip);
        REQUIRE(shell.steps[i].grip);
        CHECK(drop3.steps[i].lead.text() == rows[i].bass);
        CHECK(drop3.steps[i].chord == rows[i].chord);
        CHECK(drop3.steps[i].grip->text() == rows[i].drop3);
        CHECK(notes_of(drop3.steps[i]) == rows[i].notes);
        CHECK(shell.steps[i].grip->text() == rows[i].shell);
        CHECK(notes_of(shell.steps[i]) == rows[i].shell_notes);
        CHECK(shell.steps[i].role == (i % 2 == 0 ? Role::chord : Role::passing));
    }
}

TEST_CASE("the Bb major sixth and C minor sixth families in drop 3") {
    const auto check = [](const char* root, Family family, const std::vector<std::pair<const char*, const char*>>& rows) {
        const Stage stage = stage_of(root, family, StageKind::drop3, "6-4-3-2");
        REQUIRE(stage.steps.size() == rows.size());
        for (std::size_t i = 0; i < rows.size(); ++i) {
            CAPTURE(rows[i].first);
            REQUIRE(stage.steps[i].grip);
            CHECK(stage.steps[i].lead.text() == rows[i].first);
            CHECK(stage.steps[i].grip->text() == rows[i].second);
        }
    };
    check("Bb", Family::major_sixth, {{"Bb", "6x576x"}, {"C", "8x787x"}, {"D", "10-x-8-10-8-x"}, {"Eb", "11-x-10-11-10-x"},
                                      {"F", "13-x-12-12-11-x"}, {"Gb", "2x121x"}, {"G", "3x333x"}, {"A", "5x454x"}});
    check("C", Family::minor_sixth, {{"C", "8x788x"}, {"D", "10-x-9-10-9-x"}, {"Eb", "11-x-10-12-10-x"}, {"F", "1x010x"},
                                     {"G", "3x121x"}, {"Ab", "4x343x"}, {"A", "5x554x"}, {"B", "7x676x"}});
    const Stage shell = stage_of("Bb", Family::major_sixth, StageKind::shell, "6-4-3");
    CHECK(shell.steps[4].grip->text() == "1x00xx");  // an octave below the drop-3 grip, whose string 2 falls off the neck
    CHECK(shell.steps[4].remark.empty());
    CHECK(stage_of("Bb", Family::major_sixth, StageKind::drop3, "6-4-3-2").steps[4].remark.find("string 2 would lie at fret -1") != std::string::npos);
}

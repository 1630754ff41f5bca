#include "cli/arguments.h"

#include <doctest/doctest.h>

#include "cli/nearest.h"

using namespace gripline;

namespace {

Parting parting(const std::vector<std::string>& words) {
    const auto read = read_arguments(words);
    REQUIRE(std::holds_alternative<Parting>(read));
    return std::get<Parting>(read);
}

template <class Options>
Options options(const std::vector<std::string>& words) {
    const auto read = read_arguments(words);
    if (const auto* said = std::get_if<Parting>(&read)) FAIL(said->text);
    REQUIRE(std::holds_alternative<Options>(std::get<Command>(read)));
    return std::get<Options>(std::get<Command>(read));
}

}  // namespace

TEST_CASE("no words at all, or options alone, mean practice") {
    CHECK(options<PracticeOptions>({}).device.empty());
    CHECK(options<PracticeOptions>({"--player"}).player);
    CHECK(options<PracticeOptions>({"practice", "--root", "Bb", "--capo", "3"}).capo == 3);
    CHECK(options<PracticeOptions>({"practice", "--exercise", "into-the-target", "--tempo", "120"}).tempo_bpm == 120.0);
    CHECK(options<PracticeOptions>({"practice", "--exercise", "name-it", "--question", "quality", "--question", "bass-degree"}).questions.size() == 2);
    CHECK(options<PracticeOptions>({"practice", "--joints", "blues"}).joints == "blues");
    CHECK(options<PracticeOptions>({"practice", "--gesture-two", "hear", "--gesture-three", "nothing"}).two_muted == "hear");
    CHECK(options<PracticeOptions>({"practice", "--plan", "--no-warm-up", "--no-gestures"}).no_warm_up);
}

TEST_CASE("each command takes its options") {
    CHECK(options<HearOptions>({"hear", "take.wav", "--json"}).json);
    CHECK(options<HearOptions>({"hear", "--json", "take.wav"}).file == "take.wav");
    CHECK(options<HearOptions>({"hear", "take.wav", "--a4-hz", "415"}).a4_hz == 415.0);
    CHECK(options<HearOptions>({"hear", "take.wav", "--guitar", "old archtop"}).guitar == "old archtop");
    CHECK(options<MarkOptions>({"mark", "cases.csv"}).list == "cases.csv");
    CHECK(options<MarkOptions>({"mark", "cases.csv", "--live", "--step", "--device", "2"}).step);
    CHECK(options<DevicesOptions>({"devices", "--use", "mic"}).use == "mic");
    CHECK(options<GripsOptions>({"grips", "F#m7b5", "--stage", "shell", "--strings", "6-4-3", "--left-handed"}).chord == "F#m7b5");
}

TEST_CASE("help and version go to standard output with status 0, and help names the cautions") {
    for (const std::vector<std::string>& words : std::vector<std::vector<std::string>>{
             {"--help"}, {"-h"}, {"practice", "--help"}, {"hear", "--help"}, {"mark", "--help"}, {"devices", "--help"}, {"grips", "--help"}, {"line", "--help"}, {"walk", "--help"}}) {
        CAPTURE(words.front());
        const Parting said = parting(words);
        CHECK(said.exit_status == 0);
        CHECK(said.text.find("hearing") != std::string::npos);
        CHECK(said.text.find("Exit status: 0 done, 1 bad input, 2 wrong usage.") != std::string::npos);
    }
    CHECK(parting({"--version"}).exit_status == 0);
    CHECK(parting({"--version"}).text.starts_with("gripline "));
}

TEST_CASE("wrong usage has status 2") {
    const std::vector<std::vector<std::string>> must_fail{
        {"hear"}, {"mark"}, {"grips"}, {"nonsense"}, {"hear", "a.wav", "b.wav"}, {"hear", "a.wav", "--guitar"}, {"hear", "--a4-hz", "300", "a.wav"}, {"hear", "--a4-hz", "nan", "a.wav"},
        {"mark", "a.csv", "--step"}, {"mark", "a.csv", "--live", "--patience-s", "0"}, {"grips", "C7", "--capo", "13"}, {"grips", "C7", "--capo", "x"},
        {"quiz"}, {"quiz", "check"}, {"quiz", "sing", "a.toml"}, {"practice", "x"}, {"practice", "--tempo", "10"}, {"practice", "--gesture-two", "wave"}, {"practice", "--warm-up", "--no-warm-up"}, {"practice", "--exercise", "by-nose"}, {"devices", "--use"}, {"--nonsense"}, {"hear", "a.wav", "hear", "b.wav"}, {""}, {"--"  "x"}};
    for (const auto& words : must_fail) {
        CAPTURE(words.size());
        CAPTURE(words.back());
        CHECK(parting(words).exit_status == 2);
    }
}

TEST_CASE("typing mistakes are met with the word that was meant") {
    CHECK(parting({"haer", "x.wav"}).text.find("did you mean \"hear\"?") != std::string::npos);
    CHECK(parting({"marks"}).text.find("did you mean \"mark\"?") != std::string::npos);
    CHECK(parting({"device"}).text.find("did you mean \"devices\"?") != std::string::npos);
    CHECK(parting({"mark", "a.csv", "--jsno"}).text.find("did you mean \"--json\"?") != std::string::npos);
    CHECK(parting({"grips", "C7", "--lefthanded"}).text.find("did you mean \"--left-handed\"?") != std::string::npos);
    CHECK(parting({"wlak", "blues"}).text.find("did you mean \"walk\"?") != std::string::npos);
    CHECK(parting({"walk", "blues", "--input", "a.wav", "--temop", "90"}).text.find("did you mean \"--tempo\"?") != std::string::npos);
    CHECK(parting({"--playr"}).text.find("did you mean \"--player\"?") != std::string::npos);
    CHECK(parting({"xylophone"}).text.find("did you mean") == std::string::npos);
}

TEST_CASE("nearest word by insertions, deletions, changes and swaps") {
    const std::vector<std::string> known{"practice", "hear", "mark"};
    CHECK(nearest_word("practise", known) == "practice");
    CHECK(nearest_word("hera", known) == "hear");
    CHECK(nearest_word("", known).empty());
    CHECK(nearest_word("zzzzzzzz", known).empty());
    CHECK(nearest_word(std::string(100000, 'x'), known).empty());
}

// Guitars kept on disk: private, one file each, replaced whole or not at all.
#include "ui/kept_guitars.h"

#include <doctest/doctest.h>

#include <sys/stat.h>

#include <fstream>

#include "practice/guitar_set_up.h"
#include "support/set_up_sound.h"
#include "support/temp_folder.h"

using namespace gripline;
using namespace gripline::test;
namespace fs = std::filesystem;

namespace {

GuitarProfile profile(const std::string& name) {
    static const GuitarProfile found = [] {
        GuitarSetUp guide({.rate_hz = 44100, .tuning = {}});
        guide.process(set_up_sound(set_up_notes(4.0)));
        return guide.profile().value();
    }();
    GuitarProfile out = found;
    out.name = name;
    out.input = "line in";
    out.made_on = "2026-11-25";
    return out;
}

unsigned mode(const fs::path& path) {
    struct stat status{};
    REQUIRE(::stat(path.c_str(), &status) == 0);
    return status.st_mode & 0777U;
}

}  // namespace

TEST_CASE("Guitars are kept under any name, privately, listed, replaced and deleted") {
    const TempFolder home;
    const fs::path folder = fs::path(home / "data") / "guitars";
    CHECK(kept_guitars(folder).empty());
    for (const char* name : {"archtop", "../../etc/passwd", "Jazz \xC3\xA9t\xC3\xA9", "a+b %20", ".hidden", "archtop "}) {
        CAPTURE(name);
        CHECK_FALSE(keep_guitar(folder, profile(name)));
        const auto read = load_guitar(folder, name);
        REQUIRE(read.ok());
        REQUIRE(read->has_value());
        CHECK((*read)->name == name);
        CHECK((*read)->strings.size() == 6);
        CHECK(fs::path(guitar_file_name(name)).filename() == guitar_file_name(name));
    }
    CHECK(kept_guitars(folder).size() == 6);
    CHECK(mode(folder) == 0700U);
    for (const KeptGuitar& guitar : kept_guitars(folder)) CHECK(mode(guitar.file) == 0600U);
    GuitarProfile newer = profile("archtop");
    newer.input = "another input";
    CHECK_FALSE(keep_guitar(folder, newer));
    CHECK((*load_guitar(folder, "archtop"))->input == "another input");
    CHECK(kept_guitars(folder).size() == 6);
    CHECK(*delete_guitar(folder, "archtop"));
    CHECK_FALSE(*delete_guitar(folder, "archtop"));
    CHECK_FALSE(load_guitar(folder, "archtop")->has_value());
}

TEST_CASE("A damaged file is told with its place and the way out, and hides no other guitar") {
    const TempFolder home;
    const fs::path folder = home / "guitars";
    CHECK_FALSE(keep_guitar(folder, profile("good")));
    std::ofstream(folder / guitar_file_name("bad")) << "format = \"gripline guitar 1\"\nname = 7\n";
    fs::create_directory(folder / guitar_file_name("folder"));
    const auto bad = load_guitar(folder, "bad");
    REQUIRE_FALSE(bad.ok());
    CHECK(bad.error().message.find("bad.toml: line ") != std::string::npos);
    CHECK(bad.error().message.find("gripline guitar set-up") != std::string::npos);
    CHECK_FALSE(load_guitar(folder, "folder").ok());
    CHECK(kept_guitars(folder).size() == 3);
    fs::copy_file(folder / guitar_file_name("good"), folder / guitar_file_name("other"));
    CHECK(load_guitar(folder, "other").error().message.find("holds the guitar \"good\"") != std::string::npos);
    CHECK(*delete_guitar(folder, "bad"));
}

TEST_CASE("Where nothing can be written it is said, and what was there stays") {
    const TempFolder home;
    CHECK(keep_guitar("", profile("x"))->message.find("XDG_DATA_HOME") != std::string::npos);
    std::ofstream(home / "file") << "x";
    CHECK(keep_guitar(fs::path(home / "file") / "guitars", profile("x")));
    CHECK_FALSE(load_guitar("", "x")->has_value());
}

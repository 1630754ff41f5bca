#include <doctest/doctest.h>

#include <cstdlib>
#include <fstream>
#include <sstream>

#include "ui/settings.h"

using namespace gripline;
namespace fs = std::filesystem;

namespace {

/// A folder of this test's own, removed at its end.
struct Folder {
    fs::path path;
    Folder() {
        char name[] = "/tmp/gripline-settings-XXXXXX";
        REQUIRE(mkdtemp(name) != nullptr);
        path = name;
    }
    ~Folder() { fs::remove_all(path); }
};

void write(const fs::path& path, const std::string& text) { std::ofstream(path, std::ios::binary) << text; }

}  // namespace

TEST_CASE("What is saved is loaded again, and no other file is left beside it") {
    const Folder folder;
    const fs::path path = folder.path / "deep" / "settings.json";
    Settings settings;
    settings.device = "line \xff in \"2\"";
    settings.root = "Bb";
    settings.cautions_read = true;
    CHECK(save_settings(path, settings, false).empty());
    const LoadedSettings loaded = load_settings(path);
    CHECK(loaded.complaints.empty());
    CHECK(loaded.settings.root == "Bb");
    CHECK(loaded.settings.cautions_read);
    CHECK(loaded.settings.device == "line \uFFFD in \"2\"");
    CHECK(std::distance(fs::directory_iterator(path.parent_path()), fs::directory_iterator()) == 1);
}

TEST_CASE("A missing file means the defaults, without a complaint") {
    const Folder folder;
    const LoadedSettings loaded = load_settings(folder.path / "none.json");
    CHECK(loaded.settings == Settings{});
    CHECK(loaded.complaints.empty());
    CHECK(load_settings({}).complaints.empty());
}

TEST_CASE("A file that is no settings file is told, left out, and set aside when settings are saved") {
    const Folder folder;
    const fs::path path = folder.path / "settings.json";
    for (const std::string& bad : {std::string(""), std::string("{\"root\": "), std::string("[1,2]"), std::string("\0\0\0", 3), std::string(70000, ' ') + "{}",
                                   std::string(5000, '[')}) {
        write(path, bad);
        const LoadedSettings loaded = load_settings(path);
        CHECK(loaded.settings == Settings{});
        CHECK(loaded.complaints.size() == 1);
        CHECK(loaded.complaints.at(0).find(path.string()) == 0);
        CHECK(loaded.unreadable);
    }
    write(path, "not settings");
    CHECK(save_settings(path, Settings{}, load_settings(path).unreadable).empty());
    std::stringstream kept;
    kept << std::ifstream(path.string() + ".unreadable").rdbuf();
    CHECK(kept.str() == "not settings");
    CHECK(load_settings(path).complaints.empty());
}

TEST_CASE("A value of the wrong kind is told and left out; the others hold") {
    const Folder folder;
    const fs::path path = folder.path / "settings.json";
    write(path, "{\"root\": 5, \"family\": \"minor sixth\", \"cautions_read\": 1, \"stage\": \"" + std::string(300, 'x') + "\", \"more\": null}");
    const LoadedSettings loaded = load_settings(path);
    CHECK(loaded.settings.root == "C");
    CHECK(loaded.settings.family == "minor sixth");
    CHECK(loaded.settings.stage == "shell");
    CHECK_FALSE(loaded.settings.cautions_read);
    CHECK(loaded.complaints.size() == 2);
    CHECK_FALSE(loaded.unreadable);
}

TEST_CASE("A place that can't be written is told") {
    CHECK(save_settings({}, Settings{}, false).find("settings are not kept") == 0);
    CHECK(save_settings("/proc/gripline/settings.json", Settings{}, false).find("settings are not kept") == 0);
    const Folder folder;
    CHECK(load_settings(folder.path).complaints.size() == 1);  // a folder in the file's place
}

TEST_CASE("The file lies where the XDG Base Directory Specification 0.8 says; a relative folder does not count") {
    setenv("HOME", "/home/player", 1);
    setenv("XDG_CONFIG_HOME", "/etc/player", 1);
    CHECK(settings_path() == "/etc/player/gripline/settings.json");
    setenv("XDG_CONFIG_HOME", "here", 1);
    CHECK(settings_path() == "/home/player/.config/gripline/settings.json");
    unsetenv("XDG_CONFIG_HOME");
    unsetenv("HOME");
    CHECK(settings_path().empty());
}

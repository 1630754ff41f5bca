// The top level of the tree holds what the house says and nothing else; no source file grows past 400 lines.
#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <map>
#include <regex>
#include <set>
#include <string>

namespace fs = std::filesystem;

TEST_CASE("the top level holds nothing that the house does not name") {
    const std::set<std::string> allowed{"CMakeLists.txt", "CMakePresets.json", "README.md", "DEVELOPERS.md", "CHANGELOG.md", "LICENSE",
                                        "src", "dsp", "tests", "fixtures", "run", "check", "build"};  // build is not in the repository
    for (const auto& entry : fs::directory_iterator(GRIPLINE_SOURCE)) {
        const std::string name = entry.path().filename().string();
        if (name.starts_with(".") || name == "compile_commands.json") continue;
        CAPTURE(name);
        CHECK(allowed.contains(name));
    }
}

TEST_CASE("no source file is longer than 400 lines, main.cpp and the scripts are short") {
    const auto lines_of = [](const fs::path& path) {
        std::ifstream in(path);
        return std::count(std::istreambuf_iterator<char>(in), {}, '\n');
    };
    const fs::path root = GRIPLINE_SOURCE;
    for (const char* top : {"src", "dsp", "tests"}) {
        for (const auto& entry : fs::recursive_directory_iterator(root / top)) {
            const auto ending = entry.path().extension();
            if (ending != ".h" && ending != ".cpp" && ending != ".py" && ending != ".sh") continue;
            CAPTURE(entry.path().string());
            CHECK(lines_of(entry.path()) <= 400);
        }
    }
    CHECK(lines_of(root / "src/main.cpp") < 30);
    CHECK(lines_of(root / "run") <= 60);
    CHECK(lines_of(root / "check") <= 60);
}

TEST_CASE("no two headers of src give one name to two types: the linker would take one destructor for both") {
    std::map<std::string, std::string> seen;
    const std::regex declared("^(?:struct|class|enum class) ([A-Z]\\w*)(?: final)?(?: : [^;]*)? \\{");
    for (const auto& entry : fs::recursive_directory_iterator(fs::path(GRIPLINE_SOURCE) / "src")) {
        if (entry.path().extension() != ".h") continue;
        std::ifstream in(entry.path());
        for (std::string line; std::getline(in, line);) {
            std::smatch found;
            if (!std::regex_search(line, found, declared)) continue;
            const auto [at, is_new] = seen.emplace(found[1].str(), entry.path().string());
            CAPTURE(found[1].str());
            CAPTURE(at->second);
            CAPTURE(entry.path().string());
            CHECK(is_new);
        }
    }
    CHECK(seen.size() > 100);
}

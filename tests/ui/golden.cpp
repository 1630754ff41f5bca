#include "ui/golden.h"

#include <doctest/doctest.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>

namespace gripline::test {

void check_golden(const std::string& name, const std::string& text) {
    const std::filesystem::path path = std::filesystem::path(GRIPLINE_FIXTURES) / "goldens" / (name + ".txt");
    const char* update = std::getenv("GRIPLINE_UPDATE_GOLDENS");
    if (update != nullptr && std::string(update) == "1") {
        std::filesystem::create_directories(path.parent_path());
        std::ofstream(path) << text;
        return;
    }
    std::ifstream file(path);
    INFO("golden: ", path.string());
    REQUIRE_MESSAGE(file.good(), "the golden is missing");
    std::stringstream kept;
    kept << file.rdbuf();
    CHECK_MESSAGE(kept.str() == text, "drawn now:\n" << text << "kept:\n" << kept.str());
}

}  // namespace gripline::test

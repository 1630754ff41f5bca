// Who may include whom: the table of DEVELOPERS.md, and a reader of #include lines.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

namespace gripline::house {

/// One #include line.
struct Include {
    std::string file;    ///< path from the root of the tree, "src/judge/judge.cpp"
    int line = 0;
    std::string header;  ///< what stands between the quotes or angles
    bool quoted = false; ///< "..." rather than <...>
};

/// Every #include in the .h and .cpp files under root/src and root/dsp.
[[nodiscard]] std::vector<Include> read_includes(const std::filesystem::path& root);
/// The #include lines of one file's text.
[[nodiscard]] std::vector<Include> includes_of(const std::string& file, const std::string& text);
/// What breaks the table, one sentence each: a module that looks upwards or is unknown, a library that more than one
/// file pair sees, a header of the project in angles.
[[nodiscard]] std::vector<std::string> broken_rules(const std::vector<Include>& includes);

}  // namespace gripline::house

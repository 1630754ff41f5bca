#include "cli/chart_file.h"

#include <filesystem>
#include <fstream>
#include <iterator>

#include "base/text.h"
#include "chart/chart_library.h"
#include "chart/chart_text.h"

namespace gripline {

namespace {

constexpr std::size_t kMost_bytes = (1U << 20U) + 1;  // one more than parse_chart() takes, so that it is the one to refuse

std::string read_at_most(std::istream& in, std::size_t most_bytes) {
    std::string text(most_bytes, '\0');
    in.read(text.data(), static_cast<std::streamsize>(most_bytes));
    text.resize(static_cast<std::size_t>(in.gcount()));
    return text;
}

}  // namespace

Result<Chart> open_chart(const std::string& word) {
    std::error_code trouble;
    if (!std::filesystem::exists(word, trouble)) {
        auto chart = library_chart(word);
        if (!chart) return Error{gripline::quoted(word) + " is no file, and there is " + chart.error().message};
        return chart;
    }
    std::ifstream in(word, std::ios::binary);
    if (!std::filesystem::is_regular_file(word, trouble) || !in) return Error{word + ": can't be read; a chart is a text file"};
    auto chart = parse_chart(read_at_most(in, kMost_bytes));
    if (!chart) return Error{word + ": " + chart.error().message};
    return chart;
}

Result<Chart> chart_in_key(const Chart& chart, const std::string& key) {
    if (key.empty()) return chart;
    const auto asked = Key::parse(key);
    if (!asked) return Error{"--key: " + asked.error().message};
    if (!chart.key) return Error{"--key: the chart names no key to move from; add a heading such as key: F"};
    if (asked->minor && !chart.key->minor) return Error{"--key: " + key + " is minor, but the chart is in " + chart.key->text()};
    return transposed(chart, asked->tonic);
}

}  // namespace gripline

#include "ui/kept_delays.h"

#include <algorithm>
#include <cerrno>
#include <cmath>
#include <cstring>
#include <fstream>
#include <nlohmann/json.hpp>

#include "base/file_folder.h"
#include "base/text.h"
#include "ui/settings.h"

namespace gripline {

namespace {

namespace fs = std::filesystem;
using Json = nlohmann::ordered_json;

constexpr std::size_t kMostBytes = 65536, kMostPairs = 200;
constexpr double kMost_ms = 5000.0;  // no device takes so long

Result<KeptDelay> read_row(const Json& row, const std::string& place) {
    KeptDelay out;
    const auto text = [&](const char* name, std::string& to) {
        const auto found = row.find(name);
        if (found == row.end() || !found->is_string()) return false;
        to = found->get<std::string>();
        return true;
    };
    const auto number = [&](const char* name, double& to) {
        const auto found = row.find(name);
        if (found == row.end() || !found->is_number()) return false;
        to = found->get<double>();
        return std::isfinite(to) && std::abs(to) <= kMost_ms;
    };
    if (!row.is_object() || !text("input", out.input) || !text("output", out.output)) return Error{place + "\"input\" and \"output\" must be names of devices"};
    if (!number("delay_ms", out.delay.delay_ms) || !number("spread_ms", out.delay.spread_ms)) return Error{place + "\"delay_ms\" and \"spread_ms\" must be numbers from -5000 to 5000"};
    const auto by_hand = row.find("by_hand");
    out.delay.by_hand = by_hand != row.end() && by_hand->is_boolean() && by_hand->get<bool>();
    (void)text("measured_on", out.measured_on);
    return out;
}

}  // namespace

fs::path delays_path() {
    const fs::path settings = settings_path();
    return settings.empty() ? fs::path() : settings.parent_path() / "delays.json";
}

Result<std::vector<KeptDelay>> load_delays(const fs::path& path) {
    std::vector<KeptDelay> out;
    std::error_code error;
    if (path.empty() || !fs::exists(path, error)) return out;
    const std::string mend = "; measure again with gripline calibrate";
    if (!fs::is_regular_file(path, error)) return Error{path.string() + ": is no file" + mend};
    std::ifstream file(path, std::ios::binary);
    std::string text(kMostBytes + 1, '\0');
    file.read(text.data(), static_cast<std::streamsize>(text.size()));
    text.resize(static_cast<std::size_t>(std::max<std::streamsize>(file.gcount(), 0)));
    const Json json = text.size() > kMostBytes ? Json() : Json::parse(text, nullptr, false);
    if (!json.is_object() || !json.contains("delays") || !json["delays"].is_array()) return Error{path.string() + ": holds no list of delays (JSON of at most " + std::to_string(kMostBytes) + " bytes)" + mend};
    for (const Json& row : json["delays"]) {
        auto read = read_row(row, path.string() + ": delay " + std::to_string(out.size() + 1) + ": ");
        if (!read) return Error{read.error().message + mend};
        out.push_back(std::move(*read));
    }
    return out;
}

std::optional<Error> keep_delay(const fs::path& path, const KeptDelay& delay) {
    if (path.empty()) return Error{"the delay is not kept: neither XDG_CONFIG_HOME nor HOME names a folder"};
    const auto failed = [](const fs::path& what, const std::string& why) { return Error{"the delay is not kept: " + what.string() + ": " + why}; };
    std::error_code error;
    fs::create_directories(folder_of(path), error);
    if (error) return failed(folder_of(path), error.message());
    auto known = load_delays(path);
    if (!known) fs::rename(path, path.string() + ".unreadable", error);
    std::vector<KeptDelay> rows = known ? std::move(*known) : std::vector<KeptDelay>{};
    std::erase_if(rows, [&](const KeptDelay& row) { return row.input == delay.input && row.output == delay.output; });
    rows.insert(rows.begin(), delay);
    if (rows.size() > kMostPairs) rows.resize(kMostPairs);
    Json json;
    json["delays"] = Json::array();
    for (const KeptDelay& row : rows)
        json["delays"].push_back({{"input", row.input}, {"output", row.output}, {"delay_ms", row.delay.delay_ms}, {"spread_ms", row.delay.spread_ms}, {"by_hand", row.delay.by_hand}, {"measured_on", row.measured_on}});
    const fs::path fresh = path.string() + ".new";
    {
        std::ofstream file(fresh, std::ios::binary | std::ios::trunc);
        file << json.dump(2, ' ', false, Json::error_handler_t::replace) << '\n';
        if (!file.flush()) return failed(fresh, std::strerror(errno));
    }
    fs::rename(fresh, path, error);
    if (error) return failed(path, error.message());
    return std::nullopt;
}

std::optional<MeasuredDelay> delay_of(const std::vector<KeptDelay>& delays, const std::string& input, const std::string& output) {
    const auto found = std::find_if(delays.begin(), delays.end(), [&](const KeptDelay& row) { return row.input == input && row.output == output; });
    if (found == delays.end()) return std::nullopt;
    return found->delay;
}

}  // namespace gripline

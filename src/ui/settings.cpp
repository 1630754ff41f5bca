#include "ui/settings.h"

#include <cerrno>
#include <cstdlib>
#include <cstring>
#include <fstream>
#include <iterator>
#include <nlohmann/json.hpp>

#include "base/file_folder.h"

namespace gripline {
namespace {

namespace fs = std::filesystem;

constexpr std::size_t kMostBytes = 65536;

/// The members of Settings that are words, with their names in the file.
struct Word {
    const char* name;
    std::string Settings::*member;
};
constexpr Word kWords[] = {{"device", &Settings::device}, {"root", &Settings::root},   {"family", &Settings::family},
                           {"stage", &Settings::stage},   {"strings", &Settings::string_set}, {"order", &Settings::order},
                           {"who", &Settings::who},       {"guitar", &Settings::guitar}};
constexpr const char* kCautionsRead = "cautions_read";
constexpr std::size_t kLongestWord = 256;

void read_members(const nlohmann::json& json, const std::string& file, LoadedSettings& loaded) {
    for (const Word& word : kWords) {
        const auto found = json.find(word.name);
        if (found == json.end()) continue;
        if (found->is_string() && found->get_ref<const std::string&>().size() <= kLongestWord) {
            loaded.settings.*word.member = found->get<std::string>();
        } else {
            loaded.complaints.push_back(file + ": \"" + word.name + "\" must be a text of at most " + std::to_string(kLongestWord) +
                                        " bytes; using \"" + Settings{}.*word.member + "\"");
        }
    }
    const auto read = json.find(kCautionsRead);
    if (read != json.end() && read->is_boolean()) loaded.settings.cautions_read = read->get<bool>();
}

}  // namespace

fs::path settings_path() {
    const auto folder = [](const char* variable) {
        const char* text = std::getenv(variable);
        return fs::path(text == nullptr ? "" : text);
    };
    if (const fs::path config = folder("XDG_CONFIG_HOME"); config.is_absolute()) return config / "gripline" / "settings.json";
    if (const fs::path home = folder("HOME"); home.is_absolute()) return home / ".config" / "gripline" / "settings.json";
    return {};
}

LoadedSettings load_settings(const fs::path& path) {
    LoadedSettings loaded;
    std::error_code error;
    if (path.empty() || !fs::exists(path, error)) return loaded;
    std::ifstream file(path, std::ios::binary);
    std::string text(kMostBytes + 1, '\0');
    file.read(text.data(), static_cast<std::streamsize>(text.size()));
    text.resize(static_cast<std::size_t>(std::max<std::streamsize>(file.gcount(), 0)));
    if (!fs::is_regular_file(path, error) || file.bad() || text.empty()) {
        loaded.complaints.push_back(path.string() + ": can't be read or is empty; using the defaults");
        loaded.unreadable = fs::is_regular_file(path, error);
        return loaded;
    }
    const nlohmann::json json = text.size() > kMostBytes ? nlohmann::json() : nlohmann::json::parse(text, nullptr, false);
    if (!json.is_object()) {
        loaded.complaints.push_back(path.string() + ": is no settings file (JSON of at most " + std::to_string(kMostBytes) +
                                    " bytes); using the defaults");
        loaded.unreadable = true;
        return loaded;
    }
    read_members(json, path.string(), loaded);
    return loaded;
}

std::string save_settings(const fs::path& path, const Settings& settings, bool set_aside) {
    if (path.empty()) return "settings are not kept: neither XDG_CONFIG_HOME nor HOME names a folder";
    std::error_code error;
    fs::create_directories(folder_of(path), error);
    if (error) return "settings are not kept: " + folder_of(path).string() + ": " + error.message();
    nlohmann::json json;
    for (const Word& word : kWords) json[word.name] = settings.*word.member;
    json[kCautionsRead] = settings.cautions_read;
    const fs::path fresh = path.string() + ".new";
    {
        std::ofstream file(fresh, std::ios::binary | std::ios::trunc);
        // A device name may hold bytes that are no UTF-8: replaced, not thrown over.
        file << json.dump(2, ' ', false, nlohmann::json::error_handler_t::replace) << '\n';
        if (!file.flush()) return "settings are not kept: " + fresh.string() + ": " + std::strerror(errno);
    }
    if (set_aside) fs::rename(path, path.string() + ".unreadable", error);
    fs::rename(fresh, path, error);
    return error ? "settings are not kept: " + path.string() + ": " + error.message() : "";
}

}  // namespace gripline

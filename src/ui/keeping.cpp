#include "ui/keeping.h"

#include "base/text.h"
#include "practice/attempt_check.h"
#include "practice/history_file.h"

namespace gripline {
namespace {

/// A remembered name, unless somebody has edited it into none.
std::string remembered(const std::string& name, const char* what, bool may_be_empty, std::vector<std::string>& complaints) {
    const auto trouble = name.empty() ? std::nullopt : check_name(name, what, may_be_empty);
    if (trouble) complaints.push_back("settings, " + trouble->message);
    return trouble ? "" : name;
}

}  // namespace

std::filesystem::path history_file(const std::string& wish) { return wish.empty() ? history_path() : std::filesystem::path(wish); }

Result<std::optional<KeeperConfig>> keeper_config(const KeepingWishes& wishes, const Settings& settings, std::vector<std::string>& complaints) {
    KeeperConfig config;
    if (wishes.who) {
        config.player = std::string(trimmed(*wishes.who));
        if (auto error = check_name(config.player, "--who", false)) return *error;
    } else if (config.player = remembered(settings.who, "player", false, complaints); config.player.empty()) {
        config.player = login_name();
    }
    if (wishes.guitar) {
        config.guitar = std::string(trimmed(*wishes.guitar));
        if (auto error = check_name(config.guitar, "--guitar", true)) return *error;
    } else {
        config.guitar = remembered(settings.guitar, "guitar", true, complaints);
    }
    if (wishes.none) return std::optional<KeeperConfig>();
    config.file = history_file(wishes.history);
    if (config.file.empty()) {
        complaints.emplace_back("attempts are not kept: neither XDG_DATA_HOME nor HOME names a folder");
        return std::optional<KeeperConfig>();
    }
    return std::optional(std::move(config));
}

Result<std::unique_ptr<AttemptKeeper>> open_keeper(const KeepingWishes& wishes, const std::string& who, std::vector<std::string>& complaints) {
    LoadedSettings loaded = load_settings(settings_path());
    KeepingWishes with = wishes;
    if (!with.who && !who.empty()) with.who = who;
    auto config = keeper_config(with, loaded.settings, complaints);
    if (!config) return config.error();
    const Settings before = loaded.settings;
    remember(wishes, loaded.settings);
    if (!(loaded.settings == before)) {
        if (std::string failed = save_settings(settings_path(), loaded.settings, loaded.unreadable); !failed.empty()) complaints.push_back(std::move(failed));
    }
    if (!*config) return std::unique_ptr<AttemptKeeper>();
    return std::make_unique<AttemptKeeper>(std::move(**config));
}

void remember(const KeepingWishes& wishes, Settings& settings) {
    if (wishes.who) settings.who = std::string(trimmed(*wishes.who));
    if (wishes.guitar) settings.guitar = std::string(trimmed(*wishes.guitar));
}

}  // namespace gripline

#include "practice/attempt_keeper.h"

#include <pwd.h>
#include <unistd.h>

#include <ctime>
#include <utility>

#include "base/wall_clock.h"
#include "practice/attempt_check.h"

namespace gripline {
namespace {

/// At most `most` bytes, cut between UTF-8 characters.
std::string cut(std::string_view text, std::size_t most) {
    std::size_t end = std::min(text.size(), most);
    while (end < text.size() && end > 0 && (static_cast<unsigned char>(text[end]) & 0xC0U) == 0x80U) --end;
    return std::string(text.substr(0, end));
}

}  // namespace

std::string login_name() {
    const passwd* entry = ::getpwuid(::getuid());
    const std::string name = entry != nullptr && entry->pw_name != nullptr ? entry->pw_name : "";
    return check_name(name, "player", false) ? "player" : name;
}

AttemptKeeper::AttemptKeeper(KeeperConfig config) : config_(std::move(config)), writer_(config_.file, config_.writer) {
    if (!config_.wall_ms) config_.wall_ms = wall_clock_ms;
}

void AttemptKeeper::keep(Attempt attempt, std::string_view input) {
    attempt.player = config_.player;
    attempt.guitar = config_.guitar;
    attempt.input = cut(input, kLongestText_bytes);
    if (attempt.at_ms == 0) attempt.at_ms = config_.wall_ms();
    attempt.utc_offset_min = utc_offset_minutes(static_cast<std::time_t>(attempt.at_ms / 1000));
    writer_.keep(std::move(attempt));
}

/// Without the path, which would leave no room for the reason.
std::string AttemptKeeper::cause(const HistoryState& state) const {
    const std::string path = config_.file.string() + ": ";
    return state.trouble.starts_with(path) ? state.trouble.substr(path.size()) : state.trouble;
}

std::string AttemptKeeper::trouble() const {
    const HistoryState state = writer_.state();
    if (state.trouble.empty()) return state.lost > 0 ? std::to_string(state.lost) + " attempts were not kept." : "";
    const std::string waiting = state.waiting == 1 ? "1 attempt waits" : std::to_string(state.waiting) + " attempts wait";
    return "Not kept now: " + waiting + ". " + cause(state);
}

std::string AttemptKeeper::take_notice() {
    std::string notice = writer_.state().notice;
    if (notice == noticed_) return {};
    noticed_ = notice;
    return notice;
}

std::string AttemptKeeper::close() {
    const HistoryState state = writer_.close();
    if (state.lost == 0) return {};
    return (state.lost == 1 ? "1 attempt was not kept" : std::to_string(state.lost) + " attempts were not kept") + (state.trouble.empty() ? "" : ": " + state.trouble);
}

}  // namespace gripline

#include "formats/history_json.h"

#include "formats/attempt_file.h"
#include "formats/verdict_fields.h"

namespace gripline {

std::string history_json(const HistoryFacts& facts) {
    nlohmann::ordered_json players = nlohmann::ordered_json::array();
    std::int64_t attempts = 0;
    for (const PlayerRow& row : facts.players) {
        players.push_back({{"player", row.name}, {"attempts", row.attempts}, {"last", row.last_ms > 0 ? nlohmann::ordered_json(time_text(row.last_ms, 0)) : nlohmann::ordered_json(nullptr)}});
        attempts += row.attempts;
    }
    return dumped({{"file", facts.file}, {"there", facts.there}, {"bytes", facts.bytes}, {"attempts", attempts}, {"players", players}, {"older_copies", facts.copies}});
}

}  // namespace gripline

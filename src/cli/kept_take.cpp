#include "cli/kept_take.h"

#include <sys/stat.h>

#include <filesystem>

#include "base/text.h"
#include "base/wall_clock.h"
#include "formats/digest.h"
#include "practice/attempt_check.h"
#include "practice/attempt_id.h"
#include "practice/history_file.h"
#include "practice/walk_attempts.h"
#include "ui/keeping.h"

namespace gripline {

Result<std::string> keep_take(const WalkOptions& options, const std::vector<WalkBeat>& beats, const std::vector<BeatResult>& results, double tempo_bpm) {
    std::vector<std::string> complaints;
    const auto who = keeper_config(options.keeping, load_settings(settings_path()).settings, complaints);
    if (!who) return who.error();
    if (!*who) return Error{complaints.empty() ? "nothing is kept" : complaints.front()};
    const auto digest = sha256_of_file(options.input);
    if (!digest) return digest.error();
    struct stat status{};
    if (::stat(options.input.c_str(), &status) != 0 || results.empty()) return Error{options.input + ": is gone; its beats are not kept"};
    const std::int64_t written_ms = static_cast<std::int64_t>(status.st_mtime) * 1000;
    const double last_s = beats[results.back().index].at_s;
    const std::string name = "take " + std::filesystem::path(options.input).filename().string();
    std::vector<Attempt> attempts;
    for (const BeatResult& result : results) {
        Attempt one = attempt_of_beat(beats[result.index], result, tempo_bpm);
        one.player = (*who)->player;
        one.guitar = (*who)->guitar;
        one.input = name.substr(0, kLongestText_bytes);
        one.at_ms = written_ms - static_cast<std::int64_t>((last_s - beats[result.index].at_s) * 1000.0);
        one.utc_offset_min = utc_offset_minutes(static_cast<std::time_t>(one.at_ms / 1000));
        const std::string what = *digest + " " + one.player + " " + std::to_string(options.start_s) + " " + std::to_string(tempo_bpm) + " " + std::to_string(result.index) + " " + one.grip.text();
        one.id = sha256_hex(what).substr(0, 2 * AttemptId().size());
        attempts.push_back(std::move(one));
    }
    auto opened = open_history((*who)->file);
    if (!opened) return opened.error();
    const auto added = opened->history->add(attempts);
    if (!added) return added.error();
    opened->history->settle();
    return std::to_string(added->added) + " beats kept for " + plain_line((*who)->player) + (added->already_there > 0 ? ", " + std::to_string(added->already_there) + " were there already" : "");
}

}  // namespace gripline

// gripline history: where it lies, and lists of what is in it.
#include "practice/history.h"

#include <algorithm>
#include <cmath>
#include <deque>
#include <filesystem>
#include <istream>
#include <ostream>

#include "base/text.h"
#include "base/wall_clock.h"
#include "cli/commands.h"
#include "cli/history_verbs.h"
#include "cli/text_table.h"
#include "formats/attempt_file.h"
#include "formats/history_json.h"
#include "practice/history_file.h"
#include "practice/verdict_words.h"
#include "theory/chord_names.h"
#include "ui/keeping.h"

namespace gripline {

namespace {

namespace fs = std::filesystem;

/// "chord C7/E", "approach Gb7 from above": what was asked, for people.
std::string asked_words(const Attempt& a) {
    std::string out = a.chord.empty() ? std::string(word(a.place)) : a.chord;
    if (a.place != Sounds::chord) out += " (" + std::string(word(a.place)) + (a.from ? " from " + std::string(word(*a.from)) : "") + ")";
    return out;
}

/// The step as far as an attempt remembers it: its notes by the names of its chord, its bass by its degree in the scale.
PracticeStep asked_step(const Attempt& a) {
    PracticeStep step;
    step.grip = a.grip;
    if (const auto chord = parse_chart_symbol(a.chord))
        for (int i = 0; i < 12; ++i) step.names[static_cast<std::size_t>(i)] = name_in(*chord, PitchClass(i)).text();
    const auto degree = Interval::parse(a.bass_degree);
    const auto asked = std::find_if(a.faults.begin(), a.faults.end(), [](const Fault& fault) { return fault.kind == FaultKind::wrong_bass && fault.asked; });
    if (asked != a.faults.end()) step.bass = step.name(*asked->asked);
    else if (degree) step.bass = step.names[static_cast<std::size_t>(a.root.up(*degree).pitch_class().value())];
    else step.bass = "another";
    return step;
}

std::string what_came(const Attempt& a) {
    std::string out;
    if (!a.answered.empty()) out = "answered " + a.answered;
    if (!a.faults.empty()) {
        const PracticeStep step = asked_step(a);
        out += (out.empty() ? "" : "; ") + fault_words(a.faults.front(), step);
    }
    if (a.off_ms) out += (out.empty() ? "" : "; ") + decimal(std::abs(*a.off_ms), 0) + (*a.off_ms < 0.0 ? " ms early" : " ms late");
    if (a.try_number > 1) out += (out.empty() ? "" : " ") + std::string("(try ") + std::to_string(a.try_number) + ")";
    return out;
}

bool shown(const HistoryOptions& options, const Attempt& a) {
    return (!options.only_quality || a.quality == options.quality) && (options.verdict.empty() || word(a.verdict) == options.verdict);
}

void print_table(const std::deque<Attempt>& attempts, std::ostream& out) {
    TextTable table(out, {{"when", 16}, {"player", 10}, {"asked", 26}, {"in", 5}, {"grip", 14}, {"how", 9}, {"verdict", 7}, {"s", 5, true}, {"what", 30}});
    for (const Attempt& a : attempts) {
        std::string when = time_text(a.at_ms, a.utc_offset_min).substr(0, 16);
        when[10] = ' ';
        table.row({when, a.player, asked_words(a), a.root.text() + a.quality, a.grip.text(), std::string(word(a.asking)), word(a.verdict), a.answer_s ? decimal(*a.answer_s, 1) : "-", what_came(a)});
    }
}

int list(const HistoryOptions& options, History& kept, std::ostream& out, std::ostream& err) {
    auto filter = history_part(options);
    if (!filter) return refuse(err, filter.error().message);
    const bool counted_here = options.only_quality || !options.verdict.empty();
    const auto most = static_cast<std::size_t>(options.latest);
    if (options.latest > 0 && !counted_here) filter->latest = options.latest;
    std::deque<Attempt> attempts;
    const auto read = kept.read(*filter, [&](const Attempt& attempt) {
        if (!shown(options, attempt)) return true;
        if (options.latest == 0 && options.json) {
            out << attempt_json(attempt) << '\n';
            return out.good();
        }
        attempts.push_back(attempt);
        if (most > 0 && attempts.size() > most) attempts.pop_front();
        return true;
    });
    if (!read) return refuse(err, read.error().message);
    if (options.json) {
        for (const Attempt& attempt : attempts) out << attempt_json(attempt) << '\n';
        return kExitDone;
    }
    print_table(attempts, out);
    if (attempts.empty()) err << "gripline: no such attempts are kept\n";
    return kExitDone;
}

int where(const HistoryOptions& options, const fs::path& file, History& kept, std::ostream& out, std::ostream& err) {
    HistoryFacts facts;
    facts.file = file.string();
    std::error_code missing;
    facts.there = fs::exists(file, missing);
    for (const char* part : {"", "-wal"})
        if (fs::exists(file.string() + part, missing)) facts.bytes += static_cast<std::int64_t>(fs::file_size(file.string() + part, missing));
    auto players = kept.players();
    if (!players) return refuse(err, players.error().message);
    facts.players = std::move(*players);
    for (const fs::path& copy : history_copies(file)) facts.copies.push_back(copy.string());
    if (options.json) {
        out << history_json(facts) << '\n';
        return kExitDone;
    }
    out << plain_line(facts.file) << (facts.there ? "" : "  (nothing is kept yet)") << '\n';
    if (facts.there) out << decimal(static_cast<double>(facts.bytes) / 1e6, 1) << " MB\n";
    for (const std::string& copy : facts.copies) out << "older copy: " << plain_line(copy) << '\n';
    TextTable table(out, {{"player", 20}, {"attempts", 9, true}, {"last", 16}});
    for (const PlayerRow& row : facts.players)
        table.row({row.name, std::to_string(row.attempts), row.last_ms > 0 ? time_text(row.last_ms, utc_offset_minutes(static_cast<std::time_t>(row.last_ms / 1000))).substr(0, 10) : "-"});
    return kExitDone;
}

}  // namespace

int history(const HistoryOptions& options, std::istream& in, std::ostream& out, std::ostream& err) {
    const fs::path file = history_file(options.history);
    if (file.empty()) return refuse(err, "no history is kept: neither XDG_DATA_HOME nor HOME names a folder; --history FILE names one");
    const bool writes = options.verb == HistoryVerb::import_from || options.verb == HistoryVerb::merge || options.verb == HistoryVerb::delete_player;
    auto opened = writes ? open_history(file) : open_history_to_read(file);
    if (!opened) return refuse(err, opened.error().message);
    if (!opened->notice.empty()) err << "gripline: " << plain_line(opened->notice) << '\n';
    History& kept = *opened->history;
    switch (options.verb) {
        case HistoryVerb::list: return list(options, kept, out, err);
        case HistoryVerb::where: return where(options, file, kept, out, err);
        case HistoryVerb::export_to: return history_export(options, kept, out, err);
        case HistoryVerb::import_from: return history_import(options, kept, out, err);
        case HistoryVerb::merge: return history_merge(options, file, kept, out, err);
        case HistoryVerb::delete_player: return history_delete(options, file, kept, in, out, err);
    }
    return kExitWrongUsage;
}

}  // namespace gripline

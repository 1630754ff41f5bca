#include "ui/walk_keys.h"

#include <algorithm>

namespace gripline {
namespace {

/// When a key does something.
enum class Works { always, standing, with_player };

struct WalkKeyRow {
    WalkCommand command;
    char character;
    SpecialKey special;       ///< does the same
    const char* key;          ///< as shown; nullptr: shown with another row
    const char* does;         ///< in the foot
    Works works;
    const char* explanation;  ///< in the help, after the key; nullptr: with another row
};

using enum WalkCommand;
using enum Works;

constexpr WalkKeyRow kWalkRows[] = {
    {start_stop, ' ', SpecialKey::enter, "space", "start, stop", always, "space       start, after a count-in; stop, and see how it went (Enter too)"},
    {help, '?', SpecialKey::none, "?", "help", always, "?           this help; it stops the music"},
    {quit, 'q', SpecialKey::none, "q", "quit", always, "q           quit (Ctrl-C too)"},
    {faster, '+', SpecialKey::up, "+ -", "tempo", always, "+, up       five counts a minute faster; -, down: slower; while walking from the next chorus on"},
    {faster, '=', SpecialKey::none, nullptr, nullptr, always, nullptr},
    {slower, '-', SpecialKey::down, nullptr, nullptr, always, nullptr},
    {click, 'c', SpecialKey::none, "c", "click", always, "c           click: every count with accents (2 and 4 of four, else the strong ones), the accents alone, every count alike, off"},
    {softer, 'v', SpecialKey::none, "v V", "volume", always, "v           softer; V: louder. Everything starts quiet"},
    {louder, 'V', SpecialKey::none, nullptr, nullptr, always, nullptr},
    {line_player, 'l', SpecialKey::none, "l", "who plays", always, "l           the line: you play, call and answer (the tool begins), the tool plays; while walking from the next chorus on"},
    {tempo_steps, 's', SpecialKey::none, "s", "steps", always, "s           tempo steps: up when a chorus passes in notes and time, down when it fails twice; 0, 2, 5, 10 counts a minute"},
    {first_bar_on, 'f', SpecialKey::right, "f F", "from bar", standing, "f, right    the loop begins a bar later; F, left: a bar earlier"},
    {first_bar_back, 'F', SpecialKey::left, nullptr, nullptr, standing, nullptr},
    {last_bar_on, 't', SpecialKey::none, "t T", "to bar", standing, "t           the loop ends a bar later; T: a bar earlier"},
    {last_bar_back, 'T', SpecialKey::none, nullptr, nullptr, standing, nullptr},
    {all_bars, 'a', SpecialKey::none, "a", "all bars", standing, "a           the whole chart, no loop"},
    {landing, 'd', SpecialKey::none, "d", "landing", standing, "d           landing alone (the first beat of each chord and the approach to it), or every beat"},
    {player_plays, 'p', SpecialKey::none, "p", "player", with_player, "p           the built-in player plays along, or rests, when it is the input"},
    {player_mistake, 'm', SpecialKey::none, "m", "play wrong", with_player, "m           the built-in player makes a likely mistake on its next beat"},
};

}  // namespace

std::optional<WalkCommand> walk_command(const KeyPress& key) {
    if (!key.known()) return std::nullopt;
    const auto* row = std::find_if(std::begin(kWalkRows), std::end(kWalkRows), [&](const WalkKeyRow& r) {
        return key.character != 0 ? r.character == key.character : r.special == key.special;
    });
    if (row == std::end(kWalkRows)) return std::nullopt;
    return row->command;
}

std::vector<KeyWords> walk_key_words(bool walking, bool player) {
    std::vector<KeyWords> words;
    for (const WalkKeyRow& row : kWalkRows) {
        if (row.key == nullptr || (row.works == standing && walking) || (row.works == with_player && !player)) continue;
        words.push_back({row.key, row.command == start_stop ? (walking ? "stop" : "start") : row.does});
    }
    return words;
}

std::vector<std::string> walk_key_lines() {
    std::vector<std::string> lines;
    for (const WalkKeyRow& row : kWalkRows)
        if (row.explanation != nullptr) lines.emplace_back(row.explanation);
    return lines;
}

}  // namespace gripline

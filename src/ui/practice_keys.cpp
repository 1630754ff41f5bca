#include "ui/practice_keys.h"

#include <algorithm>

namespace gripline {
namespace {

struct KeyRow {
    PracticeCommand command;
    char character;
    SpecialKey special;       ///< does the same
    const char* key;          ///< as shown; nullptr: shown with another row
    const char* does;         ///< in the foot
    const char* explanation;  ///< in the help, after the key
};

using enum PracticeCommand;

constexpr KeyRow kRows[] = {
    {help, '?', SpecialKey::none, "?", "help", "?           this help"},
    {quit, 'q', SpecialKey::none, "q", "quit", "q           quit (Ctrl-C too)"},
    {pause, ' ', SpecialKey::none, "space", "pause", "space       pause, and go on: strums are not judged meanwhile"},
    {again, 'a', SpecialKey::enter, "a", "again", "a, Enter    ask the same again at once"},
    {next, 'n', SpecialKey::right, "n", "next", "n, right    leave this step out, ask the next"},
    {back, 'b', SpecialKey::left, "b", "back", "b, left     ask the step before"},
    {hear_target, 'h', SpecialKey::none, "h", "hear it", "h           hear what is asked, softly"},
    {hear_key, 'k', SpecialKey::none, "k", "key", "k           hear the key by a cadence, then what is asked"},
    {hear_bass_first, 'j', SpecialKey::none, "j", "bass first", "j           hear what is asked, its bass first"},
    {hear_notes, 'l', SpecialKey::none, "l", "notes", "l           hear what is asked, note by note"},
    {show_grip, 'd', SpecialKey::none, "d", "show it", "d           see the grip where the exercise hides it; the answer then counts as helped"},
    {player_right, 'p', SpecialKey::none, "p", "play right", "p           the built-in player plays what is asked, when it is the input"},
    {player_mistake, 'm', SpecialKey::none, "m", "play wrong", "m           the built-in player makes a likely mistake"},
    {root_up, 'r', SpecialKey::up, "r R", "root", "r, up       the root a semitone up; R, down: a semitone down"},
    {root_down, 'R', SpecialKey::down, nullptr, nullptr, nullptr},
    {family, 'f', SpecialKey::none, "f", "family", "f           family: major sixth, minor sixth, dominant seventh, seventh flat five"},
    {stage, 's', SpecialKey::none, "s", "stage", "s           stage: scale, drop 2, drop 3, shell"},
    {string_set, 't', SpecialKey::none, "t", "strings", "t           string set"},
    {order, 'o', SpecialKey::none, "o", "order", "o           order of the steps: up, down, shuffled"},
    {faster, '+', SpecialKey::none, "+ -", "tempo", "+           into the target: five counts a minute faster; -: slower"},
    {faster, '=', SpecialKey::none, nullptr, nullptr, nullptr},
    {slower, '-', SpecialKey::none, nullptr, nullptr, nullptr},
    {input, 'i', SpecialKey::none, "i", "input", "i           input: the sound card, or the built-in player"},
    {tuner, 'u', SpecialKey::none, "u", "tune", "u           the tuner: how far each string is flat or sharp; u again: back"},
    {progress, 'g', SpecialKey::none, "g", "progress", "g           progress: what is weak, the weeks, what to do today; g again: back"},
};

}  // namespace

std::optional<PracticeCommand> practice_command(const KeyPress& key) {
    if (!key.known()) return std::nullopt;
    const auto* row = std::find_if(std::begin(kRows), std::end(kRows), [&](const KeyRow& r) {
        return key.character != 0 ? r.character == key.character : r.special == key.special;
    });
    if (row == std::end(kRows)) return std::nullopt;
    return row->command;
}

std::vector<KeyWords> practice_key_words(bool player, std::optional<Asking> hidden) {
    std::vector<KeyWords> words;
    for (const KeyRow& row : kRows) {
        const bool players = row.command == player_right || row.command == player_mistake;
        const bool of_ear = row.command == hear_key || row.command == hear_bass_first || row.command == hear_notes;
        if ((row.command == show_grip && !hidden) || (of_ear && hidden != Asking::by_ear) || (row.command == faster && hidden != Asking::into_target)) continue;
        if (row.key != nullptr && (player || !players)) words.push_back({row.key, row.does});
    }
    return words;
}

std::vector<std::string> practice_key_lines() {
    std::vector<std::string> lines;
    for (const KeyRow& row : kRows) {
        if (row.explanation != nullptr) lines.emplace_back(row.explanation);
    }
    return lines;
}

}  // namespace gripline

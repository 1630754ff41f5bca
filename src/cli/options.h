// What the player asked for on the command line: one plain struct a command, already checked.
#pragma once

#include <optional>
#include <string>
#include <variant>

namespace gripline {

struct PracticeOptions {
    std::string device;          ///< name or number of the input; empty: the remembered one, or the default
    bool player = false;         ///< the built-in player instead of the live input
    bool demonstration = false;  ///< as text, even with a terminal
    std::string root, family, stage, strings;  ///< empty: as last time
    std::string tuning = "standard";
    int capo = 0;
    double a4_hz = 440.0;
    bool left_handed = false;
    bool ascii = false;
};

struct HearOptions {
    std::string file;
    double a4_hz = 440.0;
    bool json = false;
};

struct MarkOptions {
    std::string list;
    bool json = false;
    bool live = false;          ///< listen to the live input instead of the takes
    bool step = false;          ///< live: each row begins at the Enter key
    std::string device;         ///< live: name or number of the input
    double patience_s = 20.0;   ///< live: a row without a strum for so long is unheard
};

struct DevicesOptions {
    std::string use;  ///< name or number to remember as input; empty: only list
    bool json = false;
};

struct GripsOptions {
    std::string chord;
    std::string family, stage, strings;  ///< empty: the chord's own family, every stage, the stage's usual strings
    std::string tuning = "standard";
    int capo = 0;
    bool left_handed = false;
    bool json = false;
};

using Command = std::variant<PracticeOptions, HearOptions, MarkOptions, DevicesOptions, GripsOptions>;

/// Exit status of the program (README).
inline constexpr int kExitDone = 0;
inline constexpr int kExitBadInput = 1;
inline constexpr int kExitWrongUsage = 2;

}  // namespace gripline

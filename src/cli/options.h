// What the player asked for on the command line: one plain struct a command, already checked.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "ui/keeping_wishes.h"

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
    KeepingWishes keeping;
    bool plan = false;                    ///< what is weak, due or new, as the learner model says
    std::string key, approach, exercise;  ///< pins, and the way of asking; empty: none, shown
    std::vector<std::string> qualities;
    std::vector<std::string> questions;   ///< name-it; empty: all
    std::string joints;                   ///< only this chart's; empty: no such pin
    double tempo_bpm = 0.0;               ///< into-the-target; 0: the usual
    double minutes = 0.0;                 ///< 0: ten when planned and no steps are said
    int steps = 0, most_new = 6;
    double break_after_min = 25.0;
    bool no_tones = false;
    bool warm_up = false, no_warm_up = false;  ///< a planned session has one unless it is left out
    std::string two_muted = "again", three_muted = "next";  ///< what muted strums ask for
    bool no_gestures = false;
};

struct HearOptions {
    std::string file;
    std::string guitar;  ///< the guitar that is set up under this name plays; empty: any may
    double a4_hz = 440.0;
    bool json = false;
};

struct MarkOptions {
    std::string list;
    bool json = false;
    int explain = 0;            ///< hypotheses shown with each answer
    bool live = false;          ///< listen to the live input instead of the takes
    bool step = false;          ///< live: each row begins at the Enter key
    std::string device;         ///< live: name or number of the input
    double patience_s = 20.0;   ///< live: a row without a strum for so long is unheard
    std::string quiz;           ///< a folder of takes is marked against this quiz ...
    std::string chart;          ///< ... or against the line over this chart
    std::string key;            ///< of the chart; empty: as written
    double tempo_bpm = 0.0;     ///< of the chart; 0: its own
    std::string into;           ///< where the results go; empty: "marked" in the folder
    bool overwrite = false;     ///< results of another quiz, chart or tempo are replaced
    int workers = 0;            ///< takes marked at once; 0: one a core
    std::string guitar;         ///< a list: the guitar that is set up under this name plays; empty: any may
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

struct LineOptions {
    std::string chart;               ///< a file or a chart of the library
    bool list = false;               ///< only list the charts of the library
    std::string key;                 ///< empty: the chart's own
    std::string direction = "free";  ///< up, down, free
    std::string approach = "best";   ///< below, above, alternating, best
    std::string quality = "slid";    ///< slid, dominant
    int steps = 4;                   ///< 4, 2 or 1 a bar
    bool landing = false;
    bool again = false;              ///< chorus after chorus: the last beat leads to the first grip
    std::string strings = "6-4-3,5-3-2";
    std::string frets = "0-12";      ///< where the hand is wanted
    std::string costs;               ///< "turn=3,stretch=1"
    std::vector<std::string> locks;  ///< "3.1=8x89xx"
    std::vector<std::string> scales; ///< "G7=Dm6"
    int alternatives = 1;
    std::uint64_t seed = 0;
    bool explain = false;
    std::string to;                  ///< a file to write the line to; empty: none
    bool overwrite = false;
    std::string tuning = "standard";
    int capo = 0;
    bool json = false;
};

struct ConvertOptions {
    std::string in, out;         ///< files; "-": standard input or output; `in` may be a chart of the library
    std::string from, to;        ///< kinds by word; empty: by the files' endings
    bool force = false;          ///< replace the file when it exists
    bool as_line = false;        ///< write the line over the chart where the chart alone could be written
    LineOptions line;            ///< the key, and the line over the chart; what only `line` has is unused
    double tempo_bpm = 0.0;      ///< counts a minute; 0: the chart's
    bool click = false;          ///< sound: with a metronome
    int choruses = 1;            ///< sound: how often
    bool answer = false;         ///< sound: every other chorus is left to the player
    double faster_bpm = 0.0;     ///< sound: each chorus so much faster
    int across = 8;              ///< pictures: grips in a row
    bool left_handed = false;    ///< pictures: mirrored
    double a4_hz = 440.0;        ///< sound
};

struct WalkOptions {
    KeepingWishes keeping;
    LineOptions line;            ///< the chart and the line over it; what only `line` has is unused
    std::string input;           ///< the recording; empty: walked live
    double tempo_bpm = 0.0;      ///< counts a minute; 0: the chart's
    double start_s = 0.0;        ///< recordings: where beat 1 of bar 1 lies
    // Live alone:
    std::string bars;            ///< "5-8"; empty: all
    int choruses = 0;            ///< 0: without end; without a screen one
    int count_in_bars = 1;
    std::string click = "accented";
    bool answer = false;         ///< call and answer
    bool play_it = false;        ///< the tool plays
    double step_bpm = 0.0, limit_bpm = 300.0;
    double volume_db = 0.0;      ///< against the quiet beginning
    std::string device, output;  ///< names or numbers; empty: the remembered input, the default output
    bool player = false;         ///< the built-in player walks
    std::string report;          ///< a file for lines of JSON; empty: none
    bool overwrite = false;      ///< of the report
    bool ascii = false;
    // Both:
    std::string grips;           ///< a file with the grips, one a beat, instead of the line's; empty: none
    double a4_hz = 440.0;
    bool json = false;
};

struct CalibrateOptions {
    std::string device, output;  ///< names or numbers; empty: the remembered input, the default output
    bool by_hand = false;        ///< claps along with the clicks
    bool list = false;           ///< only tell what is kept
    bool now = false;            ///< without waiting for the Enter key
    double volume_db = 0.0;      ///< against the quiet beginning
    bool json = false;
};

struct TuneOptions {
    std::string input;           ///< a recording; empty: the live input
    std::string device;          ///< name or number of the live input; empty: the remembered one, or the default
    std::string tuning = "standard";
    int capo = 0;
    double a4_hz = 440.0;
    double for_s = 0.0;          ///< live, as lines: so long; 0: until interrupted
    bool json = false;
    bool ascii = false;
};

enum class GuitarVerb { set_up, list, show, remove };

struct GuitarOptions {
    GuitarVerb verb = GuitarVerb::list;
    std::string name;            ///< empty: the remembered one
    std::string input;           ///< set_up: a recording; empty: the live input
    std::string device;          ///< set_up: name or number of the live input; empty: the remembered one, or the default
    std::string tuning = "standard";
    int capo = 0;
    double a4_hz = 440.0;
    bool overwrite = false;      ///< set_up: in place of an older one
    bool yes = false;            ///< remove: without asking
    bool json = false;
    bool ascii = false;
};

enum class QuizVerb { check, create, take, verify, overrule, sheet };

struct QuizOptions {
    QuizVerb verb = QuizVerb::check;
    std::string file;                ///< the quiz; verify: a run's folder or result file
    std::string student;             ///< name or code
    std::string folder = ".";        ///< take: where the run's folder is put
    std::string to;                  ///< sheet: the page
    bool answers = false;            ///< sheet: with the grips
    int question = 0;                ///< overrule: from 1
    std::string verdict;             ///< overrule: right, wrong
    std::string why;                 ///< overrule
    bool overwrite = false;
    std::string device;              ///< take: name or number of the input; empty: the remembered one
    bool player = false;             ///< take: the built-in player instead of the live input
    KeepingWishes keeping;           ///< take
    std::string resume;              ///< take: the folder of an interrupted run
    bool hand_in = false;            ///< take: with resume, hand it in as it stands
    bool ascii = false;
    bool json = false;
};

struct ClassOptions {
    std::vector<std::string> given;  ///< folders or result files
    std::string html, csv;           ///< files to write; empty: none
    bool json = false;
    bool codes = false;              ///< students by code only
    bool overwrite = false;
};

struct ProgressOptions {
    std::string who;         ///< empty: whoever practised last
    std::string history;     ///< a file; empty: the usual place
    std::string html;        ///< a page to write; empty: none
    bool overwrite = false;
    bool csv = false;
    bool json = false;
    bool ascii = false;
};

enum class HistoryVerb { list, where, export_to, import_from, merge, delete_player };

struct HistoryOptions {
    HistoryVerb verb = HistoryVerb::where;
    std::string history;     ///< a file; empty: the usual place
    std::string file;        ///< to write ("-": standard output), to read, or to merge
    std::string who;         ///< empty: everybody; delete: whom
    std::string from, to;    ///< days as 2026-11-25, both included; empty: no bound
    std::string quality, verdict;  ///< list: only these; empty: all
    bool only_quality = false;     ///< list: `quality` was given; it is empty for a major triad
    int latest = 20;         ///< list: so many, the latest; 0: all
    bool yes = false;        ///< delete: without asking
    bool overwrite = false;
    bool csv = false, json = false;
};

using Command = std::variant<HistoryOptions, QuizOptions, ClassOptions, ProgressOptions, PracticeOptions, HearOptions, MarkOptions, DevicesOptions, GripsOptions, LineOptions, ConvertOptions, WalkOptions, CalibrateOptions, TuneOptions, GuitarOptions>;

/// Exit status of the program (README).
inline constexpr int kExitDone = 0;
inline constexpr int kExitBadInput = 1;
inline constexpr int kExitWrongUsage = 2;

}  // namespace gripline

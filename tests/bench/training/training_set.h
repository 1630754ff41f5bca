// Sets of takes with exact truth, as make_takes.py writes them.
#pragma once

#include <string>
#include <vector>

#include "base/result.h"
#include "formats/cases.h"

namespace gripline::training {

/// What really sounded: a row of truth.csv.
struct Truth {
    std::string guitar, family;  ///< family: of guitars with common samples
    std::string kind;            ///< "none" for a right strum, else a fault's word
    std::string played;          ///< fret string
    std::string sound;           ///< conditions as JSON
    int string = 0, frets = 0;   ///< of the fault
    double onset_s = 0.0;        ///< when the first string sounded
};

struct TrainingCase {
    int id = 0;  ///< row of cases.csv, from 0
    StrumCase asked;
    Truth truth;
};

struct Take {
    std::string file;  ///< within the set's folder
    std::vector<TrainingCase> cases;
};

/// The takes that cases.csv asks for, in its order, each with its cases. Errors: a table that can't be read, a case without truth.
Result<std::vector<Take>> read_takes(const std::string& folder);

/// Files of all takes that truth.csv and (if there is one) walks.csv name, in their order.
Result<std::vector<std::string>> read_take_files(const std::string& folder);

}  // namespace gripline::training

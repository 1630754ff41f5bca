// The report on a class as a page of HTML and as CSV.
#pragma once

#include <filesystem>
#include <iosfwd>
#include <string>
#include <vector>

#include "practice/class_report.h"

namespace gripline {

struct ClassPageOptions {
    std::filesystem::path folder;       ///< that the page will lie in: sounds are named relative to it
    bool codes = false;                 ///< students are shown by code: nothing else of the page may name them
    std::vector<std::string> complaints;///< what was given in and could not be counted
};

/// One page that needs nothing from elsewhere: no script, no network. Answers for the ear come first, with their sounds; a sheet for each student to be
/// printed stands at the end. All names are escaped.
void write_class_page(const ClassReport& report, const ClassPageOptions& options, std::ostream& out);

/// RFC 4180, one row a student: student, runs, right, of, percent, passed, part_1_right, part_1_of ..., unsure, before_percent, started_utc, hand_in_code, remarks. Fields that a
/// spreadsheet would take for a formula begin with an apostrophe.
void write_class_csv(const ClassReport& report, std::ostream& out);

}  // namespace gripline

// A class as JSON Lines: one object a student, then one on the class.
#pragma once

#include <iosfwd>

#include "practice/class_report.h"

namespace gripline {

/// Bytes that are no UTF-8 become U+FFFD; control characters are escaped. Nothing but names goes out that the report does not hold.
void write_class_json(const ClassReport& report, std::ostream& out);

}  // namespace gripline

// Text pictures kept in fixtures/goldens.
#pragma once

#include <string>

namespace gripline::test {

/// Compares `text` with fixtures/goldens/NAME.txt and fails the running test when they differ or the file is missing. With
/// GRIPLINE_UPDATE_GOLDENS=1 in the environment the file is written instead, for a person to look at before it is committed.
void check_golden(const std::string& name, const std::string& text);

}  // namespace gripline::test

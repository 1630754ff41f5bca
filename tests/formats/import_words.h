// What a reader of charts made of a file, as text to compare.
#pragma once

#include <string>

#include "base/result.h"
#include "chart/chart_text.h"
#include "formats/chart_import.h"

namespace gripline::test {

/// The bars as text, or the error; remarks behind it.
inline std::string import_words(const Result<ImportedChart>& made) {
    if (!made) return made.error().message;
    std::string out = chart_text(made->chart);
    out = out.substr(out.find("\n\n") + 2);
    for (const auto& remark : made->remarks) out += "(" + remark + ")\n";
    return out;
}

}  // namespace gripline::test

#include "ui/closing_lines.h"

#include <sys/ioctl.h>
#include <unistd.h>

#include <ostream>

#include "ui/text_layout.h"

namespace gripline {

std::optional<int> output_columns() {
    constexpr int kUsual = 80;  // of a terminal that tells no size
    if (isatty(STDOUT_FILENO) == 0) return std::nullopt;
    winsize size{};
    const bool told = ::ioctl(STDOUT_FILENO, TIOCGWINSZ, &size) == 0 && size.ws_col > 0;
    return told ? size.ws_col : kUsual;
}

void write_closing_lines(const std::vector<std::string>& lines, std::optional<int> columns, std::ostream& out) {
    for (const std::string& line : lines) {
        if (!columns) out << line << '\n';
        else
            for (const std::string& part : wrap(line, *columns)) out << part << '\n';
    }
}

}  // namespace gripline

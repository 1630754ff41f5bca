// Standard error goes to a log for a while: sound libraries print on it, and would garble the screen.
#pragma once

#include <string>

namespace gripline {

/// From construction to destruction, file descriptor 2 is the log file: $XDG_STATE_HOME/gripline/gripline.log, or
/// ~/.local/state/gripline/gripline.log. Where that can't be written, what is printed is dropped. The log starts anew above 1 MB.
class StderrToLog {
public:
    StderrToLog();
    ~StderrToLog();
    StderrToLog(const StderrToLog&) = delete;
    StderrToLog& operator=(const StderrToLog&) = delete;

    /// Where the log is; empty when it can't be written.
    [[nodiscard]] const std::string& path() const noexcept { return path_; }

private:
    std::string path_;
    int kept_descriptor_ = -1;
};

}  // namespace gripline

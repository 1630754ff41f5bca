#include "audio/stderr_log.h"

#include <fcntl.h>
#include <unistd.h>

#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <system_error>

namespace gripline {
namespace {

constexpr std::uintmax_t kLongestLog_bytes = 1'000'000;

/// XDG Base Directory Specification 0.8: state lives in $XDG_STATE_HOME, by default ~/.local/state; a relative value is ignored.
std::filesystem::path state_folder() {
    const char* state = std::getenv("XDG_STATE_HOME");
    if (state != nullptr && state[0] == '/') return std::filesystem::path(state) / "gripline";
    const char* home = std::getenv("HOME");
    if (home != nullptr && home[0] == '/') return std::filesystem::path(home) / ".local" / "state" / "gripline";
    return {};
}

int open_log(std::string& path) {
    const std::filesystem::path folder = state_folder();
    if (!folder.empty()) {
        std::error_code failed;
        std::filesystem::create_directories(folder, failed);
        path = (folder / "gripline.log").string();
        const auto size = std::filesystem::file_size(path, failed);
        const int anew = !failed && size > kLongestLog_bytes ? O_TRUNC : 0;
        const int log = ::open(path.c_str(), O_WRONLY | O_CREAT | O_APPEND | O_CLOEXEC | anew, 0600);
        if (log >= 0) return log;
    }
    path.clear();
    return ::open("/dev/null", O_WRONLY | O_CLOEXEC);
}

}  // namespace

StderrToLog::StderrToLog() {
    std::fflush(stderr);
    const int log = open_log(path_);
    if (log < 0) return;
    kept_descriptor_ = ::fcntl(STDERR_FILENO, F_DUPFD_CLOEXEC, 3);
    ::dup2(log, STDERR_FILENO);
    ::close(log);
}

StderrToLog::~StderrToLog() {
    std::fflush(stderr);
    if (kept_descriptor_ < 0) return;
    ::dup2(kept_descriptor_, STDERR_FILENO);
    ::close(kept_descriptor_);
}

}  // namespace gripline

// Sets with sessions, as make_sessions.py writes them: each guitar set up from its own recording.
#pragma once

#include <map>
#include <string>

#include "base/result.h"
#include "practice/guitar_set_up.h"

namespace gripline::training {

struct Session {
    std::string guitar, kind;
    Result<GuitarProfile> profile = Error{"not set up"};
};

/// By their names. Set-ups that fail are told on standard error. An error when sessions.csv can't be read.
Result<std::map<std::string, Session>> read_sessions(const std::string& folder);

/// "takes/s012-003.flac" belongs to session "s012".
std::string session_of(const std::string& take_file);

}  // namespace gripline::training

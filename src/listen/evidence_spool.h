// Evidence of a take put by on disk, so that a take is listened to once and its strums are judged once it is known which is which.
#pragma once

#include <cstddef>
#include <cstdio>
#include <filesystem>
#include <memory>

#include "dsp/strum_evidence.h"
#include "listen/recording.h"

namespace gripline {

/// Beyond this nothing more is kept, and the take has to be listened to again: some 25 minutes of a strum every half second (180 kB a strum).
inline constexpr std::size_t kMostSpooled = 512U << 20U;  // bytes

/// A file without a name, gone with this object however the program ends. One evidence is in memory at a time.
class EvidenceSpool {
public:
    /// folder: on a disk with room. When no file can be made there, nothing is kept.
    explicit EvidenceSpool(const std::filesystem::path& folder, std::size_t most = kMostSpooled);

    /// Keeps one more, while all before it were kept.
    void put(const dsp::StrumEvidence& evidence);
    /// Hands all out in the order they came in; false from the taker ends it. False when not all could be kept, or read back: what the taker was given then is no
    /// whole take.
    [[nodiscard]] bool replay(const EvidenceTaker& taker);
    [[nodiscard]] bool whole() const noexcept { return whole_; }

private:
    struct Close {
        void operator()(std::FILE* file) const noexcept { (void)std::fclose(file); }
    };
    std::unique_ptr<std::FILE, Close> file_;
    std::size_t count_ = 0, most_ = 0;
    bool whole_ = false;
};

}  // namespace gripline

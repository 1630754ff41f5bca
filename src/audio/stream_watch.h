// Tells from the outside that a stream has stopped: sound libraries often never say so.
#pragma once

#include <cstdint>

namespace gripline {

struct StreamWatchConfig {
    double first_s = 2.5;  ///< patience until the first callback: an idle source may take two seconds
    double next_s = 0.5;   ///< and between two; a block lasts 5 ms
};

/// Fed with the time and the count of callbacks, a few times a second.
class StreamWatch {
public:
    explicit StreamWatch(const StreamWatchConfig& config = {}) : config_(config) {}
    /// A stream begins now, its feed having seen `blocks` callbacks before.
    void begin(double now_s, std::uint64_t blocks) noexcept {
        blocks_ = blocks;
        changed_s_ = now_s;
        any_ = false;
    }
    /// True when the stream has to be taken for lost.
    [[nodiscard]] bool lost(double now_s, std::uint64_t blocks, bool active) noexcept {
        if (blocks != blocks_) {
            blocks_ = blocks;
            changed_s_ = now_s;
            any_ = true;
        }
        return !active || now_s - changed_s_ > (any_ ? config_.next_s : config_.first_s);
    }

private:
    StreamWatchConfig config_;
    std::uint64_t blocks_ = 0;
    double changed_s_ = 0.0;
    bool any_ = false;
};

}  // namespace gripline

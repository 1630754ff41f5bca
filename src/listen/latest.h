// The latest value of one thread, for one other thread: three places, so that neither ever waits for the other.
#pragma once

#include <array>
#include <atomic>
#include <cstdint>

namespace gripline {

/// `set` is for one thread, `get` for one other. T is copied and should be plain.
template <class T>
class Latest {
public:
    void set(const T& value) noexcept {
        places_[writing_] = value;
        writing_ = between_.exchange(writing_ | kFresh, std::memory_order_acq_rel) & kPlace;
    }
    /// The newest value set; a default T before the first.
    [[nodiscard]] const T& get() noexcept {
        if ((between_.load(std::memory_order_relaxed) & kFresh) != 0) reading_ = between_.exchange(reading_, std::memory_order_acq_rel) & kPlace;
        return places_[reading_];
    }

private:
    static constexpr std::uint32_t kFresh = 4, kPlace = 3;
    std::array<T, 3> places_{};
    std::uint32_t writing_ = 0;              // the setter's place
    std::atomic<std::uint32_t> between_{1};  // the one that changes hands
    std::uint32_t reading_ = 2;              // the getter's
};

}  // namespace gripline

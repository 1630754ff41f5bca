// The last seconds of the signal at the analysis rate, readable as one stretch.
#pragma once

#include <algorithm>
#include <cstdint>
#include <span>
#include <vector>

namespace gripline::dsp {

/// Keeps at least `capacity` samples, up to twice that; `push` now and then moves them to the front.
class History {
public:
    explicit History(std::size_t capacity) : capacity_(capacity), samples_(2 * capacity, 0.0F), end_(capacity) {}
    void push(float sample) noexcept {
        if (end_ == samples_.size()) {
            std::copy(samples_.end() - static_cast<std::ptrdiff_t>(capacity_), samples_.end(), samples_.begin());
            end_ = capacity_;
        }
        samples_[end_++] = sample;
        ++count_;
    }
    /// Index of the sample after the last one, counted from 0 at the start of the stream.
    [[nodiscard]] std::int64_t now() const noexcept { return count_; }
    /// The last `frames` samples (at most the capacity); zeros stand before the start of the stream.
    [[nodiscard]] std::span<const float> last(std::size_t frames) const noexcept { return {samples_.data() + end_ - frames, frames}; }
    /// Sample at stream index i, now() - capacity <= i < now().
    [[nodiscard]] float at(std::int64_t i) const noexcept { return samples_[end_ - static_cast<std::size_t>(count_ - i)]; }
    void clear() noexcept {
        std::fill(samples_.begin(), samples_.end(), 0.0F);
        end_ = capacity_;
        count_ = 0;
    }

private:
    std::size_t capacity_;
    std::vector<float> samples_;
    std::size_t end_;
    std::int64_t count_ = 0;
};

}  // namespace gripline::dsp

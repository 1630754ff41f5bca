// A lock-free ring between two threads: one writes, one reads. Lamport 1977's bounded buffer with C++ acquire/release order.
#pragma once

#include <algorithm>
#include <atomic>
#include <bit>
#include <cstddef>
#include <span>
#include <vector>

namespace gripline {

/// Holds up to capacity() items. `write*` is for one thread, `read*` for one other; neither waits nor allocates.
template <class T>
class SpscRing {
public:
    /// Allocates room for at least `at_least` items (rounded up to a power of two).
    explicit SpscRing(std::size_t at_least) : items_(std::bit_ceil(std::max<std::size_t>(at_least, 1))), mask_(items_.size() - 1) {}

    [[nodiscard]] std::size_t capacity() const noexcept { return items_.size(); }
    /// Items waiting; exact on either thread for what that thread may do next.
    [[nodiscard]] std::size_t size() const noexcept { return written_.load(std::memory_order_acquire) - read_.load(std::memory_order_acquire); }

    /// Copies as many as fit; returns how many.
    std::size_t write(std::span<const T> from) noexcept {
        const std::size_t at = written_.load(std::memory_order_relaxed);
        const std::size_t room = capacity() - (at - read_.load(std::memory_order_acquire));
        const std::size_t count = std::min(room, from.size());
        for (std::size_t i = 0; i < count; ++i) items_[(at + i) & mask_] = from[i];
        written_.store(at + count, std::memory_order_release);
        return count;
    }
    /// The place of the next item, to be filled and then published; nullptr when the ring is full. For items too big to copy twice.
    [[nodiscard]] T* write_place() noexcept {
        const std::size_t at = written_.load(std::memory_order_relaxed);
        return at - read_.load(std::memory_order_acquire) == capacity() ? nullptr : &items_[at & mask_];
    }
    /// Hands the filled write_place() to the reader.
    void publish() noexcept { written_.store(written_.load(std::memory_order_relaxed) + 1, std::memory_order_release); }

    /// Takes as many as there are, oldest first; returns how many.
    std::size_t read(std::span<T> to) noexcept {
        const std::size_t at = read_.load(std::memory_order_relaxed);
        const std::size_t count = std::min(written_.load(std::memory_order_acquire) - at, to.size());
        for (std::size_t i = 0; i < count; ++i) to[i] = items_[(at + i) & mask_];
        read_.store(at + count, std::memory_order_release);
        return count;
    }
    /// Takes the oldest item; false when there is none.
    bool read_one(T& to) noexcept { return read(std::span<T>(&to, 1)) == 1; }
    /// The reader's side: drops up to `count` of the oldest items; returns how many.
    std::size_t drop(std::size_t count) noexcept {
        const std::size_t at = read_.load(std::memory_order_relaxed);
        const std::size_t dropped = std::min(written_.load(std::memory_order_acquire) - at, count);
        read_.store(at + dropped, std::memory_order_release);
        return dropped;
    }

private:
    std::vector<T> items_;
    std::size_t mask_;
    // Apart by a cache line of common processors (64 bytes), so that the two threads don't pull one line to and fro.
    alignas(64) std::atomic<std::size_t> written_{0};
    alignas(64) std::atomic<std::size_t> read_{0};
};

}  // namespace gripline

// The ring between two threads. Under the tsan preset these also prove that there is no data race.
#include <doctest/doctest.h>

#include <array>
#include <cstdint>
#include <thread>
#include <vector>

#include "audio/ring.h"

using gripline::SpscRing;

TEST_CASE("A ring holds the next power of two and says how much it took") {
    SpscRing<int> ring(5);
    CHECK(ring.capacity() == 8);
    const std::vector<int> ten{0, 1, 2, 3, 4, 5, 6, 7, 8, 9};
    CHECK(ring.write(ten) == 8);
    CHECK(ring.write(ten) == 0);
    std::array<int, 3> three{};
    CHECK(ring.read(three) == 3);
    CHECK(three == std::array<int, 3>{0, 1, 2});
    CHECK(ring.write(ten) == 3);
    CHECK(ring.size() == 8);
    CHECK(ring.drop(5) == 5);
    int next = -1;
    CHECK(ring.read_one(next));
    CHECK(next == 0);
    CHECK(ring.drop(100) == 2);
    CHECK_FALSE(ring.read_one(next));
}

TEST_CASE("write_place is withheld when the ring is full, and published items arrive in order") {
    SpscRing<int> ring(2);
    *ring.write_place() = 7;
    ring.publish();
    *ring.write_place() = 8;
    ring.publish();
    CHECK(ring.write_place() == nullptr);
    int item = 0;
    CHECK(ring.read_one(item));
    CHECK(item == 7);
    CHECK(ring.write_place() != nullptr);
}

TEST_CASE("Two threads pass two million numbers, in order, none lost, none twice") {
    SpscRing<std::uint32_t> ring(1000);
    constexpr std::uint32_t kCount = 2'000'000;
    std::thread writer([&ring] {
        std::vector<std::uint32_t> block(257);
        std::uint32_t next = 0;
        while (next < kCount) {
            std::size_t size = 1 + next % block.size();
            if (size > kCount - next) size = kCount - next;
            for (std::size_t i = 0; i < size; ++i) block[i] = next + static_cast<std::uint32_t>(i);
            const std::size_t taken = ring.write({block.data(), size});
            if (taken == 0) std::this_thread::yield();
            next += static_cast<std::uint32_t>(taken);
        }
    });
    std::vector<std::uint32_t> block(311);
    std::uint32_t expected = 0, wrong = 0;
    while (expected < kCount) {
        const std::size_t got = ring.read(block);
        if (got == 0) std::this_thread::yield();
        for (std::size_t i = 0; i < got; ++i) wrong += block[i] == expected++ ? 0 : 1;
    }
    writer.join();
    CHECK(wrong == 0);
    CHECK(ring.size() == 0);
}

TEST_CASE("Two threads pass big items through write_place and publish, none torn") {
    using Big = std::array<std::uint64_t, 512>;
    SpscRing<Big> ring(4);
    constexpr std::uint64_t kCount = 20'000;
    std::thread writer([&ring] {
        for (std::uint64_t n = 0; n < kCount;) {
            Big* place = ring.write_place();
            if (place == nullptr) {
                std::this_thread::yield();
                continue;
            }
            place->fill(n++);
            ring.publish();
        }
    });
    Big item{};
    std::uint64_t torn = 0;
    for (std::uint64_t n = 0; n < kCount;) {
        if (!ring.read_one(item)) {
            std::this_thread::yield();
            continue;
        }
        for (const std::uint64_t word : item) torn += word == n ? 0 : 1;
        ++n;
    }
    writer.join();
    CHECK(torn == 0);
}

#include "support/alloc_count.h"

#include <atomic>
#include <cstdlib>
#include <new>

namespace {

thread_local std::uint64_t allocations_here = 0;
std::atomic<std::uint64_t> allocations_everywhere{0};

void count_one() noexcept {
    ++allocations_here;
    allocations_everywhere.fetch_add(1, std::memory_order_relaxed);
}

}  // namespace

#if defined(__SANITIZE_ADDRESS__) || defined(__SANITIZE_THREAD__)

void* operator new(std::size_t size) {
    count_one();
    if (void* block = std::malloc(size == 0 ? 1 : size)) return block;
    throw std::bad_alloc();
}
void operator delete(void* block) noexcept { std::free(block); }
void operator delete(void* block, std::size_t) noexcept { std::free(block); }

#else

// glibc keeps its allocator reachable under these names; operator new comes through malloc.
extern "C" {
void* __libc_malloc(std::size_t);
void* __libc_calloc(std::size_t, std::size_t);
void* __libc_realloc(void*, std::size_t);
void* __libc_memalign(std::size_t, std::size_t);

void* malloc(std::size_t size) {
    count_one();
    return __libc_malloc(size);
}
void* calloc(std::size_t count, std::size_t size) {
    count_one();
    return __libc_calloc(count, size);
}
void* realloc(void* block, std::size_t size) {
    count_one();
    return __libc_realloc(block, size);
}
void* aligned_alloc(std::size_t alignment, std::size_t size) {
    count_one();
    return __libc_memalign(alignment, size);
}
int posix_memalign(void** block, std::size_t alignment, std::size_t size) {
    count_one();
    *block = __libc_memalign(alignment, size);
    return *block == nullptr ? 12 : 0;  // ENOMEM
}
}

#endif

namespace gripline::test {

AllocCount::AllocCount() noexcept : here_at_start_(allocations_here), everywhere_at_start_(allocations_everywhere.load()) {}
std::uint64_t AllocCount::here() const noexcept { return allocations_here - here_at_start_; }
std::uint64_t AllocCount::everywhere() const noexcept { return allocations_everywhere.load() - everywhere_at_start_; }

}  // namespace gripline::test

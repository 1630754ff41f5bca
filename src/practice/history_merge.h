// The attempts of another history taken over, without doubles; also from a damaged one, as far as it can be read.
#pragma once

#include <filesystem>
#include <functional>
#include <string>

#include "practice/history.h"

namespace gripline {

struct MergeCounts {
    std::int64_t added = 0;
    std::int64_t already_there = 0;
    std::string unread;  ///< why not all of the other file could be read; empty: all was
};

/// Takes over what `into` does not have yet. Only what is wrong with `into` is an error, or that nothing at all could be read. Done again, it goes on where it was
/// stopped. `told`: how many have been read so far, now and then.
[[nodiscard]] Result<MergeCounts> merge_history(History& into, const std::filesystem::path& other, const std::function<void(std::int64_t)>& told = {});

/// Adds attempts in bundles, each whole or not at all.
class AttemptBundler {
public:
    explicit AttemptBundler(History& into) : into_(into) {}
    /// Nothing: all is well so far.
    [[nodiscard]] std::optional<Error> add(Attempt attempt);
    /// The last bundle.
    [[nodiscard]] std::optional<Error> finish();
    [[nodiscard]] const AddedCounts& counts() const noexcept { return counts_; }

private:
    History& into_;
    std::vector<Attempt> bundle_;
    AddedCounts counts_;
};

}  // namespace gripline

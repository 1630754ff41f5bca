#include "practice/history_merge.h"

#include "practice/attempt_check.h"
#include "practice/history_file.h"

namespace gripline {
namespace {

constexpr std::size_t kBundle = 1000;       // attempts added at once: some milliseconds each
constexpr std::int64_t kToldEvery = 100'000;

}  // namespace

std::optional<Error> AttemptBundler::add(Attempt attempt) {
    bundle_.push_back(std::move(attempt));
    return bundle_.size() < kBundle ? std::nullopt : finish();
}

std::optional<Error> AttemptBundler::finish() {
    const auto added = into_.add(bundle_);
    bundle_.clear();
    if (!added) return added.error();
    counts_.added += added->added;
    counts_.already_there += added->already_there;
    into_.settle();
    return std::nullopt;
}

Result<MergeCounts> merge_history(History& into, const std::filesystem::path& other, const std::function<void(std::int64_t)>& told) {
    auto from = open_history_as_it_is(other);
    if (!from) return from.error();
    AttemptBundler bundler(into);
    std::optional<Error> failed;
    std::int64_t read = 0, odd = 0;
    const auto take = [&](const Attempt& attempt) {
        if (check(attempt)) ++odd;  // damage that SQLite does not see
        else failed = bundler.add(attempt);
        if (++read % kToldEvery == 0 && told) told(read);
        return !failed;
    };
    MergeCounts counts;
    AttemptFilter all;
    all.order = AttemptFilter::Order::as_stored;
    const auto forwards = (*from)->read(all, take);
    if (!forwards && !failed) {  // what lies behind the damage is reached from the other end
        counts.unread = forwards.error().message;
        all.order = AttemptFilter::Order::backwards;
        (void)(*from)->read(all, take);
    }
    if (!failed) failed = bundler.finish();
    if (failed) return *failed;
    if (odd > 0 && counts.unread.empty()) counts.unread = std::to_string(odd) + " attempts hold values that none can have";
    counts.added = bundler.counts().added;
    counts.already_there = bundler.counts().already_there;
    if (counts.added + counts.already_there == 0 && !counts.unread.empty()) return Error{other.string() + ": nothing can be read: " + counts.unread};
    return counts;
}

}  // namespace gripline

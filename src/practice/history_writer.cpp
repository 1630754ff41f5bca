#include "practice/history_writer.h"

#include <chrono>

#include "practice/attempt_check.h"
#include "practice/attempt_id.h"
#include "practice/history_file.h"

namespace gripline {
namespace {

std::chrono::duration<double> seconds(double s) { return std::chrono::duration<double>(s); }

}  // namespace

HistoryWriter::HistoryWriter(std::filesystem::path file, const HistoryWriterConfig& config) : file_(std::move(file)), config_(config), thread_([this] { run(); }) {}

void HistoryWriter::keep(Attempt attempt) {
    if (attempt.id.empty()) attempt.id = text_of(new_attempt_id(attempt.at_ms));  // here, so that a second try is no second attempt
    {
        const std::lock_guard guard(lock_);
        if (closing_) return;
        if (waiting_.size() >= config_.most_waiting) {
            waiting_.pop_front();
            ++state_.lost;
        }
        waiting_.push_back(std::move(attempt));
    }
    changed_.notify_all();
}

HistoryState HistoryWriter::state() const {
    const std::lock_guard guard(lock_);
    HistoryState state = state_;
    state.waiting = static_cast<std::int64_t>(waiting_.size());
    return state;
}

void HistoryWriter::flush() {
    std::unique_lock guard(lock_);
    changed_.wait(guard, [this] { return waiting_.empty() || !state_.trouble.empty() || closing_; });
}

HistoryState HistoryWriter::close() {
    {
        const std::lock_guard guard(lock_);
        closing_ = true;
    }
    changed_.notify_all();
    if (thread_.joinable()) thread_.join();
    return state();
}

void HistoryWriter::fail(const Error& error) {
    const std::lock_guard guard(lock_);
    state_.trouble = error.message;
}

bool HistoryWriter::open() {
    if (history_) return true;
    auto opened = open_history(file_);
    if (!opened) {
        fail(opened.error());
        return false;
    }
    history_ = std::move(opened->history);
    const std::lock_guard guard(lock_);
    if (!opened->notice.empty()) state_.notice = opened->notice;
    state_.trouble.clear();
    return true;
}

/// The oldest that waits. Removes it when it has been kept, or never can be.
void HistoryWriter::write(const Attempt& attempt) {
    const auto unfit = check(attempt);
    if (!unfit && !open()) return;
    const auto added = unfit ? Result<AddedCounts>(*unfit) : history_->add(attempt);
    if (!added && !unfit) {
        const bool damaged = history_->trouble() == DatabaseTrouble::damaged;
        history_.reset();
        const auto aside = damaged ? set_history_aside(file_) : Result<std::filesystem::path>(added.error());
        fail(aside ? added.error() : aside.error());
        if (!aside || !open()) return;
        const std::lock_guard guard(lock_);
        state_.notice = "The history was found damaged. It is kept as " + aside->string() + ", and a new one begun.";
        return;
    }
    const std::lock_guard guard(lock_);
    // While it was written the queue may have been cut: only this attempt goes.
    if (!waiting_.empty() && waiting_.front().id == attempt.id) waiting_.pop_front();
    ++(unfit ? state_.lost : state_.kept);
    if (!unfit) state_.trouble.clear();
}

void HistoryWriter::settle() {
    if (history_) history_->settle();
    unsettled_ = 0;
}

void HistoryWriter::run() {
    (void)open();
    for (;;) {
        Attempt next;
        {
            std::unique_lock guard(lock_);
            const auto woken = [this] { return closing_ || !waiting_.empty(); };
            if (!state_.trouble.empty()) changed_.wait_for(guard, seconds(config_.retry_s), [this] { return closing_; });
            else if (unsettled_ == 0) changed_.wait(guard, woken);
            else changed_.wait_for(guard, seconds(config_.settle_s), woken);
            if (waiting_.empty() && closing_) break;
            if (waiting_.empty()) {
                guard.unlock();
                if (open()) settle();
                continue;
            }
            next = waiting_.front();
        }
        write(next);
        changed_.notify_all();
        if (++unsettled_ >= config_.settle_after) settle();
        const std::lock_guard guard(lock_);
        if (closing_ && !state_.trouble.empty()) break;  // it was tried once more
    }
    history_.reset();
    const std::lock_guard guard(lock_);
    state_.lost += static_cast<std::int64_t>(waiting_.size());
    waiting_.clear();
    changed_.notify_all();
}

}  // namespace gripline

// Attempts on their way into the history: handed over in no time, kept by a thread of their own.
#pragma once

#include <condition_variable>
#include <cstdint>
#include <deque>
#include <filesystem>
#include <functional>
#include <memory>
#include <mutex>
#include <string>
#include <thread>

#include "practice/history.h"

namespace gripline {

struct HistoryWriterConfig {
    std::size_t most_waiting = 4096;  ///< attempts that wait while nothing can be written; beyond, the oldest are lost. Some hours of practice
    double retry_s = 5.0;             ///< so long between two tries while nothing can be written
    double settle_s = 2.0;            ///< after so long without attempts the log goes into the file,
    int settle_after = 200;           ///< or after so many: about 8 MB of log
};

/// How storing stands. Plain values.
struct HistoryState {
    std::int64_t kept = 0;      ///< attempts in the file since the start
    std::int64_t waiting = 0;
    std::int64_t lost = 0;
    std::string trouble;        ///< why nothing can be written now; empty: all is well
    std::string notice;         ///< said once at opening: a damaged file set aside, a copy made
};

/// Opens the file on its own thread, so that nothing waits for it. A full disk or a folder without rights stops nothing: attempts wait, are tried
/// again, and what can't be written by the end is counted. A file that turns out damaged is set aside and a new one begun.
class HistoryWriter {
public:
    explicit HistoryWriter(std::filesystem::path file, const HistoryWriterConfig& config = {});
    /// Writes what waits, once.
    ~HistoryWriter() { close(); }
    HistoryWriter(const HistoryWriter&) = delete;
    HistoryWriter& operator=(const HistoryWriter&) = delete;

    /// Any thread. Returns at once; a lock is held for the time of a copy.
    void keep(Attempt attempt);
    [[nodiscard]] HistoryState state() const;
    /// Writes what waits and ends the thread; nothing is kept afterwards. How it ended.
    HistoryState close();
    /// Waits until nothing waits, or something can't be written.
    void flush();

private:
    void run();
    [[nodiscard]] bool open();
    void write(const Attempt& attempt);
    void settle();
    void fail(const Error& error);

    const std::filesystem::path file_;
    const HistoryWriterConfig config_;
    std::unique_ptr<History> history_;  // the thread's own, as is the next
    int unsettled_ = 0;
    mutable std::mutex lock_;           // of what follows
    std::condition_variable changed_;
    std::deque<Attempt> waiting_;
    HistoryState state_;
    bool closing_ = false;
    std::thread thread_;
};

}  // namespace gripline

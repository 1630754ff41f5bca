// The journal of a quiz while it runs: one JSON object a line, written as things happen, so that a killed run goes on where it was.
#pragma once

#include <cstdint>
#include <filesystem>
#include <memory>
#include <string>

#include "practice/quiz_runner.h"

namespace gripline {

inline constexpr std::string_view kJournalFile = "journal.jsonl";

/// What is known of a run from its beginning.
struct QuizRunHead {
    std::string run;              ///< 32 hex digits
    Quiz quiz;
    std::string student;
    std::int64_t started_ms = 0;  ///< since 1970-01-01 00:00 UTC
    int utc_offset_min = 0;
    QuizFacts facts;
};

/// What a journal brings back.
struct QuizJournalRead {
    QuizRunHead head;
    QuizProgress progress;
    std::vector<QuizBreak> breaks;
    std::int64_t last_ms = 0;     ///< wall clock of the last line
};

/// Lines that matter are on the disk (fdatasync) before the call returns; ticks of the clock are with the system at once, and on the disk about once a second: a
/// killed program loses nothing, a power cut at most that second of the clock.
class QuizJournal {
public:
    /// Begins a journal in a folder that is there. Errors: the folder holds a run already, or can't be written.
    static Result<std::unique_ptr<QuizJournal>> create(const std::filesystem::path& folder, const QuizRunHead& head);
    /// Goes on with the one that is there.
    static Result<std::unique_ptr<QuizJournal>> reopen(const std::filesystem::path& folder);
    ~QuizJournal();
    QuizJournal(const QuizJournal&) = delete;
    QuizJournal& operator=(const QuizJournal&) = delete;

    /// The clocks, a few times a second.
    void tick(std::int64_t now_ms, const QuizProgress& progress);
    void tried(std::int64_t now_ms, const QuizTry& one);
    void answered(std::int64_t now_ms, const QuizAnswer& answer, double used_s);
    void broke(std::int64_t now_ms, const QuizBreak& one);
    void facts(std::int64_t now_ms, const QuizFacts& facts);
    /// What went wrong with writing, and what to do; empty when all is well.
    [[nodiscard]] const std::string& trouble() const noexcept { return trouble_; }

private:
    QuizJournal(int file, std::string path) : file_(file), path_(std::move(path)) {}
    void write(std::string line, bool onto_disk);

    int file_;
    std::string path_;
    std::string trouble_;
    std::int64_t synced_ms_ = 0;
};

/// Reads the journal of a run. A last line that was cut short by a crash is left out. Errors name file and line.
[[nodiscard]] Result<QuizJournalRead> read_quiz_journal(const std::filesystem::path& folder);

}  // namespace gripline

// Keeps a quiz as it runs: the journal, the sound behind each answer, and at the end the result, all in the folder of the run.
#pragma once

#include <cstdint>
#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "audio/sound_tap.h"
#include "formats/quiz_journal.h"
#include "practice/quiz_runner.h"

namespace gripline {

/// Name for the folder of a run: "quiz-NAME-20261125-0930-1a2b3c", the name in plain letters, digits and '-'.
[[nodiscard]] std::string run_folder_name(const QuizRunHead& head);

/// A result as far as a run has come: what was not reached is so marked; breaks and sounds are the keeper's.
[[nodiscard]] QuizResult result_so_far(const QuizRunHead& head, const QuizRunner& runner);
/// Writes the result of a folder, whole or not at all, and onto the disk. The path, or an error that names it.
Result<std::string> write_quiz_result(const std::filesystem::path& folder, const QuizResult& result);

class QuizKeeper {
public:
    /// Makes the folder and begins the journal.
    static Result<std::unique_ptr<QuizKeeper>> begin(const std::filesystem::path& folder, const QuizRunHead& head);
    /// Goes on with an interrupted run: the time away becomes a break.
    static Result<std::unique_ptr<QuizKeeper>> go_on(const std::filesystem::path& folder, const QuizJournalRead& read, std::int64_t now_ms);

    /// Writes down what is new. Call it after everything that may change the runner.
    void follow(const QuizRunner& runner, SoundTap* tap, std::int64_t now_ms, double stream_s);
    /// Facts of the input change: other frames lost, another input.
    void facts(const QuizFacts& facts, std::int64_t now_ms);
    /// Writes the result and removes the journal, which is no longer needed. The path of the result.
    Result<std::string> finish(const QuizRunner& runner, SoundTap* tap, std::int64_t now_ms, double clock_off_s);

    [[nodiscard]] const std::filesystem::path& folder() const noexcept { return folder_; }
    [[nodiscard]] const QuizRunHead& head() const noexcept { return head_; }
    /// What went wrong with writing; empty when all is well.
    [[nodiscard]] std::string trouble() const { return sound_trouble_.empty() ? journal_->trouble() : sound_trouble_; }

private:
    QuizKeeper(std::filesystem::path folder, QuizRunHead head, std::unique_ptr<QuizJournal> journal)
        : folder_(std::move(folder)), head_(std::move(head)), journal_(std::move(journal)) {}
    void write_answers(const QuizRunner& runner, SoundTap* tap, std::int64_t now_ms, double stream_s);
    void write_sound(std::size_t answer, SoundTap* tap, double from_s, double to_s);
    void note_break(const QuizRunner& runner, std::int64_t now_ms);

    /// The ring of an answer's last strum is still to come.
    struct LateSound {
        std::size_t answer = 0;
        double from_s = 0.0, to_s = 0.0;
    };

    std::filesystem::path folder_;
    QuizRunHead head_;
    std::unique_ptr<QuizJournal> journal_;
    std::vector<QuizBreak> breaks_;
    std::optional<QuizBreak> open_break_;
    std::optional<LateSound> late_;
    std::size_t answers_ = 0, tries_ = 0;  // written
    std::int64_t ticked_ms_ = 0;
    QuizState state_ = QuizState::ready;
    std::string sound_trouble_;
};

}  // namespace gripline

#include <doctest/doctest.h>

#include <fstream>
#include <sstream>

#include "formats/quiz_journal.h"
#include "practice/quiz_result_fixture.h"
#include "support/file_bytes.h"
#include "support/sweep.h"
#include "support/temp_folder.h"

using namespace gripline;
using test::bytes_of;

namespace {

QuizRunHead head() {
    QuizRunHead out;
    out.run = "00112233445566778899aabbccddeeff";
    out.quiz = test::shells_quiz(QuizOrder::own_order);
    out.student = "Student \"two\" <b>";
    out.started_ms = 1'764'000'000'000;
    out.facts.input = "line in";
    return out;
}

/// A run of three answers, a try on the fourth question and two seconds of its time.
void write_some(const test::TempFolder& folder) {
    auto journal = QuizJournal::create(folder.path(), head());
    REQUIRE(journal.ok());
    std::int64_t now_ms = head().started_ms;
    const auto questions = draw_questions(head().quiz, head().student).value();
    QuizProgress progress;
    for (int i = 0; i < 3; ++i) {
        for (int tick = 0; tick < 4; ++tick) {
            progress.used_s += 0.25;
            progress.question_used_s += 0.25;
            (*journal)->tick(now_ms += 250, progress);
        }
        (*journal)->tried(now_ms, test::one_try(VerdictKind::right, 0.9375));
        QuizAnswer answer;
        answer.question = questions[static_cast<std::size_t>(i)];
        answer.outcome = QuizOutcome::right;
        answer.used_s = 1.0;
        answer.sound = {"answer-0" + std::to_string(i + 1) + ".flac", "ab"};
        (*journal)->answered(now_ms, answer, progress.used_s);
        progress.question_used_s = 0.0;
    }
    (*journal)->broke(now_ms, {"input lost", 3, now_ms, 5.0});
    (*journal)->tried(now_ms, test::one_try(VerdictKind::wrong, 0.0625));
    progress.question_used_s = 2.0;
    progress.used_s = 5.0;
    (*journal)->tick(now_ms += 250, progress);
    CHECK((*journal)->trouble().empty());
}

}  // namespace

TEST_CASE("A journal brings back who, what, every answer and try, the breaks and both clocks") {
    const test::TempFolder folder;
    write_some(folder);
    const auto read = read_quiz_journal(folder.path());
    REQUIRE_MESSAGE(read.ok(), (read.ok() ? "" : read.error().message));
    CHECK(read->head.student == head().student);
    CHECK(read->head.quiz == head().quiz);
    CHECK(read->progress.answers.size() == 3);
    CHECK(read->progress.answers[2].sound.file == "answer-03.flac");
    CHECK(read->progress.answers[2].tries.size() == 1);
    const auto questions = draw_questions(head().quiz, head().student).value();
    CHECK(question_text(read->progress.answers[2].question) == question_text(questions[2]));
    CHECK(read->progress.tries.size() == 1);
    CHECK(read->progress.question_used_s == 2.0);
    CHECK(read->progress.used_s == 5.0);
    CHECK(read->breaks.size() == 1);
    CHECK(read->last_ms == head().started_ms + 3250);
}

TEST_CASE("A journal cut off after any byte brings back all lines that were whole, and can be gone on with") {
    const test::TempFolder folder;
    write_some(folder);
    const std::string whole = bytes_of(folder / "journal.jsonl");
    const std::size_t begun = whole.find('\n') + 1;
    for (std::size_t length = begun; length <= whole.size(); length += test::kSanitized ? 97 : 7) {
        CAPTURE(length);
        std::ofstream(folder / "journal.jsonl", std::ios::binary | std::ios::trunc) << whole.substr(0, length);
        const auto read = read_quiz_journal(folder.path());
        REQUIRE_MESSAGE(read.ok(), (read.ok() ? "" : read.error().message));
        const std::string kept = whole.substr(0, length);
        std::size_t answers = 0;
        for (auto at = kept.find("\"kind\":\"answer\""); at != std::string::npos; at = kept.find("\"kind\":\"answer\"", at + 1)) answers += kept.find('\n', at) != std::string::npos || kept.back() == '}' ? 1 : 0;
        CHECK(read->progress.answers.size() == answers);
        {
            auto journal = QuizJournal::reopen(folder.path());
            REQUIRE(journal.ok());
            QuizProgress progress = read->progress;
            progress.used_s = 77.0;
            (*journal)->tick(read->last_ms + 1000, progress);
        }
        const auto again = read_quiz_journal(folder.path());
        REQUIRE(again.ok());
        CHECK(again->progress.used_s == 77.0);
        CHECK(again->progress.answers.size() == answers);
    }
}

TEST_CASE("A journal is not begun twice, and what is none is refused with its line") {
    const test::TempFolder folder;
    CHECK(read_quiz_journal(folder.path()).error().message.find("there is no journal") != std::string::npos);
    write_some(folder);
    CHECK(QuizJournal::create(folder.path(), head()).error().message.find("--resume") != std::string::npos);
    const std::string whole = bytes_of(folder / "journal.jsonl");
    std::ofstream(folder / "journal.jsonl", std::ios::trunc) << whole.substr(whole.find('\n') + 1);
    CHECK(read_quiz_journal(folder.path()).error().message.find("line 1: the journal does not begin with its beginning") != std::string::npos);
    std::ofstream(folder / "journal.jsonl", std::ios::trunc) << whole << "{\"kind\":\"tick\",\"now_ms\":1,\"used_s\":-4,\"question_used_s\":0}\n";
    CHECK(read_quiz_journal(folder.path()).error().message.find("used_s: -4 is out of range") != std::string::npos);
}

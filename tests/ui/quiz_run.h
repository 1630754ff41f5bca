// A quiz at the screen, on the built-in player and the real listening chain, in a clock that the test moves.
#pragma once

#include <doctest/doctest.h>

#include <filesystem>
#include <optional>
#include <string>

#include "practice/quiz_fixture.h"
#include "ui/played_sound.h"
#include "ui/quiz_play.h"

namespace gripline::test {

inline constexpr std::int64_t kQuizStart_ms = 1'764'000'000'000;

struct QuizRun {
    QuizRun(const std::filesystem::path& folder, const Quiz& quiz, std::int64_t start_ms = kQuizStart_ms) {
        config.head.run = "00112233445566778899aabbccddeeff";
        config.head.quiz = quiz;
        config.head.student = "Student <one>";
        config.folder = folder;
        config.wall_ms = [this, start_ms] { return start_ms + static_cast<std::int64_t>(sound.now_s() * 1000.0); };
        sound.keep_sound();
    }
    /// Goes on with what the journal of the folder says.
    void resume() {
        auto read = read_quiz_journal(config.folder);
        REQUIRE_MESSAGE(read.ok(), (read.ok() ? "" : read.error().message));
        config.head = read->head;
        config.resumed = std::move(*read);
    }
    void open() { play.emplace(config, sound, sound.now_s()); }
    void wait(double seconds) {
        sound.advance(seconds, [&](double now_s) { play->listen(now_s); });
    }
    void wait_until_stream(double stream_s) { wait(stream_s - sound.input().stream_s); }
    void press(char key) { play->press({key, SpecialKey::none}, sound.now_s()); }
    /// Through the sound check and the count-down.
    void check() {
        wait(2.5);
        for (int i = 0; i < 3; ++i) {
            press('p');
            wait(1.2);
        }
        wait(3.1);
    }
    std::string picture() {
        Canvas canvas(80, 24, CharacterSet::ascii);
        play->draw(canvas, sound.now_s());
        return canvas.text();
    }
    PlayedSound sound;
    QuizPlayConfig config;
    std::optional<QuizPlay> play;
};

}  // namespace gripline::test

// A practice that is driven by keys and heard through the built-in player, on a clock of its own.
#pragma once

#include <string>

#include "ui/played_sound.h"
#include "ui/practice_run.h"

namespace gripline::test {

struct PlayedPractice {
    PlayedSound sound;
    PracticeRun run;

    explicit PlayedPractice(const PracticeRunConfig& config = {}) : run(config, sound, 0.0) { pass(0.3); }
    void pass(double seconds) {
        sound.advance(seconds, [&](double now_s) { run.listen(now_s); });
    }
    void key(char character) { run.press({character, SpecialKey::none}, sound.now_s(), 80, 24); }
    [[nodiscard]] std::string picture(int columns = 80, int rows = 24) const {
        Canvas canvas(columns, rows, CharacterSet::ascii);
        run.draw(canvas, sound.now_s());
        return canvas.text();
    }
    [[nodiscard]] bool shows(const std::string& words) const { return picture().find(words) != std::string::npos; }
};

}  // namespace gripline::test

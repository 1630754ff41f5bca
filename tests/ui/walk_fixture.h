// A small score of our own, and a walk on a test clock.
#pragma once

#include <string>
#include <vector>

#include "ui/played_walk_sound.h"
#include "ui/walk_run.h"

namespace gripline::test {

/// Two bars of four: shells of C dominant seventh and of Bb major sixth on strings 6-4-3.
inline WalkScore two_bars() {
    WalkScore score;
    score.title = "Two bars";
    const char* const grips[] = {"8x89xx", "10-x-9-10-x-x", "8x89xx", "7x67xx", "6x55xx", "7x67xx", "6x57xx", "5x45xx"};
    for (int bar = 1; bar <= 2; ++bar) {
        score.bars.push_back({.chords = bar == 1 ? "C7" : "Bb6", .first_count = 4 * (bar - 1), .accents = {2, 4}, .written_bar = bar - 1});
        for (int beat = 1; beat <= 4; ++beat) {
            ScoreBeat each;
            each.beat.bar = bar;
            each.beat.beat = beat;
            each.beat.written_bar = bar - 1;
            each.beat.chord = score.bars.back().chords;
            each.beat.target.grip = Grip::parse(grips[4 * (bar - 1) + beat - 1]).value();
            each.count = 4 * (bar - 1) + beat - 1;
            score.beats.push_back(each);
        }
    }
    return score;
}

/// The landing of it: the first beat of each bar and the approach to the next.
inline WalkScore two_landings() {
    WalkScore score = two_bars();
    std::erase_if(score.beats, [](const ScoreBeat& beat) { return beat.beat.beat == 2 || beat.beat.beat == 3; });
    for (ScoreBeat& beat : score.beats) beat.length_counts = beat.beat.beat == 1 ? 3 : 1;
    return score;
}

struct Walk {
    explicit Walk(WalkRunConfig config = {}) : Walk(std::move(config), two_bars(), two_landings()) {}
    Walk(WalkRunConfig config, WalkScore score, WalkScore landings) : whole(std::move(score)), landing(std::move(landings)), run(whole, landing, prepared(std::move(config)), sound, 0.0) {}

    void press(char key) { run.press({key, SpecialKey::none}, sound.now_s(), 80, 24); }
    void press(SpecialKey key) { run.press({0, key}, sound.now_s(), 80, 24); }
    /// Lets so much time pass.
    void wait(double seconds) {
        for (const double until_s = sound.now_s() + seconds; sound.now_s() < until_s;) step();
    }
    /// Lets time pass until the state is there; false when it takes longer than so many seconds.
    bool wait_for(WalkState state, double most_s) {
        for (const double until_s = sound.now_s() + most_s; sound.now_s() < until_s && run.state() != state;) step();
        return run.state() == state;
    }
    /// The same until the music has come to this second.
    void wait_until_music(double music_s) {
        while (run.state() == WalkState::walking && sound.heard_s() < music_s) step();
    }
    [[nodiscard]] std::string picture(int columns = 80, int rows = 24) const {
        Canvas canvas(columns, rows, CharacterSet::ascii);
        run.draw(canvas, sound.now_s());
        return canvas.text();
    }
    [[nodiscard]] bool shows(const std::string& words, int columns = 80, int rows = 24) const { return picture(columns, rows).find(words) != std::string::npos; }
    [[nodiscard]] WalkSummary summary() const { return summarise(*run.hearing(), run.steps().tempo_bpm()); }

    WalkScore whole, landing;
    PlayedWalkSound sound;
    WalkRun run;

private:
    static WalkRunConfig prepared(WalkRunConfig config) {
        if (config.wishes.bars == BarRange{}) config.wishes.bars = {1, 2};
        config.player_is_input = true;
        return config;
    }
    void step() {
        sound.advance_hop();
        run.listen(sound.now_s());
    }
};

}  // namespace gripline::test

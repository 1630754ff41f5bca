// Walks on a test clock: the built-in player plays along through the real listening chain and judge.
#include "ui/walk_run.h"

#include <doctest/doctest.h>

#include <cmath>

#include "audio/metronome.h"
#include "ui/walk_fixture.h"

using namespace gripline;
using test::Walk;

namespace {

WalkRunConfig config_at(double tempo_bpm, int choruses, double step_bpm = 0.0) {
    WalkRunConfig config;
    config.steps = TempoSteps(tempo_bpm, step_bpm);
    config.wishes.choruses = choruses;
    return config;
}

/// Peak of the written sound in a short time from a second on.
float peak_at(const std::vector<float>& sound, double at_s, double length_s = 0.02) {
    float peak = 0.0F;
    const auto from = static_cast<std::size_t>(at_s * 48000.0), until = static_cast<std::size_t>((at_s + length_s) * 48000.0);
    for (std::size_t i = from; i < std::min(until, sound.size()); ++i) peak = std::max(peak, std::abs(sound[i]));
    return peak;
}

}  // namespace

TEST_CASE("A walk by itself: count-in, two choruses, all right, each strum's time within 10 ms of when it was played, then the page at the end") {
    for (const double tempo_bpm : {60.0, 120.0, 240.0}) {
        CAPTURE(tempo_bpm);
        Walk walk(config_at(tempo_bpm, 2));
        CHECK(walk.shows("Space starts"));
        walk.press(' ');
        CHECK(walk.run.state() == WalkState::walking);
        walk.wait(0.2);
        CHECK(walk.shows("Count in"));
        REQUIRE(walk.wait_for(WalkState::ended, 4 * 60.0 / tempo_bpm + 16 * 60.0 / tempo_bpm + 3.0));
        const auto& results = walk.run.hearing()->results();
        const auto& played = walk.run.player().played();
        REQUIRE(results.size() == 16);
        REQUIRE(played.size() == 16);
        for (std::size_t i = 0; i < results.size(); ++i) {
            CAPTURE(i);
            CHECK(results[i].result.verdict.kind == VerdictKind::right);
            CHECK(results[i].chorus == (i < 8 ? 1 : 2));
            REQUIRE(results[i].result.off_ms.has_value());
            CHECK(std::abs(*results[i].result.off_ms - played[i].off_ms) <= 10.0);
        }
        CHECK(walk.shows("16 beats: 16 right, 0 wrong, 0 unheard."));
        CHECK(walk.shows("oooo"));
    }
}

TEST_CASE("A chart that mixes counts is walked: a bar of 6/8 in quarters clicks and is judged in eighths, and counts itself in when it comes first") {
    WalkScore score = test::two_bars();
    score.bars[0].counts = 6;
    score.bars[0].share = 0.5;
    score.bars[0].accents = {1, 4};
    score.bars[1].first_count = 6;
    for (ScoreBeat& each : score.beats) {
        if (each.beat.bar == 1) each.beat.share = 0.5;
        else each.count += 2;
    }
    Walk walk(config_at(100.0, 1), score, score);  // 0.6 s a quarter; the six eighths 1.8 s, counted in for 1.8 s; four strums on its first four
    walk.press(' ');
    REQUIRE(walk.wait_for(WalkState::ended, 9.0));
    const auto& passages = walk.run.music()->schedule().passages();
    REQUIRE(passages.size() == 2);
    CHECK(passages[0].counts == 6);
    CHECK(passages[0].end_s() == doctest::Approx(1.8));
    CHECK(passages[1].end_s() == doctest::Approx(1.8 + 1.8 + 2.4));
    const auto& results = walk.run.hearing()->results();
    REQUIRE(results.size() == 8);
    for (std::size_t i = 0; i < 8; ++i) {
        CAPTURE(i);
        CHECK(walk.run.hearing()->music_s(i) == doctest::Approx(i < 4 ? 1.8 + 0.3 * static_cast<double>(i) : 3.6 + 0.6 * static_cast<double>(i - 4)));
        CHECK(results[i].result.verdict.kind == VerdictKind::right);
        REQUIRE(results[i].result.off_ms.has_value());
        CHECK(std::abs(*results[i].result.off_ms - walk.run.player().played()[i].off_ms) <= 10.0);
    }
}

TEST_CASE("A mistake, and a beat left out, are told without stopping the music, and marked in the chart at the end") {
    Walk walk(config_at(100.0, 1));
    walk.press(' ');
    walk.wait_until_music(4 * 0.6 + 0.6);      // the second beat
    walk.press('m');
    walk.wait_until_music(4 * 0.6 + 3.5 * 0.6);
    CHECK(walk.shows("!wrong"));
    CHECK(walk.run.state() == WalkState::walking);
    walk.press('p');                            // rests
    walk.wait_until_music(4 * 0.6 + 4.5 * 0.6);
    walk.press('p');
    REQUIRE(walk.wait_for(WalkState::ended, 10.0));
    const WalkSummary sum = walk.summary();
    CHECK(sum.beats == 8);
    CHECK(sum.wrong == 1);
    CHECK(sum.unheard == 1);
    CHECK(sum.right == 6);
    CHECK(walk.shows("X"));
    CHECK(walk.shows("8 beats: 6 right, 1 wrong, 1 unheard."));
}

TEST_CASE("Every picture of a walk shows the grip that is due and the next one, and the count that sounds") {
    Walk walk(config_at(120.0, 1));
    walk.press(' ');
    for (int count = 0; count < 8; ++count) {
        CAPTURE(count);
        walk.wait_until_music(2.0 + 0.5 * count + 0.1);
        const std::string grip = walk.whole.beats[static_cast<std::size_t>(count)].beat.target.grip->text();
        const std::string picture = walk.picture(40, 12);
        CHECK(picture.find(grip) != std::string::npos);
        CHECK(picture.find("[" + std::to_string(count % 4 + 1) + "]") != std::string::npos);
        if (count < 7) CHECK(picture.find("Next") != std::string::npos);
    }
    CHECK_FALSE(walk.shows("Next", 40, 12));  // the end
}

TEST_CASE("Clicks: every count with accents, 2 and 4 alone, off; the count-in always sounds; changed while walking") {
    Walk walk(config_at(120.0, 3));
    walk.press(' ');
    walk.wait_until_music(2.0 + 4.0 + 4.0 - 0.5);
    walk.press('c');                    // 2 and 4 alone
    walk.wait_until_music(14.2);
    walk.press(' ');
    const auto sound = walk.sound.written();
    for (int count = 0; count < 12; ++count) CHECK(peak_at(sound, 0.5 * count) > 0.01F);
    for (int count = 20; count < 28; ++count) {
        CAPTURE(count);
        CHECK((peak_at(sound, 0.5 * count) > 0.01F) == (count % 2 == 1));
    }
    CHECK(peak_at(sound, 0.25) < 1e-4F);
    // Quiet: 24 dB below full scale at most, whatever sounds.
    for (const float frame : sound) CHECK(std::abs(frame) <= std::pow(10.0F, -23.9F / 20.0F));
}

TEST_CASE("Call and answer: the tool plays the first chorus, which is not judged; the player the second") {
    WalkRunConfig config = config_at(160.0, 2);
    config.wishes.line = LinePlayer::by_turns;
    config.wishes.click = ClickMode::off;
    Walk walk(config);
    walk.press(' ');
    walk.wait_until_music(4 * 0.375 + 0.5);
    CHECK(walk.shows("Listen: the tool plays."));
    walk.wait_until_music(12 * 0.375 + 0.5);
    CHECK(walk.shows("You play."));
    const auto sound = walk.sound.written();
    CHECK(peak_at(sound, 4 * 0.375 + 0.05, 0.2) > 0.01F);
    CHECK(peak_at(sound, 12.5 * 0.375, 0.2) < 0.003F);  // strings that were let go
    REQUIRE(walk.wait_for(WalkState::ended, 10.0));
    CHECK(walk.summary().beats == 8);
    CHECK(walk.summary().right == 8);
    for (const HeardBeat& each : walk.run.hearing()->results()) CHECK(each.chorus == 2);
}

TEST_CASE("Call and answer chosen while walking begins with the tool in the very next chorus, whichever that is, and goes on by turns") {
    for (const int chorus : {1, 2, 3}) {
        CAPTURE(chorus);
        Walk walk(config_at(240.0, 6));
        walk.press(' ');
        walk.wait_until_music(1.0 + 2.0 * (chorus - 1) + 0.5);
        CHECK(walk.shows("You play."));
        walk.press('l');
        CHECK(walk.shows("From the next chorus on: call and answer."));
        for (int next = chorus + 1; next <= 6; ++next) {
            walk.wait_until_music(1.0 + 2.0 * (next - 1) + 0.5);
            CAPTURE(next);
            CHECK(walk.shows((next - chorus) % 2 == 1 ? "Listen: the tool plays." : "You play."));
        }
    }
}

TEST_CASE("The words for the click follow the meter: 2 and 4 of four, 1 of three, 1 and 4 of six, and what bars of several meters share") {
    const auto accented = [](std::vector<int> first, std::vector<int> second) {
        WalkScore score = test::two_bars();
        score.bars[0].accents = std::move(first);
        score.bars[1].accents = std::move(second);
        return score;
    };
    CHECK(click_words(ClickMode::accented, accented({2, 4}, {2, 4}), {1, 2}) == "2 and 4 accented");
    CHECK(click_words(ClickMode::accented, accented({1}, {1}), {1, 2}) == "1 accented");
    CHECK(click_words(ClickMode::accents_alone, accented({1, 4}, {1, 4}), {1, 2}) == "1 and 4 alone");
    CHECK(click_words(ClickMode::accented, accented({1, 4}, {2, 4}), {1, 2}) == "each bar's strong counts accented");
    CHECK(click_words(ClickMode::accents_alone, accented({1, 4}, {2, 4}), {2, 2}) == "2 and 4 alone");
    CHECK(click_words(ClickMode::plain, accented({1}, {2, 4}), {1, 2}) == "every count alike");
    WalkScore waltz = accented({1}, {1});
    Walk walk(config_at(120.0, 1), waltz, waltz);
    CHECK(walk.shows("click: 1 accented"));
    walk.press('c');
    CHECK(walk.shows("Click: 1 alone."));
}

TEST_CASE("The tool plays alone, once: nothing is judged, and that is no fault") {
    WalkRunConfig config = config_at(240.0, 1);
    config.wishes.line = LinePlayer::tool;
    Walk walk(config);
    walk.press(' ');
    walk.wait_until_music(1.2);
    CHECK(walk.shows("Listen: the tool plays."));
    REQUIRE(walk.wait_for(WalkState::standing, 8.0));
    CHECK(walk.shows("The tool has played."));
}

TEST_CASE("A loop of bars and the landing: their beats alone are asked") {
    WalkRunConfig config = config_at(140.0, 2);
    config.wishes.bars = {2, 2};
    Walk loop(config);
    loop.press(' ');
    REQUIRE(loop.wait_for(WalkState::ended, 15.0));
    CHECK(loop.summary().beats == 8);
    CHECK(loop.summary().right == 8);
    for (const HeardBeat& each : loop.run.hearing()->results()) CHECK(loop.run.hearing()->beats()[each.result.index].bar == 2);
    Walk landing(config_at(140.0, 1));
    landing.press('d');
    landing.press(' ');
    REQUIRE(landing.wait_for(WalkState::ended, 15.0));
    CHECK(landing.summary().beats == 4);
    CHECK(landing.summary().right == 4);
}

TEST_CASE("Tempo steps: up when a chorus passes, and not beyond the limit; down when it fails twice") {
    WalkRunConfig config = config_at(150.0, 3, 20.0);
    config.steps = TempoSteps(150.0, 20.0, 180.0);
    Walk walk(config);
    walk.press(' ');
    REQUIRE(walk.wait_for(WalkState::ended, 40.0));
    std::vector<double> tempos;
    for (const Passage& each : walk.run.music()->schedule().passages())
        if (each.kind == PassageKind::chorus) tempos.push_back(each.tempo_bpm);
    CHECK(tempos == std::vector<double>{150.0, 170.0, 180.0});
    Walk failing(config_at(150.0, 3, 20.0));
    failing.press('p');  // the player rests: nothing is heard
    failing.press(' ');
    REQUIRE(failing.wait_for(WalkState::ended, 40.0));
    tempos.clear();
    for (const Passage& each : failing.run.music()->schedule().passages())
        if (each.kind == PassageKind::chorus) tempos.push_back(each.tempo_bpm);
    CHECK(tempos == std::vector<double>{150.0, 150.0, 130.0});
}

TEST_CASE("Stopped in the middle: what was strummed is judged, what was not yet due is left out; in the count-in nothing is") {
    Walk walk(config_at(120.0, 4));
    walk.press(' ');
    walk.wait_until_music(2.0 + 2.55);  // just after the sixth beat
    walk.press(' ');
    walk.wait(1.0);                      // the last one is being judged; none is told that will be taken back
    CHECK(walk.run.hearing()->results().size() <= 6);
    REQUIRE(walk.wait_for(WalkState::ended, 3.0));
    CHECK(walk.summary().beats == 6);
    CHECK(walk.summary().right == 6);
    walk.press(' ');
    walk.wait_until_music(1.0);
    walk.press(' ');
    REQUIRE(walk.wait_for(WalkState::standing, 3.0));
    CHECK(walk.shows("Stopped before a beat was judged."));
}

TEST_CASE("What the delay is wrong by, the times are off by: a player in time looks 50 ms early when the delay is believed to be 50 ms longer than it is") {
    for (const double wrong_ms : {0.0, 50.0}) {
        CAPTURE(wrong_ms);
        WalkRunConfig config = config_at(120.0, 1);
        config.player.spread_ms = 0.0;
        Walk walk(config);
        walk.sound.extra_delay_s_ = wrong_ms / 1000.0;
        walk.press(' ');
        REQUIRE(walk.wait_for(WalkState::ended, 10.0));
        CHECK(std::abs(*walk.summary().bias_ms + wrong_ms) < 5.0);
    }
}

TEST_CASE("A lost input is said on the screen; beats meanwhile are unheard; the walk goes on, and is judged in time again when the input is back") {
    Walk walk(config_at(120.0, 3));
    walk.press(' ');
    walk.wait_until_music(2.0 + 4.0 - 0.2);  // the first chorus is played
    walk.sound.lose();
    walk.wait(0.3);
    CHECK(walk.shows("gives no sound any more"));
    CHECK(walk.run.state() == WalkState::walking);
    walk.wait_until_music(2.0 + 7.75);
    walk.sound.bring_back();
    REQUIRE(walk.wait_for(WalkState::ended, 15.0));
    const auto& results = walk.run.hearing()->results();
    REQUIRE(results.size() == 24);
    int right_first = 0, unheard_second = 0, right_third = 0;
    for (std::size_t i = 0; i < 24; ++i) {
        if (i < 8) right_first += results[i].result.verdict.kind == VerdictKind::right;
        else if (i < 15) unheard_second += results[i].result.verdict.kind == VerdictKind::unheard;
        else if (i >= 17) {
            right_third += results[i].result.verdict.kind == VerdictKind::right;
            if (results[i].result.off_ms) CHECK(std::abs(*results[i].result.off_ms - walk.run.player().played()[i].off_ms) <= 10.0);
        }
    }
    CHECK(right_first >= 7);
    CHECK(unheard_second == 7);
    CHECK(right_third == 7);
}

TEST_CASE("Without an input the music plays, says that nothing is judged, and ends") {
    Walk walk(config_at(200.0, 1));
    walk.sound.hears_ = false;
    walk.press(' ');
    walk.wait_until_music(4 * 0.3 + 0.3);
    CHECK(walk.shows("Nothing is judged without an input."));
    REQUIRE(walk.wait_for(WalkState::standing, 10.0));
}

TEST_CASE("A delay that was never measured is told before the start; one that was measured is shown with the input") {
    const WalkScore whole = test::two_bars(), landing = test::two_landings();
    for (const bool measured : {false, true}) {
        test::PlayedWalkSound sound;
        if (measured) sound.set_delay(MeasuredDelay{23.4, 0.1, false});
        WalkRunConfig config;
        config.wishes.bars = {1, 2};
        const WalkRun run(whole, landing, config, sound, 0.0);
        for (const double now_s : {0.0, 10.0}) {
            Canvas canvas(80, 24, CharacterSet::utf8);
            run.draw(canvas, now_s);
            CHECK((canvas.text().find("gripline calibrate") != std::string::npos) == !measured);
            if (now_s > 5.0) CHECK((canvas.text().find("Delay 23 ms") != std::string::npos) == measured);
        }
    }
}

TEST_CASE("Keys: unknown ones are told, bars and landing keep still while the music runs, every key in every state is survived") {
    Walk walk(config_at(120.0, 0));
    walk.press('z');
    CHECK(walk.shows("Key z does nothing here"));
    walk.press('f');
    CHECK(walk.run.wishes().bars == BarRange{2, 2});
    walk.press('F');
    CHECK(walk.run.wishes().bars == BarRange{1, 2});
    walk.press('T');
    walk.press('T');
    CHECK(walk.run.wishes().bars == BarRange{1, 1});
    walk.press('a');
    CHECK(walk.run.wishes().bars == BarRange{1, 2});
    walk.press('+');
    CHECK(walk.run.steps().tempo_bpm() == 125.0);
    for (int i = 0; i < 100; ++i) walk.press('-');
    CHECK(walk.run.steps().tempo_bpm() == 40.0);
    for (int i = 0; i < 100; ++i) walk.press('+');
    CHECK(walk.run.steps().tempo_bpm() == 300.0);
    walk.press(' ');
    walk.press('f');
    CHECK(walk.run.wishes().bars == BarRange{1, 2});
    CHECK(walk.shows("space stops it"));
    for (int round = 0; round < 3; ++round) {
        for (int key = 32; key < 127; ++key) {
            if (key == 'q') continue;
            walk.press(static_cast<char>(key));
            walk.wait(0.02);
            for (const auto& [columns, rows] : {std::pair{80, 24}, {40, 12}, {3, 2}}) CHECK_FALSE(walk.picture(columns, rows).empty());
        }
        for (const SpecialKey key : {SpecialKey::none, SpecialKey::up, SpecialKey::down, SpecialKey::left, SpecialKey::right, SpecialKey::enter, SpecialKey::escape, SpecialKey::page_up, SpecialKey::page_down}) {
            walk.press(key);
            walk.wait(0.5);
        }
    }
    walk.press('q');
    CHECK(walk.run.over());
}

TEST_CASE("The cautions come before anything sounds at the first start; what is done with a walk is called once, with its beats") {
    WalkRunConfig config = config_at(240.0, 1);
    config.show_cautions = true;
    int called = 0;
    config.done = [&](const WalkDone& done) {
        ++called;
        CHECK(done.hearing.results().size() == 8);
        return std::string("kept");
    };
    Walk walk(config);
    CHECK(walk.shows("Hearing: headphones"));
    walk.press(' ');
    CHECK(walk.run.state() == WalkState::standing);
    CHECK(walk.run.cautions_read());
    walk.press(' ');
    REQUIRE(walk.wait_for(WalkState::ended, 10.0));
    CHECK(called == 1);
    walk.press('b');
    CHECK(walk.run.state() == WalkState::standing);
}

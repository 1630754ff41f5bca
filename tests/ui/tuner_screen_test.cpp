#include <doctest/doctest.h>

#include <cmath>

#include "ui/golden.h"
#include "ui/tuner_screen.h"

using namespace gripline;

namespace {

void sound(Tuner& tuner, double hz, double& now_s) {
    for (int i = 0; i < 10; ++i) tuner.take({.at_s = now_s += 512.0 / 12000.0, .hz = hz});
}

/// String 4 far out, string 6 in tune, string 5 sounding 3 cents flat.
TunerPicture picture() {
    Tuner tuner;
    double now_s = 0.0;
    sound(tuner, 146.832 * std::exp2(-43.0 / 1200.0), now_s);
    sound(tuner, 82.407, now_s);
    sound(tuner, 110.0 * std::exp2(-3.1 / 1200.0), now_s);
    return {.tuner = tuner.view(), .tuning = "E2 A2 D3 G3 B3 E4", .a4_hz = 440.0, .source = "usb interface (2 in, 48000 Hz)", .trouble = ""};
}

std::string drawn(const TunerPicture& view, int columns, int rows, CharacterSet characters = CharacterSet::utf8) {
    Canvas canvas(columns, rows, characters);
    draw_tuner(view, canvas);
    return canvas.text();
}

}  // namespace

TEST_CASE("The tuner says the string, the note and the cents in words at every size, and which string is unfit to practise on") {
    for (const auto& [columns, rows] : {std::pair(80, 24), std::pair(120, 40), std::pair(40, 12)}) {
        const std::string text = drawn(picture(), columns, rows);
        CAPTURE(columns);
        CHECK(text.find("String 5, A2: 3 cents flat") != std::string::npos);
        CHECK(text.find("> 5") != std::string::npos);
        CHECK(text.find("43 cents flat") != std::string::npos);
        test::check_golden("tuner-" + std::to_string(columns) + "x" + std::to_string(rows), text);
    }
    CHECK(drawn(picture(), 80, 24).find("string 4 is 43 cents flat: tune before practising") != std::string::npos);
    CHECK(drawn(picture(), 24, 3).find("String 5, A2: 3 cents") != std::string::npos);
}

TEST_CASE("On plain ASCII nothing else is drawn, and trouble of the input is told") {
    TunerPicture view = picture();
    view.trouble = "the device is gone; plug it in again";
    const std::string text = drawn(view, 80, 24, CharacterSet::ascii);
    for (const char c : text) CHECK((c == '\n' || (c >= 32 && c <= 126)));
    CHECK(text.find("the device is gone") != std::string::npos);
    for (int rows = 0; rows < 30; ++rows) (void)drawn(view, rows * 3, rows);
}

TEST_CASE("Before a string sounds the tuner asks for one") {
    TunerPicture view;
    view.tuner = Tuner().view();
    CHECK(drawn(view, 80, 24).find("Play one string") != std::string::npos);
}

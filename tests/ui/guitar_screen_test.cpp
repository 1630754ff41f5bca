// The set-up's picture, and its loop on a sound that a test plays.
#include "ui/guitar_screen.h"

#include <doctest/doctest.h>

#include "support/set_up_sound.h"
#include "ui/golden.h"
#include "ui/guitar_app.h"

using namespace gripline;
using namespace gripline::test;

namespace {

constexpr int kRate_hz = 44100;

/// A set-up that heard these notes.
SetUpPicture picture(const std::vector<SetUpString>& notes) {
    GuitarSetUp guide({.rate_hz = kRate_hz, .tuning = {}});
    auto sound = set_up_sound(notes, kRate_hz);
    if (notes.empty()) sound.resize(kRate_hz / 2);
    guide.process(sound);
    SetUpPicture out;
    out.set_up = guide.view();
    out.set_up.level_db = -24.0;
    out.set_up.noise_db = out.set_up.noise_db ? std::optional(-66.0) : std::nullopt;
    out.name = "blond archtop";
    out.tuning = "E2 A2 D3 G3 B3 E4";
    out.source = "usb interface (2 in, 48000 Hz)";
    if (const auto profile = guide.profile()) out.advice = advice(*profile);
    return out;
}

/// Tuned, but for string 4, which is 62 cents flat.
std::vector<SetUpString> third_too_flat() {
    auto notes = set_up_notes(1.0);
    notes.resize(3);
    notes[1].cents = 7.2;
    notes[2].cents = -62.0;
    return notes;
}

std::vector<SetUpString> fretted() {
    auto notes = set_up_notes(1.0);
    notes.resize(8);
    notes[7].cents = 12.0;
    return notes;
}

std::string drawn(const SetUpPicture& view, int columns, int rows, CharacterSet characters = CharacterSet::utf8) {
    Canvas canvas(columns, rows, characters);
    draw_set_up(view, canvas);
    return canvas.text();
}

/// Frames as they come, a tenth of a second at each wait for a key.
class Played final : public SoundSource {
public:
    explicit Played(std::vector<float> sound) : sound_(std::move(sound)) {}
    [[nodiscard]] int rate_hz() const override { return kRate_hz; }
    std::size_t read(std::span<float> frames) noexcept override {
        const std::size_t count = std::min({frames.size(), ready_, sound_.size() - at_});
        std::copy_n(sound_.begin() + static_cast<std::ptrdiff_t>(at_), count, frames.begin());
        at_ += count;
        ready_ -= count;
        return count;
    }
    [[nodiscard]] SourceState state() const noexcept override { return at_ == sound_.size() ? SourceState::ended : SourceState::running; }
    [[nodiscard]] std::string name() const override { return "line in"; }
    void advance() { ready_ += kRate_hz / 10; }
    [[nodiscard]] double now_s() const { return static_cast<double>(at_) / kRate_hz; }

private:
    std::vector<float> sound_;
    std::size_t at_ = 0, ready_ = 0;
};

class PlayedDisplay final : public Display {
public:
    explicit PlayedDisplay(Played& sound) : sound_(sound) {}
    [[nodiscard]] int columns() const override { return 80; }
    [[nodiscard]] int rows() const override { return 24; }
    [[nodiscard]] CharacterSet characters() const override { return CharacterSet::ascii; }
    void show(const Canvas& canvas) override { last_ = canvas.text(); }
    std::optional<KeyPress> key(int) override {
        sound_.advance();
        if (sound_.now_s() >= press_at_s_) return press_;
        return std::nullopt;
    }
    [[nodiscard]] bool asked_to_stop() const override { return stop_; }

    std::string last_;
    double press_at_s_ = 1e9;
    KeyPress press_{.character = 0, .special = SpecialKey::escape};
    bool stop_ = false;

private:
    Played& sound_;
};

}  // namespace

TEST_CASE("The set-up says what to play, large where there is room, and of each string what was heard, at every size") {
    const struct {
        const char* name;
        SetUpPicture picture;
        const char* says;
    } rows[] = {{"set-up-quiet", picture({}), "Damp all strings"},
                {"set-up-flat", picture(third_too_flat()), "String 4 is 62 cents flat"},
                {"set-up-fretted", picture(fretted()), "Play string 4 at fret 7: A3"},
                {"set-up-done", picture(set_up_notes(-6.0)), "Done"}};
    for (const auto& row : rows) {
        check_three_sizes(row.name, CharacterSet::utf8, "", [&](Canvas& canvas) { draw_set_up(row.picture, canvas); });
        for (const auto& [columns, lines] : {std::pair(80, 24), {120, 40}, {40, 12}}) {
            CAPTURE(row.name);
            CAPTURE(columns);
            CHECK(drawn(row.picture, columns, lines).find(row.says) != std::string::npos);
        }
    }
    check_three_sizes("set-up-flat", CharacterSet::ascii, "-ascii", [&](Canvas& canvas) { draw_set_up(rows[1].picture, canvas); });
}

TEST_CASE("On plain ASCII nothing else is drawn; trouble of the input is told; any size will do") {
    SetUpPicture view = picture(fretted());
    view.trouble = "the device is gone; plug it in again";
    const std::string text = drawn(view, 80, 24, CharacterSet::ascii);
    for (const char c : text) CHECK((c == '\n' || (c >= 32 && c <= 126)));
    CHECK(text.find("the device is gone") != std::string::npos);
    for (int rows = 0; rows < 30; ++rows) (void)drawn(view, rows * 3, rows);
}

TEST_CASE("The loop goes on by itself to the end and keeps, without a key") {
    auto sound = set_up_sound(set_up_notes());
    sound.resize(sound.size() + kRate_hz * 12, 0.0F);
    Played source(std::move(sound));
    PlayedDisplay display(source);
    GuitarSetUp guide({.rate_hz = kRate_hz, .tuning = {}});
    CHECK(guitar_loop(guide, source, {.name = "archtop"}, display));
    CHECK(guide.profile().ok());
    CHECK(display.last_.find("Done: all notes heard") != std::string::npos);
}

TEST_CASE("Escape, a signal and the end of the sound leave it, and nothing is to be kept") {
    for (const int how : {0, 1, 2}) {
        auto notes = set_up_notes();
        if (how == 2) notes.resize(4);
        Played source(set_up_sound(notes));
        PlayedDisplay display(source);
        display.press_at_s_ = how == 0 ? 5.0 : 1e9;
        display.stop_ = how == 1;
        GuitarSetUp guide({.rate_hz = kRate_hz, .tuning = {}});
        CAPTURE(how);
        CHECK_FALSE(guitar_loop(guide, source, {.name = "archtop"}, display));
        CHECK_FALSE(guide.profile().ok());
    }
}

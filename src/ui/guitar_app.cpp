#include "ui/guitar_app.h"

#include <array>

#include "ui/guitar_screen.h"

namespace gripline {

namespace {

constexpr int kKeyWait_ms = 33;  // 30 pictures a second at most

/// Takes all that the source has ready; its seconds.
double listen(GuitarSetUp& guide, SoundSource& source) {
    std::array<float, 256> hop{};
    std::size_t frames = 0;
    while (const std::size_t got = source.read(hop)) {
        guide.process({hop.data(), got});
        frames += got;
    }
    return static_cast<double>(frames) / source.rate_hz();
}

}  // namespace

bool guitar_loop(GuitarSetUp& guide, SoundSource& source, const GuitarScreen& screen, Display& display) {
    Canvas shown(0, 0, display.characters());
    SetUpPicture picture;
    picture.name = screen.name;
    picture.replaces = screen.replaces;
    picture.tuning = guide.config().tuning.text();
    picture.a4_hz = guide.config().a4_hz;
    picture.source = source.name();
    double done_s = 0.0;  // sound heard since the last note
    while (!display.asked_to_stop()) {
        const bool done = guide.view().stage == SetUpStage::done;
        if (const auto key = display.key(kKeyWait_ms)) {
            if (key->special == SpecialKey::escape || key->character == 'q') return false;
            if (key->special == SpecialKey::enter && done) return true;
            if (key->character == 'b') guide.back();
            if (key->character == 'r') guide.again();
        }
        const double heard_s = listen(guide, source);
        done_s = guide.view().stage == SetUpStage::done ? done_s + heard_s : 0.0;
        if (done_s >= screen.linger_s) return true;
        if (source.state() == SourceState::ended) return guide.view().stage == SetUpStage::done;
        picture.set_up = guide.view();
        picture.trouble = source.trouble();
        picture.advice.clear();
        if (const auto profile = guide.profile()) picture.advice = advice(*profile);
        Canvas canvas(display.columns(), display.rows(), display.characters());
        draw_set_up(picture, canvas);
        if (canvas == shown) continue;
        display.show(canvas);
        shown = std::move(canvas);
    }
    return false;
}

}  // namespace gripline

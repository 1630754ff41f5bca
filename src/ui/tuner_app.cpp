#include "ui/tuner_app.h"

#include "ui/tuner_screen.h"

namespace gripline {

namespace {
constexpr int kKeyWait_ms = 33;  // 30 pictures a second at most
}

void tuner_loop(PitchListener& listener, Tuner& tuner, const TunerConfig& config, Display& display) {
    Canvas shown(0, 0, display.characters());
    TunerPicture picture;
    picture.tuning = config.tuning.text();
    picture.a4_hz = config.a4_hz;
    picture.source = listener.source().name();
    while (!display.asked_to_stop()) {
        if (const auto key = display.key(kKeyWait_ms)) {
            if (key->character == 'q' || key->special == SpecialKey::escape) return;
            if (key->character == 'r') tuner.reset();
        }
        dsp::PitchReading reading;
        while (listener.take(reading)) tuner.take(reading);
        picture.tuner = tuner.view();
        picture.trouble = listener.source().trouble();
        Canvas canvas(display.columns(), display.rows(), display.characters());
        draw_tuner(picture, canvas);
        if (canvas == shown) continue;
        display.show(canvas);
        shown = std::move(canvas);
    }
}

}  // namespace gripline

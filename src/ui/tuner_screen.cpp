#include "ui/tuner_screen.h"

#include <algorithm>
#include <cmath>
#include <cstdio>

#include "ui/text_layout.h"

namespace gripline {

namespace {

constexpr int kStripe = 6;  // columns of one stripe and its gap

std::string decimal_text(double value, const char* form) {
    char text[32];
    std::snprintf(text, sizeof text, form, value);
    return text;
}

Tone tone_of(double cents) { return std::abs(cents) < kInTune_cents ? Tone::good : std::abs(cents) > kTooFarOut_cents ? Tone::bad : Tone::warning; }

/// Stripes shifted by the turn: they run right while the string is sharp, left while it is flat.
void draw_band(const TunerView& view, Canvas& canvas, int y) {
    const int shift = static_cast<int>(std::floor(view.turn * kStripe));
    const Tone tone = view.sounding ? tone_of(view.cents) : Tone::quiet;
    for (int x = 2; x < canvas.columns() - 2; ++x) {
        const bool bright = ((x - 2 - shift) % kStripe + kStripe) % kStripe < kStripe / 2;
        canvas.put(x, y, view.sounding && bright ? U'█' : U'─', view.sounding && bright ? tone : Tone::quiet);
    }
}

void draw_string_row(const TunerString& string, bool sounding, Canvas& canvas, int y) {
    const Tone tone = sounding ? Tone::strong : Tone::plain;
    canvas.text(2, y, (sounding ? "> " : "  ") + std::to_string(string.string.number()), tone);
    canvas.text(8, y, plain_name(string.note), tone);
    canvas.text(14, y, decimal_text(string.target_hz, "%.2f Hz"), tone);
    if (string.cents) canvas.text(27, y, cents_words(*string.cents), tone_of(*string.cents));
    else canvas.text(27, y, "not heard yet", Tone::quiet);
}

}  // namespace

void draw_tuner(const TunerPicture& picture, Canvas& canvas) {
    const TunerView& view = picture.tuner;
    const int rows = canvas.rows(), strings = static_cast<int>(view.strings.size());
    const bool roomy = rows >= strings + 12;
    int y = 0;
    if (rows > strings + 3) {
        const std::string title = canvas.columns() < 48 ? "" : "Tuner   ";
        canvas.text(2, y++, title + picture.tuning + "   A4 = " + decimal_text(picture.a4_hz, "%g Hz"), Tone::heading);
    }
    if (roomy) ++y;
    const int used = canvas.text(2, y, tuner_words(view), view.sounding ? tone_of(view.cents) : Tone::plain);
    const std::string beside = decimal_text(view.hz, "%.2f Hz") + (view.steady ? ", steady" : "");
    if (view.sounding && used + columns_of(beside) + 6 <= canvas.columns()) canvas.text_right(canvas.columns() - 2, y, beside, Tone::quiet);
    ++y;
    if (rows > strings + 4) {
        if (roomy) ++y;
        draw_band(view, canvas, y++);
        if (roomy) draw_band(view, canvas, y++);
        if (rows > strings + 7) canvas.text(2, y++, "drifts left: flat   right: sharp   stands still: in tune", Tone::quiet);
    }
    if (roomy) ++y;
    for (const TunerString& string : view.strings) {
        if (y >= rows - 1) break;
        draw_string_row(string, view.sounding && *view.sounding == string.string, canvas, y++);
    }
    if (roomy) ++y;
    const auto refusal = tuning_refusal(view);
    const std::string word = !picture.trouble.empty() ? picture.trouble : refusal ? *refusal : "";
    if (!word.empty())
        for (const std::string& line : wrap(word, std::max(1, canvas.columns() - 4)))
            if (y < rows - 1) canvas.text(2, y++, line, Tone::warning);
    canvas.text(2, rows - 1, picture.keys + "   " + picture.source, Tone::quiet);
}

}  // namespace gripline

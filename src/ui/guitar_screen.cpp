#include "ui/guitar_screen.h"

#include <algorithm>
#include <cmath>
#include <cstdio>

#include "practice/tuner.h"
#include "ui/block_letters.h"
#include "ui/text_layout.h"
#include "ui/widgets.h"

namespace gripline {

namespace {

constexpr int kMargin = 2;
constexpr int kOpenColumn = 14, kFrettedColumn = 32, kNarrowFrettedColumn = 25;
constexpr int kNarrow = 48;  // columns: below, cents are numbers alone

std::string decimal_text(double value, const char* form) {
    char text[32];
    std::snprintf(text, sizeof text, form, value);
    return text;
}

class SetUpDrawing {
public:
    SetUpDrawing(const SetUpPicture& picture, Canvas& canvas) : picture_(picture), view_(picture.set_up), canvas_(canvas) {}

    void draw() {
        const int rows = canvas_.rows(), strings = static_cast<int>(view_.notes.size() / 2);
        const bool roomy = rows >= strings + 12;
        if (rows > strings + 4) title();
        if (roomy) canvas_.rule(kMargin, y_++, canvas_.columns() - 2 * kMargin);
        words();
        const int letters = block_rows(canvas_.characters(), size()) + 1;
        if (view_.stage == SetUpStage::notes && rows >= y_ + letters + strings + 7) large();
        if (rows > strings + 5 && (roomy || view_.heard.empty())) part();
        const int table_from = rows - strings - (roomy ? 4 : 2);  // its heading, rule, level and keys
        remarks(table_from);
        if (roomy && y_ < table_from) ++y_;
        table();
        if (roomy) canvas_.rule(kMargin, rows - 3, canvas_.columns() - 2 * kMargin);
        if (y_ < rows - 1 || roomy) level(rows - 2);
        keys(rows - 1);
    }

private:
    [[nodiscard]] BlockSize size() const { return {canvas_.rows() >= 36 && canvas_.columns() >= 100 ? 2 : 1}; }

    void title() {
        const std::string name = canvas_.columns() < 48 ? picture_.name : "Set-up of " + picture_.name + (picture_.replaces ? ", in place of the older one" : "");
        const std::string right = canvas_.columns() < 60 ? "" : "  " + picture_.tuning + "   A4 = " + decimal_text(picture_.a4_hz, "%g Hz");
        canvas_.text(kMargin, y_, name, Tone::heading, std::max(1, canvas_.columns() - 2 * kMargin - columns_of(right)));
        canvas_.text_right(canvas_.columns() - kMargin, y_++, right, Tone::quiet);
    }
    void words() {
        const int used = canvas_.text(kMargin, y_, set_up_words(view_), view_.stage == SetUpStage::done ? Tone::good : Tone::strong);
        const std::string step = view_.stage == SetUpStage::notes ? "note " + std::to_string(view_.at + 1) + " of " + std::to_string(view_.notes.size()) : "";
        if (used + columns_of(step) + 6 <= canvas_.columns()) canvas_.text_right(canvas_.columns() - kMargin, y_, step, Tone::quiet);
        ++y_;
    }
    /// String, fret and note, to be read from where one plays.
    void large() {
        const SetUpNote& asked = view_.notes[view_.at];
        int x = kMargin;
        ++y_;
        for (const auto& [text, label] : {std::pair{std::to_string(asked.string.number()), "string"}, {std::to_string(asked.fret), asked.fret == 0 ? "open" : "fret"}, {plain_name(asked.note), "note"}}) {
            const int used = draw_block(canvas_, x, y_, text, size(), Tone::strong);
            canvas_.text(x, y_ + block_rows(canvas_.characters(), size()), label, Tone::quiet);
            x += std::max(used, 6) + 4 * size().scale;
        }
        y_ += block_rows(canvas_.characters(), size()) + 1;
    }
    void part() {
        if (view_.stage == SetUpStage::done) return;
        const int across = std::min(40, canvas_.columns() - 2 * kMargin - 2);
        const int filled = static_cast<int>(std::lround(view_.part * across));
        canvas_.put(kMargin, y_, U'[', Tone::quiet);
        for (int i = 0; i < across; ++i) canvas_.put(kMargin + 1 + i, y_, i < filled ? U'█' : U'·', i < filled ? Tone::good : Tone::quiet);
        canvas_.put(kMargin + 1 + across, y_++, U']', Tone::quiet);
    }
    void remarks(int end) {
        std::vector<std::pair<std::string, Tone>> all;
        if (!picture_.trouble.empty()) all.emplace_back(picture_.trouble, Tone::warning);
        if (!view_.heard.empty() && view_.stage == SetUpStage::notes) all.emplace_back(view_.heard, Tone::warning);
        if (view_.stage == SetUpStage::done && picture_.advice.empty()) all.emplace_back("In tune, clear and loud enough.", Tone::plain);
        for (const std::string& sentence : picture_.advice) all.emplace_back(sentence, Tone::plain);
        for (const auto& [sentence, tone] : all)
            for (const std::string& line : wrap(sentence, std::max(1, canvas_.columns() - 2 * kMargin)))
                if (y_ < end) canvas_.text(kMargin, y_++, line, tone);
    }
    [[nodiscard]] bool narrow() const { return canvas_.columns() < kNarrow; }
    [[nodiscard]] int fretted_column() const { return narrow() ? kNarrowFrettedColumn : kFrettedColumn; }
    [[nodiscard]] std::string cents_text(double cents) const {
        return narrow() && std::abs(cents) >= kInTune_cents ? decimal_text(cents, "%+.0f cents") : cents_words(cents);
    }
    void note(int x, const SetUpNote& asked, bool now, double cents) {
        if (asked.out_cents) canvas_.text(x, y_, cents_text(*asked.out_cents), Tone::bad);
        else if (asked.voice) canvas_.text(x, y_, cents_text(cents), std::abs(cents) < 5.0 ? Tone::good : Tone::warning);
        else canvas_.text(x, y_, now ? "play it" : "-", now ? Tone::strong : Tone::quiet);
    }
    void table() {
        const std::size_t strings = view_.notes.size() / 2;
        if (canvas_.rows() - 2 - y_ > static_cast<int>(strings)) {
            canvas_.text(kMargin, y_, "string note", Tone::quiet);
            canvas_.text(kOpenColumn, y_, "open", Tone::quiet);
            canvas_.text(fretted_column(), y_++, "fret " + std::to_string(view_.notes.back().fret), Tone::quiet);
        }
        for (std::size_t i = 0; i < strings && y_ < canvas_.rows() - 1; ++i, ++y_) {
            const SetUpNote &open = view_.notes[i], &fretted = view_.notes[i + strings];
            const bool asks = view_.stage == SetUpStage::notes, open_now = asks && view_.at == i, fretted_now = asks && view_.at == i + strings;
            canvas_.text(kMargin, y_, (open_now || fretted_now ? "> " : "  ") + std::to_string(open.string.number()), open_now || fretted_now ? Tone::strong : Tone::plain);
            canvas_.text(kMargin + 7, y_, plain_name(open.note));
            const auto cents = [&](const SetUpNote& n) { return n.voice ? 1200.0 * std::log2(n.voice->partial_hz(1) / n.target_hz) : 0.0; };
            note(kOpenColumn, open, open_now, cents(open));
            note(fretted_column(), fretted, fretted_now, cents(fretted));
        }
    }
    void level(int y) {
        LevelView now;
        now.level_db = now.peak_db = view_.level_db;
        now.known = true;
        if (y < y_) return;
        canvas_.text(kMargin, y, "Level", Tone::quiet);
        draw_level(canvas_, kMargin + 6, y, std::clamp(canvas_.columns() - (narrow() ? 10 : 30), 12, 50), now);
        if (view_.noise_db && !narrow()) canvas_.text_right(canvas_.columns() - kMargin, y, "noise " + decimal_text(*view_.noise_db, "%.0f dB"), Tone::quiet);
    }
    void keys(int y) {
        const std::string all = view_.stage == SetUpStage::done ? narrow() ? "Enter keep  b again  Esc keep nothing" : "Enter keep   b the last again   r all again   Esc keep nothing"
                                                             : narrow() ? "b back  r restart  Esc keep nothing" : "b back   r from the beginning   Esc keep nothing";
        const int used = canvas_.text(kMargin, y, all, Tone::quiet);
        if (used + columns_of(picture_.source) + 3 * kMargin <= canvas_.columns()) canvas_.text_right(canvas_.columns() - kMargin, y, picture_.source, Tone::quiet);
    }

    const SetUpPicture& picture_;
    const SetUpView& view_;
    Canvas& canvas_;
    int y_ = 0;
};

}  // namespace

void draw_set_up(const SetUpPicture& picture, Canvas& canvas) { SetUpDrawing(picture, canvas).draw(); }

}  // namespace gripline

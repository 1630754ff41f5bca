#include "ui/widgets.h"

#include <algorithm>
#include <cmath>

#include "ui/text_layout.h"

namespace gripline {
namespace {

constexpr int kStringColumns = 6;
constexpr int kLabelColumns = 8;

int meter_cells(double db, int cells) {
    const double share = std::clamp((db - kMeterFloor_db) / -kMeterFloor_db, 0.0, 1.0);
    return static_cast<int>(std::lround(share * cells));
}

}  // namespace

void draw_level(Canvas& canvas, int x, int y, int columns, const LevelView& level) {
    constexpr int kNumberColumns = 8;  // " -120 dB"
    const int cells = std::max(columns - kNumberColumns - 2, 2);
    canvas.put(x, y, U'[', Tone::quiet);
    canvas.put(x + cells + 1, y, U']', Tone::quiet);
    const int filled = level.known ? meter_cells(level.level_db, cells) : 0;
    const int peak = level.known ? meter_cells(level.peak_db, cells) : 0;
    for (int i = 0; i < cells; ++i) {
        const bool mark = peak > 0 && i == peak - 1 && i >= filled;
        canvas.put(x + 1 + i, y, i < filled ? U'█' : mark ? U'│' : U'·', i < filled ? Tone::plain : Tone::quiet);
    }
    if (!level.known) return;
    const long db = std::lround(std::clamp(level.level_db, -120.0, 0.0));
    canvas.text_right(x + cells + 2 + kNumberColumns, y, std::to_string(db) + " dB", Tone::quiet);
}

int draw_keys(Canvas& canvas, int x, int y, int columns, int rows, const std::vector<KeyWords>& keys) {
    int row = 0;
    int column = 0;
    for (const KeyWords& key : keys) {
        const int length = columns_of(key.key) + 1 + columns_of(key.does);
        if (column > 0 && column + length > columns) {
            ++row;
            column = 0;
        }
        if (row >= rows) return rows;
        const int used = canvas.text(x + column, y + row, key.key, Tone::strong, columns - column);
        canvas.text(x + column + used + 1, y + row, key.does, Tone::quiet, std::max(columns - column - used - 1, 0));
        column += length + 2;
    }
    return keys.empty() ? 0 : row + 1;
}

int draw_strings(Canvas& canvas, int x, int y, const std::vector<StringHeard>& strings, bool heard) {
    static const char* const kLabels[] = {"string", "fret", "asked", "heard"};
    for (int row = 0; row < 4; ++row) canvas.text(x, y + row, kLabels[row], Tone::quiet);
    int end = x + kLabelColumns;
    for (const StringHeard& string : strings) {
        end += kStringColumns;
        canvas.text_right(end, y, std::to_string(string.string.number()), Tone::quiet);
        canvas.text_right(end, y + 1, string.fret ? std::to_string(string.fret->number()) : "x", string.fret ? Tone::strong : Tone::quiet);
        if (string.fret) canvas.text_right(end, y + 2, string.asked);
        if (!heard) continue;
        if (!string.heard.empty()) canvas.text_right(end, y + 3, string.heard, string.as_asked ? Tone::plain : Tone::bad);
        else if (!string.as_asked) canvas.text_right(end, y + 3, "silent", Tone::bad);
        if (!string.as_asked) canvas.put(end, y + 3, U'!', Tone::bad);
    }
    return end + 1 - x;
}

std::string asked_text(const std::vector<StringHeard>& strings) {
    std::string text = "asked";
    for (const StringHeard& string : strings) {
        if (string.fret) text += " " + string.asked;
    }
    return text;
}

std::string heard_text(const std::vector<StringHeard>& strings) {
    std::string text = "heard";
    for (const StringHeard& string : strings) {
        if (string.fret || !string.heard.empty()) text += " " + (string.heard.empty() ? "-" : string.heard);
    }
    return text;
}

}  // namespace gripline

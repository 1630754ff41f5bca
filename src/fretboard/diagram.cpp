#include "fretboard/diagram.h"

#include <algorithm>

namespace gripline {

namespace {

struct Signs {
    const char *dot, *string, *fret;                            // string along, fret wire across
    const char *top_left, *top, *top_right;                     // first wire away from the nut
    const char *nut_left, *nut, *nut_right, *nut_line;
    const char *left, *cross, *right;
    const char *bottom_left, *bottom, *bottom_right;
};
constexpr Signs kUnicodeUpright{"●", "│", "─", "┌", "┬", "┐", "╒", "╤", "╕", "═", "├", "┼", "┤", "└", "┴", "┘"};
constexpr Signs kAsciiUpright{"@", "|", "-", "+", "+", "+", "+", "+", "+", "=", "+", "+", "+", "+", "+", "+"};

using Window = FretWindow;
bool fretted_at(const Grip& grip, int string, int fret) {
    const auto held = grip.fret(StringNumber(string));
    return held && held->number() == fret;
}
bool any_at(const Grip& grip, int fret) {
    for (int string = 1; string <= grip.strings(); ++string)
        if (fretted_at(grip, string, fret)) return true;
    return false;
}
std::string mark(const Grip& grip, int string) {
    const auto fret = grip.fret(StringNumber(string));
    return !fret ? "x" : fret->number() == 0 ? "o" : " ";
}
std::string right_aligned(int number) { return (number < 10 ? " " : "") + std::to_string(number); }
std::string padded(std::string ascii, std::size_t width) {
    ascii.resize(std::max(width, ascii.size()), ' ');
    return ascii;
}

/// String numbers in the order of the columns from left to right.
std::vector<int> columns(const Neck& neck) {
    std::vector<int> out;
    for (int string = neck.tuning.strings(); string >= 1; --string) out.push_back(string);
    if (neck.left_handed) std::reverse(out.begin(), out.end());
    return out;
}

std::string wire(std::size_t strings, const char* left, const char* middle, const char* right, const char* line) {
    std::string out = "   ";
    for (std::size_t i = 0; i < strings; ++i) out += std::string(i == 0 ? left : i + 1 == strings ? right : middle) + (i + 1 < strings ? line : "");
    return out;
}

std::vector<std::string> upright(const Grip& grip, const Neck& neck, const Signs& signs, Window window) {
    const auto order = columns(neck);
    const std::size_t width = 3 + 2 * order.size() - 1;
    std::vector<std::string> lines;
    if (neck.capo > 0) lines.push_back(padded("   capo " + std::to_string(neck.capo), width));
    std::string marks = "   ", numbers = "   ";
    for (std::size_t i = 0; i < order.size(); ++i) {
        marks += (i > 0 ? " " : "") + mark(grip, order[i]);
        numbers += (i > 0 ? " " : "") + std::to_string(order[i]);
    }
    lines.push_back(marks);
    lines.push_back(window.first == 1 ? wire(order.size(), signs.nut_left, signs.nut, signs.nut_right, signs.nut_line)
                                      : wire(order.size(), signs.top_left, signs.top, signs.top_right, signs.fret));
    for (int fret = window.first; fret < window.first + window.count; ++fret) {
        std::string row = any_at(grip, fret) ? right_aligned(fret) + " " : "   ";
        for (std::size_t i = 0; i < order.size(); ++i) row += std::string(i > 0 ? " " : "") + (fretted_at(grip, order[i], fret) ? signs.dot : signs.string);
        lines.push_back(row);
        const bool last = fret + 1 == window.first + window.count;
        lines.push_back(last ? wire(order.size(), signs.bottom_left, signs.bottom, signs.bottom_right, signs.fret)
                             : wire(order.size(), signs.left, signs.cross, signs.right, signs.fret));
    }
    lines.push_back(numbers);
    return lines;
}

/// One string across: cells from the nut outwards, turned round for a left-handed neck.
std::string lying_string(const Grip& grip, const Neck& neck, bool ascii, Window window, int string) {
    const std::string line = ascii ? "-" : "─", cross = ascii ? "+" : "┼", dot = ascii ? "@" : "●";
    std::vector<std::string> cells{std::to_string(string), " ", mark(grip, string), " ", window.first == 1 ? (ascii ? "#" : "║") : cross};
    for (int fret = window.first; fret < window.first + window.count; ++fret)
        for (const std::string& cell : {line, fretted_at(grip, string, fret) ? dot : line, line, cross}) cells.push_back(cell);
    if (neck.left_handed) std::reverse(cells.begin(), cells.end());
    std::string out;
    for (const std::string& cell : cells) out += cell;
    return out;
}

std::vector<std::string> lying(const Grip& grip, const Neck& neck, bool ascii, Window window) {
    const std::size_t width = 5 + 4 * static_cast<std::size_t>(window.count);
    std::vector<std::string> lines;
    if (neck.capo > 0) lines.push_back(padded("capo " + std::to_string(neck.capo), width));
    for (int string = 1; string <= neck.tuning.strings(); ++string) lines.push_back(lying_string(grip, neck, ascii, window, string));
    std::string numbers(width, ' ');
    for (int i = 0; i < window.count; ++i) {
        if (!any_at(grip, window.first + i)) continue;
        const std::string number = right_aligned(window.first + i);
        const std::size_t centre = 6 + 4 * static_cast<std::size_t>(i);  // of the cell, from the nut's side
        numbers.replace((neck.left_handed ? width - 1 - centre : centre) - 1, 2, number);
    }
    lines.push_back(numbers);
    return lines;
}

}  // namespace

FretWindow fret_window(const Grip& grip, int least_frets) {
    const int least = std::clamp(least_frets, 1, kMaxFret);
    int low = kMaxFret + 1, high = 0;
    for (int number = 1; number <= grip.strings(); ++number) {
        const auto fret = grip.fret(StringNumber(number));
        if (!fret || fret->number() == 0) continue;
        low = std::min(low, fret->number());
        high = std::max(high, fret->number());
    }
    if (high <= least) return {1, least};
    return {low, std::max(least, high - low + 1)};
}

std::vector<std::string> neck_diagram(const Grip& grip, const Neck& neck, const DiagramStyle& style) {
    if (grip.strings() != neck.tuning.strings()) return {};
    const Window window = fret_window(grip, style.least_frets);
    if (style.lay == Lay::lying) return lying(grip, neck, style.ascii, window);
    return upright(grip, neck, style.ascii ? kAsciiUpright : kUnicodeUpright, window);
}

}  // namespace gripline

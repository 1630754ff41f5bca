#include "formats/grip_svg.h"

#include <cmath>

#include "formats/markup.h"
#include "fretboard/diagram.h"

namespace gripline {

namespace {

constexpr double kMarks = 11.0;      // above the first wire, for x and o
constexpr double kFret = 15.0;
constexpr int kLeastFrets = 4;
constexpr double kDot = 4.2, kWireBeyond = 0.5;

std::string line(double x1, double y1, double x2, double y2, const char* css_class) {
    return "<line class=\"" + std::string(css_class) + "\" x1=\"" + svg_number(x1) + "\" y1=\"" + svg_number(y1) + "\" x2=\"" + svg_number(x2) + "\" y2=\"" + svg_number(y2) + "\"/>";
}

}  // namespace

std::string svg_number(double value) {
    const auto tenths = static_cast<long>(std::lround(value * 10.0));
    std::string out = std::to_string(tenths / 10);
    if (tenths % 10 != 0) out += "." + std::to_string(std::labs(tenths % 10));
    return tenths < 0 && tenths > -10 ? "-" + out : out;
}

std::string svg_text(double x, double y, const std::string& text, const std::string& css_class, const std::string& anchor, double most, double unit) {
    std::size_t characters = 0;
    for (const char c : text) characters += (static_cast<unsigned char>(c) & 0xC0U) != 0x80U ? 1 : 0;
    const bool squeezed = static_cast<double>(characters) * unit > most;
    return "<text class=\"" + css_class + "\" x=\"" + svg_number(x) + "\" y=\"" + svg_number(y) + "\" text-anchor=\"" + anchor + "\"" +
           (squeezed ? " textLength=\"" + svg_number(most) + "\" lengthAdjust=\"spacingAndGlyphs\"" : "") + ">" + escaped(text) + "</text>";
}

std::string grip_svg(const Grip& grip, const Neck& neck, double x, double y) {
    const FretWindow window = fret_window(grip, kLeastFrets);
    const int strings = grip.strings();
    const double gap = kGripWidth / (strings - 1), top = y + kMarks, fret = kFret * kLeastFrets / std::max(kLeastFrets, window.count), bottom = top + fret * window.count;
    const auto string_x = [&](int number) { return x + gap * (neck.left_handed ? number - 1 : strings - number); };
    std::string out = "<g>";
    for (int number = 1; number <= strings; ++number) out += line(string_x(number), top, string_x(number), bottom, "wire");
    for (int i = 0; i <= window.count; ++i) {
        const bool nut = i == 0 && window.first == 1;
        out += line(x - kWireBeyond, top + fret * i, x + kGripWidth + kWireBeyond, top + fret * i, nut ? "nut" : "wire");
    }
    if (window.first > 1) out += svg_text(x - 7.0, top + fret * 0.5 + 4.0, std::to_string(window.first), "mark", "end", kGripMargin, 6.0);
    for (int number = 1; number <= strings; ++number) {
        const auto held = grip.fret(StringNumber(number));
        if (held && held->number() > 0) out += "<circle class=\"dot\" cx=\"" + svg_number(string_x(number)) + "\" cy=\"" + svg_number(top + fret * (held->number() - window.first + 0.5)) + "\" r=\"" + svg_number(kDot) + "\"/>";
        else out += svg_text(string_x(number), top - 2.5, held ? "o" : "x", "mark", "middle", kGripMargin, 6.0);
    }
    return out + "</g>";
}

}  // namespace gripline

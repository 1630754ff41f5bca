#include "theory/accidental_text.h"

namespace gripline {

std::string replaced(std::string text, std::string_view from, std::string_view to) {
    for (std::size_t at = 0; (at = text.find(from, at)) != std::string::npos; at += to.size()) text.replace(at, from.size(), to);
    return text;
}

std::string with_plain_accidentals(std::string_view text) {
    std::string out(text);
    out = replaced(std::move(out), "\u266D", "b");
    out = replaced(std::move(out), "\u266E", "");
    out = replaced(std::move(out), "\u266F", "#");
    out = replaced(std::move(out), "\U0001D12A", "x");
    return replaced(std::move(out), "\U0001D12B", "bb");
}

int read_accidentals(std::string_view text, std::size_t& at) {
    int semitones = 0;
    for (; at < text.size(); ++at) {
        const int step = text[at] == 'b' ? -1 : text[at] == '#' ? 1 : text[at] == 'x' ? 2 : 0;
        if (step == 0 || step * semitones < 0) break;
        semitones += step;
    }
    return semitones;
}

std::string accidental_text(int semitones) {
    return std::string(static_cast<std::size_t>(semitones < 0 ? -semitones : semitones), semitones < 0 ? 'b' : '#');
}

std::string accidental_signs(int semitones) {
    if (semitones == 2) return "\U0001D12A";
    if (semitones == -2) return "\U0001D12B";
    return replaced(replaced(accidental_text(semitones), "b", "\u266D"), "#", "\u266F");
}

}  // namespace gripline

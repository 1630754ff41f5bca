#include "formats/abc_head.h"

#include <algorithm>

#include "base/text.h"
#include "formats/chart_import.h"

namespace gripline::abc {

namespace {

std::string lower(std::string_view text) {
    std::string out(text);
    for (char& c : out) c = c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
    return out;
}

}  // namespace

Result<std::optional<Key>> read_key(std::string_view text, std::string& mode) {
    const std::string_view asked = trimmed(text);
    mode.clear();
    if (asked.empty() || asked.starts_with("none") || asked.starts_with("HP") || asked.starts_with("Hp") || asked.find('=') < asked.find(' ')) return std::optional<Key>();
    std::size_t end = 1;
    if (end < asked.size() && (asked[end] == '#' || asked[end] == 'b')) ++end;
    const auto tonic = NoteName::parse(asked.substr(0, end));
    const Error unknown{"unknown key " + quoted(asked) + "; a key is written as Bb, F#m, D dorian or none"};
    if (!tonic) return unknown;
    std::string_view rest = trimmed(asked.substr(end));
    const std::string word = lower(rest.substr(0, rest.find_first_of(" \t")));
    if (word.find('=') != std::string::npos || word == "exp" || word == "treble" || word == "bass" || word == "alto" || word == "tenor") return std::optional<Key>(Key{*tonic, false});
    struct Mode {
        std::string_view start;
        bool minor, usual;
    };
    // By the first three letters (ABC 2.1, 3.1.14).
    constexpr Mode kModes[] = {{"maj", false, true}, {"ion", false, true}, {"min", true, true}, {"aeo", true, true}, {"dor", true, false}, {"phr", true, false},
                               {"loc", true, false}, {"mix", false, false}, {"lyd", false, false}};
    if (word.empty()) return std::optional<Key>(Key{*tonic, false});
    if (word == "m") return std::optional<Key>(Key{*tonic, true});
    const auto found = std::find_if(std::begin(kModes), std::end(kModes), [&](const Mode& each) { return word.starts_with(each.start); });
    if (found == std::end(kModes)) {
        if (word.starts_with('^') || word.starts_with('_')) return std::optional<Key>(Key{*tonic, false});  // accidentals of the key's own
        return unknown;
    }
    if (!found->usual) mode = word.substr(0, 12);
    return std::optional<Key>(Key{*tonic, found->minor});
}

Result<Meter> read_meter(std::string_view text) {
    const std::string_view asked = trimmed(text);
    if (asked == "C") return Meter{4, 4};
    if (asked == "C|") return Meter{2, 2};
    if (asked.empty() || asked == "none") return Error{"a tune without a meter; write one, such as M:4/4"};
    return Meter::parse(asked);
}

Result<double> read_fraction(std::string_view text) {
    const std::string_view asked = trimmed(text);
    const auto slash = asked.find('/');
    const auto above = number_of(trimmed(asked.substr(0, slash)));
    const auto below = slash == std::string_view::npos ? std::optional<double>(1.0) : number_of(trimmed(asked.substr(slash + 1)));
    constexpr double kShortest = 1.0 / 512.0;
    if (!above || !below || *below <= 0.0 || *above / *below < kShortest || *above / *below > 4.0) return Error{"unknown length " + quoted(asked) + "; a fraction of a whole note such as 1/8 is read"};
    return *above / *below;
}

Result<std::optional<double>> read_tempo(std::string_view text, double unit) {
    std::string plain(text);
    for (auto open = plain.find('"'); open != std::string::npos; open = plain.find('"')) {
        const auto close = plain.find('"', open + 1);
        plain.erase(open, close == std::string::npos ? std::string::npos : close - open + 1);
    }
    const std::string_view asked = trimmed(plain);
    if (asked.empty()) return std::optional<double>();
    const auto sign = asked.rfind('=');
    const auto a_minute = number_of(trimmed(asked.substr(sign == std::string_view::npos ? 0 : sign + 1)));
    if (!a_minute || *a_minute <= 0.0) return Error{"unknown tempo " + quoted(text) + "; a tempo is written as 1/4=120"};
    double beat = 0.0;
    if (sign != std::string_view::npos)
        for (std::string_view lengths = trimmed(asked.substr(0, sign)); !lengths.empty();) {
            const auto end = std::min(lengths.find(' '), lengths.size());
            const auto one = read_fraction(lengths.substr(0, end));
            if (!one) break;  // the letter C of old files: unit notes
            beat += *one;
            lengths = trimmed(lengths.substr(end));
        }
    return std::optional<double>(*a_minute * (beat > 0.0 ? beat : unit) * 4.0);
}

std::string plain_text(std::string_view text) {
    std::string out;
    for (std::size_t i = 0; i < text.size(); ++i) {
        if (text[i] == '\\' && i + 1 < text.size() && (text[i + 1] == '%' || text[i + 1] == '\\' || text[i + 1] == '&')) ++i;
        out += text[i];
    }
    return clean_text(out);
}

std::string_view without_comment(std::string_view line) {
    for (std::size_t i = 0; i < line.size(); ++i) {
        if (line[i] == '\\') ++i;
        else if (line[i] == '%') return line.substr(0, i);
    }
    return line;
}

bool is_field(std::string_view line) {
    if (line.size() < 2 || line[1] != ':') return false;
    const bool letter = (line[0] >= 'A' && line[0] <= 'Z') || (line[0] >= 'a' && line[0] <= 'z') || line[0] == '+';
    const bool note = (line[0] >= 'A' && line[0] <= 'G') || (line[0] >= 'a' && line[0] <= 'g');
    return letter && !(note && line.size() > 2 && (line[2] == '|' || line[2] == ':'));
}

}  // namespace gripline::abc

#include "fretboard/grip.h"

#include <algorithm>

#include "base/text.h"

namespace gripline {

Grip::Grip(int strings) : frets_(static_cast<std::size_t>(strings)) {}

namespace {

std::string shown(std::string_view text) { return "grip " + quoted(text); }

/// The places of a fret string: one character each, or parted by dashes.
std::vector<std::string_view> places_of(std::string_view text) {
    std::vector<std::string_view> places;
    if (text.find('-') == std::string_view::npos) {
        for (std::size_t i = 0; i < text.size(); ++i) places.push_back(text.substr(i, 1));
        return places;
    }
    for (std::size_t start = 0; start <= text.size();) {
        const auto dash = std::min(text.find('-', start), text.size());
        places.push_back(text.substr(start, dash - start));
        start = dash + 1;
    }
    return places;
}

/// The fret that a place names; -1 when it is none from 0 to kMaxFret.
int fret_of(std::string_view place) {
    if (place.empty() || place.size() > 2 || (place.size() == 2 && place[0] == '0')) return -1;
    int fret = 0;
    for (const char c : place) {
        if (c < '0' || c > '9') return -1;
        fret = fret * 10 + (c - '0');
    }
    return fret > kMaxFret ? -1 : fret;
}

}  // namespace

Result<Grip> Grip::parse(std::string_view fret_string, int strings) {
    const std::string_view text = trimmed(fret_string);
    if (strings < kMinStrings || strings > kMaxStrings)
        return Error{"a grip for " + std::to_string(strings) + " strings: " + std::to_string(kMinStrings) + " to " + std::to_string(kMaxStrings) + " are allowed"};
    if (text.empty()) return Error{"the grip is empty; write a fret or x for each string from the lowest, as 3x23xx or 10-x-9-10-x-x"};
    const auto odd = std::find_if(text.begin(), text.end(), [](char c) { return std::string_view("0123456789xX-").find(c) == std::string_view::npos; });
    if (odd != text.end())
        return Error{shown(text) + ", byte " + std::to_string(odd - text.begin() + 1) + ": only frets, x and dashes are allowed, as 3x23xx or 10-x-9-10-x-x"};
    const auto places = places_of(text);
    if (static_cast<int>(places.size()) != strings)
        return Error{shown(text) + " has " + std::to_string(places.size()) + " places, " + std::to_string(strings) + " wanted, one for each string" +
                     (text.find('-') == std::string_view::npos ? "; with a fret above 9 put dashes between: 10-x-9-10-x-x" : "")};
    Grip grip(strings);
    for (std::size_t i = 0; i < places.size(); ++i) {
        if (places[i] == "x" || places[i] == "X") continue;
        const int fret = fret_of(places[i]);
        if (fret < 0) return Error{shown(text) + ", place " + std::to_string(i + 1) + ": " + quoted(places[i]) + " is no fret (0 to " + std::to_string(kMaxFret) + ", or x)"};
        grip.frets_[i] = Fret(fret);
    }
    return grip;
}

std::optional<Fret> Grip::fret(StringNumber string) const { return frets_.at(static_cast<std::size_t>(strings() - string.number())); }
void Grip::set(StringNumber string, std::optional<Fret> fret) { frets_.at(static_cast<std::size_t>(strings() - string.number())) = fret; }

std::string Grip::text() const {
    const bool dashes = std::any_of(frets_.begin(), frets_.end(), [](const auto& f) { return f && f->number() > 9; });
    std::string out;
    for (std::size_t i = 0; i < frets_.size(); ++i) {
        if (dashes && i > 0) out += '-';
        out += frets_[i] ? std::to_string(frets_[i]->number()) : "x";
    }
    return out;
}

std::vector<GripNote> Grip::notes(const Tuning& tuning, int capo) const {
    std::vector<GripNote> out;
    for (int i = 0; i < strings(); ++i) {
        const auto& fret = frets_[static_cast<std::size_t>(i)];
        const StringNumber string(strings() - i);
        if (fret) out.push_back({string, *fret, tuning.open(string).up(capo + fret->number())});
    }
    return out;
}

int Grip::stretch() const noexcept {
    int low = kMaxFret + 1, high = -1;
    for (const auto& fret : frets_) {
        if (!fret || fret->number() == 0) continue;
        low = std::min(low, fret->number());
        high = std::max(high, fret->number());
    }
    return high < 0 ? 0 : high - low;
}

Result<Grip> Grip::slid(int frets) const {
    Grip out(*this);
    for (auto& fret : out.frets_) {
        if (!fret) continue;
        fret = fret->up(frets);
        if (fret->number() < 0 || fret->number() > kMaxFret)
            return Error{"grip " + text() + " slid by " + std::to_string(frets) + " frets leaves the neck (0 to 24)"};
    }
    return out;
}

}  // namespace gripline

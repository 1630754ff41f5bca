#include "fretboard/grip.h"

#include <algorithm>

namespace gripline {

Tuning::Tuning() : low_to_high_{MidiNote(40), MidiNote(45), MidiNote(50), MidiNote(55), MidiNote(59), MidiNote(64)} {}
Tuning::Tuning(std::vector<MidiNote> low_to_high) : low_to_high_(std::move(low_to_high)) {}
Result<Tuning> Tuning::parse(std::string_view text) {
    if (text == "standard") return Tuning();
    return Error{"unknown tuning \"" + std::string(text) + "\""};
}
MidiNote Tuning::open(StringNumber string) const { return low_to_high_.at(static_cast<std::size_t>(strings() - string.number())); }
std::string Tuning::text() const {
    std::string out;
    for (const MidiNote note : low_to_high_) out += (out.empty() ? "" : " ") + plain_name(note);
    return out;
}

Grip::Grip(int strings) : frets_(static_cast<std::size_t>(strings)) {}

Result<Grip> Grip::parse(std::string_view text, int strings) {
    Grip grip(strings);
    std::vector<std::string> places;
    if (text.find('-') == std::string_view::npos) {
        for (const char c : text) places.emplace_back(1, c);
    } else {
        std::string place;
        for (const char c : text) {
            if (c == '-') places.push_back(std::exchange(place, {}));
            else place += c;
        }
        places.push_back(place);
    }
    if (static_cast<int>(places.size()) != strings)
        return Error{"grip \"" + std::string(text) + "\" has " + std::to_string(places.size()) + " places, " + std::to_string(strings) + " wanted"};
    for (std::size_t i = 0; i < places.size(); ++i) {
        const std::string& place = places[i];
        if (place == "x" || place == "X") continue;
        if (place.empty() || place.size() > 2 || !std::all_of(place.begin(), place.end(), [](unsigned char c) { return c >= '0' && c <= '9'; }) || std::stoi(place) > kMaxFret)
            return Error{"grip \"" + std::string(text) + "\", place " + std::to_string(i + 1) + ": \"" + place + "\" is no fret (0 to 24, or x)"};
        grip.frets_[i] = Fret(std::stoi(place));
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

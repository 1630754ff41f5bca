#include "practice/guitar_profile.h"

#include <algorithm>
#include <cmath>

#include "practice/tuner.h"

namespace gripline {

namespace {

constexpr double kWorthTuning_cents = 5.0;    // what ears tell in single low notes (common practice, no source)
constexpr double kWorthSetting_cents = 8.0;   // of intonation: tempered thirds are 14 off as it is (common practice, no source)
constexpr double kQuiet_db = -42.0, kLoud_db = -10.0;  // peak RMS of a single note; a strum of six is 8 dB louder, its peak 10 dB above its RMS
constexpr double kLeastMargin_db = 30.0;      // single notes over the noise

std::string whole(double value) { return std::to_string(std::lround(value)); }

}  // namespace

std::vector<dsp::NoteVoice> GuitarProfile::notes() const {
    std::vector<dsp::NoteVoice> out;
    for (const ProfileString& string : strings) {
        out.push_back(string.open);
        out.push_back(string.fretted);
    }
    return out;
}

double GuitarProfile::open_cents(const ProfileString& string) const { return string.open.cents - 1200.0 * std::log2(a4_hz / 440.0); }

KnownGuitar known_guitar(const GuitarProfile& profile) {
    KnownGuitar out{.tuning = profile.tuning, .capo = profile.capo, .fret = profile.fret, .strings = {}};
    for (const ProfileString& string : profile.strings) out.strings.push_back({{string.open.cents, string.open.stiffness}, {string.fretted.cents, string.fretted.stiffness}});
    return out;
}

int set_up_fret(const Tuning& tuning) {
    const auto sounds_open = [&](int midi) {
        for (int s = 1; s <= tuning.strings(); ++s)
            if (tuning.open(StringNumber(s)).number() == midi) return true;
        return false;
    };
    for (const int fret : {7, 6, 8, 4, 3, 9}) {
        bool clear = true;
        for (int s = 1; s <= tuning.strings(); ++s) clear = clear && !sounds_open(tuning.open(StringNumber(s)).number() + fret);
        if (clear) return fret;
    }
    return 7;
}

std::vector<std::string> advice(const GuitarProfile& profile) {
    std::vector<std::string> out;
    const double margin_db = profile.level_db - profile.noise_db;
    if (profile.level_db > kLoud_db) out.push_back("Loud: a strum may clip. Turn the input down by 6 dB or more.");
    if (profile.level_db < kQuiet_db) out.push_back("Quiet: " + whole(profile.level_db) + " dB. Turn the guitar or the input up, or sit nearer to the microphone.");
    if (margin_db < kLeastMargin_db) out.push_back("Noise is only " + whole(margin_db) + " dB below the notes: try another cable, place or pickup, away from screens and lamps.");
    std::string out_of_tune;
    for (const ProfileString& string : profile.strings) {
        const double cents = profile.open_cents(string);
        if (std::abs(cents) >= kWorthTuning_cents) out_of_tune += (out_of_tune.empty() ? "String " : ", string ") + std::to_string(string.string.number()) + " is " + cents_words(cents);
    }
    if (!out_of_tune.empty()) out.push_back(out_of_tune + ".");
    for (const ProfileString& string : profile.strings) {
        const double cents = GuitarProfile::fretted_cents(string);
        if (std::abs(cents) < kWorthSetting_cents) continue;
        out.push_back("String " + std::to_string(string.string.number()) + " at fret " + std::to_string(profile.fret) + " is " + cents_words(cents) + " against its open note" +
                      (cents > 0.0 ? ": press less hard, or have the intonation looked at." : ": have the intonation looked at."));
    }
    return out;
}

}  // namespace gripline

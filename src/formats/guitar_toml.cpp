#include "formats/guitar_toml.h"

#include <cstdio>

#include "base/text.h"
#include "formats/toml_keys.h"
#include "formats/toml_text.h"
#include "practice/attempt_check.h"

namespace gripline {
namespace {

constexpr double kMostCents = 160.0;  // a set-up allows 40 on A4 = 415 to 466, which lie a semitone each from 440
constexpr double kMostStiffness = 1e-3;
constexpr double kLeastLevel_db = -120.0;

std::string decimals(double value, int places) {
    char text[48];
    std::snprintf(text, sizeof text, "%.*f", places, value + 0.0);
    return text;
}

bool is_day(const std::string& text) {
    if (text.size() != 10) return false;
    for (std::size_t i = 0; i < text.size(); ++i)
        if (i == 4 || i == 7 ? text[i] != '-' : text[i] < '0' || text[i] > '9') return false;
    return true;
}

void read_note(TomlKeys& keys, const std::string& which, int midi, dsp::NoteVoice& note) {
    note.midi = midi;
    const std::string cents = which + "-cents", stiffness = which + "-stiffness", partials = which + "-partials-db";
    for (const std::string& key : {cents, stiffness, partials}) keys.need(key, "each string has an open and a fretted note");
    keys.number(cents, -kMostCents, kMostCents, note.cents);
    keys.number(stiffness, 0.0, kMostStiffness, note.stiffness);
    keys.numbers(partials, static_cast<double>(dsp::kNoPartial_db), 0.0, note.partial_db);
}

void read_whole(TomlKeys& keys, GuitarProfile& profile) {
    keys.need("format", "a guitar's file says format = \"" + std::string(kGuitarFormat) + "\"");
    std::string format(kGuitarFormat), tuning;
    keys.text("format", format);
    if (format != kGuitarFormat) keys.complain("format", gripline::quoted(format) + " can't be read; this gripline reads \"" + std::string(kGuitarFormat) + "\"");
    for (const char* key : {"name", "input", "made-on", "tuning", "fret", "noise-db", "level-db"}) keys.need(key, "a set-up writes it");
    keys.text("name", profile.name);
    if (const auto bad = check_name(profile.name, "guitar", false)) keys.complain("name", bad->message);
    keys.text("input", profile.input);
    if (profile.input.size() > kLongestText_bytes) keys.complain("input", "is longer than " + std::to_string(kLongestText_bytes) + " bytes");
    keys.text("made-on", profile.made_on);
    if (!is_day(profile.made_on)) keys.complain("made-on", gripline::quoted(profile.made_on) + " is no day; one like \"2026-11-25\" is wanted");
    keys.text("tuning", tuning);
    if (const auto read = Tuning::parse(tuning)) profile.tuning = *read;
    else keys.complain("tuning", read.error().message);
    std::int64_t capo = 0, fret = 7;
    keys.whole("capo", 0, 12, capo);
    keys.whole("fret", 1, 12, fret);
    profile.capo = static_cast<int>(capo);
    profile.fret = static_cast<int>(fret);
    keys.number("a4-hz", 415.0, 466.0, profile.a4_hz);
    keys.number("noise-db", kLeastLevel_db, 0.0, profile.noise_db);
    keys.number("level-db", kLeastLevel_db, 0.0, profile.level_db);
    keys.known("string");
    keys.finish();
}

void read_string(TomlKeys& keys, int number, GuitarProfile& profile) {
    std::int64_t said = number;
    keys.need("number", "strings are numbered, lowest first");
    keys.whole("number", number, number, said);
    ProfileString string{.string = StringNumber(number), .open = {}, .fretted = {}};
    const int open = profile.tuning.open(string.string).up(profile.capo).number();
    read_note(keys, "open", open, string.open);
    read_note(keys, "fretted", open + profile.fret, string.fretted);
    keys.finish();
    profile.strings.push_back(string);
}

Result<GuitarProfile> guitar_of(const toml::table& table) {
    GuitarProfile profile;
    std::string trouble;
    TomlKeys keys(table, "", trouble);
    read_whole(keys, profile);
    if (!trouble.empty()) return Error{trouble};
    const auto* strings = table.get_as<toml::array>("string");
    const auto wanted = static_cast<std::size_t>(profile.tuning.strings());
    if (strings == nullptr || !strings->is_array_of_tables() || strings->size() != wanted)
        return Error{"key \"string\": " + std::to_string(strings == nullptr ? 0 : strings->size()) + " of them; the tuning has " + std::to_string(wanted) + ", each a [[string]], lowest first"};
    for (std::size_t i = 0; i < wanted; ++i) {
        const int number = static_cast<int>(wanted - i);
        TomlKeys string_keys(*strings->get_as<toml::table>(i), "string " + std::to_string(number) + ", ", trouble);
        read_string(string_keys, number, profile);
        if (!trouble.empty()) return Error{trouble};
    }
    return profile;
}

void put_note(std::string& out, const std::string& which, const dsp::NoteVoice& note) {
    out += which + "-cents = " + decimals(note.cents, 2) + "\n" + which + "-stiffness = " + decimals(note.stiffness, 7) + "\n" + which + "-partials-db = [";
    for (std::size_t i = 0; i < note.partial_db.size(); ++i) out += (i > 0 ? ", " : "") + decimals(static_cast<double>(note.partial_db[i]), 1);
    out += "]\n";
}

}  // namespace

Result<GuitarProfile> parse_guitar(std::string_view text) {
    if (text.size() > kMostGuitar_bytes) return Error{"is larger than " + std::to_string(kMostGuitar_bytes) + " bytes; no set-up is"};
    try {
        return guitar_of(toml::parse(text));
    } catch (const toml::parse_error& error) {
        return Error{"line " + std::to_string(error.source().begin.line) + ": this is no TOML (toml.io): " + plain_line(error.description())};
    }
}

std::string guitar_toml(const GuitarProfile& profile) {
    std::string out = "# A guitar as gripline guitar set-up heard it. Cents are against equal temperament on A4 = 440 Hz; partials against all of a note together.\n";
    out += "format = " + toml_text(kGuitarFormat) + "\nname = " + toml_text(profile.name) + "\ninput = " + toml_text(profile.input) + "\nmade-on = " + toml_text(profile.made_on);
    out += "\ntuning = " + toml_text(profile.tuning.text()) + "\ncapo = " + std::to_string(profile.capo) + "\na4-hz = " + toml_number(profile.a4_hz) + "\nfret = " + std::to_string(profile.fret);
    out += "\nnoise-db = " + decimals(profile.noise_db, 1) + "\nlevel-db = " + decimals(profile.level_db, 1) + "\n";
    for (const ProfileString& string : profile.strings) {
        out += "\n[[string]]\nnumber = " + std::to_string(string.string.number()) + "\n";
        put_note(out, "open", string.open);
        put_note(out, "fretted", string.fretted);
    }
    return out;
}

}  // namespace gripline

// gripline guitar: list, show, delete; set-up is in guitar_set_up.cpp.
#include "cli/guitar_verbs.h"

#include <unistd.h>

#include <cmath>
#include <istream>
#include <nlohmann/json.hpp>
#include <ostream>

#include "base/text.h"
#include "cli/commands.h"
#include "cli/text_table.h"
#include "formats/guitar_json.h"
#include "practice/attempt_check.h"
#include "practice/tuner.h"
#include "ui/kept_guitars.h"
#include "ui/settings.h"

namespace gripline {

namespace {

namespace fs = std::filesystem;

/// What is wrong with one file does not hide the others.
int list(const GuitarOptions& options, const fs::path& folder, std::ostream& out, std::ostream& err) {
    const auto kept = kept_guitars(folder);
    int status = kExitDone;
    TextTable table(out, {{"guitar", 24}, {"set up", 10}, {"tuning", 20}, {"input", 24}});
    for (const KeptGuitar& guitar : kept) {
        if (!guitar.profile) status = refuse(err, guitar.profile.error().message);
        else if (options.json) out << guitar_json(*guitar.profile) << '\n';
        else table.row({guitar.profile->name, guitar.profile->made_on, guitar.profile->tuning.text(), guitar.profile->input});
    }
    if (kept.empty()) err << "gripline: no guitar is set up yet; gripline guitar set-up NAME does it in a minute\n";
    return status;
}

int show(const GuitarOptions& options, const fs::path& folder, std::ostream& out, std::ostream& err) {
    const auto profile = load_guitar(folder, options.name);
    if (!profile) return refuse(err, profile.error().message);
    if (!*profile) return refuse(err, "no guitar " + gripline::quoted(options.name) + " is set up; gripline guitar list tells which are");
    if (options.json) out << guitar_json(**profile) << '\n';
    else show_guitar(**profile, out);
    return kExitDone;
}

int remove(const GuitarOptions& options, const fs::path& folder, std::istream& in, std::ostream& out, std::ostream& err) {
    if (!fs::exists(fs::symlink_status(folder / guitar_file_name(options.name)))) return refuse(err, "no guitar " + gripline::quoted(options.name) + " is set up; nothing was deleted");
    if (!options.yes) {
        if (isatty(STDIN_FILENO) == 0) return refuse(err, "nothing was deleted: say --yes, or answer on a terminal");
        out << "Delete the set-up of " << gripline::quoted(options.name) << " for good? Attempts played on it stay. Type yes: " << std::flush;
        std::string answer;
        if (!std::getline(in, answer) || trimmed(answer) != "yes") return refuse(err, "nothing was deleted");
    }
    const auto gone = delete_guitar(folder, options.name);
    if (!gone) return refuse(err, gone.error().message);
    out << "The set-up of " << gripline::quoted(options.name) << " is deleted.\n";
    return kExitDone;
}

}  // namespace

void show_guitar(const GuitarProfile& profile, std::ostream& out) {
    out << plain_line(profile.name) << ", set up " << profile.made_on << " on " << plain_line(profile.input) << '\n';
    out << profile.tuning.text() << (profile.capo > 0 ? ", capo " + std::to_string(profile.capo) : "") << ", A4 = " << decimal(profile.a4_hz, 1) << " Hz; noise " << decimal(profile.noise_db, 0)
        << " dB, notes " << decimal(profile.level_db, 0) << " dB\n\n";
    TextTable table(out, {{"string", 6, true}, {"note", 4}, {"open", 14}, {"fret " + std::to_string(profile.fret) + " against it", 16}, {"stiffness", 9, true}, {"dB an octave", 12, true}});
    for (const ProfileString& string : profile.strings)
        table.row({std::to_string(string.string.number()), plain_name(MidiNote(string.open.midi)), cents_words(profile.open_cents(string)), cents_words(GuitarProfile::fretted_cents(string)),
                   decimal(string.open.stiffness, 6), decimal(dsp::tilt_db_per_octave(string.open), 1)});
    const auto notes = profile.notes();
    const dsp::ResponseCurve curve = dsp::response_of(notes);
    out << "\nGuitar, pickup or microphone, and room against an average guitar, dB:\n";
    for (int band = 0; band < dsp::kResponseBands; band += 2) {
        const float level = curve.gain_db[static_cast<std::size_t>(band)];
        const auto bars = static_cast<std::size_t>(std::lround(std::abs(level)));
        const std::string hz = decimal(dsp::ResponseCurve::band_hz(band), 0), db = decimal(static_cast<double>(level), 1);
        out << std::string(6 - std::min<std::size_t>(hz.size(), 6), ' ') << hz << " Hz " << std::string(6 - std::min<std::size_t>(db.size(), 6), ' ') << db << "  " << std::string(bars, level < 0.0F ? '-' : '+') << '\n';
    }
    const auto sentences = advice(profile);
    if (!sentences.empty()) out << '\n';
    for (const std::string& sentence : sentences) out << sentence << '\n';
}

int guitar(const GuitarOptions& asked, std::istream& in, std::ostream& out, std::ostream& err) {
    GuitarOptions options = asked;
    if (options.verb == GuitarVerb::list) return list(options, guitars_folder(), out, err);
    options.name = std::string(trimmed(options.name));
    if (options.name.empty()) options.name = load_settings(settings_path()).settings.guitar;
    if (options.name.empty()) return refuse(err, "no guitar is remembered yet: name it, such as gripline guitar set-up archtop");
    if (const auto bad = check_name(options.name, "guitar", false)) return refuse(err, bad->message);
    if (options.verb == GuitarVerb::set_up) return guitar_set_up(options, out, err);
    return options.verb == GuitarVerb::show ? show(options, guitars_folder(), out, err) : remove(options, guitars_folder(), in, out, err);
}

}  // namespace gripline

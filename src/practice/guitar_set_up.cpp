#include "practice/guitar_set_up.h"

#include <algorithm>
#include <cmath>

#include "practice/tuner.h"

namespace gripline {

namespace {

constexpr double kStill_db = 7.0;          // looks of 43 ms at noise scatter by 2 dB; a chair, a word or a string by far more
constexpr std::size_t kMostPitched = 8;    // of a second's readings: noise may look like a string for a moment, a ringing string does all along
constexpr std::size_t kPatience = 190;     // readings, 8 s: then the quietest second so far is taken
constexpr double kSteady_cents = 3.0;      // a note glides a little after the pluck
constexpr double kReach_cents = 99.0;      // further off it is named as the note that it is
constexpr double kFrettedReach_cents = 50.0;
constexpr double kPluckRise_db = 6.0;      // from one look of 43 ms to the next, as the pitch estimator has it
constexpr double kAboveNoise_db = 10.0;
constexpr double kBody_s = 0.235;          // after a pluck: the judge's last look at a strum
constexpr std::size_t kHop = 256;          // frames

double cents_between(double hz, double target_hz) { return 1200.0 * std::log2(hz / target_hz); }

template <std::size_t N>
double median(std::array<double, N> values) {
    std::nth_element(values.begin(), values.begin() + N / 2, values.end());
    return values[N / 2];
}

std::string where(const SetUpNote& note) { return "string " + std::to_string(note.string.number()) + (note.fret == 0 ? " open" : " at fret " + std::to_string(note.fret)); }

}  // namespace

GuitarSetUp::GuitarSetUp(const SetUpConfig& config) : config_(config), fret_(set_up_fret(config.tuning)), pitch_({.rate_hz = config.rate_hz}), memory_(config.rate_hz) { again(); }

void GuitarSetUp::process(std::span<const float> frames) {
    while (!frames.empty()) {
        const auto part = frames.first(std::min(kHop, frames.size()));
        frames = frames.subspan(part.size());
        memory_.process(part);
        pitch_.process(part);
        dsp::PitchReading reading;
        while (pitch_.take(reading)) take(reading);
    }
}

void GuitarSetUp::again() {
    view_ = {};
    for (const int fret : {0, fret_}) {
        for (int number = config_.tuning.strings(); number >= 1; --number) {
            const MidiNote note = config_.tuning.open(StringNumber(number)).up(config_.capo + fret);
            SetUpNote asked;
            asked.string = StringNumber(number);
            asked.fret = fret;
            asked.note = note;
            asked.target_hz = frequency_hz(note, config_.a4_hz);
            view_.notes.push_back(std::move(asked));
        }
    }
    levels_count_ = 0;
    pitched_.fill(false);
    quietest_db_ = 200.0;
    wait_for_pluck();
}

void GuitarSetUp::wait_for_pluck() noexcept {
    pluck_s_.reset();
    body_heard_ = false;
    count_ = 0;
    view_.part = 0.0;
}

void GuitarSetUp::back() {
    if (view_.stage == SetUpStage::quiet || view_.at == 0) return again();
    if (view_.stage == SetUpStage::notes) --view_.at;  // when done the last one is the one before
    view_.stage = SetUpStage::notes;
    view_.notes[view_.at].voice.reset();
    view_.heard.clear();
    wait_for_pluck();
}

void GuitarSetUp::take(const dsp::PitchReading& reading) {
    view_.level_db = reading.level_db;
    if (view_.stage == SetUpStage::quiet) listen_for_quiet(reading);
    else if (view_.stage == SetUpStage::notes) listen_for_note(reading);
    last_level_db_ = reading.level_db;
}

void GuitarSetUp::listen_for_note(const dsp::PitchReading& reading) {
    if (reading.level_db > last_level_db_ + kPluckRise_db && reading.level_db > *view_.noise_db + kAboveNoise_db) {
        wait_for_pluck();
        pluck_s_ = reading.at_s;
        peak_db_ = reading.level_db;
    }
    if (!pluck_s_) return;
    peak_db_ = std::max(peak_db_, reading.level_db);
    if (!body_heard_ && reading.at_s >= *pluck_s_ + kBody_s) {
        memory_.look(*pluck_s_, *pluck_s_ + kBody_s, body_);
        body_heard_ = true;
    }
    if (reading.hz <= 0.0) return;
    hz_[count_ % kSteadySpan] = reading.hz;
    stiffness_[count_ % kSteadySpan] = reading.stiffness;
    ++count_;
    const auto [least, most] = std::minmax_element(hz_.begin(), hz_.end());
    view_.part = std::min(0.95, static_cast<double>(count_) / kSteadySpan);
    if (body_heard_ && count_ >= kSteadySpan && cents_between(*most, *least) < kSteady_cents) settle(median(hz_), median(stiffness_));
}

void GuitarSetUp::listen_for_quiet(const dsp::PitchReading& reading) {
    pitched_[levels_count_ % kQuietSpan] = reading.hz > 0.0;
    levels_[levels_count_++ % kQuietSpan] = reading.level_db;
    const auto pitched = static_cast<std::size_t>(std::count(pitched_.begin(), pitched_.end(), true));
    view_.part = std::min(1.0, static_cast<double>(levels_count_) / kQuietSpan) * (pitched > kMostPitched ? 0.5 : 1.0);
    if (levels_count_ < kQuietSpan || pitched > kMostPitched) return;
    double power = 0.0;
    for (const double level : levels_) power += std::pow(10.0, level / 10.0) / kQuietSpan;
    const double mean_db = 10.0 * std::log10(std::max(power, 1e-12));
    quietest_db_ = std::min(quietest_db_, mean_db);
    const double loudest_db = *std::max_element(levels_.begin(), levels_.end());
    const bool still = loudest_db - median(levels_) < kStill_db || loudest_db <= -119.0;
    if (!still && levels_count_ < kPatience) return;
    view_.noise_db = still ? mean_db : quietest_db_;
    view_.stage = SetUpStage::notes;
    wait_for_pluck();
}

void GuitarSetUp::settle(double first_hz, double stiffness) {
    SetUpNote& asked = view_.notes[view_.at];
    const double cents = cents_between(first_hz, asked.target_hz);
    const int semitones = static_cast<int>(std::lround(cents / 100.0));
    view_.heard.clear();
    if (std::abs(cents) > (asked.fret == 0 ? kReach_cents : kFrettedReach_cents)) {
        const MidiNote note = asked.note.up(semitones);
        view_.heard = "Heard " + plain_name(note) + "; " + where(asked) + " is " + plain_name(asked.note) + ".";
        if (asked.fret != 0 && semitones == -asked.fret) view_.heard = "Heard the open string; hold it down at fret " + std::to_string(asked.fret) + ".";
        return wait_for_pluck();
    }
    if (std::abs(cents) > kTooFarOut_cents) {
        asked.out_cents = cents;
        view_.heard = "String " + std::to_string(asked.string.number()) + (asked.fret == 0 ? "" : " at fret " + std::to_string(asked.fret)) + " is " + cents_words(cents) +
                      (asked.fret == 0 ? ": tune it, then play it again." : ": press straight down, then play it again.");
        return wait_for_pluck();
    }
    const dsp::NoteVoice voice = dsp::measure_note(body_, asked.note.number(), first_hz, stiffness);
    if (std::all_of(voice.partial_db.begin(), voice.partial_db.end(), [](float level) { return level <= dsp::kNoPartial_db; })) {
        view_.heard = "Too soft against the noise: play it louder.";
        return wait_for_pluck();
    }
    asked.out_cents.reset();
    asked.voice = voice;
    asked.level_db = peak_db_;
    if (++view_.at == view_.notes.size()) {
        view_.stage = SetUpStage::done;
        view_.at = view_.notes.size() - 1;
    }
    wait_for_pluck();
}

std::optional<std::string> GuitarSetUp::refusal() const {
    std::string out;
    for (const SetUpNote& note : view_.notes) {
        if (!note.out_cents) continue;
        out += (out.empty() ? "string " : ", string ") + std::to_string(note.string.number()) + (note.fret == 0 ? "" : " at fret " + std::to_string(note.fret)) + " is " + cents_words(*note.out_cents);
    }
    if (out.empty()) return std::nullopt;
    return out + ": tune before setting up";
}

Result<GuitarProfile> GuitarSetUp::profile() const {
    if (view_.stage == SetUpStage::quiet) return Error{"no quiet second was heard; damp all strings at the beginning and keep still"};
    if (const auto out = refusal()) return Error{*out};
    if (view_.stage != SetUpStage::done) {
        const SetUpNote& missing = view_.notes[view_.at];
        return Error{"note " + std::to_string(view_.at + 1) + " of " + std::to_string(view_.notes.size()) + ", " + where(missing) + " (" + plain_name(missing.note) + "), was not heard" +
                     (view_.heard.empty() ? "" : ". " + view_.heard)};
    }
    GuitarProfile out;
    out.tuning = config_.tuning;
    out.capo = config_.capo;
    out.a4_hz = config_.a4_hz;
    out.fret = fret_;
    out.noise_db = *view_.noise_db;
    std::vector<double> levels;
    const std::size_t strings = view_.notes.size() / 2;
    for (std::size_t i = 0; i < strings; ++i) {
        out.strings.push_back({view_.notes[i].string, *view_.notes[i].voice, *view_.notes[i + strings].voice});
        levels.push_back(view_.notes[i].level_db);
        levels.push_back(view_.notes[i + strings].level_db);
    }
    std::nth_element(levels.begin(), levels.begin() + static_cast<std::ptrdiff_t>(levels.size() / 2), levels.end());
    out.level_db = levels[levels.size() / 2];
    return out;
}

std::string set_up_words(const SetUpView& view) {
    if (view.stage == SetUpStage::quiet) return "Damp all strings and keep still";
    if (view.stage == SetUpStage::done) return "Done: all notes heard";
    const SetUpNote& asked = view.notes[view.at];
    return "Play " + where(asked) + ": " + plain_name(asked.note);
}

}  // namespace gripline

// The guided set-up of a guitar: a second of quiet, each open string, one fretted note on each. It goes on by itself. Pure: sound in, a view and
// a profile out, live and from a recording alike.
#pragma once

#include <array>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "dsp/pitch.h"
#include "dsp/sound_memory.h"
#include "practice/guitar_profile.h"

namespace gripline {

struct SetUpConfig {
    int rate_hz = 48000;   ///< of the sound, 8000 to 192000
    Tuning tuning = Tuning();
    int capo = 0;
    double a4_hz = 440.0;  ///< 415 to 466
};

/// One thing that is asked.
struct SetUpNote {
    StringNumber string{6};
    int fret = 0;
    MidiNote note;
    double target_hz = 0.0;
    double level_db = -120.0;             ///< as heard
    std::optional<dsp::NoteVoice> voice;  ///< once it was heard
    std::optional<double> out_cents;      ///< refused: so far from its note
};

enum class SetUpStage { quiet, notes, done };

struct SetUpView {
    SetUpStage stage = SetUpStage::quiet;
    std::vector<SetUpNote> notes;  ///< in the order in which they are asked
    std::size_t at = 0;            ///< the one asked now
    double part = 0.0;             ///< 0 to 1: how much of what is asked now was heard
    double level_db = -120.0;      ///< now, RMS of 43 ms
    std::optional<double> noise_db;
    std::string heard;             ///< what was heard instead of what was asked, and what to do; empty: nothing
};

class GuitarSetUp {
public:
    explicit GuitarSetUp(const SetUpConfig& config = {});
    /// Any number of mono frames, full scale = 1. What comes of them does not depend on how they are cut.
    void process(std::span<const float> frames);
    /// Asks for the note before once more.
    void back();
    /// From the beginning.
    void again();
    [[nodiscard]] const SetUpView& view() const noexcept { return view_; }
    [[nodiscard]] const SetUpConfig& config() const noexcept { return config_; }
    /// Strings that were more than 40 cents out when last heard: "string 5 is 62 cents flat: tune before setting up". Nothing: none is.
    [[nodiscard]] std::optional<std::string> refusal() const;
    /// What was found, with nobody's name on it yet. Once the stage is `done`; before that an error that says what is missing.
    [[nodiscard]] Result<GuitarProfile> profile() const;

private:
    void take(const dsp::PitchReading& reading);
    void listen_for_quiet(const dsp::PitchReading& reading);
    void listen_for_note(const dsp::PitchReading& reading);
    void settle(double first_hz, double stiffness);
    void wait_for_pluck() noexcept;
    static constexpr std::size_t kQuietSpan = 24;  ///< readings, a second
    static constexpr std::size_t kSteadySpan = 8;  ///< a third of a second

    SetUpConfig config_;
    int fret_;
    dsp::PitchEstimator pitch_;
    dsp::SoundMemory memory_;
    SetUpView view_;
    // Quiet.
    std::array<double, kQuietSpan> levels_{};
    std::array<bool, kQuietSpan> pitched_{};
    std::size_t levels_count_ = 0;
    double quietest_db_ = 200.0;
    // The note asked.
    std::optional<double> pluck_s_;
    double last_level_db_ = -120.0, peak_db_ = -120.0;
    dsp::Spectrum body_{};
    bool body_heard_ = false;
    std::array<double, kSteadySpan> hz_{}, stiffness_{};
    std::size_t count_ = 0;
};

/// "Damp all strings and keep still", "Play string 6 open: E2", "Play string 6 at fret 7: B2", "Done".
[[nodiscard]] std::string set_up_words(const SetUpView& view);

}  // namespace gripline

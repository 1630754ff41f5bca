// Explains a spectrum by notes: stiff-string templates, a non-negative fit, and what each note's own partials say.
#pragma once

#include <array>
#include <complex>
#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "dsp/strum_evidence.h"

namespace gripline::dsp {

/// How well a set of notes explains the body of a strum, in the square-root-of-magnitude domain, as shares of the body's energy there.
/// Bands: below 400 Hz, 400 Hz to 1.2 kHz, above.
struct Fit {
    static constexpr int kBands = 3;
    std::array<float, kBands> unexplained{};  ///< sound that the notes do not predict
    std::array<float, kBands> absent{};       ///< prediction that the sound does not have
    [[nodiscard]] float error() const noexcept {
        return unexplained[0] + unexplained[1] + unexplained[2] + absent[0] + absent[1] + absent[2];
    }
};

/// What the spectrum says of one note while others sound: a row of numbers of order 1 for the judge's model.
inline constexpr int kNoteFeaturePartials = 8;
inline constexpr int kPartialMeasures = 16;
inline constexpr int kNoteFeatures = kPartialMeasures * kNoteFeaturePartials + 33;
using NoteFeatures = std::array<float, kNoteFeatures>;

struct ExpectedNotes;

/// Notes are MIDI numbers. One bank serves one thread; it allocates in the constructor only.
class NoteBank {
public:
    static constexpr int kLowest = 28, kHighest = 96;
    static constexpr int kPartials = 12;
    static constexpr int kTilts = 3;
    static constexpr int kMostNotes = 8;  ///< in one fit

    NoteBank();
    /// Sets the sound to explain. `offset_cents`: the guitar against A4 = 440 Hz. `expected`: what is known of its notes, until the next begin(); or nullptr.
    void begin(const StrumEvidence& evidence, double offset_cents, const ExpectedNotes* expected = nullptr) noexcept;
    /// Fits the notes (at most kMostNotes, kLowest..kHighest) and keeps the prediction for `features`.
    Fit fit(std::span<const int> notes) noexcept;
    /// Finds the notes' weights alone; the prediction of the last fit stays.
    void weigh(std::span<const int> notes) noexcept;
    /// Weight of the note at `index` in the last fit or weighing: the root of its energy against the strongest partial's.
    [[nodiscard]] float weight(std::size_t index) const noexcept { return note_weights_[index]; }
    /// Writes into a row how loud the note at `index` of the last fit is against the other notes there.
    void add_loudness(std::size_t index, std::size_t count, NoteFeatures& row) const noexcept;
    /// Evidence for `note` while `others` sound, against the prediction of the last fit (made with the others alone).
    [[nodiscard]] NoteFeatures features(int note, std::span<const int> others) noexcept;
    /// Share of the sound that one more note would explain beyond the last fit (an upper bound: the others' weights stay).
    [[nodiscard]] float further_gain(int note) noexcept;
    /// Least-squares gain of the best single weight for `note` on its own, a salience for transcription.
    [[nodiscard]] float salience(int note) noexcept;

private:
    struct Partial {
        float hz = 0.0F;
        int first_bin = 0;
        int bins = 0;
        std::array<float, 40> lobe{};
    };
    /// What the sound has at a partial's place, whatever other notes are taken to sound: asked for several times, measured once.
    struct Place {
        bool measured = false;
        float top = 0.0F;  ///< magnitude in the body
        float level_db = 0.0F, contrast_db = 0.0F;
        float decay = 0.0F, before = 0.0F;  ///< as in a row
    };
    struct Note {
        bool ready = false;
        int partials = 0;
        float cents = 0.0F;  ///< fine offset of this note against the guitar's
        std::array<Partial, kPartials> partial{};
        std::array<float, kTilts> match{};  ///< column . sound
        std::array<float, kTilts> norm{};
        std::array<Place, kNoteFeaturePartials> at{};
    };
    /// A fit that was solved already for this sound.
    struct Solved {
        int count = 0;
        std::array<int, kMostNotes> notes{};
        std::array<float, kMostNotes * kTilts> weights{};
        bool error_known = false;
        Fit error;
    };
    Note& note(int midi) noexcept;
    Solved& solve(std::span<const int> notes) noexcept;
    void predict() noexcept;
    [[nodiscard]] Fit error_of_prediction() const noexcept;
    void place(Note& note, int midi) noexcept;
    [[nodiscard]] static float shared_by(const Partial& a, const Partial& b) noexcept;
    void add_column(const Note& note, int tilt, float weight, std::span<float> onto) const noexcept;
    [[nodiscard]] float dot(const Note& note, int tilt, std::span<const float> with) const noexcept;
    [[nodiscard]] std::array<float, kTilts * kTilts>& gram(int a, int b) noexcept;
    /// Magnitudes in the earlier and the later window, which are equally long, and how the phase went on between them.
    struct Alone {
        float earlier = 0.0F, later = 0.0F;
        float steady = 0.0F;  ///< cosine of the phase by which the later window misses what the partial's frequency foretells: 1 for a string
        float off_hz = 0.0F;  ///< frequency that would explain the phase, against the partial's, within half a turn between the windows
        float whole = 0.0F;   ///< magnitude in the window that holds both, which tells partials apart that lie half as far from one another
        float rest = 0.0F;    ///< what this partial and those near it leave unexplained beside it in that window, root mean square
        float rang = 0.0F;    ///< magnitude of what sounded at this place just before the strum
        float goes_on = 0.0F; ///< share of the earlier window's energy here that is what rang before, its phase gone on at the partial's frequency: 1 for a string not struck anew
    };
    /// One partial's measures, and what they come from.
    struct PartialRow {
        std::array<float, kPartialMeasures> row{};
        float apart = 0.0F;  ///< how well the long window tells it from the nearest other partial, 0 to 1
        Alone alone;
    };
    [[nodiscard]] PartialRow measure_partial(const Place& at, float hz, std::span<const int> others) noexcept;
    [[nodiscard]] Place measure_place(float hz) const noexcept;
    /// The partial at `hz` alone while those at `near_hz` sound too.
    [[nodiscard]] Alone alone(float hz, std::span<const float> near_hz) const noexcept;
    void compare_with_before(float hz, std::complex<float> early_alone, Alone& out) const noexcept;
    void alone_in_whole(float hz, std::span<const float> near_hz, Alone& out) const noexcept;
    [[nodiscard]] float peak(const Spectrum& spectrum, float hz, float half_width_hz) const noexcept;
    [[nodiscard]] float envelope_near(float hz) const noexcept;
    [[nodiscard]] float floor_near(const Spectrum& spectrum, float hz, float inner_hz, float outer_hz) const noexcept;

    const StrumEvidence* evidence_ = nullptr;
    const ExpectedNotes* expected_ = nullptr;
    double offset_cents_ = 0.0;
    float lobe_half_hz_ = 20.0F;
    float reference_ = 1.0F;   ///< largest magnitude of the body
    float total_ = 1.0F;       ///< energy of root_
    Spectrum root_{};          ///< square root of the body less half of what sounded before
    Spectrum predicted_{};
    Solved to_predict_;            ///< the fit that predicted_ is of, or will be of when it is looked at
    bool prediction_due_ = false;  ///< predicted_ waits until it is looked at
    Spectrum column_{};
    std::array<float, kMostNotes> note_weights_{};
    std::vector<Solved> solved_;      // a ring of the latest
    std::size_t solved_count_ = 0;
    std::vector<Note> notes_;
    std::vector<std::array<float, kTilts * kTilts>> gram_;
    std::vector<std::uint8_t> gram_ready_;
};

/// Where a note's partials lie on a known guitar.
struct ExpectedNote {
    double cents = 0.0;       ///< against the whole guitar; + is sharp
    double stiffness = 8e-5;  ///< B in n f0 sqrt(1 + B n^2) (Fletcher 1964)
};
struct ExpectedNotes {
    std::array<std::optional<ExpectedNote>, NoteBank::kHighest - NoteBank::kLowest + 1> notes;
    /// nullptr: unknown.
    [[nodiscard]] const ExpectedNote* of(int midi) const noexcept {
        if (midi < NoteBank::kLowest || midi > NoteBank::kHighest) return nullptr;
        const auto& note = notes[static_cast<std::size_t>(midi - NoteBank::kLowest)];
        return note ? &*note : nullptr;
    }
};

}  // namespace gripline::dsp

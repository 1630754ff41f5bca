// A small fitted model that turns the weighing's numbers into chances. Its coefficients are a table made by tests/bench/training.
#pragma once

#include <array>
#include <cstddef>
#include <span>
#include <vector>

#include "judge/weighing.h"

namespace gripline {

/// Sizes of the model's layers; the table in model_table.cpp must match.
inline constexpr int kNoteInputs = dsp::kNoteFeatures + 3;
inline constexpr int kNoteHidden = 48;
inline constexpr int kNoteOutputs = 12;
inline constexpr int kHypothesisInputs = kMargins + kCommon + kKinds + 6 + 3 * kNoteOutputs;
inline constexpr int kHypothesisHidden = 40;
inline constexpr int kHypothesisHidden2 = 16;

/// One dense layer: weights by input (inputs x outputs, row-major), so that all outputs grow side by side; then biases.
template <std::size_t Inputs, std::size_t Outputs>
struct Layer {
    std::array<float, Inputs * Outputs> weights;
    std::array<float, Outputs> biases;
};

struct ModelTable {
    Layer<kNoteInputs, kNoteHidden> note1;
    Layer<kNoteHidden, kNoteOutputs> note2;
    Layer<kHypothesisInputs, kHypothesisHidden> hypothesis1;
    Layer<kHypothesisHidden, kHypothesisHidden2> hypothesis2;
    Layer<kHypothesisHidden2, 1> score;
};
/// Models of one shape, fitted from different beginnings, whose chances are averaged: what one has learned by chance weighs a third.
inline constexpr int kModels = 3;
extern const std::array<ModelTable, kModels> kModelTables;

/// Turns weighings into chances; keeps its scratch space from one to the next.
class Chances {
public:
    /// Chance of every weighed hypothesis, in their order, summing to 1, valid until the next call. `hypotheses`: the list that was weighed.
    /// What each note's own partials say is summed over the notes that a hypothesis adds and removes, and over all that were asked, which tell how clearly this guitar is heard at all;
    /// the sums, the fit margins and the common numbers give a score; a softmax over all hypotheses gives the chances, which are averaged over the models.
    /// The last of the weighed hypotheses must be that nothing was played.
    std::span<const float> of(const Weighing& weighing, std::span<const Hypothesis> hypotheses);

private:
    using NoteSays = std::array<float, kNoteOutputs>;
    void hear_notes(const ModelTable& model, const Weighing& weighing);
    [[nodiscard]] NoteSays said_of(std::span<const int> rows) const;
    [[nodiscard]] float score_of(const ModelTable& model, const Weighing& weighing, const WeighedHypothesis& w, const Hypothesis& h) const;

    std::vector<float> chance_, grown_;
    std::vector<char> removed_;     // by row of the weighing's notes: 1 when a hypothesis lacks the note, 0 when one adds it
    std::vector<NoteSays> says_;    // by row, of the model at work
    NoteSays all_asked_say_{};
};

}  // namespace gripline

#include "judge/model.h"

#include <algorithm>
#include <cmath>

namespace gripline {

namespace {

template <std::size_t Inputs, std::size_t Outputs>
std::array<float, Outputs> apply(const Layer<Inputs, Outputs>& layer, const std::array<float, Inputs>& in, bool rectify) {
    std::array<float, Outputs> out;
    const float* w = layer.weights.data();
    for (std::size_t o = 0; o < Outputs; ++o) {
        float sum = layer.biases[o];
        for (std::size_t i = 0; i < Inputs; ++i) sum += *w++ * in[i];
        out[o] = rectify ? std::max(0.0F, sum) : sum;
    }
    return out;
}

using NoteSays = std::array<float, kNoteOutputs>;

NoteSays note_says(const dsp::NoteFeatures& features, bool added, float time) {
    std::array<float, kNoteInputs> in;
    std::copy(features.begin(), features.end(), in.begin());
    in[dsp::kNoteFeatures] = added ? 1.0F : 0.0F;
    in[dsp::kNoteFeatures + 1] = added ? 0.0F : 1.0F;
    in[dsp::kNoteFeatures + 2] = time;
    return apply(kModelTable.note2, apply(kModelTable.note1, in, true), true);
}

}  // namespace

void chances(const Weighing& weighing, std::span<const Hypothesis> hypotheses, std::vector<float>& out) {
    const float time = weighing.common[7];
    out.clear();
    float top = -1e30F;
    for (const WeighedHypothesis& w : weighing.hypotheses) {
        const Hypothesis& h = hypotheses[static_cast<std::size_t>(w.index)];
        std::array<float, kHypothesisInputs> in{};
        auto at = std::copy(w.margins.begin(), w.margins.end(), in.begin());
        at = std::copy(weighing.common.begin(), weighing.common.end(), at);
        at[w.kind] = 1.0F;
        at += kKinds;
        *at++ = static_cast<float>(h.frets) / 3.0F;
        *at++ = static_cast<float>(std::abs(h.frets)) / 3.0F;
        *at++ = static_cast<float>(w.added.size()) / 3.0F;
        *at++ = static_cast<float>(w.removed.size()) / 3.0F;
        *at++ = static_cast<float>(h.string) / 6.0F;
        *at++ = h.right ? 1.0F : 0.0F;
        for (const bool added : {true, false}) {
            for (const int row : added ? w.added : w.removed) {
                const NoteSays says = note_says(weighing.notes[static_cast<std::size_t>(row)], added, time);
                for (std::size_t i = 0; i < says.size(); ++i) at[static_cast<std::ptrdiff_t>(i)] += says[i];
            }
            at += kNoteOutputs;
        }
        const float score = apply(kModelTable.score, apply(kModelTable.hypothesis2, apply(kModelTable.hypothesis1, in, true), true), false)[0];
        out.push_back(score);
        top = std::max(top, score);
    }
    float sum = 0.0F;
    for (float& v : out) sum += v = std::exp(v - top);
    for (float& v : out) v /= sum;
}

}  // namespace gripline

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

NoteSays note_says(const ModelTable& model, const dsp::NoteFeatures& features, bool added, float time) {
    std::array<float, kNoteInputs> in;
    std::copy(features.begin(), features.end(), in.begin());
    in[dsp::kNoteFeatures] = added ? 1.0F : 0.0F;
    in[dsp::kNoteFeatures + 1] = added ? 0.0F : 1.0F;
    in[dsp::kNoteFeatures + 2] = time;
    return apply(model.note2, apply(model.note1, in, true), true);
}

float score_of(const ModelTable& model, const Weighing& weighing, const WeighedHypothesis& w, const Hypothesis& h) {
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
            const NoteSays says = note_says(model, weighing.notes[static_cast<std::size_t>(row)], added, weighing.common[7]);
            for (std::size_t i = 0; i < says.size(); ++i) at[static_cast<std::ptrdiff_t>(i)] += says[i];
        }
        at += kNoteOutputs;
    }
    return apply(model.score, apply(model.hypothesis2, apply(model.hypothesis1, in, true), true), false)[0];
}

}  // namespace

void chances(const Weighing& weighing, std::span<const Hypothesis> hypotheses, std::vector<float>& out) {
    const std::size_t count = weighing.hypotheses.size();
    out.assign(count, 0.0F);
    std::vector<float> grown(count);
    for (const ModelTable& model : kModelTables) {
        float top = -1e30F, sum = 0.0F;
        for (std::size_t i = 0; i < count; ++i) {
            const WeighedHypothesis& w = weighing.hypotheses[i];
            grown[i] = score_of(model, weighing, w, hypotheses[static_cast<std::size_t>(w.index)]);
            top = std::max(top, grown[i]);
        }
        for (float& v : grown) sum += v = std::exp(v - top);
        for (std::size_t i = 0; i < count; ++i) out[i] += grown[i] / sum / static_cast<float>(kModels);
    }
}

}  // namespace gripline

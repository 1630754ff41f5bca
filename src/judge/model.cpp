#include "judge/model.h"

#include <algorithm>
#include <cmath>

#include "dsp/widest.h"

namespace gripline {

namespace {

template <std::size_t Inputs, std::size_t Outputs>
GRIPLINE_WIDEST std::array<float, Outputs> apply(const Layer<Inputs, Outputs>& layer, const std::array<float, Inputs>& in, bool rectify) {
    std::array<float, Outputs> out = layer.biases;
    const float* w = layer.weights.data();
    for (std::size_t i = 0; i < Inputs; ++i, w += Outputs)
        for (std::size_t o = 0; o < Outputs; ++o) out[o] += w[o] * in[i];
    if (rectify)
        for (float& v : out) v = std::max(0.0F, v);
    return out;
}

}  // namespace

void Chances::hear_notes(const ModelTable& model, const Weighing& weighing) {
    std::array<float, kNoteInputs> in;
    for (std::size_t row = 0; row < weighing.notes.size(); ++row) {
        std::copy(weighing.notes[row].begin(), weighing.notes[row].end(), in.begin());
        in[dsp::kNoteFeatures] = removed_[row] != 0 ? 0.0F : 1.0F;
        in[dsp::kNoteFeatures + 1] = removed_[row] != 0 ? 1.0F : 0.0F;
        in[dsp::kNoteFeatures + 2] = weighing.common[7];
        says_[row] = apply(model.note2, apply(model.note1, in, true), true);
    }
}

Chances::NoteSays Chances::said_of(std::span<const int> rows) const {
    NoteSays sum{};
    for (const int row : rows) {
        const NoteSays& says = says_[static_cast<std::size_t>(row)];
        for (std::size_t i = 0; i < sum.size(); ++i) sum[i] += says[i];
    }
    return sum;
}

float Chances::score_of(const ModelTable& model, const Weighing& weighing, const WeighedHypothesis& w, const Hypothesis& h) const {
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
    for (const auto* rows : {&w.added, &w.removed}) {
        const NoteSays sum = said_of(*rows);
        at = std::copy(sum.begin(), sum.end(), at);
    }
    std::copy(all_asked_say_.begin(), all_asked_say_.end(), at);
    return apply(model.score, apply(model.hypothesis2, apply(model.hypothesis1, in, true), true), false)[0];
}

std::span<const float> Chances::of(const Weighing& weighing, std::span<const Hypothesis> hypotheses) {
    const std::size_t count = weighing.hypotheses.size();
    chance_.assign(count, 0.0F);
    grown_.resize(count);
    says_.resize(weighing.notes.size());
    removed_.assign(weighing.notes.size(), 0);
    for (const WeighedHypothesis& w : weighing.hypotheses)
        for (const int row : w.removed) removed_[static_cast<std::size_t>(row)] = 1;
    for (const ModelTable& model : kModelTables) {
        hear_notes(model, weighing);
        all_asked_say_ = said_of(weighing.hypotheses.back().removed);  // that nothing was played removes them all
        float top = -1e30F, sum = 0.0F;
        for (std::size_t i = 0; i < count; ++i) {
            const WeighedHypothesis& w = weighing.hypotheses[i];
            grown_[i] = score_of(model, weighing, w, hypotheses[static_cast<std::size_t>(w.index)]);
            top = std::max(top, grown_[i]);
        }
        for (float& v : grown_) sum += v = std::exp(v - top);
        for (std::size_t i = 0; i < count; ++i) chance_[i] += grown_[i] / sum / static_cast<float>(kModels);
    }
    return chance_;
}

}  // namespace gripline

// Weighings on disk, for load_weighings.py: OUT.cases, OUT.hypotheses and OUT.notes are rows of packed little-endian numbers, OUT.truth is text.
#pragma once

#include <fstream>
#include <span>
#include <string>

#include "base/result.h"
#include "judge/weighing.h"
#include "training/training_set.h"

namespace gripline::training {

/// Rows of notes that a hypothesis may name, added and removed each.
inline constexpr int kMostRows = 8;

/// One look at one strum for one case. Its hypotheses and notes follow those of the look before in their own files.
struct Look {
    int case_id = 0;
    int step = 0;
    int label = -1;          ///< the true one among the weighed hypotheses; -1: none of them
    double heard_s = 0.0;    ///< sound heard, from the onset
    double onset_error_s = 0.0;
};

class WeighingFile {
public:
    /// An error when a file can't be written.
    static Result<WeighingFile> create(const std::string& out);
    void write(const Look& look, const Weighing& weighing, std::span<const Hypothesis> hypotheses);
    void write_truth(const TrainingCase& asked);
    /// False once anything failed to be written.
    [[nodiscard]] bool good() const { return cases_.good() && hypotheses_.good() && notes_.good() && truth_.good(); }

private:
    WeighingFile() = default;
    std::ofstream cases_, hypotheses_, notes_, truth_;
};

}  // namespace gripline::training

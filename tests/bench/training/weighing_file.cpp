#include "training/weighing_file.h"

#include <algorithm>
#include <array>
#include <cstdint>

namespace gripline::training {

namespace {

/// dtype CASE of load_weighings.py.
struct CaseRecord {
    std::int32_t case_id, step, label, hypotheses, notes;
    float heard_s, onset_error_s;
    float common[kCommon];
};
static_assert(sizeof(CaseRecord) == 4 * (7 + kCommon));

/// dtype HYPOTHESIS of load_weighings.py.
#pragma pack(push, 1)
struct HypothesisRecord {
    std::int8_t kind, string, frets, right;
    float error;
    float margins[kMargins];
    std::int8_t added, removed;
    std::int16_t rows[2 * kMostRows];  ///< added, then removed; -1 where there is none
};
#pragma pack(pop)
static_assert(sizeof(HypothesisRecord) == 10 + 4 * kMargins + 4 * kMostRows);

template <class Record>
void put(std::ofstream& out, const Record& record) {
    out.write(reinterpret_cast<const char*>(&record), sizeof record);
}

void copy_rows(std::span<const int> rows, std::int16_t* out) {
    for (std::size_t i = 0; i < std::min<std::size_t>(rows.size(), kMostRows); ++i) out[i] = static_cast<std::int16_t>(rows[i]);
}

HypothesisRecord record_of(const WeighedHypothesis& weighed, const Hypothesis& hypothesis) {
    HypothesisRecord record{};
    record.kind = static_cast<std::int8_t>(weighed.kind);
    record.string = static_cast<std::int8_t>(hypothesis.string);
    record.frets = static_cast<std::int8_t>(hypothesis.frets);
    record.right = hypothesis.right ? 1 : 0;
    record.error = weighed.error;
    std::copy(weighed.margins.begin(), weighed.margins.end(), record.margins);
    record.added = static_cast<std::int8_t>(weighed.added.size());
    record.removed = static_cast<std::int8_t>(weighed.removed.size());
    std::fill(std::begin(record.rows), std::end(record.rows), std::int16_t{-1});
    copy_rows(weighed.added, record.rows);
    copy_rows(weighed.removed, record.rows + kMostRows);
    return record;
}

}  // namespace

Result<WeighingFile> WeighingFile::create(const std::string& out) {
    WeighingFile file;
    file.cases_.open(out + ".cases", std::ios::binary);
    file.hypotheses_.open(out + ".hypotheses", std::ios::binary);
    file.notes_.open(out + ".notes", std::ios::binary);
    file.truth_.open(out + ".truth");
    if (!file.good()) return Error{out + ".cases and its fellows can't be written"};
    return file;
}

void WeighingFile::write(const Look& look, const Weighing& weighing, std::span<const Hypothesis> hypotheses) {
    CaseRecord record{};
    record.case_id = look.case_id;
    record.step = look.step;
    record.label = look.label;
    record.hypotheses = static_cast<std::int32_t>(weighing.hypotheses.size());
    record.notes = static_cast<std::int32_t>(weighing.notes.size());
    record.heard_s = static_cast<float>(look.heard_s);
    record.onset_error_s = static_cast<float>(look.onset_error_s);
    std::copy(weighing.common.begin(), weighing.common.end(), record.common);
    put(cases_, record);
    for (const WeighedHypothesis& weighed : weighing.hypotheses) put(hypotheses_, record_of(weighed, hypotheses[static_cast<std::size_t>(weighed.index)]));
    for (const dsp::NoteFeatures& features : weighing.notes) {
        std::array<_Float16, dsp::kNoteFeatures> halves;  // half the disk; three digits are plenty for numbers of order 1
        std::transform(features.begin(), features.end(), halves.begin(), [](float x) { return static_cast<_Float16>(x); });
        put(notes_, halves);
    }
}

void WeighingFile::write_truth(const TrainingCase& asked) {
    const Truth& truth = asked.truth;
    truth_ << asked.id << '\t' << asked.asked.name << '\t' << truth.guitar << '\t' << truth.family << '\t' << truth.kind << '\t' << truth.string << '\t' << truth.frets << '\t'
           << truth.sound << '\n';
}

}  // namespace gripline::training

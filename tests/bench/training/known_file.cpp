#include "training/known_file.h"

#include <algorithm>
#include <array>
#include <vector>

#include "judge/model.h"

namespace gripline::training {

Result<std::unique_ptr<KnownFile>> KnownFile::create(const std::string& set, const std::string& out) {
    auto sessions = read_sessions(set);
    if (!sessions) return sessions.error();
    auto file = std::make_unique<KnownFile>();
    file->sessions_ = std::move(*sessions);
    file->known_.open(out + ".known", std::ios::binary);
    file->chances_.open(out + ".chances", std::ios::binary);
    if (!file->known_ || !file->chances_) return Error{out + ".known can't be written"};
    return file;
}

bool KnownFile::begin(const std::string& take_file) {
    const auto found = sessions_.find(session_of(take_file));
    if (found == sessions_.end() || !found->second.profile) return false;
    guitar_ = known_guitar(*found->second.profile);
    return true;
}

const ExpectedNotes* KnownFile::ask(const Target& target) {
    expected_.emplace(guitar_, target);
    return &*expected_;
}

void KnownFile::write(const Weighing& weighing, std::span<const Hypothesis> hypotheses) {
    for (const dsp::KnownFeatures& row : weighing.known) {
        std::array<_Float16, dsp::kKnownFeatures> halves;
        std::transform(row.begin(), row.end(), halves.begin(), [](float x) { return static_cast<_Float16>(x); });
        known_.write(reinterpret_cast<const char*>(halves.data()), sizeof halves);
    }
    std::vector<float> chance;
    chances(weighing, hypotheses, chance);
    chances_.write(reinterpret_cast<const char*>(chance.data()), static_cast<std::streamsize>(chance.size() * sizeof(float)));
}

}  // namespace gripline::training

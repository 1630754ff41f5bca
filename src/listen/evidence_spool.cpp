#include "listen/evidence_spool.h"

#include <unistd.h>

#include <cstdlib>
#include <string>
#include <type_traits>

namespace gripline {

static_assert(std::is_trivially_copyable_v<dsp::StrumEvidence>);

EvidenceSpool::EvidenceSpool(const std::filesystem::path& folder, std::size_t most) : most_(most / sizeof(dsp::StrumEvidence)) {
    std::string name = (folder / ".heard-XXXXXX").string();
    const int opened = mkstemp(name.data());
    if (opened < 0) return;
    (void)unlink(name.c_str());
    file_.reset(fdopen(opened, "w+b"));
    if (file_ == nullptr) (void)close(opened);
    whole_ = file_ != nullptr;
}

void EvidenceSpool::put(const dsp::StrumEvidence& evidence) {
    whole_ = whole_ && count_ < most_ && std::fwrite(&evidence, sizeof evidence, 1, file_.get()) == 1;
    if (whole_) ++count_;
}

bool EvidenceSpool::replay(const EvidenceTaker& taker) {
    if (!whole_ || std::fflush(file_.get()) != 0 || std::fseek(file_.get(), 0, SEEK_SET) != 0) return false;
    const auto evidence = std::make_unique<dsp::StrumEvidence>();
    for (std::size_t i = 0; i < count_; ++i) {
        if (std::fread(evidence.get(), sizeof *evidence, 1, file_.get()) != 1) return false;
        if (!taker(*evidence)) break;
    }
    return true;
}

}  // namespace gripline

// What was heard of a take, put by and handed out again.
#include <doctest/doctest.h>

#include <memory>
#include <vector>

#include "listen/evidence_spool.h"
#include "support/temp_folder.h"

using namespace gripline;

namespace {

dsp::StrumEvidence numbered(int number) {
    dsp::StrumEvidence out;
    out.strum = static_cast<std::uint64_t>(number);
    out.onset_s = 0.1 * number;
    out.body.fill(static_cast<float>(number));
    out.later.bins.back() = {1.0F, static_cast<float>(number)};
    return out;
}

std::vector<int> replayed(EvidenceSpool& spool, std::size_t most = 1000) {
    std::vector<int> out;
    CHECK(spool.replay([&](const dsp::StrumEvidence& evidence) {
        CHECK(evidence.body.back() == evidence.later.bins.back().imag());
        CHECK(evidence.onset_s == 0.1 * static_cast<double>(evidence.strum));
        out.push_back(static_cast<int>(evidence.strum));
        return out.size() < most;
    }));
    return out;
}

}  // namespace

TEST_CASE("All that was put by comes back in order, as often as wanted, and nothing is left on the disk") {
    const test::TempFolder folder;
    EvidenceSpool spool(folder.path());
    for (int i = 1; i <= 20; ++i) spool.put(numbered(i));
    CHECK(spool.whole());
    const auto all = replayed(spool);
    REQUIRE(all.size() == 20);
    for (int i = 0; i < 20; ++i) CHECK(all[static_cast<std::size_t>(i)] == i + 1);
    CHECK(replayed(spool, 3) == std::vector{1, 2, 3});
    CHECK(replayed(spool).size() == 20);
    CHECK(std::filesystem::is_empty(folder.path()));
}

TEST_CASE("What could not all be kept says so, and is not handed out in part") {
    const test::TempFolder folder;
    EvidenceSpool nowhere(folder / "no such folder"), small(folder.path(), 3 * sizeof(dsp::StrumEvidence));
    CHECK_FALSE(nowhere.whole());
    nowhere.put(numbered(1));
    for (int i = 1; i <= 3; ++i) small.put(numbered(i));
    CHECK(small.whole());
    small.put(numbered(4));
    CHECK_FALSE(small.whole());
    for (EvidenceSpool* spool : {&nowhere, &small}) CHECK_FALSE(spool->replay([](const dsp::StrumEvidence&) { FAIL("a part was handed out"); return true; }));
}

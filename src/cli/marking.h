// Marks the strums of one take: many cases may ask about the same sound, which is listened to once, from its beginning.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "dsp/strum_evidence.h"
#include "formats/cases.h"
#include "judge/judge.h"

namespace gripline {

/// How far before `from_s` the first string may seem to sound: the onset's own uncertainty. Onsets are found within 20 ms in 95 of
/// 100 strums; the MIREX onset task takes 50 ms for found. Smaller than the gap between any two strums (a quaver at 300 beats is 100 ms).
inline constexpr double kOnsetSlack_s = 0.03;

/// A squeak, a knock or a click just ahead of a strum is no answer, there as in practice and walks: what begins within this of it is. Of 3004 right strums three had one 118 to 136 ms
/// ahead that was found as a strum of its own; two strums lie farther apart (a crotchet at 300 beats is 200 ms).
inline constexpr double kKnockAhead_s = 0.18;

/// The answer to one case.
struct CaseAnswer {
    Verdict verdict;         ///< unheard when no strum came
    bool any_strum = false;  ///< whether verdict's times mean anything
    std::vector<Weighed> leading;  ///< likeliest first, when asked for
    std::string error;       ///< not empty: the case could not be listened to, the verdict means nothing
};

/// Takes the evidence of a take and gives each case the first strum at or after its from_s; an unheard one gives way to what begins within kKnockAhead_s of it.
class TakeMarker {
public:
    /// `explain`: how many of the hypotheses behind each verdict to keep.
    explicit TakeMarker(const std::vector<const StrumCase*>& cases, std::size_t explain = 0, const JudgeConfig& judge = {});
    /// The next evidence, in the order of the sound.
    void consider(const dsp::StrumEvidence& evidence);
    /// Sound was heard up to stream_s, and evidence of all of it considered: what was unheard long before then stays so.
    void pass(double stream_s);
    /// True when every case has its answer: the rest of the take need not be heard.
    [[nodiscard]] bool done() const noexcept { return open_ == 0; }
    /// One answer a case, in the order given. Cases without a strum are unheard. `error`, if any, says why the take broke off: it becomes the
    /// answer of cases without a strum, and of those settled only by the end of their strum, which the break may have brought about.
    [[nodiscard]] std::vector<CaseAnswer> finish(const std::string& error);

private:
    struct Waiting {
        double from_s = 0.0;
        std::uint64_t strum = 0;  ///< 0: none in hand
        std::optional<double> knock_s{};  ///< the answer so far is an unheard strum that began then
        bool settled = false;
        bool at_its_end = false;  ///< settled by the strum's last evidence
        Judge judge;
        CaseAnswer answer;
    };
    void settle(Waiting& waiting) noexcept;

    std::vector<Waiting> waiting_;
    std::size_t explain_ = 0;
    std::size_t open_ = 0;
};

}  // namespace gripline

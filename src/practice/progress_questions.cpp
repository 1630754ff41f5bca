// Name-it in progress.h: how each question is answered.
#include <algorithm>

#include "practice/progress.h"

namespace gripline {

std::vector<ProgressQuestion> questions_answered(const ProgressSource& source) {
    std::vector<ProgressQuestion> out;
    for (const AnswerTally& each : source.answers) {
        auto found = std::find_if(out.begin(), out.end(), [&](const ProgressQuestion& one) { return one.question == each.question; });
        if (found == out.end()) found = out.insert(out.end(), {each.question, {}, {}});
        const auto times = static_cast<long>(each.count);
        const bool right = each.asked == each.answered;
        found->count += RateCount{times, right ? times : 0};
        if (!right) found->mixed_up.push_back(each);
    }
    for (ProgressQuestion& one : out)
        std::stable_sort(one.mixed_up.begin(), one.mixed_up.end(), [](const AnswerTally& a, const AnswerTally& b) { return a.count > b.count; });
    std::stable_sort(out.begin(), out.end(), [](const ProgressQuestion& a, const ProgressQuestion& b) { return a.count.attempts > b.count.attempts; });
    return out;
}

std::string ProgressQuestion::text() const {
    std::string out = question + ": " + rate_words(count);
    if (mixed_up.empty()) return out;
    const AnswerTally& most = mixed_up.front();
    return out + "; " + most.asked + " called " + most.answered + ": " + (most.count == 1 ? "once" : std::to_string(most.count) + " times");
}

}  // namespace gripline

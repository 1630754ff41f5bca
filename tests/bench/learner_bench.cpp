// What the scheduler is worth: simulated learners drilled by it and by simple rules. Prints tables; DEVELOPERS.md quotes them.
//   bench_learner [learners [first seed]]
#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <random>
#include <vector>

#include "practice/statistics_rate.h"
#include "support/drill.h"

using namespace gripline;
using namespace gripline::test;

namespace {

constexpr Rule kRules[] = {Rule::scheduler, Rule::random, Rule::worst, Rule::worst_of_five, Rule::told};
constexpr std::size_t kRuleCount = std::size(kRules);
enum class Kind { all, activation, tracing };

bool counts(Kind kind, std::uint32_t seed) { return kind == Kind::all || (seed % 2 == 0) == (kind == Kind::activation); }

void print_finding(std::uint32_t first, std::uint32_t learners, const DrillSetup& setup, const char* title) {
    std::printf("%s\n", title);
    for (const Rule rule : {Rule::scheduler, Rule::random, Rule::worst}) {
        RateCount all, cells;
        double singled = 0.0;
        for (std::uint32_t seed = first; seed < first + learners; ++seed) {
            const DrillOutcome outcome = drill(seed, rule, setup);
            all += {1, outcome.found == 3 ? 1 : 0};
            cells += {3, outcome.found};
            singled += outcome.singled_out;
        }
        std::printf("  %-18s all three found: %s; cells: %s; asked so often besides: %.1f of 93\n", word(rule).data(), rate_words(all).c_str(), rate_words(cells).c_str(),
                    singled / learners - 3.0 * cells.rate());
    }
}

double mean(const std::vector<double>& values) {
    double sum = 0.0;
    for (const double value : values) sum += value;
    return sum / static_cast<double>(values.size());
}

double quantile(std::vector<double> values, double share) {
    const auto at = values.begin() + static_cast<std::ptrdiff_t>(share * static_cast<double>(values.size() - 1));
    std::nth_element(values.begin(), at, values.end());
    return *at;
}
double median(const std::vector<double>& values) { return quantile(values, 0.5); }

/// 1 - of(a) / of(b) in per cent, with the interval of 2000 resamplings of the learners (Efron & Tibshirani 1993, percentiles).
template <class Of>
void print_fewer(const char* what, const std::vector<double>& a, const std::vector<double>& b, Of of) {
    std::mt19937 random(1);
    std::uniform_int_distribution<std::size_t> pick(0, a.size() - 1);
    std::vector<double> shares, some_a(a.size()), some_b(a.size());
    for (int round = 0; round < 2000; ++round) {
        for (std::size_t i = 0; i < a.size(); ++i) {
            const std::size_t one = pick(random);
            some_a[i] = a[one];
            some_b[i] = b[one];
        }
        shares.push_back(100.0 * (1.0 - of(some_a) / of(some_b)));
    }
    std::sort(shares.begin(), shares.end());
    std::printf("; scheduler's %s %.0f %% fewer (%.0f to %.0f)", what, 100.0 * (1.0 - of(a) / of(b)), shares[50], shares[1949]);
}

void print_belief(const std::vector<DrillOutcome>& outcomes) {
    std::printf("what the model said of an answer beforehand, and what came\n");
    double off = 0.0, all = 0.0;
    for (std::size_t tenth = 0; tenth < 10; ++tenth) {
        Believed sum;
        for (const DrillOutcome& outcome : outcomes) {
            sum.answers += outcome.believed[tenth].answers;
            sum.right += outcome.believed[tenth].right;
            sum.said += outcome.believed[tenth].said;
        }
        if (sum.answers == 0) continue;
        const auto answers = static_cast<double>(sum.answers);
        std::printf("  said %.0f %%, right %.0f %% of %ld\n", 100.0 * sum.said / answers, 100.0 * static_cast<double>(sum.right) / answers, sum.answers);
        off += std::abs(sum.said - static_cast<double>(sum.right));
        all += answers;
    }
    std::printf("  expected calibration error %.3f\n", off / all);
}

void print_bringing(std::uint32_t first, std::uint32_t learners) {
    std::vector<std::vector<DrillOutcome>> outcomes(kRuleCount);
    for (std::size_t rule = 0; rule < kRuleCount; ++rule)
        for (std::uint32_t seed = first; seed < first + learners; ++seed) outcomes[rule].push_back(drill(seed, kRules[rule]));
    print_belief(outcomes[0]);
    for (const Kind kind : {Kind::all, Kind::activation, Kind::tracing}) {
        std::printf("attempts until all 96 stand at 90 %% recall at once, %s\n", kind == Kind::all ? "all learners" : kind == Kind::activation ? "activation learners" : "all-or-none learners");
        std::vector<double> ours;
        for (std::size_t rule = 0; rule < kRuleCount; ++rule) {
            std::vector<double> attempts, needed, looks, spare;
            int missed = 0, in_hand = 0;
            for (std::uint32_t i = 0; i < learners; ++i) {
                if (!counts(kind, first + i)) continue;
                attempts.push_back(outcomes[rule][i].attempts);
                needed.push_back(outcomes[rule][i].needed);
                looks.push_back(outcomes[rule][i].first_looks);
                spare.push_back(outcomes[rule][i].to_spare);
                missed += outcomes[rule][i].reached ? 0 : 1;
                in_hand = std::max(in_hand, outcomes[rule][i].most_in_hand);
            }
            if (rule == 0) ours = attempts;
            const auto at = [&attempts](double share) { return quantile(attempts, share); };
            std::printf("  %-18s mean %.0f, median %.0f, quarters %.0f and %.0f, 95 %% %.0f; not within %d: %d of %zu; most new in hand %d", word(kRules[rule]).data(), mean(attempts), at(0.5), at(0.25),
                        at(0.75), at(0.95), kMostAttempts, missed, attempts.size(), in_hand);
            if (rule > 0) {
                print_fewer("mean", ours, attempts, mean);
                print_fewer("median", ours, attempts, median);
            }
            std::printf("\n    where they went, medians: %.0f to cells below 90 %%, %.0f first looks at others, %.0f to spare", median(needed), median(looks), median(spare));
            std::printf("\n");
        }
    }
}

}  // namespace

int main(int argc, char** argv) {
    const auto learners = static_cast<std::uint32_t>(argc > 1 ? std::atoi(argv[1]) : 400);
    const auto first = static_cast<std::uint32_t>(argc > 2 ? std::atoi(argv[2]) : 50000);
    if (learners < 2) return 2;
    std::printf("%u learners, seeds from %u; found: asked %d times or more within %d attempts\n", learners, first, kFoundAfter, kFindWithin);
    DrillSetup setup;
    setup.find_only = true;
    setup.least_other = 0.85;
    print_finding(first, learners, setup, "three cells planted among 93 that stand at 85 to 99 %");
    setup.least_other = 0.7;
    print_finding(first, learners, setup, "three cells planted among 93 of which some are weak as well (70 to 99 %; all-or-none learners: as many not known)");
    print_bringing(first, learners);
}

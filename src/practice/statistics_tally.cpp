#include "practice/statistics_tally.h"

#include <algorithm>
#include <cmath>

namespace gripline {

namespace {

double quantile(const std::vector<double>& sorted, double share) {
    const double at = share * static_cast<double>(sorted.size() - 1);
    const auto below = static_cast<std::size_t>(at);
    const std::size_t above = std::min(below + 1, sorted.size() - 1);
    return sorted[below] + (at - static_cast<double>(below)) * (sorted[above] - sorted[below]);
}

/// The rank (from 0) of the lower end of the median's interval: the largest r with P(Binomial(n, 1/2) < r) <= 0.025, less one. -1: none.
long lower_rank(long n) {
    double term = std::exp(-static_cast<double>(n) * std::log(2.0)), sum = 0.0;
    if (n > 1000) return static_cast<long>(std::floor(0.5 * static_cast<double>(n) - 0.5 * kTwoSided95 * std::sqrt(static_cast<double>(n)))) - 1;  // 2^-n would vanish
    long rank = -1;
    for (long r = 0; r < n / 2; ++r) {
        sum += term;
        if (sum > 0.025) break;
        rank = r;
        term *= static_cast<double>(n - r) / static_cast<double>(r + 1);
    }
    return rank;
}

}  // namespace

std::string frets_words(int frets) {
    const int many = std::abs(frets);
    if (many == 12) return frets > 0 ? "an octave high" : "an octave low";
    return (many == 1 ? "one fret " : std::to_string(many) + " frets ") + (frets > 0 ? "sharp" : "flat");
}

void Confusion::add(const Attempt& attempt) {
    if (attempt.verdict == VerdictKind::unheard || attempt.asking == Asking::name_it) return;
    ++attempts_;
    const Fault* fault = attempt.verdict == VerdictKind::wrong && !attempt.faults.empty() ? &attempt.faults.front() : nullptr;
    const int faulty = fault != nullptr && fault->string ? fault->string->number() : 0;
    for (const StringNumber string : attempt.strings.strings()) {
        Row& row = rows_[string.number()];
        ++row.sounded.attempts;
        if (string.number() != faulty) ++row.sounded.right;
    }
    if (fault == nullptr) return;
    if (fault->kind == FaultKind::shifted) ++shifted_[fault->frets];
    if (faulty == 0) return;
    Row& row = rows_[faulty];
    if (fault->kind == FaultKind::wrong_note) ++row.off_by_frets[fault->frets];
    if (fault->kind == FaultKind::missing_note) ++row.missing;
    if (fault->kind == FaultKind::extra_note) ++row.extra;
}

std::vector<Confusion::Row> Confusion::rows() const {
    std::vector<Row> out;
    for (auto at = rows_.rbegin(); at != rows_.rend(); ++at) {
        out.push_back(at->second);
        out.back().string = at->first;
    }
    return out;
}

std::optional<std::string> Confusion::commonest() const {
    if (attempts_ < kLeastAttemptsToJudge) return std::nullopt;
    struct Entry {
        std::string words;
        RateCount count;
    };
    std::vector<Entry> entries;
    for (const auto& [number, row] : rows_) {
        const std::string string = "string " + std::to_string(number) + ", ";
        const long asked = std::max(1L, row.sounded.attempts);
        for (const auto& [frets, times] : row.off_by_frets) entries.push_back({string + frets_words(frets), {asked, times}});
        if (row.missing > 0) entries.push_back({string + "not sounding", {asked, row.missing}});
        if (row.extra > 0) entries.push_back({string + "ringing unasked", {attempts_, row.extra}});
    }
    for (const auto& [frets, times] : shifted_) entries.push_back({"the whole grip " + frets_words(frets), {attempts_, times}});
    std::sort(entries.begin(), entries.end(), [](const Entry& a, const Entry& b) { return a.count.rate() > b.count.rate(); });
    if (entries.empty()) return std::nullopt;
    const Entry& first = entries.front();
    if (first.count.attempts < kLeastAttemptsToJudge || first.count.right < 2) return std::nullopt;
    for (auto other = entries.begin() + 1; other != entries.end(); ++other)
        if (difference_interval(first.count, other->count).low <= 0.0) return std::nullopt;
    return first.words + ": " + std::to_string(first.count.right) + " of " + std::to_string(first.count.attempts);
}

std::optional<AnswerTimes> answer_times(std::vector<double> times_s) {
    std::erase_if(times_s, [](double time_s) { return !std::isfinite(time_s) || time_s < 0.0; });
    if (times_s.empty()) return std::nullopt;
    std::sort(times_s.begin(), times_s.end());
    AnswerTimes out;
    out.count = static_cast<long>(times_s.size());
    out.median_s = quantile(times_s, 0.5);
    out.quarter_s = quantile(times_s, 0.25);
    out.three_quarters_s = quantile(times_s, 0.75);
    if (const long rank = lower_rank(out.count); rank >= 0) {
        out.median_low_s = times_s[static_cast<std::size_t>(rank)];
        out.median_high_s = times_s[times_s.size() - 1 - static_cast<std::size_t>(rank)];
    }
    return out;
}

std::optional<TempoCount> tempo_reached(std::vector<TempoCount> tempos) {
    std::sort(tempos.begin(), tempos.end(), [](const TempoCount& a, const TempoCount& b) { return a.tempo_bpm > b.tempo_bpm; });
    RateCount together;
    for (const TempoCount& tempo : tempos) {
        together += tempo.count;
        if (standing(together) == Standing::strong) return TempoCount{tempo.tempo_bpm, together};
    }
    return std::nullopt;
}

}  // namespace gripline

// What hearing costs, as ratios: sound seconds a CPU second, cost of a verdict, cost against window sizes, the worst live block; libaubio's onset detection
// on the same sound as a peer. Build with the preset bench; times are CPU time of this thread, so other load on the machine blurs them but little.
//   build/bench/tests/bench/bench_hearing [minutes of sound, default 2]
#include <aubio/aubio.h>
#include <time.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <memory>
#include <string>
#include <vector>

#include "dsp/pitch.h"
#include "dsp/real_fft.h"
#include "dsp/strums.h"
#include "judge/judge.h"

using namespace gripline;
using namespace gripline::test;

namespace {

constexpr int kRate_hz = 48000;
const char* const kGrips[] = {"8x89xx", "10-x-9-10-x-x", "12-x-10-12-x-x", "1x01xx", "3x23xx", "4x34xx", "6x55xx", "7x67xx"};

double cpu_s() {
    timespec now{};
    clock_gettime(CLOCK_THREAD_CPUTIME_ID, &now);
    return static_cast<double>(now.tv_sec) + 1e-9 * static_cast<double>(now.tv_nsec);
}

/// Walks at 120 beats a minute.
std::vector<float> walk(double minutes, int rate_hz) {
    std::vector<PlannedStrum> strums;
    const int beats = static_cast<int>(minutes * 120.0);
    for (int i = 0; i < beats; ++i) strums.push_back({.at_s = 0.5 + 0.5 * i, .grip = kGrips[i % 8], .ring_s = 0.42});
    return play(strums, 1.0 + 0.5 * beats, rate_hz);
}

template <class Work>
double cost_s(Work work) {
    const double begin = cpu_s();
    work();
    return cpu_s() - begin;
}

/// Hears a take as the program does, with one piece of evidence in hand at a time; how many there were.
std::size_t pieces_heard(std::span<const float> take, int rate_hz) {
    dsp::StrumChain chain({.rate_hz = rate_hz});
    std::size_t pieces = 0;
    for_each_evidence(chain, take, [&](const dsp::StrumEvidence&) { ++pieces; });
    return pieces;
}

/// `ratio` row: sound seconds a CPU second.
void speed(const char* what, double sound_s, double took_s) { std::printf("  %-44s %8.0f times real time\n", what, sound_s / took_s); }

void bench_chain(const std::vector<float>& take, double sound_s) {
    std::printf("the chain on one core (a walk at 120 beats a minute, %.0f s, %d Hz)\n", sound_s, kRate_hz);
    std::size_t evidence = 0;
    speed("level, onset, spectra, tuning", sound_s, cost_s([&] { evidence = pieces_heard(take, kRate_hz); }));
    std::printf("  %zu pieces of evidence\n", evidence);
    for (const int rate_hz : {8000, 44100, 96000, 192000}) {
        const auto other = walk(0.5, rate_hz);
        const double took_s = cost_s([&] { (void)pieces_heard(other, rate_hz); });
        speed(("the same at " + std::to_string(rate_hz) + " Hz").c_str(), static_cast<double>(other.size()) / rate_hz, took_s);
    }
}

void bench_judge(const std::vector<float>& take, double sound_s) {
    const auto evidence = evidence_of(take, kRate_hz);
    std::printf("the judge (asked grips in turn, evidence as it comes)\n");
    Judge judge;
    std::vector<double> one_s;
    std::uint64_t asked_for = 0;
    std::size_t settled = 0;
    double verdicts_s = 0.0;
    for (const auto& e : evidence) {
        if (e.strum != asked_for) {
            asked_for = e.strum;
            judge.ask({.grip = Grip::parse(kGrips[(e.strum - 1) % 8]).value(), .tuning = {}, .chord = {}, .bass = {}});
        }
        const double took = cost_s([&] { settled += judge.consider(e) ? 1U : 0U; });
        verdicts_s += took;
        if (took > 2e-5) one_s.push_back(took);  // the others were settled before
    }
    std::sort(one_s.begin(), one_s.end());
    if (!one_s.empty())
        std::printf("  one weighing: median %.2f ms, worst %.2f ms; %zu weighings for %zu verdicts\n", 1e3 * one_s[one_s.size() / 2], 1e3 * one_s.back(), one_s.size(), settled);
    const double chain_s = cost_s([&] { (void)pieces_heard(take, kRate_hz); });
    speed("chain and judge together", sound_s, chain_s + verdicts_s);
    double transcribe_s = 0.0;
    std::size_t strums = 0;
    for (const auto& e : evidence) {
        if (!e.last) continue;
        transcribe_s += cost_s([&] { (void)transcribe(e); });
        ++strums;
    }
    std::printf("  transcription with nothing asked: %.2f ms a strum\n", 1e3 * transcribe_s / static_cast<double>(std::max<std::size_t>(strums, 1)));
    speed("hear (chain and transcription)", sound_s, chain_s + transcribe_s);
}

/// Blocks as a sound card gives them; the analysis thread must be done with one before the next.
void bench_blocks(const std::vector<float>& take) {
    std::printf("live blocks: share of the block's own time that the chain needs (analysis thread), and with the judge (screen thread) added\n");
    for (const std::size_t block : {128U, 256U, 512U, 1024U}) {
        dsp::StrumChain chain({.rate_hz = kRate_hz});
        Judge judge;
        judge.ask({.grip = Grip::parse("3x23xx").value(), .tuning = {}, .chord = {}, .bass = {}});
        const auto evidence = std::make_unique<dsp::StrumEvidence>();
        std::vector<double> shares;
        double worst_chain = 0.0;
        const double block_s = static_cast<double>(block) / kRate_hz;
        for (std::size_t i = 0; i + block <= take.size(); i += block) {
            const double chain_s = cost_s([&] { chain.process(std::span(take).subspan(i, block)); });
            const double judge_s = cost_s([&] {
                while (chain.take(*evidence)) (void)judge.consider(*evidence);
            });
            worst_chain = std::max(worst_chain, chain_s / block_s);
            shares.push_back((chain_s + judge_s) / block_s);
        }
        std::sort(shares.begin(), shares.end());
        std::printf("  %4zu frames: chain, worst %4.1f %%; with the judge: median %5.2f %%, 99.9 %% below %5.1f %%, worst %5.1f %%\n", block, 100.0 * worst_chain,
                    100.0 * shares[shares.size() / 2],
                    100.0 * shares[shares.size() - 1 - shares.size() / 1000], 100.0 * shares.back());
    }
}

void bench_windows() {
    std::printf("cost against window sizes (one real transform; share of one core at the chain's hop of 5.3 ms)\n");
    for (const std::size_t size : {256U, 512U, 1024U, 2048U, 4096U, 8192U}) {
        dsp::RealFft fft(size);
        std::vector<float> frames(size, 0.1F);
        std::vector<std::complex<float>> bins(fft.bins());
        const int rounds = static_cast<int>(40'000'000 / (size * 10));
        const double took_s = cost_s([&] {
            for (int i = 0; i < rounds; ++i) fft.forward(frames, bins);
        });
        std::printf("  %5zu frames, %4.0f ms: %7.1f us, %5.2f %%\n", size, 1e3 * static_cast<double>(size) / dsp::kAnalysisRateHz, 1e6 * took_s / rounds, 100.0 * took_s / rounds / (64.0 / dsp::kAnalysisRateHz));
    }
}

void bench_pitch(const std::vector<float>& take, double sound_s) {
    std::printf("the tuner\n");
    dsp::PitchEstimator estimator({.rate_hz = kRate_hz});
    speed("pitch of one string", sound_s, cost_s([&] { estimator.process(take); }));
}

void bench_peer(const std::vector<float>& take, double sound_s) {
    std::printf("a peer on the same sound: libaubio's onset detection (spectral difference), which does the first of the chain's tasks\n");
    aubio_onset_t* onset = new_aubio_onset("specdiff", 512, 256, kRate_hz);
    fvec_t* in = new_fvec(256);
    fvec_t* out = new_fvec(1);
    const double took_s = cost_s([&] {
        for (std::size_t i = 0; i + 256 <= take.size(); i += 256) {
            std::copy_n(take.begin() + static_cast<std::ptrdiff_t>(i), 256, in->data);
            aubio_onset_do(onset, in, out);
        }
    });
    speed("libaubio onset", sound_s, took_s);
    del_fvec(in);
    del_fvec(out);
    del_aubio_onset(onset);
}

}  // namespace

int main(int argc, char** argv) {
    const double minutes = argc > 1 ? std::atof(argv[1]) : 2.0;
    if (!(minutes >= 0.1 && minutes <= 60.0)) {
        std::fprintf(stderr, "minutes of sound: 0.1 to 60\n");
        return 2;
    }
    const auto take = walk(minutes, kRate_hz);
    const double sound_s = static_cast<double>(take.size()) / kRate_hz;
    bench_chain(take, sound_s);
    bench_judge(take, sound_s);
    bench_blocks(take);
    bench_windows();
    bench_pitch(take, sound_s);
    bench_peer(take, sound_s);
    return 0;
}

// Weighs every hypothesis of every case of a set and writes the numbers for fit_judge.py.
#include <CLI/CLI.hpp>

#include <algorithm>
#include <cstdio>
#include <map>
#include <numeric>
#include <string>
#include <vector>

#include "dsp/strum_chain.h"
#include "judge/weighing.h"
#include "training/take_sound.h"
#include "training/training_set.h"
#include "training/weighing_file.h"

using namespace gripline;
using namespace gripline::training;

namespace {

constexpr double kEarly_s = 0.03;  // a strum may be found this much before a case's from_s
constexpr double kLate_s = 0.25;   // one found later than this after the true onset is another one
constexpr std::size_t kBlockFrames = 256;

struct Options {
    std::string set, out;
    int looks = 0, part = 0, parts = 1;
    bool knocks = false;
    unsigned seed = 7;
};

/// The looks at one strum, earliest first.
using Looks = std::vector<dsp::StrumEvidence>;

std::vector<Looks> hear(const TakeSound& sound) {
    dsp::StrumChain chain({sound.rate_hz});
    std::map<std::uint64_t, Looks> strums;
    dsp::StrumEvidence evidence;
    const auto collect = [&] {
        while (chain.take(evidence)) strums[evidence.strum].push_back(evidence);
    };
    const std::span<const float> frames(sound.frames);
    for (std::size_t i = 0; i < frames.size(); i += kBlockFrames) {
        chain.process(frames.subspan(i, std::min(kBlockFrames, frames.size() - i)));
        collect();
    }
    chain.finish();
    collect();
    std::vector<Looks> out;
    for (auto& [number, looks] : strums) out.push_back(std::move(looks));
    return out;
}

void knock(TakeSound& sound, const Take& take, std::mt19937& random) {
    std::vector<double> onsets_s;
    bool thin_microphone = false;
    for (const TrainingCase& each : take.cases) {
        const double onset_s = each.truth.onset_s;
        const bool sounds = onset_s > 0 && each.truth.kind != "nothing";
        if (sounds && std::find(onsets_s.begin(), onsets_s.end(), onset_s) == onsets_s.end()) onsets_s.push_back(onset_s);
        thin_microphone = each.truth.sound.find("laptop") != std::string::npos;
    }
    add_knocks(sound, onsets_s, thin_microphone, random);
}

/// The first strum that the case may mean; nullptr when it was not heard.
const Looks* strum_of(const TrainingCase& each, const std::vector<Looks>& strums) {
    const auto found = std::find_if(strums.begin(), strums.end(), [&](const Looks& looks) { return looks.front().onset_s >= each.asked.from_s - kEarly_s; });
    return found == strums.end() || found->front().onset_s > each.truth.onset_s + kLate_s ? nullptr : &*found;
}

bool names_fault(const Hypothesis& hypothesis, const Truth& truth) {
    if (!hypothesis.fault) return truth.kind == "none";
    const bool frets_fit = *hypothesis.fault == FaultKind::wrong_bass || hypothesis.frets == truth.frets;
    return truth.kind == word(*hypothesis.fault) && hypothesis.string == truth.string && frets_fit;
}

/// Index of the true hypothesis; of several with the same notes the one with the fault's name; -1 when there is none.
int true_hypothesis(const TrainingCase& each, const std::vector<Hypothesis>& hypotheses) {
    if (each.truth.kind == "nothing") return static_cast<int>(hypotheses.size()) - 1;
    const Target& target = each.asked.target;
    NoteSet played;
    if (const auto grip = Grip::parse(each.truth.played, target.tuning.strings()))
        for (const GripNote& note : grip->notes(target.tuning, target.capo)) played.insert(note.note.number());
    int same_notes = -1;
    for (std::size_t i = 0; i < hypotheses.size(); ++i) {
        if (!(hypotheses[i].notes == played)) continue;
        if (names_fault(hypotheses[i], each.truth)) return static_cast<int>(i);
        if (same_notes < 0) same_notes = static_cast<int>(i);
    }
    return same_notes;
}

/// Where the true hypothesis stands among the weighed ones. Of other basses only the best are weighed: then the first of them stands for all.
int label_among(const Weighing& weighing, int true_index, const Truth& truth) {
    const auto at = [&](auto&& wanted) {
        const auto found = std::find_if(weighing.hypotheses.begin(), weighing.hypotheses.end(), wanted);
        return found == weighing.hypotheses.end() ? -1 : static_cast<int>(found - weighing.hypotheses.begin());
    };
    const int label = at([&](const WeighedHypothesis& each) { return each.index == true_index; });
    if (label >= 0 || truth.kind != word(FaultKind::wrong_bass)) return label;
    return at([](const WeighedHypothesis& each) { return each.kind == 1 + static_cast<int>(FaultKind::wrong_bass); });
}

/// Which looks to keep: all, or some drawn at random.
std::vector<std::size_t> draw_looks(std::size_t count, int wanted, std::mt19937& random) {
    std::vector<std::size_t> out(count);
    std::iota(out.begin(), out.end(), std::size_t{0});
    if (wanted <= 0) return out;
    std::shuffle(out.begin(), out.end(), random);
    out.resize(std::min(count, static_cast<std::size_t>(wanted)));
    return out;
}

struct Counts {
    long looks = 0, unheard = 0, unlabelled = 0, unread_takes = 0;
};

/// One pass over a set.
class Dump {
public:
    Dump(const Options& options, WeighingFile& file) : options_(options), file_(file), random_(options.seed) {}

    void take(const Take& take) {
        auto sound = read_sound(options_.set + "/" + take.file);
        if (!sound) {
            std::fprintf(stderr, "%s\n", sound.error().message.c_str());
            ++counts_.unread_takes;
            return;
        }
        if (options_.knocks) knock(*sound, take, random_);
        const std::vector<Looks> strums = hear(*sound);
        for (const TrainingCase& each : take.cases) {
            file_.write_truth(each);
            if (const Looks* looks = strum_of(each, strums)) weigh_case(each, *looks);
            else ++counts_.unheard;
        }
    }
    [[nodiscard]] const Counts& counts() const { return counts_; }

private:
    void weigh_case(const TrainingCase& each, const Looks& looks) {
        const Target& target = each.asked.target;
        const auto hypotheses = hypotheses_for(*target.grip, target.tuning, target.capo);
        const int true_index = true_hypothesis(each, hypotheses);
        if (true_index < 0) ++counts_.unlabelled;
        for (const std::size_t i : draw_looks(looks.size(), options_.looks, random_)) {
            const dsp::StrumEvidence& evidence = looks[i];
            weigh(evidence, hypotheses, evidence.tuning_cents, bank_, weighing_);
            file_.write({each.id, evidence.step, label_among(weighing_, true_index, each.truth), evidence.heard_s - evidence.onset_s,
                         evidence.onset_s - each.truth.onset_s}, weighing_, hypotheses);
            ++counts_.looks;
        }
    }

    const Options& options_;
    WeighingFile& file_;
    std::mt19937 random_;
    dsp::NoteBank bank_;
    Weighing weighing_;
    Counts counts_;
};

int run(const Options& options) {
    const auto takes = read_takes(options.set);
    auto file = WeighingFile::create(options.out);
    for (const Error* error : {takes ? nullptr : &takes.error(), file ? nullptr : &file.error()}) {
        if (!error) continue;
        std::fprintf(stderr, "%s\n", error->message.c_str());
        return 1;
    }
    Dump dump(options, *file);
    for (std::size_t i = 0; i < takes->size(); ++i) {
        if (static_cast<int>(i % static_cast<std::size_t>(options.parts)) == options.part) dump.take((*takes)[i]);
        if ((i + 1) % 100 == 0) std::fprintf(stderr, "take %zu of %zu\n", i + 1, takes->size());
    }
    const Counts& counts = dump.counts();
    std::fprintf(stderr, "%ld looks; %ld cases unheard, %ld without a true hypothesis\n", counts.looks, counts.unheard, counts.unlabelled);
    if (counts.unread_takes > 0) std::fprintf(stderr, "%ld takes could not be read\n", counts.unread_takes);
    if (!file->good()) std::fprintf(stderr, "%s: not all could be written; is the disk full?\n", options.out.c_str());
    return file->good() && counts.unread_takes == 0 ? 0 : 1;
}

}  // namespace

int main(int argc, char** argv) {
    Options options;
    CLI::App app{"Weighs every hypothesis of every case of a set (cases.csv, truth.csv and its takes) and writes OUT.cases, OUT.hypotheses, OUT.notes and OUT.truth."};
    app.add_option("set", options.set, "folder made by make_takes.py")->required()->check(CLI::ExistingDirectory);
    app.add_option("out", options.out, "what the files' names begin with")->required();
    app.add_option("--looks", options.looks, "looks kept of each strum, drawn at random; 0 keeps all (as a rule eight)")->check(CLI::NonNegativeNumber);
    app.add_option("--part", options.part, "takes whose number leaves this rest when divided by --parts")->check(CLI::NonNegativeNumber);
    app.add_option("--parts", options.parts, "for several processes at once")->check(CLI::PositiveNumber);
    app.add_option("--seed", options.seed, "of the draws");
    app.add_flag("--knocks", options.knocks, "add a guitar body's resonances at each strum");
    CLI11_PARSE(app, argc, argv);
    if (options.part >= options.parts) {
        std::fprintf(stderr, "--part %d: must be less than --parts, %d\n", options.part, options.parts);
        return 2;
    }
    return run(options);
}

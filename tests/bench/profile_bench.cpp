// What a guitar's profile gains: every session of a set (training/make_sessions.py) is set up from its own recording, then its takes are judged without and
// with what the set-up found. A row a guitar: equal error, right called wrong, faults named.
//   bench_profile SESSIONS [--every N]    one take in N alone
//   bench_profile SESSIONS --notes        only the set-ups' notes, as a table for training/voice_reference.py
#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <map>
#include <memory>
#include <string>
#include <vector>

#include "dsp/strum_chain.h"
#include "judge/judge.h"
#include "training/sessions.h"
#include "training/take_sound.h"
#include "training/training_set.h"

using namespace gripline;
using namespace gripline::training;

namespace {

struct Answer {
    std::string kind;  ///< the truth's
    double chance = 0.0;
    bool called_right = false, named = false;
};

/// The rate at which right ones rejected and faults let through (each kind weighing the same) are equally many.
double equal_error(const std::vector<Answer>& answers) {
    std::vector<double> right;
    std::map<std::string, std::vector<double>> wrong;
    for (const Answer& a : answers) (a.kind == "none" ? right : wrong[a.kind]).push_back(a.chance);
    std::vector<double> edges;
    for (const Answer& a : answers) edges.push_back(a.chance);
    std::sort(edges.begin(), edges.end());
    double best = 1.0, at_best = 1.0;
    for (const double edge : edges) {
        const auto share_from = [&](const std::vector<double>& chances) {
            return static_cast<double>(std::count_if(chances.begin(), chances.end(), [&](double c) { return c >= edge; })) / static_cast<double>(std::max<std::size_t>(chances.size(), 1));
        };
        double let = 0.0;
        for (const auto& [kind, chances] : wrong) let += share_from(chances) / static_cast<double>(wrong.size());
        const double rejected = 1.0 - share_from(right);
        if (std::abs(let - rejected) >= best) continue;
        best = std::abs(let - rejected);
        at_best = 0.5 * (let + rejected);
    }
    return at_best;
}

bool names(const Verdict& verdict, const Truth& truth) {
    if (verdict.faults.empty()) return false;
    const Fault& f = verdict.faults.front();
    const bool string = (f.string ? f.string->number() : 0) == truth.string || truth.kind == "wrong_bass" || truth.kind == "shifted";
    return word(f.kind) == truth.kind && string && (truth.kind == "wrong_bass" || f.frets == truth.frets || truth.kind == "extra_note" || truth.kind == "missing_note");
}

Answer answer_of(Judge& judge, const TrainingCase& each, const std::vector<dsp::StrumEvidence>& looks) {
    judge.ask(each.asked.target);
    Answer out{each.truth.kind};
    std::uint64_t strum = 0;
    for (const dsp::StrumEvidence& look : looks) {
        if (strum == 0 && look.onset_s >= each.asked.from_s - 0.03) strum = look.strum;
        if (look.strum != strum || strum == 0) continue;
        auto verdict = judge.consider(look);
        if (!verdict && look.last) verdict = judge.verdict_now(look);
        if (!verdict) continue;
        out.chance = verdict->confidence;
        out.called_right = verdict->kind == VerdictKind::right;
        out.named = names(*verdict, each.truth);
        break;
    }
    return out;
}

std::vector<dsp::StrumEvidence> hear(const TakeSound& sound) {
    dsp::StrumChain chain({sound.rate_hz});
    std::vector<dsp::StrumEvidence> out;
    dsp::StrumEvidence evidence;
    const std::span<const float> frames(sound.frames);
    for (std::size_t i = 0; i < frames.size(); i += 256) {
        chain.process(frames.subspan(i, std::min<std::size_t>(256, frames.size() - i)));
        while (chain.take(evidence)) out.push_back(evidence);
    }
    chain.finish();
    while (chain.take(evidence)) out.push_back(evidence);
    return out;
}

constexpr int kWays = 2;
using Answers = std::array<std::vector<Answer>, kWays>;

void print_row(const std::string& name, const Answers& answers) {
    std::printf("%-22s", name.c_str());
    for (const auto& way : answers) {
        double right = 0, rejected = 0, faults = 0, let = 0, named = 0;
        for (const Answer& a : way) {
            if (a.kind == "none") {
                ++right;
                rejected += a.called_right ? 0 : 1;
            } else if (a.kind != "nothing") {
                ++faults;
                let += a.called_right ? 1 : 0;
                named += !a.called_right && a.named ? 1 : 0;
            }
        }
        std::printf(" | %5.2f %5.2f %5.2f %6.2f", 100 * equal_error(way), 100 * rejected / std::max(1.0, right), 100 * let / std::max(1.0, faults), 100 * named / std::max(1.0, faults));
    }
    std::printf("  (%zu)\n", answers[0].size());
}

void print_notes(const std::map<std::string, Session>& sessions) {
    std::printf("session,midi,cents,stiffness");
    for (int n = 1; n <= dsp::kVoicePartials; ++n) std::printf(",p%d", n);
    std::printf("\n");
    for (const auto& [name, session] : sessions) {
        if (!session.profile) continue;
        for (const dsp::NoteVoice& note : session.profile->notes()) {
            std::printf("%s,%d,%.2f,%.3g", name.c_str(), note.midi, note.cents, note.stiffness);
            for (const float level : note.partial_db) std::printf(",%.1f", static_cast<double>(level));
            std::printf("\n");
        }
    }
}

}  // namespace

int main(int argc, char** argv) {
    if (argc < 2) {
        std::fprintf(stderr, "bench_profile SESSIONS [--every N | --notes]\n");
        return 2;
    }
    const std::string folder = argv[1];
    auto read = read_sessions(folder);
    if (!read) {
        std::fprintf(stderr, "%s\n", read.error().message.c_str());
        return 1;
    }
    auto& sessions = *read;
    if (argc > 2 && std::strcmp(argv[2], "--notes") == 0) {
        print_notes(sessions);
        return 0;
    }
    const auto takes = read_takes(folder);
    if (!takes) {
        std::fprintf(stderr, "%s\n", takes.error().message.c_str());
        return 1;
    }
    std::map<std::string, Answers> by_guitar;
    Answers all;
    Judge plain;
    const int every = argc > 3 && std::strcmp(argv[2], "--every") == 0 ? std::max(1, std::atoi(argv[3])) : 1;
    for (std::size_t t = 0; t < takes->size(); t += static_cast<std::size_t>(every)) {
        const Take& take = (*takes)[t];
        const std::string name = session_of(take.file);
        const Session& session = sessions[name];
        if (!session.profile) continue;

        Judge knowing({.guitar = std::make_shared<const KnownGuitar>(known_guitar(*session.profile))});
        const auto sound = read_sound(folder + "/" + take.file);
        if (!sound) continue;
        const auto looks = hear(*sound);
        for (const TrainingCase& each : take.cases) {
            Judge* const judges[kWays] = {&plain, &knowing};
            for (std::size_t way = 0; way < kWays; ++way) {
                const Answer answer = answer_of(*judges[way], each, looks);
                by_guitar[session.guitar][way].push_back(answer);
                by_guitar["(" + session.kind + ")"][way].push_back(answer);
                all[way].push_back(answer);
            }
        }
    }
    std::printf("%-22s | without: equal error, right called wrong, let through, named | with\n", "guitar");
    for (const auto& [guitar, answers] : by_guitar) print_row(guitar, answers);
    print_row("all", all);
    return 0;
}

// How surely gestures of muted strums are found, and how seldom playing is taken for one: a set of training/make_gestures.py, or any recordings without gestures.
//   bench_gestures SET              a row a guitar, what was missed and what was made up
//   bench_gestures FILE...          gestures found in recordings
#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <fstream>
#include <map>
#include <sstream>
#include <string>
#include <vector>

#include "audio/file_source.h"
#include "dsp/muted_strum.h"
#include "dsp/strum_chain.h"
#include "formats/csv.h"
#include "practice/muted_gestures.h"

using namespace gripline;

namespace {

/// A row of gestures.csv.
struct Played {
    std::string kind;
    std::vector<double> at_s;
};

struct Made {
    double at_s = 0.0;  ///< of the first muted strum
    int strums = 0;
};

struct Found {
    std::vector<dsp::MutedStrum> muted;
    std::vector<Made> gestures;
    double length_s = 0.0;
    bool readable = false;
};

/// As practice hears it: what the chain hears as a strum and is not muted breaks a gesture.
Found listen(const std::string& path) {
    Found out;
    auto source = FileSource::open(path);
    if (!source) {
        std::fprintf(stderr, "%s\n", source.error().message.c_str());
        return out;
    }
    out.readable = true;
    const int rate_hz = (*source)->rate_hz();
    dsp::StrumChain chain({.rate_hz = rate_hz});
    dsp::MutedStrumDetector detector({.rate_hz = rate_hz});
    MutedGestures gestures;
    dsp::StrumEvidence evidence;
    std::vector<double> undecided, row;
    std::array<float, 256> hop{};
    const auto made = [&](std::optional<int> strums) {
        if (strums) out.gestures.push_back({row.size() >= static_cast<std::size_t>(*strums) ? row[row.size() - static_cast<std::size_t>(*strums)] : 0.0, *strums});
    };
    const auto hear = [&](std::span<const float> frames) {
        detector.process(frames);
        dsp::MutedStrum one;
        while (detector.take(one)) {
            made(gestures.pass(one.at_s));
            gestures.muted(one);
            if (!one.muted) continue;
            out.muted.push_back(one);
            row.push_back(one.at_s);
        }
        chain.process(frames);
        while (chain.take(evidence))
            if (evidence.step == 0) undecided.push_back(evidence.onset_s);
        const double decided_s = detector.decided_s();
        std::erase_if(undecided, [&](double at_s) {
            if (at_s >= decided_s) return false;
            gestures.strum(at_s);
            return true;
        });
        made(gestures.pass(decided_s - 0.12));
    };
    while (const std::size_t got = (*source)->read(hop)) {
        hear(std::span(hop).first(got));
        out.length_s += static_cast<double>(got) / rate_hz;
    }
    hop.fill(0.0F);
    for (int i = 0; i < 2 * rate_hz / 256; ++i) hear(hop);
    return out;
}

struct Score {
    int muted = 0, muted_found = 0, gestures = 0, gestures_found = 0, false_gestures = 0, strums = 0, strums_muted = 0;
    double length_s = 0.0;
    Score& operator+=(const Score& o) {
        muted += o.muted;
        muted_found += o.muted_found;
        gestures += o.gestures;
        gestures_found += o.gestures_found;
        false_gestures += o.false_gestures;
        strums += o.strums;
        strums_muted += o.strums_muted;
        length_s += o.length_s;
        return *this;
    }
};

bool near(double a_s, double b_s) { return std::abs(a_s - b_s) < 0.07; }

Score score(const std::string& take, const std::vector<Played>& played, const Found& found, bool tell) {
    Score out;
    out.length_s = found.length_s;
    std::vector<bool> meant(found.gestures.size(), false);
    for (const Played& each : played) {
        const bool gesture = each.kind == "again" || each.kind == "next";
        for (const double at_s : each.at_s) {
            const bool heard = std::any_of(found.muted.begin(), found.muted.end(), [&](const auto& one) { return near(one.at_s, at_s); });
            if (gesture || each.kind == "lone" || each.kind == "many") {
                ++out.muted;
                out.muted_found += heard ? 1 : 0;
            } else if (each.kind == "strum") {
                ++out.strums;
                out.strums_muted += heard ? 1 : 0;
                if (heard && tell) std::printf("  %s %.3f: a grip heard as muted\n", take.c_str(), at_s);
            }
        }
        if (!gesture) continue;
        ++out.gestures;
        bool hit = false;
        for (std::size_t i = 0; i < found.gestures.size(); ++i) {
            if (!near(found.gestures[i].at_s, each.at_s.front()) || found.gestures[i].strums != static_cast<int>(each.at_s.size())) continue;
            meant[i] = hit = true;
        }
        out.gestures_found += hit ? 1 : 0;
        if (!hit && tell) std::printf("  %s %.3f: %s missed\n", take.c_str(), each.at_s.front(), each.kind.c_str());
    }
    for (std::size_t i = 0; i < meant.size(); ++i) {
        if (meant[i]) continue;
        ++out.false_gestures;
        if (!tell) continue;
        const auto of = std::find_if(played.begin(), played.end(), [&](const Played& each) { return near(each.at_s.front(), found.gestures[i].at_s); });
        std::printf("  %s %.3f: %d muted strums made up, at %s\n", take.c_str(), found.gestures[i].at_s, found.gestures[i].strums, of == played.end() ? "nothing marked" : of->kind.c_str());
    }
    return out;
}

void print(const std::string& name, const Score& s) {
    std::printf("%-22s muted %4d found %5.1f %%   gestures %4d found %5.1f %%   made up %d in %.1f min   grips heard as muted %d of %d\n", name.c_str(), s.muted,
                s.muted > 0 ? 100.0 * s.muted_found / s.muted : 0.0, s.gestures, s.gestures > 0 ? 100.0 * s.gestures_found / s.gestures : 0.0, s.false_gestures, s.length_s / 60.0,
                s.strums_muted, s.strums);
}

int score_set(const std::string& folder) {
    std::ifstream file(folder + "/gestures.csv");
    CsvReader reader(file);
    std::map<std::string, std::pair<std::string, std::vector<Played>>> takes;  // guitar, what was played
    bool head = true;
    for (auto row = reader.next(); row && *row; row = reader.next()) {
        const auto& fields = (*row)->fields;
        if (!head && fields.size() >= 4) {
            Played played{fields[3], {}};
            std::istringstream starts(fields[2]);
            for (double at_s = 0.0; starts >> at_s;) played.at_s.push_back(at_s);
            takes[fields[0]].first = fields[1];
            takes[fields[0]].second.push_back(played);
        }
        head = false;
    }
    std::map<std::string, Score> guitars;
    Score with, without;
    for (const auto& [take, of] : takes) {
        const Found found = listen(folder + "/" + take);
        if (!found.readable) return 1;
        const Score one = score(take, of.second, found, true);
        const bool virtual_one = of.first.starts_with("virtual");
        guitars[virtual_one ? "virtual" : of.first] += one;
        (one.gestures > 0 ? with : without) += one;
    }
    for (const auto& [guitar, one] : guitars) print(guitar, one);
    print("takes with gestures", with);
    print("takes without", without);
    return 0;
}

}  // namespace

int main(int count, char** words) {
    if (count < 2) {
        std::fprintf(stderr, "usage: bench_gestures SET | FILE...\n");
        return 2;
    }
    if (std::ifstream(std::string(words[1]) + "/gestures.csv")) return score_set(words[1]);
    double length_s = 0.0;
    std::size_t muted = 0, gestures = 0;
    for (int i = 1; i < count; ++i) {
        const Found found = listen(words[i]);
        length_s += found.length_s;
        muted += found.muted.size();
        gestures += found.gestures.size();
        for (const Made& each : found.gestures) std::printf("  %s %.3f: %d muted strums\n", words[i], each.at_s, each.strums);
    }
    std::printf("%d recordings, %.1f min: %zu muted strums, %zu gestures\n", count - 1, length_s / 60.0, muted, gestures);
    return 0;
}

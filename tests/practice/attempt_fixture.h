// Attempts for tests: seeded, of every kind; and an attempt as text, to compare every field.
#pragma once

#include <random>
#include <sstream>
#include <string>

#include "practice/attempt.h"
#include "practice/attempt_id.h"

namespace gripline::test {

/// Noon of 2026-11-01, UTC.
inline constexpr std::int64_t kNovember_ms = 1'793'534'400'000;

inline Attempt simple_attempt(const std::string& player, std::int64_t at_ms, VerdictKind verdict = VerdictKind::right) {
    Attempt attempt;
    attempt.player = player;
    attempt.at_ms = at_ms;
    attempt.guitar = "archtop";
    attempt.input = "line in";
    attempt.chord = "C7";
    attempt.grip = Grip::parse("8x89xx").value();
    attempt.bass_degree = "1";
    attempt.verdict = verdict;
    attempt.confidence = verdict == VerdictKind::right ? 0.97 : 0.02;
    return attempt;
}

/// Any attempt that the limits allow.
inline Attempt random_attempt(std::mt19937& random) {
    const auto below = [&random](int n) { return static_cast<int>(random() % static_cast<unsigned>(n)); };
    const auto share = [&random] { return std::uniform_real_distribution<double>(0.0, 1.0)(random); };
    static const char* const qualities[] = {"7", "6", "m6", "m7", "", "7b5", "maj7"};
    static const char* const roots[] = {"C", "Db", "D", "Eb", "E", "F", "F#", "Gb", "G", "Ab", "A", "Bb", "B"};
    static const char* const sets[] = {"6-4-3", "5-3-2", "6-4-3-2", "4-3-2-1"};
    static const char* const grips[] = {"8x89xx", "10-x-9-10-x-x", "x3x23xx", "1x01xx", "xxxxxx", "7x676x"};
    Attempt a = simple_attempt(std::string("player ") + static_cast<char>('A' + below(3)), kNovember_ms + std::int64_t{below(100'000'000)} * 10);
    a.id = text_of(new_attempt_id(a.at_ms));
    a.utc_offset_min = 15 * (below(100) - 48);
    a.guitar = below(2) == 0 ? "" : "Gitarre \xc3\xa4, \"alt\"";
    a.input = below(2) == 0 ? "Line In (2 in, 48000 Hz)" : "\xe2\x99\xad input";
    a.asking = static_cast<Asking>(below(kAskings));
    a.family = static_cast<Family>(below(5));
    a.root = NoteName::parse(roots[below(13)]).value();
    a.quality = qualities[below(7)];
    a.stage = static_cast<StageKind>(below(4));
    a.strings = StringSet::parse(sets[below(4)]).value();
    a.chord = a.root.text() + a.quality;
    const std::string grip = grips[below(6)];
    a.grip = Grip::parse(grip, grip.starts_with("x3") ? 7 : 6).value();
    a.bass_degree = below(3) == 0 ? "" : "b6";
    a.place = static_cast<Sounds>(below(3));
    if (a.place == Sounds::approach && below(4) > 0) a.from = static_cast<From>(below(2));
    if (below(2) == 0) a.motion = below(3) - 1;
    if (below(2) == 0) a.tempo_bpm = 40.0 + 260.0 * share();
    if (a.asking == Asking::name_it) {
        a.question = below(2) == 0 ? "quality" : "bass degree";
        a.answered = below(2) == 0 ? a.quality : "b3";
    }
    a.verdict = static_cast<VerdictKind>(below(3));
    a.confidence = share();
    for (int i = below(5); i > 0; --i) a.heard.emplace_back(40 + below(40));
    for (int i = a.verdict == VerdictKind::wrong ? 1 + below(3) : 0; i > 0; --i) {
        Fault fault;
        fault.kind = static_cast<FaultKind>(below(6));
        if (below(3) > 0) fault.string = StringNumber(1 + below(7));
        fault.frets = below(7) - 3;
        if (below(2) == 0) fault.asked = MidiNote(40 + below(40));
        if (below(2) == 0) fault.heard = MidiNote(40 + below(40));
        fault.probability = share();
        a.faults.push_back(fault);
    }
    if (below(2) == 0) a.off_ms = 120.0 * (share() - 0.5);
    if (below(2) == 0) a.answer_s = 0.05 + 12.0 * share();
    a.try_number = 1 + below(3);
    a.helped = below(4) == 0;
    return a;
}

/// Every field; numbers exactly.
inline std::string all_of(const Attempt& a) {
    std::ostringstream out;
    const auto number = [](const auto& value) { return value ? std::to_string(*value) : std::string("-"); };
    const auto exact = [](const std::optional<double>& value) {
        std::ostringstream text;
        text << std::hexfloat;
        if (value) text << *value;
        return value ? text.str() : std::string("-");
    };
    out << a.id << '|' << a.at_ms << '|' << a.utc_offset_min << '|' << a.player << '|' << a.guitar << '|' << a.input << '|' << word(a.asking) << '|'
        << name(a.family) << '|' << a.root.text() << '|' << a.quality << '|' << name(a.stage) << '|' << a.strings.text() << '|' << a.chord << '|'
        << a.grip.text() << '|' << a.bass_degree << '|' << word(a.place) << '|' << (a.from ? word(*a.from) : "-") << '|' << number(a.motion) << '|'
        << exact(a.tempo_bpm) << '|' << a.question << '|' << word(a.verdict) << '|' << exact(a.confidence) << '|' << a.answered << '|';
    for (const MidiNote note : a.heard) out << note.number() << ' ';
    for (const Fault& f : a.faults) {
        out << '|' << word(f.kind) << ',' << (f.string ? f.string->number() : 0) << ',' << f.frets << ',' << (f.asked ? f.asked->number() : -1) << ','
            << (f.heard ? f.heard->number() : -1) << ',' << exact(f.probability);
    }
    out << '|' << exact(a.off_ms) << '|' << exact(a.answer_s) << '|' << a.try_number << '|' << a.helped;
    return out.str();
}

}  // namespace gripline::test

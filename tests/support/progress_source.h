// A made-up player's running totals: sound on chords, weak at approaches from above into dominants, above all in E and B.
#pragma once

#include "practice/progress.h"

namespace gripline::test {

inline constexpr std::int64_t kToday = 20782;  // Wednesday, 2026-11-25

inline void put_day(ProgressSource& source, const Skill& skill, std::int64_t day, long right, long wrong) {
    SkillTally one{skill, day, {}};
    one.tally.right = one.tally.first_right = right;
    one.tally.wrong = one.tally.first_wrong = wrong;
    one.tally.answers = right + wrong;
    one.tally.answer_ln = 0.9 * static_cast<double>(right + wrong);
    one.tally.last_ms = day * 86'400'000 + 36'000'000;
    source.weeks.push_back(one);
    source.weeks.back().day = monday_of(week_of(day));
    for (SkillTally& total : source.totals) {
        if (total.skill != skill) continue;
        total.tally.right += right;
        total.tally.first_right += right;
        total.tally.wrong += wrong;
        total.tally.first_wrong += wrong;
        total.tally.answers += right + wrong;
        total.tally.answer_ln += one.tally.answer_ln;
        total.tally.last_ms = std::max(total.tally.last_ms, one.tally.last_ms);
        return;
    }
    one.day = 0;
    source.totals.push_back(one);
}

inline ProgressSource planted_source() {
    ProgressSource source;
    source.player = "player A";
    source.today = kToday;
    for (int week = 11; week >= 0; --week) {
        const std::int64_t day = kToday - 7 * week;
        for (int key : {0, 5, 10, 3, 8, 4, 11}) {
            Skill skill{"7", Sounds::chord, std::nullopt, PitchClass(key), "6-4-3", Asking::shown};
            put_day(source, skill, day, 4, week > 6 ? 1 : 0);
            skill.role = Sounds::passing;
            if (week % 2 == 0) put_day(source, skill, day, 3, 1);
            skill.role = Sounds::approach;
            skill.from = From::above;
            const bool hard = key == 4 || key == 11;
            put_day(source, skill, day, hard ? 0 : 1 + (week < 4 ? 1 : 0), hard ? 3 : 2 - (week < 4 ? 1 : 0));
            skill.from = From::below;
            if (week < 8 && !hard) put_day(source, skill, day, 2, 0);
            if (week == 3) put_day(source, {"m7", Sounds::chord, std::nullopt, PitchClass(key), "6-4-3", Asking::named}, day, 3, 2);
        }
    }
    const Skill above{"7", Sounds::approach, From::above, PitchClass(4), "6-4-3", Asking::shown};
    source.faults = {{above, FaultKind::wrong_note, 4, -1, 21}, {above, FaultKind::extra_note, 5, 0, 6}, {above, FaultKind::shifted, 0, 1, 9}, {above, FaultKind::missing_note, 3, 0, 2}};
    const Skill chord{"7", Sounds::chord, std::nullopt, PitchClass(0), "6-4-3", Asking::shown};
    source.tempos = {{chord, 100, 40, 0}, {chord, 120, 58, 2}, {chord, 160, 3, 2}, {above, 100, 6, 4}};
    source.answers = {{"quality", "6", "6", 15}, {"quality", "m6", "6", 4}, {"quality", "m6", "m6", 1}, {"bass degree", "b3", "b3", 29}, {"bass degree", "b3", "3", 1}};
    return source;
}

}  // namespace gripline::test

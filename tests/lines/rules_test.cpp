// Every line obeys the rules of walking (common practice, no source), over all charts of the library in twelve keys. What is checked is
// the finished line against tables of this file, not the search's own.
#include <algorithm>
#include <array>
#include <map>
#include <set>

#include "chart/chart_library.h"
#include "lines/line_fixture.h"
#include "support/sweep.h"

using namespace gripline;
using namespace gripline::testing;

namespace {

struct Rows {
    std::array<int, 4> chord;
    std::vector<int> scale;
};
// Degrees of the families in semitones, as in the design's table of scales; the notes between are the diminished chord's.
const std::map<Family, Rows>& families() {
    static const std::map<Family, Rows> table{
        {Family::major_sixth, {{0, 4, 7, 9}, {0, 2, 4, 5, 7, 8, 9, 11}}},
        {Family::minor_sixth, {{0, 3, 7, 9}, {0, 2, 3, 5, 7, 8, 9, 11}}},
        {Family::dominant_seventh, {{0, 4, 7, 10}, {0, 2, 4, 5, 7, 8, 10, 11}}},
        {Family::seventh_flat_five, {{0, 4, 6, 10}, {0, 2, 4, 5, 6, 8, 10, 11}}},
        {Family::diminished, {{0, 3, 6, 9}, {0, 3, 6, 9}}},
    };
    return table;
}
const std::map<std::string, std::set<int>>& strong_beats() {
    static const std::map<std::string, std::set<int>> table{{"4/4", {1, 3}}, {"2/2", {1, 3}}, {"3/4", {1}}, {"5/4", {1, 4}}, {"6/8", {1, 4}}};
    return table;
}

std::vector<LineSettings> settings_to_try() {
    std::vector<LineSettings> out;
    for (const Steps steps : {Steps::four, Steps::two, Steps::one})
        for (const Direction direction : {Direction::free, Direction::up, Direction::down})
            for (const ApproachSide side : {ApproachSide::best, ApproachSide::below, ApproachSide::above, ApproachSide::alternating}) {
                LineSettings each;
                each.steps = steps;
                each.direction = direction;
                each.approach = side;
                out.push_back(each);
            }
    LineSettings one_set;
    one_set.sets.pop_back();
    out.push_back(one_set);
    LineSettings middle;
    middle.neck.lowest_fret = 3;
    middle.neck.highest_fret = 15;
    middle.neck.max_stretch = 3;
    out.push_back(middle);
    LineSettings capo;
    capo.neck.capo = 3;
    out.push_back(capo);
    return out;
}

/// The chart's chord on every count, with its place; empty texts are silences.
struct Count {
    int bar, beat;
    std::string chord, meter;
};
std::vector<Count> counts_of(const Chart& over) {
    std::vector<Count> out;
    int number = 0;
    const std::vector<int> played = *played_bars(over);
    for (const int written : played) {
        ++number;
        const Bar& bar = over.bars[static_cast<std::size_t>(written)];
        for (const auto& chord : bar.chords)
            for (int i = 0; i < chord.beats; ++i) out.push_back({number, chord.beat + i, chord.text(), bar.meter.text()});
    }
    return out;
}

bool in(const std::vector<int>& scale, int root, int note) { return std::find(scale.begin(), scale.end(), ((note - root) % 12 + 12) % 12) != scale.end(); }

void check_notes(const LineBeat& beat) {
    const Rows& rows = families().at(beat.scale.family);
    const int root = beat.scale.root.pitch_class().value();
    for (const SpelledNote& note : beat.notes) {
        const int above = PitchClass(root).up_to(note.midi().pitch_class());
        const bool of_chord = std::find(rows.chord.begin(), rows.chord.end(), above) != rows.chord.end();
        if (beat.role == Sounds::chord) CHECK(of_chord);
        if (beat.role == Sounds::passing) CHECK((!of_chord && in(rows.scale, 0, above)));
    }
    CHECK(beat.notes.size() == 3);
}

void check_place(const LineBeat& beat, const LineSettings& settings) {
    for (int string = 1; string <= 6; ++string) {
        const auto fret = beat.grip.fret(StringNumber(string));
        if (!fret) continue;
        CHECK(fret->number() >= settings.neck.lowest_fret);
        CHECK(fret->number() <= settings.neck.top_fret());
    }
    CHECK(beat.grip.stretch() <= settings.neck.max_stretch);
}

void check_approach(const LineBeat& beat, const LineBeat& target, ApproachSide asked, int change) {
    REQUIRE(beat.from);
    const int frets = *beat.from == From::below ? -1 : 1;
    CHECK(beat.grip == *target.grip.slid(frets));
    CHECK(beat.notes[0].midi().number() == target.notes[0].midi().number() + frets);
    CHECK(target.role == Sounds::chord);
    if (asked == ApproachSide::below) CHECK(*beat.from == From::below);
    if (asked == ApproachSide::above) CHECK(*beat.from == From::above);
    if (asked == ApproachSide::alternating) CHECK(*beat.from == (change % 2 == 0 ? From::below : From::above));
}

/// Within a chord: a scale step, a third onto a strong beat, or an octave less one of them.
void check_step(const LineBeat& before, const LineBeat& beat, const LineSettings& settings, bool strong) {
    const auto& scale = families().at(beat.scale.family).scale;
    const int root = beat.scale.root.pitch_class().value();
    const int a = before.notes[0].midi().number(), b = beat.notes[0].midi().number();
    const auto between = [&](int low, int high) {
        int count = 0;
        for (int note = low + 1; note < high; ++note) count += in(scale, root, note);
        return count;
    };
    const int steps = between(std::min(a, b), std::max(a, b)) + 1;
    CHECK(a != b);
    const int octave = static_cast<int>(scale.size());
    const bool third = steps == 2 && strong && before.role == Sounds::chord && beat.role == Sounds::chord && octave == 8;
    const bool leap = steps == octave - 1 || (steps == octave - 2 && strong && before.role == Sounds::chord && beat.role == Sounds::chord);
    CHECK((steps == 1 || third || leap));
    if (leap) return;
    if (settings.direction == Direction::up) CHECK(b > a);
    if (settings.direction == Direction::down) CHECK(b < a);
}

void check_line(const Chart& over, const LineSettings& settings) {
    const Line walked = line(over, settings);
    CHECK(walked.broken == 0);
    const auto counts = counts_of(over);
    std::map<std::pair<int, int>, std::size_t> index;
    for (std::size_t i = 0; i < counts.size(); ++i) index[{counts[i].bar, counts[i].beat}] = i;
    int change = 0;
    std::size_t approaches = 0;
    for (std::size_t i = 0; i < walked.beats.size(); ++i) {
        const LineBeat& beat = walked.beats[i];
        CAPTURE(beat.bar);
        CAPTURE(beat.beat);
        const std::size_t at = index.at({beat.bar, beat.beat});
        CHECK(beat.chord == counts[at].chord);
        check_place(beat, settings);
        check_notes(beat);
        const bool strong = settings.steps == Steps::four ? strong_beats().at(counts[at].meter).contains(beat.beat) : beat.beat == 1;
        if (strong) CHECK(beat.role != Sounds::passing);
        if (i > 0) CHECK((beat.motion != 0 || !beat.remark.empty()));
        const bool first = at == 0 || counts[at - 1].chord != beat.chord;
        if (first) CHECK(beat.role == Sounds::chord);
        if (beat.role == Sounds::approach) {
            ++approaches;
            REQUIRE(i + 1 < walked.beats.size());
            check_approach(beat, walked.beats[i + 1], settings.approach, change++);
            CHECK(counts[at + 1].chord != beat.chord);
        } else if (!first) {
            check_step(walked.beats[i - 1], beat, settings, strong);
        }
    }
    std::size_t wanted = 0;  // every change after two counts or more of a chord
    for (std::size_t i = 2; i < counts.size(); ++i) wanted += counts[i].chord != counts[i - 1].chord && counts[i - 1].chord == counts[i - 2].chord;
    CHECK(approaches == wanted);
}

}  // namespace

TEST_CASE("every line keeps the rules, over all charts of the library in twelve keys and all settings in turn") {
    const auto settings = settings_to_try();
    std::size_t turn = 0;
    for (const LibraryChart& each : chart_library()) {
        const Chart chart = *parse_chart(each.text);
        for (int key = 0; key < 12; key += test::kSweepStep) {
            const Chart moved = transposed(chart, usual_root(PitchClass(key)));
            for (int some = 0; some < 6; ++some) {  // steps of 7 through 39 settings: every chart and key meets others
                CAPTURE(std::string(each.name));
                CAPTURE(key);
                const std::size_t number = some == 0 ? 0 : turn % settings.size();
                CAPTURE(number);
                check_line(moved, settings[number]);
                turn += 7;
            }
        }
    }
}

TEST_CASE("a line that comes again leads from its last beat to its first: a semitone where the chord changes, never on the same bass") {
    std::size_t turn = 0, approached = 0;
    for (const LibraryChart& each : chart_library()) {
        for (int key = 0; key < 12; key += test::kSweepStep) {
            CAPTURE(std::string(each.name));
            CAPTURE(key);
            LineSettings settings;
            settings.comes_again = true;
            settings.approach = std::array{ApproachSide::best, ApproachSide::below, ApproachSide::above}[turn++ % 3];
            const Chart over = transposed(*parse_chart(each.text), usual_root(PitchClass(key)));
            const Line walked = line(over, settings);
            const auto counts = counts_of(over);
            const LineBeat &last = walked.beats.back(), &first = walked.beats.front();
            CHECK(walked.broken == 0);
            CHECK(last.notes[0].midi() != first.notes[0].midi());
            const bool changes = counts.back().chord != counts.front().chord, holds = counts[counts.size() - 2].chord == counts.back().chord;
            CHECK((last.role == Sounds::approach) == (changes && holds));
            if (last.role != Sounds::approach) continue;
            ++approached;
            check_approach(last, first, settings.approach, 0);
        }
    }
    CHECK(approached > 10);
}

TEST_CASE("a single chord that comes again walks on through its scale, from the last beat to the first too") {
    LineSettings settings;
    settings.comes_again = true;
    const Line walked = line(chart("| C7 | % |"), settings);
    CHECK(roles(walked) == "1.1c 1.2p 1.3c 1.4p 2.1c 2.2p 2.3c 2.4p");
    check_step(walked.beats.back(), walked.beats.front(), settings, true);
}

TEST_CASE("two bars of one chord in four are seven scale steps and an approach, one bar three and one, half a bar one and one") {
    CHECK(roles(line(chart("| C7 | % | F7 |"))) == "1.1c 1.2p 1.3c 1.4p 2.1c 2.2p 2.3c 2.4a 3.1c 3.2p 3.3c 3.4p");
    CHECK(roles(line(chart("| C7 | F7 |"))) == "1.1c 1.2p 1.3c 1.4a 2.1c 2.2p 2.3c 2.4p");
    CHECK(roles(line(chart("| C7 F7 | Bb7 |"))) == "1.1c 1.2a 1.3c 1.4a 2.1c 2.2p 2.3c 2.4p");
    CHECK(roles(line(chart("meter: 3/4\n| C7 | F7 |"))) == "1.1c 1.2p 1.3a 2.1c 2.2p 2.3c");
}

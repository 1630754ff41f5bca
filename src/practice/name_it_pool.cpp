// Which questions there are, and what may be answered. The first half of name_it.h.
#include <algorithm>
#include <map>
#include <set>
#include <utility>

#include "base/text.h"
#include "practice/into_target.h"
#include "practice/name_it.h"

namespace gripline {
namespace {

constexpr const char* kDiminished = "dim7";

/// What is heard of a grip without a key: semitones of its notes above the bass.
std::vector<int> shape_of(const PracticeStep& step) {
    std::vector<int> notes, shape;
    for (const GripNote& note : step.notes()) notes.push_back(note.note.number());
    std::sort(notes.begin(), notes.end());
    for (const int note : notes) shape.push_back(note - notes.front());
    return shape;
}

std::string quality_of(const PracticeStep& step) { return step.asked.place == Sounds::passing ? kDiminished : step.asked.quality; }

/// Steps of all families and keys.
std::vector<PracticeStep> all_steps(const Course& course, const Neck& neck, double a4_hz) {
    std::vector<PracticeStep> all;
    for (const Course& each : in_every_key(course)) {
        auto made = make_exercise(each, neck, a4_hz);
        if (!made) continue;  // the neck holds none
        for (PracticeStep& step : made->steps) all.push_back(std::move(step));
        for (const From from : {From::below, From::above})
            for (PracticeStep& step : approaches_into(each, from, neck, a4_hz)) all.push_back(std::move(step));
    }
    return all;
}

/// The questions that a step can be asked; the diminished seventh's quality once, though it lies in every family.
std::vector<NameQuestion> questions_about(const PracticeStep& step, bool one_quality_fits) {
    if (step.asked.place == Sounds::approach) return {NameQuestion::approach_direction};
    std::vector<NameQuestion> out;
    if (one_quality_fits && (step.asked.place == Sounds::chord || step.asked.family == Family::major_sixth)) out.push_back(NameQuestion::quality);
    if (!step.asked.bass_degree.empty()) out.push_back(NameQuestion::bass_degree);
    return out;
}

}  // namespace

std::string_view word(NameQuestion question) noexcept {
    switch (question) {
        case NameQuestion::quality: return "quality";
        case NameQuestion::bass_degree: return "bass degree";
        case NameQuestion::approach_direction: return "approach direction";
    }
    return "quality";
}

Result<NameQuestion> parse_name_question(std::string_view text) {
    std::string plain(text);
    std::replace(plain.begin(), plain.end(), '-', ' ');
    for (std::size_t i = 0; i < kNameQuestions; ++i)
        if (plain == word(static_cast<NameQuestion>(i))) return static_cast<NameQuestion>(i);
    return Error{gripline::quoted(text) + " is no question: quality, bass-degree or approach-direction"};
}

Result<Exercise> make_name_it(const Course& course, const Neck& neck, double a4_hz, const Pins& pins, const std::vector<NameQuestion>& questions) {
    if (course.stage == StageKind::scale) return Error{"name it asks about grips: choose drop 2, drop 3 or shell"};
    if (pins.from) return Error{"pinned to one side, the approach direction has one answer: leave the side out"};
    const std::vector<PracticeStep> all = all_steps(course, neck, a4_hz);
    std::map<std::vector<int>, std::set<std::string>> fits;
    for (const PracticeStep& step : all)
        if (step.asked.place != Sounds::approach) fits[shape_of(step)].insert(quality_of(step));
    Exercise pool;
    pool.family = "Name it";
    pool.stage = name(course.stage);
    pool.string_set = course.strings.text();
    for (const PracticeStep& step : all) {
        const bool one_fits = step.asked.place != Sounds::approach && fits[shape_of(step)].size() == 1;
        for (const NameQuestion question : questions_about(step, one_fits)) {
            if (!questions.empty() && std::find(questions.begin(), questions.end(), question) == questions.end()) continue;
            if (question == NameQuestion::quality && pins.qualities.size() == 1) continue;  // it is known
            PracticeStep asked = step;
            asked.asked.asking = Asking::name_it;
            asked.asked.question = word(question);
            if (question == NameQuestion::quality) asked.asked.quality = quality_of(step);
            if (pins.allow(skill_of(asked.asked))) pool.steps.push_back(std::move(asked));
        }
    }
    const bool shells = course.stage == StageKind::shell && !questions.empty() && questions.front() == NameQuestion::quality;
    if (pool.steps.empty() && shells) return Error{"a shell's three notes fit several qualities each: ask for the quality on drop 2 or drop 3"};
    if (pool.steps.empty()) return Error{"no question is left by: " + pins.text() + ", on " + pool.stage + ", strings " + pool.string_set + "; pin less, or choose another stage or question"};
    return pool;
}

std::vector<NameChoice> choices_for(const PracticeStep& step) {
    std::vector<NameChoice> out;
    switch (question_of(step)) {
        case NameQuestion::quality:
            for (const Family family : kSixthDiminishedFamilies) out.push_back({std::string(chord_suffix(family)), std::string(chord_suffix(family)) + ", " + std::string(name(family))});
            out.push_back({kDiminished, std::string(kDiminished) + ", diminished seventh"});
            break;
        case NameQuestion::bass_degree:
            for (const ScaleStep& each : harmonised_scale(step.asked.root, step.asked.family)) out.push_back({each.degree.degree_text(), each.degree.degree_text()});
            break;
        case NameQuestion::approach_direction: out = {{"below", "from below"}, {"above", "from above"}}; break;
    }
    return out;
}

NameQuestion question_of(const PracticeStep& step) {
    const auto question = parse_name_question(step.asked.question);
    return question ? *question : NameQuestion::quality;
}

std::size_t right_choice(const PracticeStep& step) {
    std::string right = step.asked.quality;
    if (question_of(step) == NameQuestion::bass_degree) right = step.asked.bass_degree;
    if (question_of(step) == NameQuestion::approach_direction) right = word(step.asked.from.value_or(From::below));
    const auto choices = choices_for(step);
    const auto found = std::find_if(choices.begin(), choices.end(), [&](const NameChoice& choice) { return choice.answer == right; });
    return static_cast<std::size_t>(found - choices.begin());
}

std::vector<SoundedStep> name_it_sounds(const PracticeStep& step, PromptStyle style, bool key_first) {
    constexpr double kApproach_s = 1.2;  // a slow beat (judgement)
    std::vector<SoundedStep> row = key_first ? key_cadence(step) : std::vector<SoundedStep>{};
    for (SoundedStep& each : prompt_sounds(step, style)) row.push_back(std::move(each));
    if (question_of(step) != NameQuestion::approach_direction || !step.given) return row;
    row.back().length_s = kApproach_s;
    for (SoundedStep& each : prompt_sounds(*step.given, style)) row.push_back(std::move(each));
    return row;
}

}  // namespace gripline

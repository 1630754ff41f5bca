#include <cmath>
#include <vector>

#include "base/text.h"
#include "chart/chart_text.h"
#include "fretboard/stage.h"
#include "lines/walk_builder.h"
#include "practice/quiz.h"
#include "practice/walk_attempts.h"
#include "theory/chord_names.h"
#include "theory/serving.h"

namespace gripline {
namespace {

Neck neck_of(const Quiz& quiz) {
    Neck neck;
    neck.tuning = quiz.tuning;
    neck.capo = quiz.capo;
    return neck;
}

PracticeStep step_of(const Quiz& quiz, const Grip& grip, std::string chord, const std::vector<SpelledNote>& notes) {
    PracticeStep step;
    step.chord = std::move(chord);
    step.bass = notes.front().name.text();
    step.grip = grip;
    step.tuning = quiz.tuning;
    step.capo = quiz.capo;
    step.a4_hz = quiz.a4_hz;
    for (const SpelledNote& note : notes) step.names[static_cast<std::size_t>(note.name.pitch_class().value())] = note.name.text();
    return step;
}

/// Notes of a grip by the plain names.
std::vector<SpelledNote> plain_notes(const Grip& grip, const Quiz& quiz) {
    std::vector<SpelledNote> out;
    for (const GripNote& note : grip.notes(quiz.tuning, quiz.capo)) out.push_back(spelled(note.note, usual_root(note.note.pitch_class())));
    return out;
}

/// Notes of a grip as the chord writes them.
std::vector<SpelledNote> notes_in(const ChordSymbol& chord, const Grip& grip, const Quiz& quiz) {
    std::vector<SpelledNote> out;
    for (const GripNote& note : grip.notes(quiz.tuning, quiz.capo)) out.push_back(spelled(note.note, name_in(chord, note.note.pitch_class())));
    return out;
}

/// The scale that a chord symbol asks for.
struct AskedScale {
    std::string quality;
    Serving scale;
};
Result<AskedScale> scale_of(const std::string& symbol) {
    const auto chord = parse_chart_symbol(symbol);
    if (!chord) return chord.error();
    return AskedScale{chord->quality != nullptr ? std::string(chord->quality->suffix) : symbol, serving(*chord)};
}

QuizQuestion question_for(const AskedScale& asked, const SkillsAsked& skills) {
    QuizQuestion question;
    question.quality = asked.quality;
    question.root = asked.scale.root;
    question.family = asked.scale.family;
    question.stage = skills.stage;
    question.strings = skills.strings;
    return question;
}

/// The approach into a step, from one side: the step's grip slid a fret, and so its chord a semitone.
std::optional<QuizQuestion> approach_into(const Step& target, QuizQuestion question, From side, const Quiz& quiz) {
    const auto grip = approach_grip(*target.grip, side, neck_of(quiz));
    if (!grip) return std::nullopt;
    question.role = Sounds::approach;
    question.from = side;
    const std::string chord = approach_root(question.root, side).text() + std::string(chord_suffix(question.family));
    question.step = step_of(quiz, *grip, chord, notes_in(parse_chart_symbol(chord).value(), *grip, quiz));
    return question;
}

Result<std::vector<QuizQuestion>> skills_pool(const Quiz& quiz, const SkillsAsked& skills) {
    std::vector<QuizQuestion> out;
    const Neck neck = neck_of(quiz);
    for (const std::string& quality : skills.qualities) {
        for (const NoteName& key : skills.keys) {
            const auto asked = scale_of(key.text() + quality);
            if (!asked) return asked.error();
            const auto stage = build_stage(asked->scale.root, asked->scale.family, skills.stage, skills.strings, neck);
            if (!stage) return stage.error();
            const QuizQuestion pattern = question_for(*asked, skills);
            for (const Sounds role : skills.roles) {
                for (const Step& step : stage->steps) {
                    if (!step.grip || (role == Sounds::passing) != (step.role == Role::passing)) continue;
                    if (role == Sounds::approach) {
                        for (const From side : skills.sides)
                            if (auto question = approach_into(step, pattern, side, quiz)) out.push_back(std::move(*question));
                        continue;
                    }
                    QuizQuestion question = pattern;
                    question.role = role;
                    question.step = step_of(quiz, *step.grip, step.chord, step.notes);
                    out.push_back(std::move(question));
                }
            }
        }
    }
    if (out.empty()) return Error{"the neck holds nothing of what is asked; choose other keys, strings, stage or tuning"};
    return out;
}

StringSet strings_of(const Grip& grip, const Quiz& quiz) {
    std::vector<StringNumber> strings;
    for (const GripNote& note : grip.notes(quiz.tuning, quiz.capo)) strings.push_back(note.string);
    return StringSet(std::move(strings));
}

Result<std::vector<QuizQuestion>> grips_pool(const Quiz& quiz, const GripsAsked& asked) {
    std::vector<QuizQuestion> out;
    for (const NamedGrip& named : asked.grips) {
        QuizQuestion question;
        std::vector<SpelledNote> notes = plain_notes(named.grip, quiz);
        if (!named.chord.empty()) {
            const auto scale = scale_of(named.chord);
            if (!scale) return scale.error();
            question.quality = scale->quality;
            question.root = scale->scale.root;
            question.family = scale->scale.family;
            notes = notes_in(parse_chart_symbol(named.chord).value(), named.grip, quiz);
        }
        question.strings = strings_of(named.grip, quiz);
        question.step = step_of(quiz, named.grip, named.chord, notes);
        out.push_back(std::move(question));
    }
    return out;
}

Result<std::vector<QuizQuestion>> chart_pool(const Quiz& quiz, const ChartAsked& asked) {
    auto chart = parse_chart(asked.text);
    if (!chart) return chart.error();
    if (!asked.key.empty()) {
        const auto key = Key::parse(asked.key);
        if (!key) return key.error();
        if (!chart->key) return Error{"the chart names no key, so it can't be played in " + asked.key};
        *chart = transposed(*chart, key->tonic);
    }
    LineSettings settings;
    settings.neck = neck_of(quiz);
    const auto line = build_line(*chart, settings);
    if (!line) return line.error();
    const double count_s = 60.0 / asked.tempo_bpm.value_or(chart->tempo_bpm);
    std::vector<QuizQuestion> out;
    std::vector<double> counts_before{0.0, 0.0}, shares{1.0};  // index: bar as played; in counts of the tempo
    const auto bars = played_bars(*chart);
    if (!bars) return bars.error();
    const auto eighths = [](const Meter& meter) { return meter.unit == 8 ? 1.0 : 2.0; };
    for (const int bar : *bars) {
        const Meter& meter = chart->bars[static_cast<std::size_t>(bar)].meter;
        shares.push_back(eighths(meter) / eighths(chart->meter));
        counts_before.push_back(counts_before.back() + meter.counts() * shares.back());
    }
    std::string last_chord;
    for (std::size_t i = 0; i < line->beats.size(); ++i) {
        const LineBeat& beat = line->beats[i];
        const LineBeat& trained = trained_by(*line, i);
        QuizQuestion question;
        const auto scale = scale_of(trained.chord);
        question.quality = scale ? scale->quality : "";
        question.root = trained.scale.root;
        question.family = trained.scale.family;
        question.strings = strings_of(beat.grip, quiz);
        question.role = beat.role;
        question.from = beat.from;
        question.motion = beat.motion;
        question.step = step_of(quiz, beat.grip, beat.called, beat.notes);
        if (!last_chord.empty() && beat.chord != last_chord) question.joint = last_chord + " > " + beat.chord;
        last_chord = beat.chord;
        const double share = shares[static_cast<std::size_t>(beat.bar)], counts = counts_before[static_cast<std::size_t>(beat.bar)] + (beat.beat - 1) * share;
        if (asked.tempo_bpm) question.beat = QuizBeat{beat.bar, beat.beat, counts * count_s, count_s * share};
        out.push_back(std::move(question));
    }
    if (!out.empty() && out.front().beat) {  // the part begins with its first beat
        const double first_s = out.front().beat->at_s;
        for (QuizQuestion& question : out) question.beat->at_s -= first_s;
    }
    return out;
}

}  // namespace

Result<std::vector<QuizQuestion>> question_pool(const Quiz& quiz, std::size_t part_index) {
    const QuizPart& part = quiz.parts[part_index];
    struct PoolOf {
        const Quiz& quiz;
        Result<std::vector<QuizQuestion>> operator()(const SkillsAsked& asked) const { return skills_pool(quiz, asked); }
        Result<std::vector<QuizQuestion>> operator()(const GripsAsked& asked) const { return grips_pool(quiz, asked); }
        Result<std::vector<QuizQuestion>> operator()(const ChartAsked& asked) const { return chart_pool(quiz, asked); }
    };
    auto pool = std::visit(PoolOf{quiz}, part.what);
    if (!pool) return pool;
    for (QuizQuestion& question : *pool) {
        question.part = static_cast<int>(part_index);
        question.asking = part.asking;
    }
    return pool;
}

}  // namespace gripline

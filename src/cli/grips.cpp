// gripline grips: a chord's scale, drop 2, drop 3 and shell grips.
#include <ostream>

#include "cli/commands.h"
#include "cli/exercise_words.h"
#include "cli/text_table.h"
#include "formats/stage_json.h"
#include "fretboard/diagram.h"
#include "theory/chord_symbol.h"
#include "theory/serving.h"
#include "ui/text_layout.h"

namespace gripline {

namespace {

constexpr StageKind kStages[] = {StageKind::scale, StageKind::drop2, StageKind::drop3, StageKind::shell};
/// Diagrams stand side by side as far as a usual terminal goes, with a gap between.
constexpr int kPage_columns = 80;
constexpr int kGap_columns = 3;

/// The scale that serves the chord; with a family asked for, the chord's scale of that family, or that family on the chord's own root.
Serving chosen_serving(const ChordSymbol& chord, const std::optional<Family>& family) {
    if (!family) return serving(chord);
    for (const Serving& one : servings(chord)) {
        if (one.family == *family) return one;
    }
    return {chord.root.as_root(), *family, "as asked, on the chord's root"};
}

/// The stages asked for, each on its strings. With a string set and no stage: the stages that lie on it.
Result<std::vector<Stage>> chosen_stages(const ExerciseWords& asked, const Serving& scale, const Neck& neck) {
    std::vector<StageKind> kinds(std::begin(kStages), std::end(kStages));
    if (asked.stage) kinds = {*asked.stage};
    std::vector<Stage> out;
    std::string trouble;
    for (const StageKind kind : kinds) {
        const auto usual = string_sets(kind, neck.tuning.strings());
        if (!asked.strings && usual.empty()) {
            trouble = std::string(name(kind)) + " doesn't lie on " + std::to_string(neck.tuning.strings()) + " strings";
            continue;
        }
        auto stage = build_stage(scale.root, scale.family, kind, asked.strings.value_or(usual.empty() ? StringSet({}) : usual.front()), neck);
        if (stage) out.push_back(std::move(*stage));
        else trouble = stage.error().message;
    }
    if (out.empty()) return Error{trouble};
    return out;
}

/// Pictures one beside the other, as many as fit the page, their heads above them.
void print_side_by_side(const std::vector<std::vector<std::string>>& pictures, std::ostream& out) {
    std::size_t first = 0;
    while (first < pictures.size()) {
        std::size_t end = first;
        std::size_t rows = 0;
        int columns = 0;
        while (end < pictures.size()) {
            const int wide = columns_of(pictures[end].back()) + kGap_columns;
            if (end > first && columns + wide > kPage_columns) break;
            columns += wide;
            rows = std::max(rows, pictures[end++].size());
        }
        for (std::size_t row = 0; row < rows; ++row) {
            std::string line;
            for (std::size_t i = first; i < end; ++i) {
                const std::string text = row < pictures[i].size() ? pictures[i][row] : "";
                line += text + std::string(static_cast<std::size_t>(std::max(0, columns_of(pictures[i].back()) + kGap_columns - columns_of(text))), ' ');
            }
            line.erase(line.find_last_not_of(' ') + 1);
            out << line << '\n';
        }
        out << '\n';
        first = end;
    }
}

void print_diagrams(const Stage& stage, const Neck& neck, std::ostream& out) {
    std::vector<std::vector<std::string>> pictures;
    for (const Step& step : stage.steps) {
        if (!step.grip) continue;
        const std::string head = step.chord + (step.bass().name == step.lead ? "" : "/" + step.bass().name.text());
        std::vector<std::string> picture{head + " " + step.grip->text()};
        for (const std::string& line : neck_diagram(*step.grip, neck)) picture.push_back(line);
        const int wide = std::max(columns_of(picture.front()), columns_of(picture.back()));
        picture.back() += std::string(static_cast<std::size_t>(wide - columns_of(picture.back())), ' ');
        pictures.push_back(std::move(picture));
    }
    print_side_by_side(pictures, out);
}

void print_stage(const Stage& stage, const Neck& neck, std::ostream& out) {
    out << '\n' << stage.title() << '\n';
    TextTable table(out, {{"degree", 6}, {"chord", 8}, {"bass", 4}, {"grip", 16}, {"notes", 20}});
    for (const Step& step : stage.steps) {
        std::string notes;
        for (const SpelledNote& note : step.notes) notes += (notes.empty() ? "" : " ") + note.text();
        if (!step.remark.empty()) notes += "  (" + step.remark + ")";
        table.row({step.degree.degree_text(), step.chord, step.grip ? step.bass().name.text() : "-", step.grip ? step.grip->text() : "left out",
                   step.grip ? notes : step.left_out});
    }
    out << '\n';
    if (stage.kind != StageKind::scale) print_diagrams(stage, neck, out);
}

}  // namespace

int grips(const GripsOptions& options, std::ostream& out, std::ostream& err) {
    const auto chord = parse_chord(options.chord);
    if (!chord) return refuse(err, chord.error().message);
    const auto asked = read_exercise(options.family, options.stage, options.strings);
    if (!asked) return refuse(err, asked.error().message);
    const auto neck = read_neck(options.tuning, options.capo, options.left_handed);
    if (!neck) return refuse(err, neck.error().message);
    const Serving scale = chosen_serving(*chord, asked->family);
    const auto stages = chosen_stages(*asked, scale, *neck);
    if (!stages) return refuse(err, stages.error().message);
    if (!options.json) out << chord->chart_text() << ": " << scale.text() << " (" << scale.reason << ")\n";
    for (const Stage& stage : *stages) {
        if (!options.json) {
            print_stage(stage, *neck, out);
            continue;
        }
        for (const Step& step : stage.steps) out << step_json(options.chord, stage, step) << '\n';
    }
    return kExitDone;
}

}  // namespace gripline

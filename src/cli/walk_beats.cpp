#include "cli/walk_beats.h"

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "base/text.h"
#include "cli/chart_file.h"
#include "cli/line_words.h"
#include "formats/line_times.h"
#include "lines/walk_builder.h"
#include "practice/walk_attempts.h"
#include "theory/chord_words.h"

namespace gripline {

namespace {

constexpr std::size_t kMostGrips = 8UL * kMostBars;  // more than any line has beats

/// The grips of a list, divided by white space; # begins a comment.
Result<std::vector<Grip>> read_grips(const std::string& path, int strings) {
    std::error_code trouble;
    std::ifstream in(path, std::ios::binary);
    if (!in || !std::filesystem::is_regular_file(path, trouble)) return Error{path + ": can't be read; --grips takes a text file with one grip for each beat"};
    std::vector<Grip> out;
    std::string line;
    for (int number = 1; std::getline(in, line); ++number) {
        std::istringstream words(line.substr(0, line.find('#')));
        for (std::string text; words >> text;) {
            const std::string place = path + ": line " + std::to_string(number) + ", grip " + std::to_string(out.size() + 1) + ": ";
            const auto grip = Grip::parse(text, strings);
            if (!grip) return Error{place + grip.error().message};
            if (text.find_first_of("0123456789") == std::string::npos) return Error{place + gripline::quoted(text) + " sounds no string; a beat needs at least one"};
            if (out.size() == kMostGrips) return Error{path + ": more than " + std::to_string(kMostGrips) + " grips; no line is that long"};
            out.push_back(*grip);
        }
    }
    return out;
}

/// What the click accents: 2 and 4 of four; else the strong counts (common practice, no source).
std::vector<int> accents_of(const Meter& meter) { return meter.counts() == 4 ? std::vector<int>{2, 4} : meter.strong_counts(); }

ScoreBar score_bar(const TimedBar& timed, int first_count, double share) {
    ScoreBar out;
    for (const PlacedChord& chord : timed.bar->chords) out.chords += (out.chords.empty() ? "" : " ") + plain_line(plain_chord_text(chord.text()));
    out.section = plain_line(timed.bar->section);
    out.first_count = first_count;
    out.share = share;
    out.counts = timed.length / timed.count;
    out.accents = accents_of(timed.bar->meter);
    return out;
}

/// What a grip is called, when that is not the chord written there.
std::string sounds_of(const LineBeat& beat) { return beat.role == Sounds::chord ? "" : plain_line(plain_chord_text(beat.called)); }

bool has_chord(const Chart& chart, const std::string& written) {
    return std::any_of(chart.bars.begin(), chart.bars.end(), [&](const Bar& bar) {
        return std::any_of(bar.chords.begin(), bar.chords.end(), [&](const PlacedChord& each) { return each.symbol && (each.text() == written || each.symbol->chart_text() == written); });
    });
}

/// The last beat of the bars' own line, their other beats kept as they are, in place of that in the score.
std::optional<LoopEnd> loop_end(const Chart& chart, LineSettings settings, const Line& line, const WalkScore& score, BarRange bars) {
    const Chart part = part_as_played(chart, bars.first, bars.last);
    const LineBeat* last = nullptr;
    settings.comes_again = true;
    settings.locked.clear();
    for (const LineBeat& beat : line.beats) {
        if (beat.bar < bars.first || beat.bar > bars.last) continue;
        settings.locked.push_back({beat.bar - bars.first + 1, beat.beat, beat.grip});
        last = &beat;
    }
    std::erase_if(settings.scales, [&](const ScaleForChord& each) { return !has_chord(part, each.chord); });
    if (last == nullptr || settings.locked.size() < 2) return std::nullopt;
    settings.locked.pop_back();
    const auto back = build_line(part, settings);
    const auto old = std::find_if(score.beats.begin(), score.beats.end(), [&](const ScoreBeat& each) { return each.beat.bar == last->bar && each.beat.beat == last->beat; });
    if (!back || old == score.beats.end()) return std::nullopt;
    const LineBeat& beat = back->beats.back();
    if (beat.bar + bars.first - 1 != last->bar || beat.beat != last->beat) return std::nullopt;
    LoopEnd out{bars.last, *old};
    out.beat.beat.target.grip = beat.grip;
    out.beat.beat.asked = asked_on(*back, back->beats.size() - 1);
    out.beat.sounds = sounds_of(beat);
    return out;
}

}  // namespace

Result<AskedWalk> plan_walk(const WalkOptions& options) {
    AskedWalk out;
    const auto written = open_chart(options.line.chart, &out.remarks);
    if (!written) return written.error();
    const auto chart = chart_in_key(*written, options.line.key);
    if (!chart) return chart.error();
    const auto settings = line_settings(options.line);
    if (!settings) return settings.error();
    const auto line = build_line(*chart, *settings);
    if (!line) return Error{options.line.chart + ": " + line.error().message};
    out.tempo_bpm = options.tempo_bpm > 0.0 ? options.tempo_bpm : chart->tempo_bpm;
    out.count_s = 60.0 / out.tempo_bpm;
    const double eighth_s = out.count_s / (chart->meter.unit == 8 ? 1.0 : 2.0);
    Target target;
    target.tuning = settings->neck.tuning;
    target.capo = settings->neck.capo;
    target.a4_hz = options.a4_hz;
    out.score.title = plain_line(chart->title.empty() ? std::filesystem::path(options.line.chart).stem().string() : chart->title);
    out.score.tempo_bpm = out.tempo_bpm;
    int counts_before = 0;
    for (const TimedBar& bar : timed_bars(*chart, *line)) {
        out.score.bars.push_back(score_bar(bar, counts_before, bar.count * eighth_s / out.count_s));
        counts_before += out.score.bars.back().counts;
        for (const TimedBeat& timed : bar.beats) {
            const LineBeat& beat = *timed.beat;
            target.grip = beat.grip;
            out.beats.push_back({beat.bar, beat.beat, beat.written_bar, plain_line(beat.chord), options.start_s + timed.start * eighth_s, target, asked_on(*line, static_cast<std::size_t>(timed.beat - line->beats.data())), out.score.bars.back().share});
            out.score.bars.back().written_bar = beat.written_bar;
            out.score.beats.push_back({out.beats.back(), out.score.bars.back().first_count + beat.beat - 1, std::max(timed.length / bar.count, 1), sounds_of(beat)});
        }
    }
    if (out.beats.empty()) return Error{options.line.chart + ": there is nothing to play; every bar is silent"};
    if (options.grips.empty()) {
        out.loop_end = [chart = *chart, settings = *settings, line = *line, score = out.score](BarRange bars) { return loop_end(chart, settings, line, score, bars); };
        return out;
    }
    const auto grips = read_grips(options.grips, target.tuning.strings());
    if (!grips) return grips.error();
    if (grips->size() != out.beats.size())
        return Error{options.grips + ": " + std::to_string(grips->size()) + " grips, but " + options.line.chart + " has " + std::to_string(out.beats.size()) + " beats to play; one grip for each is wanted"};
    for (std::size_t i = 0; i < grips->size(); ++i) out.beats[i].target.grip = (*grips)[i];
    return out;
}

}  // namespace gripline

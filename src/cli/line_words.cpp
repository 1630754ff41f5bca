#include "cli/line_words.h"

#include <charconv>

#include "base/text.h"
#include "cli/exercise_words.h"

namespace gripline {

namespace {

Error option_error(const char* option, const std::string& what) { return {std::string(option) + ": " + what}; }

/// "0-12": two whole numbers.
bool read_frets(const std::string& text, int& low, int& high) {
    const char* const end = text.data() + text.size();
    const auto first = std::from_chars(text.data(), end, low);
    if (first.ec != std::errc() || first.ptr == end || *first.ptr != '-') return false;
    const auto second = std::from_chars(first.ptr + 1, end, high);
    return second.ec == std::errc() && second.ptr == end;
}

/// "3.1=8x89xx": bar, beat and grip.
Result<LockedBeat> read_lock(const std::string& text, int strings) {
    LockedBeat lock;
    const Error unknown = option_error("--lock", quoted(text) + " is not understood; write bar.beat=grip, such as 3.1=8x89xx");
    const char* const end = text.data() + text.size();
    const auto bar = std::from_chars(text.data(), end, lock.bar);
    if (bar.ec != std::errc() || bar.ptr == end || *bar.ptr != '.') return unknown;
    const auto beat = std::from_chars(bar.ptr + 1, end, lock.beat);
    if (beat.ec != std::errc() || beat.ptr == end || *beat.ptr != '=') return unknown;
    const auto grip = Grip::parse(std::string_view(beat.ptr + 1, static_cast<std::size_t>(end - beat.ptr - 1)), strings);
    if (!grip) return option_error("--lock", grip.error().message);
    lock.grip = *grip;
    return lock;
}

/// "G7=Dm6": a chord as in the chart and its scale.
Result<ScaleForChord> read_scale(const std::string& text) {
    const auto sign = text.find('=');
    if (sign == std::string::npos) return option_error("--scale", quoted(text) + " is not understood; write chord=scale, such as G7=Dm6");
    const auto chord = parse_chart_symbol(text.substr(0, sign));
    if (!chord) return option_error("--scale", chord.error().message);
    const auto scale = ChosenScale::parse(text.substr(sign + 1));
    if (!scale) return option_error("--scale", scale.error().message);
    return ScaleForChord{text.substr(0, sign), *scale};
}

/// "6-4-3,5-3-2".
Result<std::vector<StringSet>> read_sets(const std::string& text) {
    std::vector<StringSet> out;
    for (std::size_t at = 0; at <= text.size();) {
        const std::size_t end = std::min(text.find(',', at), text.size());
        const auto set = StringSet::parse(text.substr(at, end - at));
        if (!set) return option_error("--strings", set.error().message);
        out.push_back(*set);
        at = end + 1;
    }
    return out;
}

/// The command line has checked these words.
void read_words(const LineOptions& options, LineSettings& out) {
    out.direction = options.direction == "up" ? Direction::up : options.direction == "down" ? Direction::down : Direction::free;
    out.approach = options.approach == "below" ? ApproachSide::below : options.approach == "above" ? ApproachSide::above
                 : options.approach == "alternating" ? ApproachSide::alternating : ApproachSide::best;
    out.quality = options.quality == "dominant" ? ApproachQuality::dominant : ApproachQuality::slid;
    out.steps = options.steps == 1 ? Steps::one : options.steps == 2 ? Steps::two : Steps::four;
}

}  // namespace

Result<LineSettings> line_settings(const LineOptions& options) {
    LineSettings out;
    const auto neck = read_neck(options.tuning, options.capo, false);
    if (!neck) return neck.error();
    out.neck = *neck;
    read_words(options, out);
    out.landing = options.landing;
    out.comes_again = options.again;
    out.seed = options.seed;
    if (!read_frets(options.frets, out.region_low, out.region_high)) return option_error("--frets", quoted(options.frets) + " is not understood; write the lowest and the highest fret, such as 0-12");
    const auto sets = read_sets(options.strings);
    if (!sets) return sets.error();
    out.sets = *sets;
    const auto costs = Costs().with(options.costs);
    if (!costs) return option_error("--costs", costs.error().message);
    out.costs = *costs;
    for (const std::string& text : options.locks) {
        const auto lock = read_lock(text, out.neck.tuning.strings());
        if (!lock) return lock.error();
        for (const LockedBeat& other : out.locked)
            if (other.bar == lock->bar && other.beat == lock->beat)
                return option_error("--lock", "bar " + std::to_string(lock->bar) + ", beat " + std::to_string(lock->beat) + " is locked twice, to " + other.grip.text() + " and " + lock->grip.text() + "; leave one");
        out.locked.push_back(*lock);
    }
    for (const std::string& text : options.scales) {
        const auto scale = read_scale(text);
        if (!scale) return scale.error();
        out.scales.push_back(*scale);
    }
    return out;
}

}  // namespace gripline

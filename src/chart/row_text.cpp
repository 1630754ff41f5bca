#include "chart/row_text.h"

#include <algorithm>
#include <optional>

#include "base/text.h"
#include "chart/bar_text.h"

namespace gripline {

namespace {

constexpr int kMostTimes = 99;  // a row may be played so often; played_bars() bounds the whole

bool is_digit(char c) { return c >= '0' && c <= '9'; }

/// A run of bar-line signs, and the passes of an ending that starts there.
struct BarLine {
    bool closes = false;
    bool opens = false;
    std::vector<int> endings;
};

class RowReader {
public:
    RowReader(std::string_view row, std::vector<Bar>& bars, Meter& meter) : rest_(row), bars_(bars), meter_(meter), first_(bars.size()) {}

    Result<int> read() {
        BarLine line;
        rest_ = trimmed(rest_);
        if (starts_line()) {
            if (auto bad = take_line(line)) return *bad;
            if (line.closes) return here("a row can't begin with the end of a repeat");
        }
        while (!rest_.empty()) {
            const std::string_view inside = trimmed(take_inside());
            int times = 0;
            if (auto bad = read_times(inside, times)) return *bad;
            if (times > 0) {
                if (line.opens || !line.endings.empty()) return here("x" + std::to_string(times) + " stands behind the bars that it repeats");
                if (auto bad = play_times(times)) return *bad;
            } else if (auto bad = add_bar(inside, line)) {
                return *bad;
            }
            if (rest_.empty()) break;
            line = {};
            if (auto bad = take_line(line)) return *bad;
            if (line.closes && times > 0) return here("x" + std::to_string(times) + " stands behind the repeat sign that it counts: :| x" + std::to_string(times));
            if (line.closes) bars_.back().closes_repeat = 2;
            rest_ = trimmed(rest_);
        }
        if (line.opens) return here("a repeat opens at the end of the row; open it in the row that it repeats");
        if (!line.endings.empty()) return here("an ending without bars at the end of the row");
        return static_cast<int>(bars_.size() - first_);
    }

private:
    std::string_view rest_;
    std::vector<Bar>& bars_;
    Meter& meter_;
    std::size_t first_;

    [[nodiscard]] Error here(const std::string& what) const { return {"bar " + std::to_string(bars_.size() + 1) + ": " + what}; }
    [[nodiscard]] bool starts_line() const { return rest_.starts_with('|') || rest_.starts_with(":|"); }

    std::string_view take_inside() {
        const std::size_t end = std::min(std::min(rest_.find('|'), rest_.find(":|")), rest_.size());
        const std::string_view inside = rest_.substr(0, end);
        rest_.remove_prefix(end);
        return inside;
    }

    std::optional<Error> take_line(BarLine& line) {
        const std::size_t end = std::min(rest_.find_first_not_of("|:]"), rest_.size());
        const std::string_view signs = rest_.substr(0, end);
        rest_.remove_prefix(end);
        line.closes = signs.starts_with(':');
        line.opens = signs.size() > 1 && signs.ends_with(':');
        constexpr std::string_view kLines[] = {"|", "||", "|]", "|:", "||:", ":|", ":||", ":|]", ":|:", ":||:"};
        if (std::find(std::begin(kLines), std::end(kLines), signs) == std::end(kLines))
            return here("unknown bar line " + quoted(signs) + "; bar lines are |, ||, |], |:, :| and :|:");
        return take_endings(line);
    }

    /// "1." or "1,2." right behind the bar line.
    std::optional<Error> take_endings(BarLine& line) {
        const std::string_view ahead = trimmed(rest_);
        std::size_t end = 0;
        while (end < ahead.size() && (is_digit(ahead[end]) || ahead[end] == ',')) ++end;
        if (end > 0 && end < ahead.size() && (ahead[end] == ' ' || ahead[end] == '\t')) return here("an ending is written with a point: |" + std::string(ahead.substr(0, end)) + ". ");
        if (end == 0 || end >= ahead.size() || ahead[end] != '.') return std::nullopt;
        for (std::size_t i = 0; i < end; i += 2) {
            const bool good = is_digit(ahead[i]) && ahead[i] != '0' && (i + 1 == end || ahead[i + 1] == ',') && i + 2 != end;
            if (!good) return here("unknown ending " + quoted(ahead.substr(0, end + 1)) + "; endings are written 1. or 1,2. up to 9");
            line.endings.push_back(ahead[i] - '0');
        }
        rest_ = ahead.substr(end + 1);
        return std::nullopt;
    }

    /// `times` is set when `inside` is "x3"; 0 for anything else.
    std::optional<Error> read_times(std::string_view inside, int& times) const {
        if (inside.size() < 2 || inside.size() > 12 || inside.front() != 'x' || !std::all_of(inside.begin() + 1, inside.end(), is_digit)) return std::nullopt;
        for (const char c : inside.substr(1)) times = std::min(times * 10 + (c - '0'), kMostTimes + 1);
        if (times < 2 || times > kMostTimes) return here("a part is played x2 to x" + std::to_string(kMostTimes) + " times, not " + std::string(inside));
        if (bars_.size() == first_) return here("x" + std::to_string(times) + " stands behind the bars that it repeats");
        return std::nullopt;
    }

    /// "x3" behind :| counts that repeat; behind a plain bar line it repeats the row.
    std::optional<Error> play_times(int times) {
        if (bars_.back().closes_repeat == 0) {
            const auto signed_bar = [](const Bar& bar) { return bar.opens_repeat || bar.closes_repeat > 0 || !bar.endings.empty(); };
            if (std::any_of(bars_.begin() + static_cast<std::ptrdiff_t>(first_), bars_.end(), signed_bar))
                return here("x" + std::to_string(times) + " repeats the whole row, but the row has repeat signs of its own; write it behind :|");
            bars_[first_].opens_repeat = true;
        }
        bars_.back().closes_repeat = times;
        return std::nullopt;
    }

    std::optional<Error> add_bar(std::string_view inside, const BarLine& line) {
        if (bars_.size() >= static_cast<std::size_t>(kMostBars)) return here("a chart has at most " + std::to_string(kMostBars) + " bars");
        Bar bar;
        bar.meter = meter_;
        bar.opens_repeat = line.opens;
        bar.endings = line.endings;
        bar.starts_row = bars_.size() == first_;
        auto read = parse_bar(inside, std::move(bar), bars_.empty() ? nullptr : &bars_.back());
        if (!read) return Error{"bar " + std::to_string(bars_.size() + 1) + ", " + read.error().message};
        meter_ = read->meter;
        bars_.push_back(std::move(*read));
        return std::nullopt;
    }
};

}  // namespace

Result<int> parse_row(std::string_view row, std::vector<Bar>& bars, Meter& meter) { return RowReader(row, bars, meter).read(); }

}  // namespace gripline

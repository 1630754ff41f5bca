#include "formats/abc_reader.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "base/text.h"
#include "formats/abc_head.h"
#include "formats/abc_lexer.h"

namespace gripline {

namespace {

using Trouble = std::optional<Error>;

constexpr std::size_t kMost_bytes = 4U << 20U;  // a book of a thousand tunes
constexpr double kNoLength = 1e-9;              // of a whole note

/// One tune, line by line.
class AbcReader {
public:
    Result<ImportedChart> read(std::string_view text) {
        if (text.size() > kMost_bytes) return Error{"the file is " + std::to_string(text.size()) + " bytes long, at most " + std::to_string(kMost_bytes) + " are read"};
        if (text.starts_with("\xEF\xBB\xBF")) text.remove_prefix(3);
        if (trimmed(text).empty()) return Error{"the file is empty"};
        voice_ = voice_with_chords(text);
        for (line_ = 1; !text.empty() && !over_; ++line_) {
            const std::size_t end = std::min(text.find('\n'), text.size());
            if (auto bad = take(text.substr(0, end))) return Error{"line " + std::to_string(line_) + ", " + bad->message};
            text.remove_prefix(std::min(end + 1, text.size()));
        }
        if (!in_body_) return Error{"no tune was found; a tune begins with X: and its music behind K:"};
        close_bar();
        if (!builder_.chart.bars.empty()) builder_.chart.comments.insert(builder_.chart.comments.end(), comments_.begin(), comments_.end());
        auto out = builder_.finish();
        if (out) set_tempo(*out);
        return out;
    }

private:
    ChartBuilder builder_;
    int line_ = 1;
    bool in_body_ = false, over_ = false, begun_ = false, block_ = false, continued_ = false;
    std::string voice_, this_voice_;         // the one that is read, the one that is written now
    std::optional<Meter> meter_;
    std::optional<double> unit_;             // whole notes
    std::string tempo_text_;
    std::optional<double> quarters_a_minute_;
    bool key_told_ = false, jumps_told_ = false, tune_told_ = false, mode_told_ = false;
    std::vector<std::string> comments_;      // wait for their row
    std::string section_;                    // waits for its bar, as do these:
    std::vector<int> endings_;
    bool opens_ = false, new_row_ = false, same_ = false;
    std::optional<ChosenScale> scale_;       // waits for its chord
    bool open_ = false, overlaid_ = false;   // a bar; its second voice
    double now_ = 0.0, last_length_ = 0.0;   // whole notes
    bool any_closed_ = false;
    double note_ = 0.0;                      // the last note's length, for > and <
    double broken_ = 1.0;                    // what they ask of the next
    double tuplet_ = 1.0;
    int in_tuplet_ = 0;

    [[nodiscard]] double count_whole() const { return meter_->unit == 8 ? 0.125 : 0.25; }
    [[nodiscard]] double whole() const { return meter_->counts() * count_whole(); }
    [[nodiscard]] Error here(const std::string& what) const {
        if (builder_.chart.bars.empty()) return {what};
        return {open_ ? builder_.place(now_ / count_whole()) + what : "behind bar " + std::to_string(builder_.chart.bars.size()) + ": " + what};
    }

    /// The first voice that has something in quotes; "" when the tune has no voices.
    static std::string voice_with_chords(std::string_view text) {
        std::string now;
        bool in_body = false;  // above K: voices are only named
        while (!text.empty()) {
            const std::size_t end = std::min(text.find('\n'), text.size());
            std::string_view line = trimmed(text.substr(0, end));
            text.remove_prefix(std::min(end + 1, text.size()));
            in_body = in_body || line.starts_with("K:");
            if (!in_body) continue;
            const bool field = line.starts_with("V:"), in_line = line.starts_with("[V:");
            if (field || in_line) {
                line.remove_prefix(field ? 2 : 3);
                now = voice_name(line);
                if (field) continue;
            }
            if (!abc::is_field(line) && !line.starts_with('%') && line.find('"') != std::string_view::npos) return now;
        }
        return {};
    }
    static std::string voice_name(std::string_view text) {
        text = trimmed(text);
        return std::string(text.substr(0, text.find_first_of(" \t]")));
    }

    Trouble take(std::string_view line) {
        if (line.starts_with("%%")) {
            block_ = line.starts_with("%%begin") || (block_ && !line.starts_with("%%end"));
            return std::nullopt;
        }
        if (block_) return std::nullopt;
        const std::string_view bare = trimmed(line);
        if (bare.starts_with('%') && in_body_ && reads()) comments_.push_back(clean_text(bare.substr(1)));
        if (bare.empty() && in_body_) over_ = true;
        line = trimmed(abc::without_comment(line));
        if (line.empty()) return std::nullopt;
        if (abc::is_field(line)) {
            if (line[0] == 'X' && begun_) over_ = true;
            return over_ ? std::nullopt : field(line[0], trimmed(line.substr(2)), false);
        }
        if (!in_body_) return begun_ ? Trouble(Error{quoted(line) + " stands among the fields above K:, but is none"}) : std::nullopt;
        const bool more = line.ends_with('\\');
        if (more) line.remove_suffix(1);
        new_row_ = new_row_ || !continued_;
        continued_ = more;
        return music(line);
    }

    Trouble field(char letter, std::string_view text, bool inside) {
        if (letter == 'X' || letter == 'T') begun_ = true;
        if (letter == 'V' && in_body_) this_voice_ = voice_name(text);
        if (letter == 'V' || (in_body_ && !reads())) return std::nullopt;
        if (letter == 'T' && builder_.chart.title.empty()) builder_.chart.title = abc::plain_text(text);
        if (letter == 'K') return key(text);
        if (letter == 'M') return meter(text);
        if (letter == 'L') {
            const auto unit = abc::read_fraction(text);
            if (!unit) return here(unit.error().message);
            unit_ = *unit;
        }
        if (letter == 'Q' && tempo_text_.empty()) tempo_text_ = text;
        if (letter == 'P' && in_body_) section_ = clean_section(abc::plain_text(text));
        if (letter == 'P' && !in_body_) builder_.remark("the order of parts, P:" + clean_text(text, 40) + ", is left out; write the parts out");
        if (letter == 'r' && inside) remark_field(abc::plain_text(text));
        return std::nullopt;
    }

    void remark_field(std::string_view text) {
        constexpr std::string_view kWalkOn = "walk on ", kSame = "as before";  // chart_abc.cpp writes them
        if (text == kSame) {
            same_ = true;
        } else if (text.starts_with(kWalkOn)) {
            if (const auto scale = ChosenScale::parse(text.substr(kWalkOn.size()))) scale_ = *scale;
        }
    }

    Trouble meter(std::string_view text) {
        const auto meter = abc::read_meter(text);
        if (!meter) return here(meter.error().message);
        close_bar();
        meter_ = *meter;
        return std::nullopt;
    }

    Trouble key(std::string_view text) {
        std::string mode;
        const auto key = abc::read_key(text, mode);
        if (!key) return here(key.error().message);
        if (in_body_) {
            if (*key != builder_.chart.key && !std::exchange(key_told_, true)) builder_.remark("a change of key is left out; a chart has one key");
            return std::nullopt;
        }
        builder_.chart.key = *key;
        if (!mode.empty()) builder_.remark("the key " + clean_text(text, 40) + " is read as " + (*key)->text());
        if (!meter_) return Error{"a tune without a meter; write one above K:, such as M:4/4"};
        if (!unit_) unit_ = static_cast<double>(meter_->beats) / meter_->unit < 0.75 ? 1.0 / 16.0 : 1.0 / 8.0;  // ABC 2.1, 3.1.7
        in_body_ = true;
        const auto quarters = abc::read_tempo(tempo_text_, *unit_);
        if (!quarters) return quarters.error();
        quarters_a_minute_ = *quarters;
        return std::nullopt;
    }

    /// Now that the first bar's meter is known.
    void set_tempo(ImportedChart& out) const {
        if (!quarters_a_minute_) return;
        const double tempo_bpm = *quarters_a_minute_ * (out.chart.meter.unit == 8 ? 2.0 : 1.0);
        out.chart.tempo_bpm = std::clamp(tempo_bpm, kLeastTempo_bpm, kMostTempo_bpm);
        if (out.chart.tempo_bpm != tempo_bpm) out.remarks.emplace_back("the tempo is not within 40 to 300 counts a minute and was moved there");
    }

    [[nodiscard]] bool reads() const { return this_voice_ == voice_ || (this_voice_.empty() && voice_.empty()); }

    Trouble music(std::string_view line) {
        AbcLexer lexer(line);
        for (;;) {
            auto next = lexer.next();
            if (!next) return here(next.error().message);
            if (!*next) return std::nullopt;
            const AbcToken& token = **next;
            if (token.sign == AbcSign::field) {
                if (auto bad = field(token.field, token.text, true)) return bad;
            } else if (reads()) {
                if (auto bad = sign(token)) return bad;
            }
        }
    }

    Trouble sign(const AbcToken& token) {
        switch (token.sign) {
            case AbcSign::length: return sound(token.length * *unit_);
            case AbcSign::bars_rest: return rest_bars(token.count);
            case AbcSign::chord: return chord(token.text);
            case AbcSign::bar_line: bar_line(token); return std::nullopt;
            case AbcSign::ending:
                close_bar();
                endings_ = token.endings;
                return std::nullopt;
            case AbcSign::broken: {
                const double share = std::pow(0.5, std::abs(token.count));  // A>B: 3 to 1, A>>B: 7 to 1
                const double first = token.count > 0 ? 2.0 - share : share;
                now_ += note_ * (first - 1.0);
                broken_ = 2.0 - first;
                return std::nullopt;
            }
            case AbcSign::tuplet: {
                const int usual = token.count == 3 || token.count == 6 ? 2 : token.count == 2 || token.count == 4 || token.count == 8 ? 3 : meter_->unit == 8 ? 3 : 2;
                tuplet_ = static_cast<double>(token.in_time_of > 0 ? token.in_time_of : usual) / token.count;
                in_tuplet_ = token.over > 0 ? token.over : token.count;
                return std::nullopt;
            }
            case AbcSign::overlay:
                overlaid_ = true;
                now_ = 0.0;
                return std::nullopt;
            case AbcSign::field: break;
        }
        return std::nullopt;
    }

    Trouble begin_bar() {
        if (open_) return std::nullopt;
        if (auto bad = builder_.open_bar(*meter_)) return bad;
        open_ = true;
        overlaid_ = false;
        now_ = 0.0;
        Bar& bar = builder_.bar();
        bar.opens_repeat = std::exchange(opens_, false);
        bar.endings = std::exchange(endings_, {});
        bar.section = std::exchange(section_, {});
        bar.starts_row = std::exchange(new_row_, false) || bar.starts_row;
        bar.repeats_last = std::exchange(same_, false);
        if (bar.starts_row) bar.comments = std::exchange(comments_, {});
        return std::nullopt;
    }

    Trouble sound(double length) {
        if (auto bad = begin_bar()) return bad;
        length *= std::exchange(broken_, 1.0);
        if (in_tuplet_ > 0) {
            length *= tuplet_;
            --in_tuplet_;
        }
        note_ = length;
        now_ += length;
        if (now_ > 2.0 * whole() + kNoLength) return here("the bar is far longer than its " + std::to_string(meter_->counts()) + " counts (" + meter_->text() + "); a bar line is missing, or M: or L: is wrong");
        return std::nullopt;
    }

    Trouble rest_bars(int bars) {
        for (int i = 0; i < bars; ++i) {
            if (auto bad = begin_bar()) return bad;
            now_ = whole();
            if (i + 1 < bars) close_bar();
        }
        return std::nullopt;
    }

    Trouble chord(const std::string& text) {
        if (auto bad = begin_bar()) return bad;
        if (overlaid_) return std::nullopt;
        const double counts = now_ / count_whole();
        if (text == "N.C." || text == "NC" || text == "n.c." || text == "N/C") return builder_.put(counts, std::nullopt, std::exchange(scale_, std::nullopt));
        if (text.starts_with("D.C") || text.starts_with("D.S")) {
            if (!std::exchange(jumps_told_, true)) builder_.remark("D.C. and D.S. are left out; write such repeats out");
            return std::nullopt;
        }
        const bool root = !text.empty() && text.front() >= 'A' && text.front() <= 'G';
        auto symbol = parse_chart_symbol(text);
        if (const auto other = text.find_first_of("(;"); !symbol && root && other != std::string::npos && other > 0) symbol = parse_chart_symbol(text.substr(0, other));  // "G(Em)": another choice
        if (symbol) return builder_.put(counts, *symbol, std::exchange(scale_, std::nullopt));
        if (root && text.find(' ') == std::string::npos) return here(symbol.error().message);
        builder_.remark("the text " + quoted(clean_text(text)) + " is no chord and is left out");
        return std::nullopt;
    }

    void bar_line(const AbcToken& line) {
        close_bar();
        if (line.closes > 0 && !builder_.chart.bars.empty()) builder_.bar().closes_repeat = line.closes + 1;
        opens_ = opens_ || line.opens > 0;
    }

    /// A short bar behind nothing or behind another short bar is a pickup: it goes, and what it opens goes on to the next.
    void close_bar() {
        if (!std::exchange(open_, false)) return;
        in_tuplet_ = 0;
        broken_ = 1.0;
        const bool is_short = !overlaid_ && now_ < whole() - kNoLength;
        const bool pickup = is_short && (!any_closed_ || (last_length_ < whole() - kNoLength && last_length_ + now_ < whole() + kNoLength));
        last_length_ = overlaid_ ? whole() : now_;
        any_closed_ = true;
        if (!pickup) return;
        builder_.remark("a pickup bar is left out");
        Bar& bar = builder_.bar();
        opens_ = bar.opens_repeat;
        endings_ = std::move(bar.endings);
        section_ = std::move(bar.section);
        comments_ = std::move(bar.comments);
        new_row_ = new_row_ || bar.starts_row;
        builder_.drop_bar();
        last_length_ = whole();
    }
};

}  // namespace

Result<ImportedChart> read_abc(std::string_view text) { return AbcReader().read(text); }

}  // namespace gripline

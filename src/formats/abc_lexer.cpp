#include "formats/abc_lexer.h"

#include <algorithm>

#include "base/text.h"

namespace gripline {

namespace {

constexpr int kMostNumber = 9999;   // of a note's length or a count of bars: far past any music
constexpr int kMostSlashes = 8;     // a 256th of the unit
constexpr int kMostEnding = 9;      // as chart_text.cpp reads them

bool is_digit(char c) { return c >= '0' && c <= '9'; }
bool is_letter(char c) { return (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z'); }
bool is_note(char c) { return (c >= 'A' && c <= 'G') || (c >= 'a' && c <= 'g'); }
bool is_rest(char c) { return c == 'z' || c == 'x'; }

std::optional<AbcToken> token(AbcSign sign) {
    AbcToken out;
    out.sign = sign;
    return out;
}

}  // namespace

bool AbcLexer::skip_past(char closing) {
    const auto end = rest_.find(closing);
    if (end == std::string_view::npos) return false;
    rest_.remove_prefix(end + 1);
    return true;
}

Result<int> AbcLexer::number(int otherwise) {
    if (!is_digit(ahead())) return otherwise;
    int out = 0;
    while (is_digit(ahead())) {
        out = out * 10 + (ahead() - '0');
        rest_.remove_prefix(1);
        if (out > kMostNumber) return Error{"a number above " + std::to_string(kMostNumber)};
    }
    return out;
}

/// "3/2", "/", "//", "2": ABC 2.1, 4.3.
Result<double> AbcLexer::length() {
    const auto above = number(1);
    if (!above) return above.error();
    double out = *above;
    int slashes = 0;
    for (; ahead() == '/'; rest_.remove_prefix(1))
        if (++slashes > kMostSlashes) return Error{"more than " + std::to_string(kMostSlashes) + " slashes in a note's length"};
    if (slashes == 0) return out;
    const auto below = number(0);
    if (!below) return below.error();
    if (*below == 0) return out / static_cast<double>(1U << static_cast<unsigned>(slashes));
    return out / *below;
}

AbcLexer::Token AbcLexer::note() {
    while (ahead() == '^' || ahead() == '_' || ahead() == '=') rest_.remove_prefix(1);
    if (!is_note(ahead()) && !is_rest(ahead())) return std::optional<AbcToken>();  // a lone accidental: passed over
    rest_.remove_prefix(1);
    while (ahead() == '\'' || ahead() == ',') rest_.remove_prefix(1);
    auto out = token(AbcSign::length);
    const auto value = length();
    if (!value) return value.error();
    out->length = *value;
    return out;
}

/// "[CEG]2": as long as its first note, times what stands behind it (ABC 2.1, 4.17).
AbcLexer::Token AbcLexer::notes_in_brackets() {
    const auto end = rest_.find(']');
    if (end == std::string_view::npos) return Error{"a bracket that never closes: " + quoted(rest_)};
    AbcLexer inside(rest_.substr(1, end - 1));
    auto out = token(AbcSign::length);
    double first = 0.0;
    for (auto each = inside.next(); first == 0.0; each = inside.next()) {
        if (!each) return each.error();
        if (!*each) break;
        if ((*each)->sign == AbcSign::length) first = (*each)->length;
    }
    rest_.remove_prefix(end + 1);
    const auto times = length();
    if (!times) return times.error();
    out->length = first * *times;
    return out;
}

AbcLexer::Token AbcLexer::quoted_text() {
    const auto end = rest_.find('"', 1);
    if (end == std::string_view::npos) return Error{"quotes that never close: " + quoted(rest_)};
    auto out = token(AbcSign::chord);
    out->text = trimmed(rest_.substr(1, end - 1));
    rest_.remove_prefix(end + 1);
    const bool annotation = !out->text.empty() && std::string_view("^_<>@").find(out->text.front()) != std::string_view::npos;
    return annotation ? next() : Token(out);
}

/// ":|", "|:", "::", "||", "[|", "|]", ":|:" and with more colons (ABC 2.1, 4.8).
AbcLexer::Token AbcLexer::bar_line() {
    const auto run = [&](std::string_view signs) {
        int count = 0;
        for (; !rest_.empty() && signs.find(ahead()) != std::string_view::npos; rest_.remove_prefix(1)) ++count;
        return count;
    };
    auto out = token(AbcSign::bar_line);
    out->closes = run(":");
    if (ahead() == '[') rest_.remove_prefix(1);
    if (run("|") == 0 && out->closes > 1) out->opens = out->closes = 1;  // "::"
    if (ahead() == ']') rest_.remove_prefix(1);
    if (out->opens == 0) out->opens = run(":");
    return out;
}

/// "1", "1,3", "1-3" behind a bar line or a bracket (ABC 2.1, 4.9, 4.10).
AbcLexer::Token AbcLexer::ending_numbers() {
    auto out = token(AbcSign::ending);
    const std::string_view whole = rest_;
    while (is_digit(ahead())) {
        const auto from = number(0);
        if (!from) return from.error();
        auto to = from;
        if (ahead() == '-' && is_digit(ahead(1))) {
            rest_.remove_prefix(1);
            to = number(0);
            if (!to) return to.error();
        }
        if (*from < 1 || *to > kMostEnding || *to < *from) return Error{"ending " + quoted(whole.substr(0, whole.size() - rest_.size())) + "; endings 1 to 9 are read"};
        for (int each = *from; each <= *to; ++each) out->endings.push_back(each);
        if (out->endings.size() > static_cast<std::size_t>(kMostEnding)) return Error{"more than 9 numbers for one ending"};
        if (ahead() != ',' || !is_digit(ahead(1))) break;
        rest_.remove_prefix(1);
    }
    if (ahead() == '.') rest_.remove_prefix(1);
    return out;
}

AbcLexer::Token AbcLexer::inline_field() {
    const auto end = rest_.find(']');
    if (end == std::string_view::npos) return Error{"a bracket that never closes: " + quoted(rest_)};
    auto out = token(AbcSign::field);
    out->field = ahead(1);
    out->text = trimmed(rest_.substr(3, end - 3));
    rest_.remove_prefix(end + 1);
    return out;
}

/// "(3", "(3:2", "(3:2:4", "(3::4": ABC 2.1, 4.13.
AbcLexer::Token AbcLexer::tuplet() {
    rest_.remove_prefix(1);
    auto out = token(AbcSign::tuplet);
    int* const places[] = {&out->count, &out->in_time_of, &out->over};
    for (std::size_t i = 0; i < 3; ++i) {
        if (i > 0 && ahead() != ':') break;
        if (i > 0 && ahead(1) == '|') break;  // a bar line
        if (i > 0) rest_.remove_prefix(1);
        const auto value = number(0);
        if (!value) return value.error();
        *places[i] = *value;
    }
    constexpr int kMostTuplet = 9;  // as the standard has them
    if (out->count < 2 || out->count > kMostTuplet || out->in_time_of > 99 || out->over > 99) return Error{"a tuplet of " + std::to_string(out->count) + "; 2 to 9 notes are read"};
    return out;
}

Result<std::optional<AbcToken>> AbcLexer::next() {
    while (!rest_.empty()) {
        const char c = ahead();
        if (c == '"') return quoted_text();
        if (c == '&') {
            rest_.remove_prefix(1);
            return token(AbcSign::overlay);
        }
        if (c == '(' && is_digit(ahead(1))) return tuplet();
        if (c == '[' && is_letter(ahead(1)) && ahead(2) == ':') return inline_field();
        if (c == '[' && is_digit(ahead(1))) {
            rest_.remove_prefix(1);
            return ending_numbers();
        }
        if (c == '|' || (c == '[' && ahead(1) == '|') || (c == ':' && (ahead(1) == '|' || ahead(1) == ':'))) return bar_line();
        if (c == '[') return notes_in_brackets();
        if (is_digit(c)) return ending_numbers();  // lengths were read with their notes: this stands behind a bar line
        if (c == '>' || c == '<') {
            auto out = token(AbcSign::broken);
            for (; ahead() == c && std::abs(out->count) < 3; rest_.remove_prefix(1)) out->count += c == '>' ? 1 : -1;
            return out;
        }
        if (c == 'Z' || c == 'X') {
            rest_.remove_prefix(1);
            auto out = token(AbcSign::bars_rest);
            const auto bars = number(1);
            if (!bars) return bars.error();
            out->count = *bars;
            return out;
        }
        if (is_note(c) || is_rest(c) || c == '^' || c == '_' || c == '=') {
            auto out = note();
            if (!out || *out) return out;
            continue;
        }
        rest_.remove_prefix(1);
        if (c == '{' && !skip_past('}')) return Error{"grace notes that never close"};
        if (c == '!' && rest_.find('!') != std::string_view::npos) skip_past('!');  // a lone ! was a line break once
        if (c == '+' && rest_.find('+') != std::string_view::npos) skip_past('+');
        if (c == 'y')
            while (is_digit(ahead())) rest_.remove_prefix(1);
    }
    return std::optional<AbcToken>();
}

}  // namespace gripline

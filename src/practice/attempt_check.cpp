#include "practice/attempt_check.h"

#include <cmath>
#include <string>

#include "base/text.h"
#include "practice/attempt_id.h"

namespace gripline {
namespace {

constexpr std::int64_t kEarliest_ms = 946'684'800'000;   // 2000-01-01
constexpr std::int64_t kLatest_ms = 7'258'118'400'000;   // 2200-01-01
constexpr int kMostOffset_min = 14 * 60;                 // the time zones in use reach from -12 to +14 hours

/// Bytes of the character that begins at `at`: 0 when it is no UTF-8 (RFC 3629).
std::size_t utf8_length(std::string_view text, std::size_t at) {
    const auto byte = [&](std::size_t i) { return i < text.size() ? static_cast<unsigned char>(text[i]) : 0U; };
    const unsigned first = byte(at);
    if (first < 0x80) return 1;
    const std::size_t length = first >= 0xC2 && first <= 0xDF ? 2 : (first & 0xF0U) == 0xE0 ? 3 : first >= 0xF0 && first <= 0xF4 ? 4 : 0;
    for (std::size_t i = 1; i < length; ++i) {
        if ((byte(at + i) & 0xC0U) != 0x80) return 0;
    }
    const unsigned second = byte(at + 1);
    if ((first == 0xE0 && second < 0xA0) || (first == 0xED && second > 0x9F) || (first == 0xF0 && second < 0x90) || (first == 0xF4 && second > 0x8F)) return 0;
    return length;
}

std::optional<Error> check_text(std::string_view text, std::string_view what, std::size_t most) {
    const std::string place = std::string(what) + " " + quoted(text) + ": ";
    if (text.size() > most) return Error{place + "has " + std::to_string(text.size()) + " bytes; at most " + std::to_string(most) + " are allowed"};
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t length = utf8_length(text, at);
        if (length == 0) return Error{place + "is no UTF-8"};
        if (static_cast<unsigned char>(text[at]) < 0x20 || text[at] == 0x7f) return Error{place + "holds a control character; none is allowed"};
        at += length;
    }
    return std::nullopt;
}

/// Collects the first complaint.
class Limits {
public:
    void text(std::string_view text, std::string_view what) { take(check_text(text, what, kLongestText_bytes)); }
    void within(double value, double least, double most, const std::string& what) {
        if (value >= least && value <= most) return;
        take(Error{what + " is " + std::to_string(value) + "; allowed: " + std::to_string(least) + " to " + std::to_string(most)});
    }
    void take(std::optional<Error> error) {
        if (!error_) error_ = std::move(error);
    }
    std::optional<Error> error_;
};

void check_faults(const std::vector<Fault>& faults, Limits& limits) {
    if (faults.size() > kMostFaults) limits.take(Error{std::to_string(faults.size()) + " faults; at most " + std::to_string(kMostFaults) + " are allowed"});
    for (const Fault& fault : faults) {
        if (fault.string) limits.within(fault.string->number(), 1, kMaxStrings, "string of a fault");
        limits.within(fault.frets, -kMaxFret, kMaxFret, "frets of a fault");
        if (fault.asked) limits.within(fault.asked->number(), 0, 127, "note asked of a fault");
        if (fault.heard) limits.within(fault.heard->number(), 0, 127, "note heard of a fault");
        limits.within(fault.probability, 0, 1, "probability of a fault");
    }
}

}  // namespace

std::optional<Error> check_name(std::string_view name, std::string_view what, bool may_be_empty) {
    if (trimmed(name).empty() && (!may_be_empty || !name.empty())) return Error{std::string(what) + " " + quoted(name) + ": a name is wanted"};
    return check_text(name, what, kLongestName_bytes);
}

std::optional<Error> check(const Attempt& attempt) {
    Limits limits;
    limits.take(check_name(attempt.player, "player", false));
    limits.take(check_name(attempt.guitar, "guitar", true));
    if (!attempt.id.empty() && !parse_attempt_id(attempt.id)) limits.take(Error{"id " + quoted(attempt.id) + ": 32 hex digits are wanted"});
    if (attempt.at_ms < kEarliest_ms || attempt.at_ms >= kLatest_ms) limits.take(Error{"the time " + std::to_string(attempt.at_ms) + " ms lies outside the years 2000 to 2199"});
    limits.within(attempt.utc_offset_min, -kMostOffset_min, kMostOffset_min, "minutes east of UTC");
    limits.text(attempt.input, "input");
    limits.text(attempt.quality, "quality");
    limits.text(attempt.chord, "chord");
    limits.text(attempt.bass_degree, "bass degree");
    limits.text(attempt.question, "question");
    limits.text(attempt.answered, "answer");
    if (attempt.from && attempt.place != Sounds::approach) limits.take(Error{"only an approach has a side"});
    if (attempt.motion) limits.within(*attempt.motion, -1, 1, "motion");
    if (attempt.tempo_bpm) limits.within(*attempt.tempo_bpm, 1, 1000, "tempo, counts a minute,");
    limits.within(attempt.confidence, 0, 1, "confidence");
    if (attempt.heard.size() > kMostHeard) limits.take(Error{std::to_string(attempt.heard.size()) + " notes heard; at most " + std::to_string(kMostHeard) + " are allowed"});
    for (const MidiNote note : attempt.heard) limits.within(note.number(), 0, 127, "note heard");
    check_faults(attempt.faults, limits);
    if (attempt.off_ms) limits.within(*attempt.off_ms, -60'000, 60'000, "milliseconds off the beat");
    if (attempt.answer_s) limits.within(*attempt.answer_s, 0, 86'400, "seconds to answer");
    limits.within(attempt.try_number, 1, 1'000'000, "number of the try");
    return limits.error_;
}

}  // namespace gripline

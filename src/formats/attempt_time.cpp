// Times as RFC 3339 has them.
#include <charconv>
#include <chrono>
#include <cstdio>
#include <cstdlib>

#include "base/text.h"
#include "formats/attempt_fields.h"
#include "formats/attempt_file.h"

namespace gripline {
namespace {

/// The digits at `at`, exactly so many; -1 when they are not there.
int digits(const std::string& text, std::size_t at, std::size_t many) {
    int value = 0;
    if (at + many > text.size()) return -1;
    for (std::size_t i = at; i < at + many; ++i) {
        if (text[i] < '0' || text[i] > '9') return -1;
        value = 10 * value + (text[i] - '0');
    }
    return value;
}

/// "Z", "+01:00", "-03:30"; nothing else.
std::optional<int> offset_min(const std::string& text) {
    if (text == "Z" || text == "z") return 0;
    if (text.size() != 6 || (text[0] != '+' && text[0] != '-') || text[3] != ':') return std::nullopt;
    const int hours = digits(text, 1, 2), minutes = digits(text, 4, 2);
    if (hours < 0 || hours > 23 || minutes < 0 || minutes > 59) return std::nullopt;
    return (text[0] == '-' ? -1 : 1) * (60 * hours + minutes);
}

}  // namespace

std::string time_text(std::int64_t at_ms, int utc_offset_min) {
    using namespace std::chrono;
    const sys_time<milliseconds> local{milliseconds(at_ms) + minutes(utc_offset_min)};
    const auto day = floor<days>(local);
    const year_month_day date{day};
    const hh_mm_ss time{local - day};
    const int away = std::abs(utc_offset_min);
    char text[48];
    std::snprintf(text, sizeof text, "%04d-%02u-%02uT%02d:%02d:%02d.%03d%c%02d:%02d", static_cast<int>(date.year()), static_cast<unsigned>(date.month()), static_cast<unsigned>(date.day()),
                  static_cast<int>(time.hours().count()), static_cast<int>(time.minutes().count()), static_cast<int>(time.seconds().count()), static_cast<int>(time.subseconds().count()),
                  utc_offset_min < 0 ? '-' : '+', away / 60, away % 60);
    return text;
}

Result<WrittenTime> parse_time(const std::string& text) {
    using namespace std::chrono;
    const Error wrong{gripline::quoted(text) + " is no time; one like 2026-11-25T08:15:30.123+01:00 is wanted"};
    const bool signs = text.size() > 19 && text[4] == '-' && text[7] == '-' && (text[10] == 'T' || text[10] == 't' || text[10] == ' ') && text[13] == ':' && text[16] == ':';
    if (!signs) return wrong;
    const int hour = digits(text, 11, 2), minute = digits(text, 14, 2), second = digits(text, 17, 2);
    const int y = digits(text, 0, 4), m = digits(text, 5, 2), d = digits(text, 8, 2);
    if (y < 0 || m < 0 || d < 0 || hour < 0 || hour > 23 || minute < 0 || minute > 59 || second < 0 || second > 60) return wrong;
    const year_month_day date{year(y), month(static_cast<unsigned>(m)), day(static_cast<unsigned>(d))};
    if (!date.ok()) return wrong;
    std::size_t at = 19;
    std::int64_t fraction_ms = 0;
    if (text[at] == '.') {
        const std::size_t from = ++at;
        while (at < text.size() && text[at] >= '0' && text[at] <= '9') ++at;
        if (at == from) return wrong;
        for (std::size_t i = 0; i < 3; ++i) fraction_ms = 10 * fraction_ms + (from + i < at ? text[from + i] - '0' : 0);
    }
    const auto away = offset_min(text.substr(at));
    if (!away) return wrong;
    const auto local = sys_days{date}.time_since_epoch() + hours(hour) + minutes(minute) + seconds(second);
    return WrittenTime{duration_cast<milliseconds>(local - minutes(*away)).count() + fraction_ms, *away};
}

}  // namespace gripline

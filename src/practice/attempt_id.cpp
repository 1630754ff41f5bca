#include "practice/attempt_id.h"

#include <random>

namespace gripline {
namespace {

constexpr char kDigits[] = "0123456789abcdef";

int value_of(char digit) noexcept {
    if (digit >= '0' && digit <= '9') return digit - '0';
    if (digit >= 'a' && digit <= 'f') return digit - 'a' + 10;
    if (digit >= 'A' && digit <= 'F') return digit - 'A' + 10;
    return -1;
}

}  // namespace

AttemptId new_attempt_id(std::int64_t at_ms) {
    static thread_local std::random_device random;
    AttemptId id{};
    for (std::size_t i = 0; i < 6; ++i) id[i] = static_cast<std::uint8_t>(at_ms >> (40 - 8 * static_cast<int>(i)));
    for (std::size_t i = 6; i < id.size(); ++i) id[i] = static_cast<std::uint8_t>(random());
    id[6] = static_cast<std::uint8_t>((id[6] & 0x0FU) | 0x70U);  // RFC 9562, 5.7: version 7
    id[8] = static_cast<std::uint8_t>((id[8] & 0x3FU) | 0x80U);  // and variant 10
    return id;
}

std::string text_of(const AttemptId& id) {
    std::string text;
    for (const std::uint8_t byte : id) {
        text += kDigits[byte >> 4U];
        text += kDigits[byte & 0x0FU];
    }
    return text;
}

std::optional<AttemptId> parse_attempt_id(std::string_view text) {
    AttemptId id{};
    std::size_t digits = 0;
    for (const char c : text) {
        if (c == '-') continue;
        const int value = value_of(c);
        if (value < 0 || digits == 2 * id.size()) return std::nullopt;
        id[digits / 2] = static_cast<std::uint8_t>(id[digits / 2] * 16 + value);
        ++digits;
    }
    if (digits != 2 * id.size()) return std::nullopt;
    return id;
}

}  // namespace gripline

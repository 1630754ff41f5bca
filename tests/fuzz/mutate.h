// Files broken at random, but the same way each time: bytes flipped, parts cut, doubled, moved, numbers made absurd, words of the format put in.
#pragma once

#include <cstdint>
#include <random>
#include <string>
#include <vector>

namespace gripline::test {

class Mutator {
public:
    /// `words`: what the format gives a meaning to.
    Mutator(std::uint32_t seed, std::vector<std::string> words) : random_(seed), words_(std::move(words)) {}

    /// A whole number below `limit`, which must be above 0.
    std::size_t below(std::size_t limit) { return static_cast<std::size_t>(random_() % limit); }
    const std::string& one_of(const std::vector<std::string>& texts) { return texts[below(texts.size())]; }

    /// Random bytes, at most `most` of them.
    std::string garbage(std::size_t most) {
        std::string out(below(most + 1), '\0');
        for (char& c : out) c = static_cast<char>(random_());
        return out;
    }

    /// One to eight changes.
    std::string mutated(std::string text, const std::vector<std::string>& others) {
        for (std::size_t changes = 1 + below(8); changes > 0; --changes) change(text, others);
        return text;
    }

private:
    std::mt19937 random_;
    std::vector<std::string> words_;

    void change(std::string& text, const std::vector<std::string>& others) {
        if (text.empty()) text = one_of(others);
        const std::size_t at = below(text.size() + 1), length = below(std::min<std::size_t>(64, text.size() - at + 1) + 1);
        switch (below(9)) {
            case 0: if (at < text.size()) text[at] = static_cast<char>(text[at] ^ (1U << below(8))); break;
            case 1: if (at < text.size()) text[at] = static_cast<char>(random_()); break;
            case 2: text.erase(at, length); break;
            case 3: text.insert(at, text.substr(below(text.size() + 1), length)); break;
            case 4: text.resize(at); break;  // truncated
            case 5: if (!words_.empty()) text.insert(at, one_of(words_)); break;
            case 6: absurd_number(text, at); break;
            case 7: {
                const std::string& other = one_of(others);
                text = text.substr(0, at) + other.substr(below(other.size() + 1));
                break;
            }
            default: if (!words_.empty()) text.replace(at, length, one_of(words_)); break;
        }
    }

    void absurd_number(std::string& text, std::size_t at) {
        static const std::vector<std::string> kNumbers{"0", "-1", "255", "65536", "4294967296", "99999999999999999999", "1e309", "-1e309", "nan", "0.0000001", "2147483647", "-2147483648"};
        const auto first = text.find_first_of("0123456789", at);
        if (first == std::string::npos) return;
        const auto end = text.find_first_not_of("0123456789.", first);
        text.replace(first, (end == std::string::npos ? text.size() : end) - first, one_of(kNumbers));
    }
};

}  // namespace gripline::test

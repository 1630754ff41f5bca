#include "cli/nearest.h"

#include <algorithm>
#include <cstdlib>

namespace gripline {

namespace {

/// Optimal string alignment distance.
std::size_t distance(const std::string& a, const std::string& b) {
    std::vector<std::vector<std::size_t>> d(a.size() + 1, std::vector<std::size_t>(b.size() + 1));
    for (std::size_t i = 0; i <= a.size(); ++i) d[i][0] = i;
    for (std::size_t j = 0; j <= b.size(); ++j) d[0][j] = j;
    for (std::size_t i = 1; i <= a.size(); ++i) {
        for (std::size_t j = 1; j <= b.size(); ++j) {
            d[i][j] = std::min({d[i - 1][j] + 1, d[i][j - 1] + 1, d[i - 1][j - 1] + (a[i - 1] == b[j - 1] ? 0U : 1U)});
            if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1]) d[i][j] = std::min(d[i][j], d[i - 2][j - 2] + 1);
        }
    }
    return d[a.size()][b.size()];
}

}  // namespace

std::string nearest_word(const std::string& typed, const std::vector<std::string>& known) {
    std::string best;
    std::size_t least = typed.size() + 1;
    if (typed.size() > 64) return best;  // no word of ours is half as long
    for (const std::string& word : known) {
        const std::size_t far = distance(typed, word);
        if (far < least && far <= (word.size() + 2) / 3) {
            least = far;
            best = word;
        }
    }
    return best;
}

}  // namespace gripline

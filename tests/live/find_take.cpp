// find_take RECORDING.f32 TAKE.wav FROM_S SECONDS COUNT_S COUNTS: where a take that was played into the live input lies in a recording of that input (48 kHz mono float), and
// where the clicks of a walk do: a count-in of four, then COUNTS of COUNT_S, 2 and 4 accented. Prints the take's second of the recording, then that of each click after the
// count-in, to the frame. The take is found by the stretch of it that begins at FROM_S; each click by itself, for a sound server may slip in between.
#include <cmath>
#include <cstdlib>
#include <fstream>
#include <iostream>
#include <span>
#include <vector>

#include "audio/file_source.h"
#include "audio/metronome.h"

using namespace gripline;

namespace {

constexpr int kRate_hz = 48000;

int fail(const std::string& what) {
    std::cerr << "find_take: " << what << '\n';
    return 1;
}

std::vector<float> read_raw(const std::string& path) {
    std::ifstream file(path, std::ios::binary | std::ios::ate);
    if (!file) return {};
    std::vector<float> out(static_cast<std::size_t>(file.tellg()) / sizeof(float));
    file.seekg(0);
    file.read(reinterpret_cast<char*>(out.data()), static_cast<std::streamsize>(out.size() * sizeof(float)));
    return out;
}

std::vector<float> read_take(const std::string& path) {
    std::vector<float> read, block(4096), out;
    auto source = FileSource::open(path);
    if (!source) return {};
    while (const std::size_t count = (*source)->read(block)) read.insert(read.end(), block.begin(), block.begin() + static_cast<std::ptrdiff_t>(count));
    // At another rate: straight lines between the frames, good enough for a guitar to be found by.
    for (std::size_t i = 0;; ++i) {
        const double place = static_cast<double>(i) * (*source)->rate_hz() / kRate_hz;
        const auto before = static_cast<std::size_t>(place);
        if (before + 1 >= read.size()) return out;
        const double share = place - static_cast<double>(before);
        out.push_back(static_cast<float>((1.0 - share) * static_cast<double>(read[before]) + share * static_cast<double>(read[before + 1])));
    }
}

/// The place in `sound`, from `from` to `until`, where `pattern` matches best: largest sum of products over the root of the sound's own energy there.
std::size_t best_match(const std::vector<float>& sound, std::size_t from, std::size_t until, std::span<const float> pattern) {
    double best = -1.0;
    std::size_t at = from;
    for (std::size_t place = from; place + pattern.size() <= std::min(until + pattern.size(), sound.size()); ++place) {
        float product = 0.0F, energy = 1e-9F;
        for (std::size_t i = 0; i < pattern.size(); ++i) {
            product += pattern[i] * sound[place + i];
            energy += sound[place + i] * sound[place + i];
        }
        const double match = static_cast<double>(product) / std::sqrt(static_cast<double>(energy));
        if (match <= best) continue;
        best = match;
        at = place;
    }
    return at;
}

/// Means of blocks of so many frames.
std::vector<float> in_blocks(std::span<const float> sound, std::size_t size) {
    std::vector<float> out(sound.size() / size, 0.0F);
    for (std::size_t i = 0; i < out.size() * size; ++i) out[i / size] += sound[i] / static_cast<float>(size);
    return out;
}

/// The same over a whole recording: first in blocks of 8 frames (3 kHz and less, where a guitar's sound lies), then to the frame around there. Every frame
/// against every frame took 20 s of a processor for a walk of 16 s.
std::size_t best_of_all(const std::vector<float>& sound, std::span<const float> pattern) {
    constexpr std::size_t kBlock = 8, kAround = 64;
    const auto coarse = in_blocks(sound, kBlock), coarse_pattern = in_blocks(pattern, kBlock);
    const std::size_t near = kBlock * best_match(coarse, 0, coarse.size() - coarse_pattern.size(), coarse_pattern);
    return best_match(sound, near > kAround ? near - kAround : 0, near + kAround, pattern);
}

/// Twice differenced: a click stands out of a guitar.
std::vector<float> differenced(const std::vector<float>& sound) {
    std::vector<float> out(sound.size(), 0.0F);
    for (std::size_t i = 2; i < sound.size(); ++i) out[i] = sound[i] - 2.0F * sound[i - 1] + sound[i - 2];
    return out;
}

/// The place from `from` to `until` with the largest product.
std::size_t best_click(const std::vector<float>& clean, std::size_t from, std::size_t until, const std::vector<float>& pattern) {
    float best = -1.0F;
    std::size_t at = from;
    for (std::size_t place = from; place < until && place + pattern.size() <= clean.size(); ++place) {
        float product = 0.0F;
        for (std::size_t i = 0; i < pattern.size(); ++i) product += pattern[i] * clean[place + i];
        if (product <= best) continue;
        best = product;
        at = place;
    }
    return at;
}

}  // namespace

int main(int argc, char** argv) {
    if (argc != 7) return fail("RECORDING.f32 TAKE.wav FROM_S SECONDS COUNT_S COUNTS are wanted");
    const auto sound = read_raw(argv[1]), take = read_take(argv[2]);
    const auto from = static_cast<std::size_t>(std::atof(argv[3]) * kRate_hz), length = static_cast<std::size_t>(std::atof(argv[4]) * kRate_hz);
    if (sound.size() < kRate_hz || take.size() < from + length) return fail("recording or take is missing or too short");
    // The first click: the first sound of all that is louder than a room, then to the frame.
    std::size_t first = 0;
    while (first < sound.size() && std::abs(sound[first]) < 0.004F) ++first;
    const auto clean = differenced(sound), accent = differenced(render_click(kRate_hz, true)), plain = differenced(render_click(kRate_hz, false));
    const auto reach = static_cast<std::size_t>(0.06 * kRate_hz);
    const double count_s = std::atof(argv[5]);
    std::size_t click = best_click(clean, first > reach ? first - reach : 0, first + reach, accent);
    const std::size_t found = best_of_all(sound, std::span(take).subspan(from, length));
    std::cout.precision(9);
    std::cout << (static_cast<double>(found) - static_cast<double>(from)) / kRate_hz;
    click += static_cast<std::size_t>(std::lround(3.0 * count_s * kRate_hz));
    for (int count = 0; count < std::atoi(argv[6]); ++count) {
        const std::size_t due = click + static_cast<std::size_t>(std::lround(count_s * kRate_hz));
        click = best_click(clean, due - reach, due + reach, count % 2 == 1 ? accent : plain);
        std::cout << ' ' << static_cast<double>(click) / kRate_hz;
    }
    std::cout << '\n';
    return 0;
}

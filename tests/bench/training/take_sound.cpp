#include "training/take_sound.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "audio/file_source.h"

namespace gripline::training {

namespace {

constexpr double kTurn = 6.283185;
constexpr double kAbsent_db = -60.0;
constexpr double kRise_s = 0.002;

struct Resonance {
    double hz = 0.0, decay_s = 0.0, level_db = 0.0;
};
using Body = std::array<Resonance, 3>;  // lowest first

struct Dice {
    std::mt19937& random;
    std::uniform_real_distribution<double> unit{0.0, 1.0};
    double between(double low, double high) { return low + (high - low) * unit(random); }
    bool chance(double share) { return unit(random) < share; }
};

Body draw_body(Dice& dice, bool thin_microphone) {
    static constexpr double kHz[3][2] = {{85, 130}, {170, 250}, {300, 450}};
    static constexpr double kDecay_s[3][2] = {{0.015, 0.08}, {0.012, 0.06}, {0.008, 0.03}};
    static constexpr double kLevel_db[3][2] = {{-22, 0}, {-24, -3}, {-30, -8}};
    Body body;
    for (std::size_t r = 0; r < body.size(); ++r) body[r].hz = dice.between(kHz[r][0], kHz[r][1]);
    for (std::size_t r = 0; r < body.size(); ++r) body[r].decay_s = dice.between(kDecay_s[r][0], kDecay_s[r][1]);
    for (std::size_t r = 0; r < body.size(); ++r) body[r].level_db = dice.between(kLevel_db[r][0], kLevel_db[r][1]);
    if (thin_microphone) body[0].level_db = kAbsent_db;
    if (dice.chance(0.3)) body[0].level_db = kAbsent_db;
    if (dice.chance(0.5)) body[2].level_db = kAbsent_db;
    return body;
}

/// Of the tenth of a second from the onset on.
double rms_after(const TakeSound& sound, double onset_s) {
    const auto first = static_cast<long>(onset_s * sound.rate_hz);
    const long end = std::min(static_cast<long>(sound.frames.size()), first + sound.rate_hz / 10);
    double sum = 0.0;
    for (long i = first; i < end; ++i) sum += static_cast<double>(sound.frames[static_cast<std::size_t>(i)] * sound.frames[static_cast<std::size_t>(i)]);
    return std::sqrt(sum / static_cast<double>(std::max(1L, end - first)));
}

void ring(TakeSound& sound, double start_s, const Resonance& resonance, double amplitude, double phase) {
    const auto start = static_cast<long>(start_s * sound.rate_hz);
    const long end = std::min(static_cast<long>(sound.frames.size()), start + static_cast<long>(6 * resonance.decay_s * sound.rate_hz));
    for (long i = std::max(0L, start); i < end; ++i) {
        const double t = static_cast<double>(i - start) / sound.rate_hz;
        float& frame = sound.frames[static_cast<std::size_t>(i)];
        frame = static_cast<float>(frame + amplitude * std::exp(-t / resonance.decay_s) * (1 - std::exp(-t / kRise_s)) * std::sin(kTurn * resonance.hz * t + phase));
    }
}

}  // namespace

Result<TakeSound> read_sound(const std::string& path) {
    auto source = FileSource::open(path);
    if (!source) return source.error();
    FileSource& file = **source;
    TakeSound sound{file.rate_hz(), {}};
    std::array<float, 4096> block;
    while (const std::size_t got = file.read(block)) sound.frames.insert(sound.frames.end(), block.begin(), block.begin() + static_cast<std::ptrdiff_t>(got));
    if (const std::string trouble = file.trouble(); !trouble.empty()) return Error{trouble};
    return sound;
}

void add_knocks(TakeSound& sound, std::span<const double> onsets_s, bool thin_microphone, std::mt19937& random) {
    Dice dice{random};
    if (dice.chance(0.4)) return;
    const Body body = draw_body(dice, thin_microphone);
    for (const double onset_s : onsets_s) {
        const double rms = rms_after(sound, onset_s);
        const int plucks = 1 + static_cast<int>(dice.between(0, 1) * 4);
        const double spread_s = dice.between(0.002, 0.045);
        for (int pluck = 0; pluck < plucks; ++pluck) {
            const double start_s = plucks > 1 ? onset_s + pluck * spread_s / (plucks - 1) : onset_s;
            const double gain = dice.between(0.5, 1);
            for (const Resonance& resonance : body) {
                const double amplitude = gain * rms * 1.4 * std::pow(10, resonance.level_db / 20);
                ring(sound, start_s, resonance, amplitude, dice.between(0, 6.28));
            }
        }
    }
}

}  // namespace gripline::training

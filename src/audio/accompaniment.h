// What the tool itself plays along: clicks and strums, each at its frame.
#pragma once

#include <array>
#include <cstdint>
#include <span>
#include <vector>

#include "audio/strum.h"

namespace gripline {

/// A click among others: every one alike, or weak ones between accents, which are louder and higher.
enum class Click { alike, weak, accent };

/// Planned ahead, rendered in order. All peaks near -24 dB below full scale, as everything the tool sounds: it starts quiet.
class Accompaniment {
public:
    /// rate_hz: 8000 to 192000.
    explicit Accompaniment(int rate_hz);

    /// A click that begins at `frame`, which must not have been rendered yet. False when kMostPlanned wait already.
    bool click(std::uint64_t frame, Click kind);
    /// The same for a strum.
    bool strum(std::uint64_t frame, const Strum& strum);
    /// Writes the next frames over `frames`. Never allocates.
    void process(std::span<float> frames) noexcept;
    /// The next frame to be rendered.
    [[nodiscard]] std::uint64_t position() const noexcept { return position_; }
    /// Forgets what was planned; the next frame is frame 0.
    void reset() noexcept;

    static constexpr std::size_t kMostPlanned = 4096;  ///< more than a bar of everything needs by far

private:
    enum class Sound { click, strum };
    struct Planned {
        std::uint64_t frame = 0;
        Sound sound = Sound::click;
        Click click = Click::alike;
        Strum strum{};
    };
    bool plan(const Planned& planned);
    void add_click(std::span<float> frames) noexcept;
    void begin(const Planned& planned) noexcept;

    std::array<std::vector<float>, 3> clicks_;  // by kind
    StringBank strings_;
    float string_gain_;
    std::vector<Planned> planned_;     // by frame, the next last
    const std::vector<float>* sounding_ = nullptr;
    std::size_t sounded_ = 0;          // frames of it
    std::uint64_t position_ = 0;
};

}  // namespace gripline

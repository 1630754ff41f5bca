#include "theory/pitch.h"

#include <array>
#include <cmath>

namespace gripline {

namespace {
constexpr std::array<const char*, 12> kNames{"C", "Db", "D", "Eb", "E", "F", "Gb", "G", "Ab", "A", "Bb", "B"};
}

double frequency_hz(MidiNote note, double a4_hz) { return a4_hz * std::exp2((note.number() - 69) / 12.0); }
std::string plain_name(PitchClass pitch_class) { return kNames[static_cast<std::size_t>(pitch_class.value())]; }
std::string plain_name(MidiNote note) { return plain_name(note.pitch_class()) + std::to_string(note.octave()); }

}  // namespace gripline

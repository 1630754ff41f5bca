// The sound of a guitar's set-up as a WAV file: render_set_up OUT.wav [cents of string 3]
#include <cstdio>
#include <cstdlib>

#include "support/set_up_sound.h"
#include "support/wav_file.h"

int main(int argc, char** argv) {
    if (argc < 2) {
        std::fprintf(stderr, "render_set_up OUT.wav [cents of string 3]\n");
        return 2;
    }
    auto notes = gripline::test::set_up_notes(2.0);
    if (argc > 2) notes[3].cents = std::atof(argv[2]);
    gripline::test::write_wav(argv[1], gripline::test::set_up_sound(notes, 48000), 48000);
    return 0;
}

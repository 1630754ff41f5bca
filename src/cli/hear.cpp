// gripline hear: each strum of a recording, with nothing asked.
#include <ostream>

#include "cli/commands.h"
#include "cli/heard_fingering.h"
#include "cli/strum_table.h"
#include "dsp/note_bank.h"
#include "formats/verdict_json.h"
#include "judge/judge.h"
#include "listen/recording.h"
#include "ui/kept_guitars.h"

namespace gripline {

int hear(const HearOptions& options, std::ostream& out, std::ostream& err) {
    const auto guitar = asked_guitar(options.guitar);
    if (!guitar) return refuse(err, guitar.error().message);
    dsp::NoteBank bank;  // made once: it is large
    HearTable table(out);
    int strums = 0;
    const auto heard = hear_recording(options.file, {}, [&](const dsp::StrumEvidence& evidence) {
        if (!evidence.last) return true;
        const Verdict strum = *guitar ? transcribe_on(**guitar, evidence, options.a4_hz, bank) : transcribe(evidence, options.a4_hz, bank);
        if (strum.kind == VerdictKind::unheard) return true;  // a knock, a click, a dead strum
        ++strums;
        if (options.json) out << strum_json(strum) << '\n';
        else table.row(strum);
        return out.good();
    });
    if (!heard) return refuse(err, heard.error().message);
    if (heard->bad_samples > 0) return refuse(err, bad_samples_text(options.file, heard->bad_samples));
    if (heard->clipping) err << "gripline: " << options.file << ": the recording clips; notes may be misheard; record at a lower level\n";
    if (strums == 0) err << "gripline: no strum was heard in " << decimal(heard->length_s, 1) << " s of " << options.file << '\n';
    return kExitDone;
}

}  // namespace gripline

#include "judge/verdict.h"

namespace gripline {

const char* word(VerdictKind kind) {
    switch (kind) {
        case VerdictKind::right: return "right";
        case VerdictKind::wrong: return "wrong";
        case VerdictKind::unheard: break;
    }
    return "unheard";
}

const char* word(FaultKind kind) {
    switch (kind) {
        case FaultKind::wrong_note: return "wrong_note";
        case FaultKind::missing_note: return "missing_note";
        case FaultKind::extra_note: return "extra_note";
        case FaultKind::wrong_bass: return "wrong_bass";
        case FaultKind::shifted: return "shifted";
        case FaultKind::nothing: break;
    }
    return "nothing";
}

}  // namespace gripline

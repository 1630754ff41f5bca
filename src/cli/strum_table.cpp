#include "cli/strum_table.h"

#include "practice/verdict_words.h"
#include "practice/walk_words.h"

namespace gripline {

namespace {

std::string notes_text(const std::vector<MidiNote>& notes) {
    std::string out;
    for (const MidiNote note : notes) out += (out.empty() ? "" : " ") + plain_name(note);
    return out.empty() ? "-" : out;
}

std::string signed_decimal(double value, int places) { return (value > 0.0 ? "+" : "") + decimal(value, places); }

}  // namespace

HearTable::HearTable(std::ostream& out)
    : table_(out, {{"at s", 8, true}, {"decided s", 9, true}, {"bass", 4}, {"notes", 26}, {"level dB", 8, true}, {"tuning cents", 12, true}}) {}

void HearTable::row(const Verdict& heard) {
    table_.row({decimal(heard.onset_s, 3), decimal(heard.decided_s, 3), heard.bass ? plain_name(*heard.bass) : "-", notes_text(heard.heard), decimal(heard.level_db, 1),
                signed_decimal(heard.tuning_cents, 1)});
}

MarkTable::MarkTable(std::ostream& out)
    : table_(out, {{"case", 8}, {"asked", 14}, {"verdict", 7}, {"chance", 6, true}, {"at s", 8, true}, {"took ms", 7, true}, {"heard", 16}, {"what", 30}}) {}

void MarkTable::row(const std::string& name, const StrumCase* strum, const CaseAnswer& answer) {
    const std::string asked = strum == nullptr ? "-" : asked_text(strum->target);
    if (!answer.error.empty()) {
        table_.row({name, asked, "error", "-", "-", "-", "-", answer.error});
        return;
    }
    const Verdict& verdict = answer.verdict;
    const std::string at = answer.any_strum ? decimal(verdict.onset_s, 3) : "-";
    const std::string took = answer.any_strum ? decimal(1000.0 * (verdict.decided_s - verdict.onset_s), 0) : "-";
    table_.row({name, asked, word(verdict.kind), decimal(verdict.confidence, 2), at, took, notes_text(verdict.heard), strum == nullptr ? "" : answer_text(strum->target, answer)});
}

std::string asked_text(const Target& target) {
    if (target.grip) return target.grip->text();
    std::string out;
    for (const PitchClass pitch_class : target.chord) out += (out.empty() ? "" : " ") + plain_name(pitch_class);
    return out + (target.bass ? " / " + plain_name(*target.bass) : "");
}

std::string answer_text(const Target& target, const CaseAnswer& answer) {
    if (!answer.any_strum) return "No strum heard.";
    const VerdictWords words = verdict_words(answer.verdict, step_of(target));
    std::string out = words.headline.starts_with("Wrong. ") ? words.headline.substr(7) : words.headline;
    for (const std::string& detail : words.details) out += " " + detail;
    return out;
}

std::string hypothesis_text(const Weighed& hypothesis) {
    const std::string string = hypothesis.string > 0 ? "string " + std::to_string(hypothesis.string) : "a string";
    const auto frets = [&] { return (hypothesis.frets > 0 ? "+" : "") + std::to_string(hypothesis.frets); };
    std::string what = "as asked";
    if (hypothesis.fault) {
        switch (*hypothesis.fault) {
            case FaultKind::wrong_note: what = string + " by " + frets(); break;
            case FaultKind::missing_note: what = string + " missing"; break;
            case FaultKind::extra_note: what = string + " open as well"; break;
            case FaultKind::wrong_bass: what = "another bass"; break;
            case FaultKind::shifted: what = "the grip by " + frets(); break;
            case FaultKind::nothing: what = "no chord"; break;
        }
    }
    what.resize(std::max<std::size_t>(what.size(), 22), ' ');
    std::string notes = notes_text(hypothesis.notes);
    notes.resize(std::max<std::size_t>(notes.size(), 18), ' ');
    return decimal(hypothesis.chance, 3) + "  " + what + "  " + notes + "  leaves " + decimal(100.0 * hypothesis.unexplained, 0) + " % of the sound";
}

}  // namespace gripline

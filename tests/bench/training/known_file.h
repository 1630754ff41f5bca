// What a known guitar adds to a dump of weighings: OUT.known, a row of half-precision numbers for each note; OUT.chances, a float for each hypothesis,
// as the judge has it without knowing the guitar.
#pragma once

#include <fstream>
#include <map>
#include <memory>
#include <optional>
#include <span>
#include <string>

#include "judge/weighing.h"
#include "training/sessions.h"

namespace gripline::training {

class KnownFile {
public:
    /// Sets up every session of the set.
    static Result<std::unique_ptr<KnownFile>> create(const std::string& set, const std::string& out);
    /// The take's guitar from now on; false when it could not be set up.
    bool begin(const std::string& take_file);
    [[nodiscard]] const ExpectedNotes* ask(const Target& target);
    void write(const Weighing& weighing, std::span<const Hypothesis> hypotheses);

private:
    std::map<std::string, Session> sessions_;
    std::ofstream known_, chances_;
    KnownGuitar guitar_;
    std::optional<ExpectedNotes> expected_;
};

}  // namespace gripline::training

#include "training/sessions.h"

#include <array>
#include <cstdio>
#include <fstream>

#include "audio/file_source.h"
#include "formats/csv.h"

namespace gripline::training {

namespace {

Result<GuitarProfile> set_up(const std::string& path) {
    auto source = FileSource::open(path);
    if (!source) return source.error();
    GuitarSetUp guide({.rate_hz = (*source)->rate_hz(), .tuning = {}});
    std::array<float, 256> hop{};
    while (const std::size_t got = (*source)->read(hop)) guide.process({hop.data(), got});
    return guide.profile();
}

}  // namespace

Result<std::map<std::string, Session>> read_sessions(const std::string& folder) {
    std::map<std::string, Session> out;
    const std::string path = folder + "/sessions.csv";
    std::ifstream in(path);
    if (!in) return Error{path + ": can't be opened"};
    CsvReader reader(in);
    (void)reader.next();
    for (;;) {
        const auto row = reader.next();
        if (!row) return Error{path + ": " + row.error().message};
        if (!*row) return out;
        const auto& fields = (*row)->fields;
        if (fields.size() < 5) return Error{path + ": a row with too few fields"};
        Session& session = out[fields[0]];
        session.guitar = fields[1];
        session.kind = fields[3];
        session.profile = set_up(folder + "/" + fields[4]);
        if (!session.profile) std::fprintf(stderr, "%s (%s): %s\n", fields[0].c_str(), fields[1].c_str(), session.profile.error().message.c_str());
    }
}

std::string session_of(const std::string& take_file) {
    const std::string name = take_file.substr(take_file.find('/') + 1);
    return name.substr(0, name.find('-'));
}

}  // namespace gripline::training

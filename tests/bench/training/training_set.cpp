#include "training/training_set.h"

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <map>
#include <set>

#include "formats/csv.h"

namespace gripline::training {

namespace {

/// A row by the names of its columns.
using NamedRow = std::map<std::string, std::string>;

Result<std::vector<NamedRow>> read_table(const std::string& path) {
    std::ifstream in(path);
    if (!in) return Error{path + ": can't be opened"};
    CsvReader reader(in);
    const auto heading = reader.next();
    if (!heading || !*heading) return Error{path + ": no heading"};
    const std::vector<std::string> names = (*heading)->fields;
    std::vector<NamedRow> rows;
    for (;;) {
        const auto row = reader.next();
        if (!row) return Error{path + ": " + row.error().message};
        if (!*row) return rows;
        NamedRow named;
        for (std::size_t i = 0; i < names.size() && i < (*row)->fields.size(); ++i) named[names[i]] = (*row)->fields[i];
        rows.push_back(std::move(named));
    }
}

Truth truth_of(NamedRow& row) {
    Truth truth;
    truth.guitar = row["guitar"];
    truth.family = row["family"];
    truth.kind = row["kind"];
    truth.played = row["played"];
    truth.sound = row["sound"];
    truth.string = std::atoi(row["string"].c_str());
    truth.frets = std::atoi(row["frets"].c_str());
    truth.onset_s = std::atof(row["onset_s"].c_str());
    return truth;
}

Result<std::map<std::string, Truth>> read_truth(const std::string& folder) {
    auto rows = read_table(folder + "/truth.csv");
    if (!rows) return rows.error();
    std::map<std::string, Truth> by_case;
    for (NamedRow& row : *rows) by_case[row["case"]] = truth_of(row);
    return by_case;
}

}  // namespace

Result<std::vector<Take>> read_takes(const std::string& folder) {
    const auto truth = read_truth(folder);
    if (!truth) return truth.error();
    const std::string path = folder + "/cases.csv";
    std::ifstream in(path);
    if (!in) return Error{path + ": can't be opened"};
    const auto rows = read_cases(in);
    if (!rows) return Error{path + ": " + rows.error().message};
    std::vector<Take> takes;
    std::map<std::string, std::size_t> place;
    int id = 0;
    for (const CaseRow& row : *rows) {
        if (!row.strum) return Error{path + ": " + row.error};
        if (!row.strum->target.grip) return Error{path + ": case " + row.name + ": a grip is wanted, not a chord"};
        const auto known = truth->find(row.name);
        if (known == truth->end()) return Error{folder + "/truth.csv: case " + row.name + " is missing"};
        const auto [at, is_new] = place.try_emplace(row.strum->take, takes.size());
        if (is_new) takes.push_back({row.strum->take, {}});
        takes[at->second].cases.push_back({id++, *row.strum, known->second});
    }
    return takes;
}

Result<std::vector<std::string>> read_take_files(const std::string& folder) {
    std::vector<std::string> files;
    std::set<std::string> seen;
    for (const char* name : {"/truth.csv", "/walks.csv"}) {
        const std::string path = folder + name;
        if (path.ends_with("walks.csv") && !std::filesystem::exists(path)) continue;
        auto rows = read_table(path);
        if (!rows) return rows.error();
        for (NamedRow& row : *rows)
            if (seen.insert(row["take"]).second) files.push_back(row["take"]);
    }
    return files;
}

}  // namespace gripline::training

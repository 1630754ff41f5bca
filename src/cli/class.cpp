// gripline class: result files of many students, gathered, joined and put on one page.
#include <algorithm>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <ostream>
#include <sstream>

#include "base/file_folder.h"
#include "base/text.h"
#include "cli/commands.h"
#include "cli/text_table.h"
#include "formats/class_json.h"
#include "formats/class_page.h"
#include "formats/digest.h"
#include "formats/overrules_json.h"
#include "formats/quiz_result_json.h"

namespace gripline {

namespace {

namespace fs = std::filesystem;

constexpr int kDeepest = 8;               // folders within folders
constexpr std::size_t kMostResults = 20000;

/// Every result.json below what was given, by name.
std::vector<fs::path> results_in(const std::vector<std::string>& given, std::vector<std::string>& complaints) {
    std::vector<fs::path> out;
    for (const std::string& path : given) {
        std::error_code failed;
        if (fs::is_regular_file(path, failed)) {
            out.emplace_back(path);
            continue;
        }
        const std::size_t before = out.size();
        fs::recursive_directory_iterator each(path, fs::directory_options::skip_permission_denied, failed);
        if (failed) complaints.push_back(path + ": can't be read: " + failed.message());
        for (; !failed && each != fs::recursive_directory_iterator() && out.size() < kMostResults; each.increment(failed)) {
            if (each.depth() >= kDeepest) each.disable_recursion_pending();
            if (each->path().filename() == kResultFile) out.push_back(each->path());
            if (each->path().filename() == "journal.jsonl") complaints.push_back(each->path().parent_path().string() + ": this run was interrupted; gripline quiz take --resume goes on with it, --hand-in hands it in as it stands");
        }
        if (!failed && out.size() == before) complaints.push_back(path + ": holds no result");
    }
    std::sort(out.begin(), out.end());
    return out;
}

/// A code for a student that is the same in every quiz. The hash of a name can be found out by whoever has a list of names.
std::string code_of(const std::string& student) { return "S-" + sha256_hex(student_key(student)).substr(0, 6); }

std::vector<ClassRun> load_runs(const std::vector<fs::path>& results, bool codes, std::vector<std::string>& complaints) {
    std::vector<ClassRun> out;
    std::size_t nameless = 0, without_ear = 0;
    for (const fs::path& path : results) {
        auto result = load_quiz_result(path);
        if (!result) {
            if (codes) ++nameless;
            else complaints.push_back(result.error().message);
            continue;
        }
        const auto overruled = load_overrules(folder_of(path), *result);
        if (!overruled) {  // a student is never left out for what was written beside the result
            ++without_ear;
            if (!codes) complaints.push_back(result->student + " is shown as the program marked: " + overruled.error().message);
        }
        ClassRun run{std::move(*result), folder_of(path).string(), "", overruled ? *overruled : std::vector<Overrule>{}};
        std::ostringstream text;
        text << std::ifstream(path, std::ios::binary).rdbuf();
        run.code = hand_in_code(text.str());
        apply_overrules(run.result, run.overruled);
        if (codes) run.result.student = code_of(run.result.student);
        out.push_back(std::move(run));
    }
    if (nameless > 0) complaints.push_back(std::to_string(nameless) + " results were altered or can't be read; without --codes they are named");
    if (codes && without_ear > 0) complaints.push_back(std::to_string(without_ear) + (without_ear == 1 ? " result is" : " results are") + " shown as the program marked, for marks by ear beside it can't be used; without --codes they are named");
    return out;
}

void print_report(const ClassReport& report, std::ostream& out) {
    out << plain_line(report.title) << ": " << report.students.size() << (report.students.size() == 1 ? " student, " : " students, ") << report.passed << " passed, " << report.all.right << " of " << report.all.attempts << " right";
    if (report.mean_change) out << ", " << (*report.mean_change > 0 ? "+" : "") << std::lround(*report.mean_change) << " points since " << plain_line(report.before_title);
    if (report.doubles > 0) out << ", " << report.doubles << " given in more than once";
    out << "\n\n";
    TextTable table(out, {{"student", 24}, {"right", 8, true}, {"per cent", 8, true}, {"passed", 6}, {"unsure", 6, true}, {"change", 6, true}, {"code", 8}, {"remarks", 0}});
    for (const StudentRow& row : report.students) {
        std::string remarks = row.runs > 1 ? std::to_string(row.runs) + " runs" : "";
        for (const std::string& remark : row.remarks) remarks += (remarks.empty() ? "" : "; ") + remark;
        const long change = row.before_percent ? std::lround(row.mark.percent() - *row.before_percent) : 0;
        table.row({row.student, std::to_string(row.mark.right) + "/" + std::to_string(row.mark.of), std::to_string(std::lround(row.mark.percent())), row.mark.passed ? "yes" : "no", std::to_string(row.unsure),
                   row.before_percent ? (change > 0 ? "+" : "") + std::to_string(change) : "", row.run->code, remarks});
    }
    const auto hardest = [&](const char* what, const std::vector<KindRow>& rows) {
        if (rows.empty() || rows.front().count.right == rows.front().count.attempts) return;
        out << "hardest " << what << ": " << plain_line(rows.front().what) << ", " << rate_words(rows.front().count) << '\n';
    };
    out << '\n';
    hardest("question", report.questions);
    hardest("change", report.joints);
    hardest("quality", report.qualities);
    hardest("key", report.keys);
    hardest("direction", report.directions);
    if (!report.ear.empty()) out << report.ear.size() << (report.ear.size() == 1 ? " answer needs" : " answers need") << " an ear; --html lists them first, with their sounds\n";
}

/// Writes a file that is not there yet, or may be replaced.
template <class Write>
std::optional<Error> write_file(const std::string& path, bool overwrite, Write write) {
    std::error_code failed;
    if (!overwrite && fs::exists(path, failed)) return Error{path + ": is there already; choose another name or say --overwrite"};
    std::ofstream file(path, std::ios::binary | std::ios::trunc);
    write(file);
    file.close();
    if (!file) return Error{path + ": can't be written; check the folder and that there is room"};
    return std::nullopt;
}

}  // namespace

int class_page(const ClassOptions& options, std::ostream& out, std::ostream& err) {
    ClassPageOptions page;
    std::vector<std::string> found;
    const auto results = results_in(options.given, found);
    const auto runs = load_runs(results, options.codes, page.complaints);
    if (!options.codes) page.complaints.insert(page.complaints.begin(), found.begin(), found.end());
    for (const std::string& complaint : page.complaints) err << "gripline: " << plain_line(complaint) << '\n';
    if (runs.empty()) return refuse(err, "there is no result to count");
    const ClassReport report = class_report(runs);
    std::ostream& said = options.json ? err : out;  // standard output holds nothing but JSON
    if (options.json) write_class_json(report, out);
    else print_report(report, out);
    page.codes = options.codes;
    if (!options.html.empty()) {
        page.folder = fs::absolute(options.html).parent_path();
        std::vector<ClassRun> placed = runs;  // the page names sounds relative to itself
        for (ClassRun& run : placed) run.folder = fs::absolute(run.folder).string();
        const ClassReport with_places = class_report(placed);
        if (const auto failed = write_file(options.html, options.overwrite, [&](std::ostream& file) { write_class_page(with_places, page, file); })) return refuse(err, failed->message);
        said << "Page: " << options.html << '\n';
    }
    if (!options.csv.empty()) {
        if (const auto failed = write_file(options.csv, options.overwrite, [&](std::ostream& file) { write_class_csv(report, file); })) return refuse(err, failed->message);
        said << "Table: " << options.csv << '\n';
    }
    return page.complaints.empty() ? kExitDone : kExitBadInput;
}

}  // namespace gripline

#include <array>
#include <cstdio>
#include <ctime>
#include <ostream>

#include "formats/csv.h"
#include "formats/class_page.h"

namespace gripline {
namespace {

std::string one_place(double number) {
    std::array<char, 32> text{};
    std::snprintf(text.data(), text.size(), "%.1f", number);
    return text.data();
}

std::string utc(std::int64_t at_ms) {
    const std::time_t at = static_cast<std::time_t>(at_ms / 1000);
    std::tm parts{};
    gmtime_r(&at, &parts);
    std::array<char, 40> text{};
    std::strftime(text.data(), text.size(), "%Y-%m-%dT%H:%M:%SZ", &parts);
    return text.data();
}

}  // namespace

void write_class_csv(const ClassReport& report, std::ostream& out) {
    out << "student,runs,right,of,percent,passed";
    for (std::size_t i = 1; i <= report.parts.size(); ++i) out << ",part_" << i << "_right,part_" << i << "_of";
    out << ",unsure,before_percent,started_utc,hand_in_code,remarks\r\n";
    for (const StudentRow& row : report.students) {
        out << csv_field(row.student) << ',' << row.runs << ',' << row.mark.right << ',' << row.mark.of << ',' << one_place(row.mark.percent()) << ',' << (row.mark.passed ? "yes" : "no");
        for (const PartMark& mark : row.parts) out << ',' << mark.right << ',' << mark.of;
        std::string remarks;
        for (const std::string& remark : row.remarks) remarks += (remarks.empty() ? "" : "; ") + remark;
        out << ',' << row.unsure << ',' << (row.before_percent ? one_place(*row.before_percent) : "") << ',' << utc(row.run->result.started_ms) << ',' << csv_field(row.run->code) << ',' << csv_field(remarks) << "\r\n";
    }
}

}  // namespace gripline

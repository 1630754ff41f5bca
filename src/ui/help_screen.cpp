#include "ui/help_screen.h"

#include <algorithm>

#include "ui/practice_keys.h"
#include "ui/text_layout.h"

namespace gripline {
namespace {

constexpr int kHeadAndFoot = 3;  // title, an empty row below it, foot

/// The keys stand in a column of their own, in the rows of practice_key_lines().
constexpr std::size_t kKeyColumns = 12;
/// Narrower than this there is no room for two columns.
constexpr int kTableFrom_columns = 30;

bool is_table_row(const std::string& paragraph) {
    return paragraph.size() > kKeyColumns && paragraph[kKeyColumns - 1] == ' ' && paragraph[kKeyColumns - 2] == ' ';
}

std::vector<std::string> all_lines(const HelpView& view, int columns) {
    std::vector<std::string> lines;
    for (const std::string& paragraph : view.paragraphs) {
        if (paragraph.empty()) {
            lines.emplace_back();
        } else if (columns >= kTableFrom_columns && is_table_row(paragraph)) {
            std::string key = paragraph.substr(0, kKeyColumns);
            for (const std::string& line : wrap(paragraph.substr(kKeyColumns), columns - static_cast<int>(kKeyColumns))) {
                lines.push_back(key + line);
                key.assign(kKeyColumns, ' ');
            }
        } else {
            for (std::string& line : wrap(paragraph, columns)) lines.push_back(std::move(line));
        }
    }
    return lines;
}

/// Rows of text a page has; small screens give up title and foot.
int page_rows(int rows) { return rows > 2 * kHeadAndFoot ? rows - kHeadAndFoot : std::max(rows, 1); }

}  // namespace

std::vector<std::string> caution_paragraphs() {
    return {
        "Hearing: headphones and amplifiers can damage it. Start quiet. The program's own sound starts quiet too.",
        "Hands: repeated stretches and long sessions can injure them. Stop at pain, rest often.",
        "A teacher or a clinician knows better than a program.",
    };
}

HelpView first_start_help() {
    HelpView view;
    view.title = "Before the first strum";
    for (std::string& paragraph : caution_paragraphs()) {
        view.paragraphs.push_back(std::move(paragraph));
        view.paragraphs.emplace_back();
    }
    view.paragraphs.emplace_back(
        "The program asks for a grip. Strum it once and let it ring: the answer comes by itself, and so does the next grip. No key is needed. "
        "The key ? shows all others.");
    return view;
}

HelpView practice_help() {
    HelpView view;
    view.title = "Help";
    view.paragraphs = {
        "Strum the grip that is asked and let it ring. If it was right, the next one is asked; if not, you are told which string was how many "
        "frets off, and the same grip is asked again.",
        "",
    };
    for (std::string& line : practice_key_lines()) view.paragraphs.push_back(std::move(line));
    view.paragraphs.emplace_back();
    view.paragraphs.emplace_back(
        "Without a key: lay the hand on all strings and strum twice, evenly, with a pause before and after: the same is asked again. Three times: the next. "
        "gripline practice --help tells how to change that.");
    view.paragraphs.emplace_back();
    for (std::string& paragraph : caution_paragraphs()) view.paragraphs.push_back(std::move(paragraph));
    return view;
}

int help_pages(const HelpView& view, int columns, int rows) {
    const int lines = static_cast<int>(all_lines(view, std::max(columns - 2, 1)).size());
    const int each = page_rows(rows);
    return std::max((lines + each - 1) / each, 1);
}

void draw_help(Canvas& canvas, const HelpView& view) {
    if (canvas.columns() < 1 || canvas.rows() < 1) return;
    const auto lines = all_lines(view, std::max(canvas.columns() - 2, 1));
    const int pages = help_pages(view, canvas.columns(), canvas.rows());
    const int page = std::clamp(view.page, 0, pages - 1);
    const int each = page_rows(canvas.rows());
    const bool framed = each < canvas.rows();
    for (int row = 0; row < each; ++row) {
        const auto line = static_cast<std::size_t>(page * each + row);
        if (line < lines.size()) canvas.text(1, row + (framed ? 2 : 0), lines[line]);
    }
    if (!framed) return;
    canvas.text(1, 0, view.title, Tone::heading);
    const std::string page_words = "Page " + std::to_string(page + 1) + " of " + std::to_string(pages) + ". Any key: on.";
    const std::string foot = page + 1 < pages ? page_words : "Any key: on to " + view.leads_to + ".";
    canvas.text(1, canvas.rows() - 1, foot, Tone::strong);
}

}  // namespace gripline

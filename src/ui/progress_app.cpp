#include "ui/progress_app.h"

#include <algorithm>
#include <utility>

namespace gripline {

namespace {
constexpr int kKeyWait_ms = 200;  // only a change of the terminal's size is waited for besides keys
}

ProgressRun::ProgressRun(ProgressSource source, std::string notice, const std::string& leave) : source_(std::move(source)) {
    view_.leave = leave;
    view_.notice = std::move(notice);
    view_.plan = plan_today(source_);
    show({});
}

void ProgressRun::show(const ProgressPart& part) {
    view_.progress = count_progress(source_, part);
    view_.page = 0;
    view_.mark = {};
}

void ProgressRun::move(int across, int down) {
    ProgressMark& mark = view_.mark;
    const int rows = static_cast<int>(view_.progress.rows.size());
    if (mark.on_keys) {
        mark.column = (mark.column + across + 12) % 12;
        if (down < 0 && rows > 0) mark = {false, rows - 1, std::min(3, mark.column / 3)};
        return;
    }
    mark.column = std::clamp(mark.column + across, 0, static_cast<int>(kProgressColumns) - 1);
    if (mark.row + down >= rows) mark = {true, 0, mark.column * 3};
    else mark.row = std::max(0, mark.row + down);
}

/// What is marked becomes the part that is shown.
void ProgressRun::open() {
    ProgressPart part = view_.progress.part;
    if (view_.mark.on_keys) part.key = key_at(view_.mark.column);
    else if (view_.mark.row < static_cast<int>(view_.progress.rows.size())) {
        part.quality = view_.progress.rows[static_cast<std::size_t>(view_.mark.row)].quality;
        part.column = static_cast<ProgressColumn>(view_.mark.column);
    }
    if (part.text() == view_.progress.part.text()) return;
    before_.emplace_back(view_.progress.part, view_.mark);
    show(part);
}

bool ProgressRun::press(const KeyPress& key) {
    if (key.character == 'q') return false;
    if (key.character == 'f') view_.details = !view_.details;
    const bool turns = key.character == 'n' || key.special == SpecialKey::page_down || key.special == SpecialKey::page_up;
    if (turns && !view_.details) {
        view_.page = std::max(0, view_.page + (key.special == SpecialKey::page_up ? -1 : 1));
        return true;
    }
    if (view_.details) {
        if (key.special == SpecialKey::escape) view_.details = false;
        return true;
    }
    if (key.special == SpecialKey::escape) {
        if (std::exchange(view_.page, 0) != 0) return true;
        if (before_.empty()) return false;
        const auto [part, mark] = before_.back();
        before_.pop_back();
        show(part);
        view_.mark = mark;
    }
    if (key.special == SpecialKey::left) move(-1, 0);
    if (key.special == SpecialKey::right) move(1, 0);
    if (key.special == SpecialKey::up) move(0, -1);
    if (key.special == SpecialKey::down) move(0, 1);
    if (key.special == SpecialKey::enter) open();
    return true;
}

void progress_loop(ProgressRun& run, Display& display) {
    Canvas shown(0, 0, display.characters());
    while (!display.asked_to_stop()) {
        Canvas canvas(display.columns(), display.rows(), display.characters());
        run.draw(canvas);
        if (!(canvas == shown)) {
            display.show(canvas);
            shown = std::move(canvas);
        }
        if (const auto key = display.key(kKeyWait_ms); key && !run.press(*key)) return;
    }
}

}  // namespace gripline

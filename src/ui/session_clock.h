// How long a session has gone on: when a break is due, when it is over. No clock of its own.
#pragma once

#include "ui/help_screen.h"
#include "ui/practice_plan.h"

namespace gripline {

/// How long a suggested break stands on the screen: long enough to be seen at the next look (judgement).
inline constexpr double kBreakShown_s = 30.0;

class SessionClock {
public:
    explicit SessionClock(double now_s) : began_s_(now_s), break_from_s_(now_s) {}

    /// Hands or ears should rest now; once each time.
    [[nodiscard]] bool break_is_due(const PracticePlan& plan, double now_s) {
        if (plan.break_after_min <= 0.0 || now_s - break_from_s_ < plan.break_after_min * 60.0) return false;
        break_from_s_ = now_s;
        return true;
    }
    /// The planned minutes or steps are over.
    [[nodiscard]] bool over(const PracticePlan& plan, double now_s, int steps_done) const {
        return (plan.minutes > 0.0 && now_s - began_s_ >= plan.minutes * 60.0) || (plan.steps > 0 && steps_done >= plan.steps);
    }
    [[nodiscard]] double played_s(double now_s) const { return now_s - began_s_; }

private:
    double began_s_, break_from_s_;
};

/// The page that ends a session, with its lines.
template <class Lines>
[[nodiscard]] HelpView session_is_over(const Lines& lines) {
    HelpView page;
    page.title = "The session is over";
    page.paragraphs.assign(lines.begin(), lines.end());
    page.leads_to = "the end";
    return page;
}

}  // namespace gripline

// Name it: the tool plays a grip, the player names its quality, the degree in its bass, or the side of an approach. No guitar is needed; no sound and no keys here.
#pragma once

#include <array>
#include <deque>
#include <optional>
#include <string>
#include <vector>

#include "practice/course.h"
#include "practice/exercise_prompt.h"
#include "practice/pins.h"
#include "practice/step_row.h"

namespace gripline {

enum class NameQuestion { quality, bass_degree, approach_direction };
inline constexpr std::size_t kNameQuestions = 3;
/// "quality", "bass degree", "approach direction": as the history keeps them (Attempt::question).
[[nodiscard]] std::string_view word(NameQuestion question) noexcept;
/// Reads a word as above; also with '-' for the space.
[[nodiscard]] Result<NameQuestion> parse_name_question(std::string_view text);

/// Every question about grips of the course's stage and string set, in all families and keys, that the pins allow. A quality is asked only where one alone fits what
/// sounds (no shell's three notes do: C Bb E are C7 or C7b5), and not when the pins leave one. questions: only these; empty: all. An error when nothing is left.
[[nodiscard]] Result<Exercise> make_name_it(const Course& course, const Neck& neck, double a4_hz, const Pins& pins, const std::vector<NameQuestion>& questions);

/// One answer that may be given.
struct NameChoice {
    std::string answer;  ///< as the history keeps it: "m6", "b3", "below"
    std::string words;   ///< "m6, minor sixth", "b3", "from below"
};
inline constexpr std::size_t kMostChoices = 8;
/// All that may be answered, in the order of the trade: families and the diminished seventh; the scale from its root up; below before above.
[[nodiscard]] std::vector<NameChoice> choices_for(const PracticeStep& step);
[[nodiscard]] NameQuestion question_of(const PracticeStep& step);
/// The choice that is right: an index into choices_for().
[[nodiscard]] std::size_t right_choice(const PracticeStep& step);
/// What the tool plays: the grip; the key by a cadence and the grip, where its degree is asked; approach and target, where the side is.
[[nodiscard]] std::vector<SoundedStep> name_it_sounds(const PracticeStep& step, PromptStyle style, bool key_first);

enum class NameItState { nothing_to_ask, asking, right_shown, wrong_shown };

/// How long answers are shown (judgement, by reading them aloud).
struct NameItTimes {
    double right_shown_s = 1.6;
    double wrong_shown_s = 4.0;
};

/// Asked and answered.
struct NameCount {
    int right = 0, of = 0;
};

/// The course of it: asked, answered by a key, told at once, and on it goes. Its owner passes the time in.
class NameItSession {
public:
    NameItSession(Exercise pool, std::uint32_t seed, double now_s, const NameItTimes& times = {});

    /// After the step asked comes this one of the pool. Holds once.
    void next_is(std::size_t step) noexcept { next_is_ = step; }
    /// Asks this one at once (before the first answer).
    void begin_with(std::size_t step, double now_s);
    /// The player's answer, an index into choices_for(). False when nothing is asked now or there is no such choice.
    bool answer(std::size_t choice, double now_s);
    /// What is shown stays at least until then: it sounds again.
    void stay_until(double now_s) noexcept;
    /// What has been shown long enough gives way to the next.
    void pass(double now_s);
    /// The next one, whatever is shown; one that is asked is left out.
    void forward(double now_s);

    [[nodiscard]] NameItState state() const noexcept { return state_; }
    [[nodiscard]] const PracticeStep* asked() const { return row_.empty() ? nullptr : &pool_.steps[row_.step()]; }
    [[nodiscard]] const Exercise& pool() const noexcept { return pool_; }
    /// Grows with each question.
    [[nodiscard]] int questions() const noexcept { return questions_; }
    [[nodiscard]] std::optional<std::size_t> answered() const noexcept { return answered_; }
    [[nodiscard]] const NameCount& count(NameQuestion question) const { return counts_[static_cast<std::size_t>(question)]; }
    /// The oldest attempt for the history that was not taken yet; when and who are left to the owner.
    [[nodiscard]] std::optional<Attempt> take_attempt();

private:
    Exercise pool_;
    NameItTimes times_;
    StepRow row_;
    NameItState state_ = NameItState::nothing_to_ask;
    std::optional<std::size_t> next_is_, answered_;
    std::array<NameCount, kNameQuestions> counts_{};
    std::deque<Attempt> attempts_;
    int questions_ = 1;
    double asked_s_ = 0.0, shown_until_s_ = 0.0;
};

}  // namespace gripline

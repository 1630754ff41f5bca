// How the quiz screen puts things. The second half of quiz_play.h.
#include <cmath>

#include "base/text.h"
#include "fretboard/diagram.h"
#include "practice/verdict_words.h"
#include "ui/practice_words.h"
#include "ui/quiz_play.h"

namespace gripline {
namespace {

std::string clock_words(double left_s) {
    const long left = std::lround(std::ceil(left_s));
    if (left < 60) return std::to_string(left) + " s";
    return std::to_string(left / 60) + ":" + (left % 60 < 10 ? "0" : "") + std::to_string(left % 60);
}

/// "C on string 1", "C7 with E in the bass": single notes have no chord to be named by.
std::string step_words(const PracticeStep& step) {
    const auto notes = step.notes();
    if (notes.size() == 1) return step.bass + " on string " + std::to_string(notes.front().string.number());
    return (step.chord.empty() ? "the grip" : step.chord) + " with " + step.bass + " in the bass";
}

/// begin: "Play", or "play" within a sentence.
std::string asked_words(const QuizQuestion& question, const std::string& begin = "Play") {
    return begin + " " + (question.asking == Asking::by_ear ? "what you hear" : step_words(question.step)) + ".";
}

std::string mark_words(const PartMark& mark) {
    return std::to_string(mark.right) + " of " + std::to_string(mark.of) + " right, " + std::to_string(std::lround(mark.percent())) + " per cent: " + (mark.passed ? "passed" : "not passed");
}

}  // namespace

std::vector<PageLine> QuizPlay::check_page() const {
    std::vector<PageLine> out{{"Sound check for " + plain_line(config_.head.student), Tone::strong}, {""}};
    out.push_back({check_.words(), Tone::strong});
    if (!check_.trouble().empty()) out.push_back({check_.trouble(), Tone::warning});
    if (const std::string deaf = deaf_words(); !deaf.empty()) out.push_back({deaf, Tone::warning});
    out.push_back({""});
    if (config_.resumed) {
        const QuizProgress& done = config_.resumed->progress;
        out.push_back({"This run was interrupted after " + std::to_string(done.answers.size()) + " answers. It goes on with question " + std::to_string(done.answers.size() + 1) + "; the time used before counts."});
    }
    const std::size_t questions = runner_.questions().size();
    out.push_back({std::to_string(questions) + (questions == 1 ? " question" : " questions") + ". When the sound is good a count-down begins by itself; then strum each grip once, hands-free." +
                   (config_.head.quiz.tries > 1 ? " Each question gives you " + std::to_string(config_.head.quiz.tries) + " tries." : "")});
    out.push_back({""});
    out.push_back({"Loud headphones and amplifiers can damage hearing: start quiet. Stop at pain; a teacher or a clinician knows better than a program.", Tone::quiet});
    return out;
}

std::vector<PageLine> QuizPlay::done_page() const {
    std::vector<PageLine> out;
    if (!failure_.empty()) {
        out.push_back({"The result could not be written: " + failure_, Tone::bad});
        return out;
    }
    const QuizResult result = result_so_far(config_.head, runner_);
    const PartMark whole = whole_mark(result);
    out.push_back({"Done, " + plain_line(config_.head.student) + ": " + mark_words(whole) + ".", whole.passed ? Tone::good : Tone::strong});
    out.push_back({"Hand-in code " + code_ + ": tell it to your teacher now.", Tone::strong});
    out.push_back({"Hand in this folder: " + config_.folder.string(), Tone::strong});
    out.push_back({""});
    const auto parts = marks(result);
    for (std::size_t i = 0; i < parts.size(); ++i)
        out.push_back({"  " + (result.parts[i].title.empty() ? "Part " + std::to_string(i + 1) : plain_line(result.parts[i].title)) + ": " + mark_words(parts[i])});
    for (const std::string& words : what_to_practise(result)) out.push_back({words});
    int listening = 0;
    for (const QuizAnswer& answer : result.answers) listening += unsure(answer) ? 1 : 0;
    if (listening > 0) out.push_back({std::to_string(listening) + (listening == 1 ? " answer is" : " answers are") + " unsure: your teacher will listen to the sound.", Tone::quiet});
    return out;
}

void QuizPlay::fill_answer(QuizView& view) const {
    const QuizAnswer& answer = runner_.progress().answers.back();
    const bool right = answer.outcome == QuizOutcome::right;
    view.headline = right ? "Right." : answer.outcome == QuizOutcome::wrong ? "Not right." : "No strum came in time.";
    view.tone = right ? Tone::good : Tone::bad;
    if (right || !runner_.quiz().show_after_miss) return;
    view.details.push_back("Asked was " + answer.question.step.chord + " with " + answer.question.step.bass + " in the bass: " + answer.question.step.grip.text() + ".");
    if (!answer.tries.empty() && !answer.tries.back().faults.empty()) view.details.push_back(fault_words(answer.tries.back().faults.front(), answer.question.step));
    Neck neck;
    neck.tuning = runner_.quiz().tuning;
    neck.capo = runner_.quiz().capo;
    view.diagram = neck_diagram(answer.question.step.grip, neck);
    view.fret_string = answer.question.step.grip.text();
}

/// The question that is to be played at this moment: in a walk the beat that sounds, though its verdict is still to come.
std::size_t QuizPlay::place_now() const {
    const auto& questions = runner_.questions();
    std::size_t place = runner_.place();
    if (runner_.state() != QuizState::walking) return place;
    const std::size_t first = runner_.asked_place();
    const double walked_s = sound_.input().stream_s - runner_.asked_stream_s() + questions[first].beat->at_s;
    while (place + 1 < questions.size() && questions[place + 1].part == questions[first].part && questions[place + 1].beat->at_s <= walked_s) ++place;
    return place;
}

void QuizPlay::fill_walk(QuizView& view, std::size_t place) const {
    const QuizQuestion& now = runner_.questions()[place];
    const double to_go_s = runner_.asked_stream_s() - sound_.input().stream_s;
    view.headline = to_go_s > 0.0 ? "Count-in: " + std::to_string(static_cast<int>(std::ceil(to_go_s / now.beat->count_s)))
                                  : "Bar " + std::to_string(now.beat->bar) + ", beat " + std::to_string(now.beat->beat) + ".";
    if (place + 1 >= runner_.questions().size() || runner_.questions()[place + 1].part != now.part) return;
    const QuizQuestion& next = runner_.questions()[place + 1];
    view.details.push_back("Next: " + next.step.chord + " with " + next.step.bass + " in the bass" + (next.asking == Asking::shown ? ", " + next.step.grip.text() + "." : "."));
}

void QuizPlay::fill_question(QuizView& view, double now_s) const {
    if (runner_.question() == nullptr) return;
    const std::size_t place = place_now();
    const QuizQuestion* const question = &runner_.questions()[place];
    if (question->asking != Asking::by_ear) {
        view.chord = question->step.notes().size() == 1 ? question->step.bass : question->step.chord;
        view.bass = question->step.bass;
    }
    if (question->asking == Asking::shown) {
        Neck neck;
        neck.tuning = runner_.quiz().tuning;
        neck.capo = runner_.quiz().capo;
        view.fret_string = question->step.grip.text();
        view.diagram = neck_diagram(question->step.grip, neck);
    }
    if (runner_.state() == QuizState::answer_shown) return fill_answer(view);
    if (runner_.state() == QuizState::walking) return fill_walk(view, place);
    view.headline = runner_.misses() > 0 ? "Not right. Once more, " + asked_words(*question, "play") + " (try " + std::to_string(runner_.misses() + 1) + " of " + std::to_string(runner_.quiz().tries) + ")" : asked_words(*question);
    if (runner_.misses() > 0) view.tone = Tone::bad;
    view.left_share = runner_.question_left_s() / runner_.quiz().question_time_s;
    view.left = clock_words(runner_.question_left_s());
    (void)now_s;
}

QuizView QuizPlay::view(double now_s) const {
    QuizView out;
    const InputState input = sound_.input();
    out.title = plain_line(config_.head.quiz.title);
    out.level = {input.level_db, input.peak_db, input.source == SourceState::running};
    out.source = sound_.source_name();
    out.notice = notice_;
    out.warning = input_warning(input, sound_.trouble(), false);  // no other input in the middle of a quiz
    if (keeper_ && !keeper_->trouble().empty()) out.warning = keeper_->trouble();
    if (sound_.player_is_input() && page_ != Page::done) out.keys = page_ == Page::check ? std::vector<KeyWords>{{"p", "play a strum"}} : std::vector<KeyWords>{{"p", "play right"}, {"m", "play wrong"}};
    switch (page_) {
        case Page::check:
            out.page = check_page();
            out.state = "Sound check";
            out.warning.clear();  // the check says it
            if (by_ear_to_come()) out.keys.push_back({"h", "hear the output"});
            out.keys.insert(out.keys.end(), {{"c", "check again"}, {"q", "leave"}});
            return out;
        case Page::done:
            out.page = done_page();
            out.state = "Handed in";
            out.warning.clear();
            out.keys = {{"Enter", "leave"}};
            return out;
        case Page::ask_hand_in:
            out.page = {{"Hand in the quiz as it stands?", Tone::strong}, {"Questions not reached count as not right. The clock runs on."}};
            out.keys = {{"y", "hand in"}, {"n", "go on"}};
            out.state = "Hand in?";
            return out;
        case Page::quiz: break;
    }
    if (const QuizQuestion* question = runner_.question()) {
        const std::string& part = runner_.quiz().parts[static_cast<std::size_t>(question->part)].title;
        if (!part.empty()) out.title += ": " + plain_line(part);
        out.place = "question " + std::to_string(place_now() + 1) + " of " + std::to_string(runner_.questions().size());
    }
    if (const auto left_s = runner_.quiz_left_s()) out.all_left = clock_words(*left_s) + " in all";
    switch (runner_.state()) {
        case QuizState::counting_down:
            out.page = {{"Ready", Tone::strong}, {""}, {std::to_string(static_cast<int>(std::ceil(runner_.shown_left_s({now_s, 0.0})))), Tone::strong}};
            out.state = "Count-down";
            break;
        case QuizState::paused:
            out.page = {{"Paused. Space goes on.", Tone::strong}};
            out.state = "Paused";
            break;
        case QuizState::input_lost:
            if (input.source == SourceState::running) {
                out.page = {{"The output is lost, so this question can't be heard: the clock stands still.", Tone::warning}, {"It goes on by itself when the output is back, after a count-down."}};
                out.state = "No output";
                break;
            }
            out.page = {{"The input is lost: the clock stands still.", Tone::warning}, {"It goes on by itself when the input is back, after a count-down."}};
            out.state = "No input";
            break;
        default:
            fill_question(out, now_s);
            out.state = runner_.state() == QuizState::answer_shown ? "Heard" : "Listening";
    }
    if (runner_.quiz().may_pause) out.keys.push_back({"space", "pause"});
    const QuizQuestion* question = runner_.question();
    if (question != nullptr && question->asking == Asking::by_ear) out.keys.push_back({"h", "hear it again"});
    out.keys.push_back({"q", "hand in"});
    return out;
}

}  // namespace gripline

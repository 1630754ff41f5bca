#include "ui/name_it_run.h"

#include <algorithm>
#include <utility>

#include "base/wall_clock.h"
#include "fretboard/diagram.h"

namespace gripline {
namespace {

constexpr double kNoticeShown_s = 4.0;   // as in practice
constexpr char kFirstChoice = 'a';       // a to h answer

struct NameItKey {
    char character;
    SpecialKey special;
    const char* key;
    const char* does;
    const char* explanation;
};
constexpr NameItKey kKeys[] = {
    {' ', SpecialKey::none, "space", "again", "space       hear it again"},
    {'j', SpecialKey::none, "j", "bass first", "j           hear it, its bass first"},
    {'l', SpecialKey::none, "l", "notes", "l           hear it, note by note"},
    {'k', SpecialKey::none, "k", "key", "k           hear the key by a cadence, then what is asked"},
    {'n', SpecialKey::enter, "n", "next", "n, Enter    go on at once; a question that is open is left out"},
    {'?', SpecialKey::none, "?", "help", "?           this help"},
    {'q', SpecialKey::escape, "q", "quit", "q           quit (Ctrl-C too)"},
};

HelpView name_it_help() {
    HelpView view;
    view.title = "Name it";
    view.paragraphs = {"The tool plays a grip, softly. Name it by a key: its quality, the degree of the scale in its bass, or the side that an approach comes from. Right or wrong is told at once, with what it was.", "",
                       "a to h      the answers, as they stand on the screen"};
    for (const NameItKey& each : kKeys) view.paragraphs.emplace_back(each.explanation);
    view.paragraphs.emplace_back();
    for (std::string& each : caution_paragraphs()) view.paragraphs.push_back(std::move(each));
    view.leads_to = "the question";
    return view;
}

std::string question_words(const PracticeStep& step) {
    const std::string scale = step.asked.root.text() + " " + std::string(name(step.asked.family));
    switch (question_of(step)) {
        case NameQuestion::quality: return "Which quality?";
        case NameQuestion::bass_degree: return "Which degree of " + scale + " is in the bass?";
        case NameQuestion::approach_direction: return "From which side does the approach reach its target?";
    }
    return {};
}

}  // namespace

NameItRun::NameItRun(NameItConfig config, PracticeSound& sound, double now_s)
    : config_(std::move(config)), sound_(sound), session_(config_.pool, config_.seed, now_s, config_.times), clock_(now_s) {
    if (config_.plan.planned) {
        ScheduleConfig schedule;
        schedule.most_new = config_.plan.most_new;
        schedule.seed = config_.seed;
        planned_.emplace(config_.plan.totals, config_.pool, schedule);
        if (const auto first = planned_->next(wall_ms())) {
            session_.begin_with(first->step, now_s);
            why_ = first->why;
        }
    }
    if (!config_.notice.empty()) say(config_.notice, now_s);
    if (!config_.show_cautions) return;
    help_ = first_start_help();
    help_->title = "Before the first sound";
    help_->paragraphs.back() = "The program plays a grip, softly. Name it by one of the keys that stand beside the answers; no guitar is needed. The key ? shows all others.";
}

std::int64_t NameItRun::wall_ms() const { return config_.plan.wall_ms ? config_.plan.wall_ms() : wall_clock_ms(); }

void NameItRun::say(std::string words, double now_s) {
    notice_ = std::move(words);
    notice_until_s_ = now_s + kNoticeShown_s;
}

void NameItRun::press(const KeyPress& key, double now_s, int columns, int rows) {
    if (key.character == 'q' || key.special == SpecialKey::escape) over_ = true;
    else if (help_) turn_page(columns, rows);
    else command(key, now_s);
}

void NameItRun::turn_page(int columns, int rows) {
    if (++help_->page < help_pages(*help_, columns, rows)) return;
    help_.reset();
    config_.show_cautions = false;
    over_ = ending_;
    sounded_ = 0;  // what is asked sounds (again)
}

void NameItRun::command(const KeyPress& key, double now_s) {
    notice_.clear();
    if (key.character >= kFirstChoice && key.character < kFirstChoice + static_cast<char>(kMostChoices)) return answer(static_cast<std::size_t>(key.character - kFirstChoice), now_s);
    if (key.special == SpecialKey::enter || key.character == 'n') {
        if (session_.state() == NameItState::asking) choose_next();
        return session_.forward(now_s);
    }
    switch (key.character) {
        case ' ': return sound(PromptStyle::together, false, now_s);
        case 'j': return sound(PromptStyle::bass_first, false, now_s);
        case 'l': return sound(PromptStyle::note_by_note, false, now_s);
        case 'k': return sound(PromptStyle::together, true, now_s);
        case '?': help_ = name_it_help(); return;
        default: break;
    }
    const std::string which = key.character == 0 ? "That key" : std::string("Key ") + key.character;
    say(which + " does nothing here: ? shows the keys.", now_s);
}

void NameItRun::answer(std::size_t choice, double now_s) {
    const PracticeStep* asked = session_.asked();
    if (asked == nullptr || session_.state() != NameItState::asking) return;
    if (!session_.answer(choice, now_s)) return say("No answer stands beside that key.", now_s);
    while (auto attempt = session_.take_attempt()) {
        if (planned_) planned_->answered(*attempt, wall_ms());
        summary_.add(*attempt);
        if (config_.keeper != nullptr) config_.keeper->keep(std::move(*attempt), "keyboard");
    }
    choose_next();
}

void NameItRun::choose_next() {
    if (!planned_) return;
    if (const auto next = planned_->next(wall_ms())) {
        session_.next_is(next->step);
        next_why_ = next->why;
    }
}

void NameItRun::sound(PromptStyle style, bool key_first, double now_s) {
    const PracticeStep* asked = session_.asked();
    if (asked == nullptr) return;
    const auto length_s = sound_.sound_row(name_it_sounds(*asked, style, key_first));
    if (!length_s) return say(length_s.error().message, now_s);
    own_sound_until_s_ = now_s + *length_s;
    session_.stay_until(own_sound_until_s_);
}

/// A new question sounds by itself, with its key where its degree is asked.
void NameItRun::follow(double now_s) {
    if (session_.asked() == nullptr || session_.state() != NameItState::asking || sounded_ == session_.questions()) return;
    if (!next_why_.empty()) why_ = std::exchange(next_why_, "");
    sounded_ = session_.questions();
    sound(PromptStyle::together, question_of(*session_.asked()) == NameQuestion::bass_degree, now_s);
}

void NameItRun::watch_time(double now_s) {
    if (clock_.break_is_due(config_.plan, now_s)) {
        say("A break is due: let the ears rest some minutes. Keep headphones soft; a clinician knows better than a program.", now_s);
        notice_until_s_ = now_s + kBreakShown_s;
    }
    if (session_.state() != NameItState::asking || !clock_.over(config_.plan, now_s, session_.questions() - 1)) return;
    ending_ = true;
    help_ = session_is_over(summary(now_s));
}

bool NameItRun::listen(double now_s) {
    if (config_.keeper != nullptr)
        if (auto notice = config_.keeper->take_notice(); !notice.empty()) say(std::move(notice), now_s);
    if (help_) return false;
    const auto state = session_.state();
    const int questions = session_.questions();
    session_.pass(now_s);
    watch_time(now_s);
    if (!help_) follow(now_s);
    const bool sounding = now_s < own_sound_until_s_;
    const bool changed = std::exchange(was_sounding_, sounding) != sounding;
    return changed || help_ || state != session_.state() || questions != session_.questions();
}

std::string NameItRun::counts_words() const {
    std::string out;
    for (std::size_t i = 0; i < kNameQuestions; ++i) {
        const auto question = static_cast<NameQuestion>(i);
        const NameCount& count = session_.count(question);
        if (count.of > 0) out += (out.empty() ? "" : "  ") + std::string(word(question)) + " " + std::to_string(count.right) + " of " + std::to_string(count.of);
    }
    return out.empty() ? "nothing answered yet" : out;
}

/// What it was.
void NameItRun::fill_answer(NameItView& view) const {
    const PracticeStep& step = *session_.asked();
    const auto choices = choices_for(step);
    view.right = right_choice(step);
    view.answered = session_.answered();
    const std::string degree = question_of(step) == NameQuestion::bass_degree ? "degree " : "";
    const std::string was = degree + choices[*view.right].words;
    const bool right = session_.state() == NameItState::right_shown;
    view.headline = right ? "Right: " + was + "." : "Wrong: it was " + was + "; you answered " + choices[*view.answered].words + ".";
    view.tone = right ? Tone::good : Tone::bad;
    view.details = {step.chord + " with " + step.bass + " in the bass" + (step.given ? ", into " + step.given->chord + " with " + step.given->bass : std::string()) + "."};
    view.chord = step.chord;
    view.bass = step.bass;
    view.fret_string = step.grip.text();
    view.diagram = neck_diagram(step.grip, config_.neck);
}

NameItView NameItRun::view(double now_s) const {
    NameItView view;
    view.title = "Name it, " + config_.pool.stage + ", strings " + config_.pool.string_set + (planned_ ? ", planned" : "");
    view.place = "question " + std::to_string(session_.questions());
    view.counts = counts_words();
    view.notice = now_s < notice_until_s_ ? notice_ : "";
    view.warning = sound_.output_trouble();
    if (view.warning.empty() && config_.keeper != nullptr) view.warning = config_.keeper->trouble();
    for (const NameItKey& each : kKeys) view.keys.push_back({each.key, each.does});
    const PracticeStep* asked = session_.asked();
    if (asked == nullptr) {
        view.headline = "Nothing to ask.";
        return view;
    }
    for (const NameChoice& each : choices_for(*asked)) view.choices.push_back({std::string(1, static_cast<char>(kFirstChoice + static_cast<char>(view.choices.size()))), each.words});
    view.state = now_s < own_sound_until_s_ ? "Sounding" : session_.state() == NameItState::asking ? "Your answer" : "Next comes by itself";
    if (session_.state() != NameItState::asking) {
        fill_answer(view);
    } else {
        view.headline = question_words(*asked);
        if (!why_.empty()) view.details = {"Why this: " + why_ + "."};
    }
    return view;
}

void NameItRun::draw(Canvas& canvas, double now_s) const {
    if (help_) draw_help(canvas, *help_);
    else draw_name_it(canvas, view(now_s));
}

}  // namespace gripline

#include "practice/quiz.h"

#include <algorithm>
#include <array>
#include <map>

#include "base/text.h"
#include "practice/seeded_draw.h"

namespace gripline {
namespace {

constexpr std::array<std::string_view, kQuizOrders> kOrderWords{"fixed", "same", "own order", "own questions"};

/// Places of a pool, dealt one after the other without repeating until all are dealt; then shuffled anew.
class Deck {
public:
    Deck(std::vector<std::size_t> places, SeededDraw* draw) : places_(std::move(places)), draw_(draw) { begin(); }
    std::size_t deal() {
        if (next_ == places_.size()) begin();
        return places_[next_++];
    }

private:
    void begin() {
        next_ = 0;
        if (draw_ != nullptr) draw_->shuffle(places_);
    }
    std::vector<std::size_t> places_;
    SeededDraw* draw_;  // nullptr: in order
    std::size_t next_ = 0;
};

/// Skills of a pool (quality, role, side), in the order in which they first come, each with its places.
std::vector<std::vector<std::size_t>> by_skill(const std::vector<QuizQuestion>& pool) {
    std::vector<std::vector<std::size_t>> out;
    std::map<std::string, std::size_t> known;
    for (std::size_t i = 0; i < pool.size(); ++i) {
        const std::string skill = pool[i].quality + '/' + std::string(word(pool[i].role)) + '/' + (pool[i].from ? std::string(word(*pool[i].from)) : "");
        const auto [at, fresh] = known.emplace(skill, out.size());
        if (fresh) out.emplace_back();
        out[at->second].push_back(i);
    }
    return out;
}

/// Each skill as often as any other, but for one; within a skill no question again before all have come.
std::vector<QuizQuestion> drawn_skills(const std::vector<QuizQuestion>& pool, std::size_t number, SeededDraw* draw) {
    const auto skills = by_skill(pool);
    std::vector<Deck> decks;
    std::vector<std::size_t> all;
    for (const auto& places : skills) {
        all.push_back(all.size());
        decks.emplace_back(places, draw);
    }
    Deck order(all, draw);
    std::vector<QuizQuestion> out;
    for (std::size_t i = 0; i < number; ++i) out.push_back(pool[decks[order.deal()].deal()]);
    return out;
}

Error in_part(std::size_t part, const std::string& what) { return Error{"part " + std::to_string(part + 1) + ": " + what}; }

Result<std::vector<QuizQuestion>> questions_of_part(const Quiz& quiz, std::size_t index, SeededDraw* draw) {
    const QuizPart& part = quiz.parts[index];
    auto pool = question_pool(quiz, index);
    if (!pool) return in_part(index, pool.error().message);
    const std::size_t number = part.number > 0 ? static_cast<std::size_t>(part.number) : pool->size();
    if (number > static_cast<std::size_t>(kMostQuizQuestions))
        return in_part(index, std::to_string(number) + " questions are too many; name a \"number\" of at most " + std::to_string(kMostQuizQuestions));
    if (std::holds_alternative<SkillsAsked>(part.what)) return drawn_skills(*pool, number, draw);
    if (number > pool->size())
        return in_part(index, "asks " + std::to_string(number) + " questions, but there are " + std::to_string(pool->size()) + "; lower its \"number\"");
    if (std::holds_alternative<GripsAsked>(part.what) && draw != nullptr) draw->shuffle(*pool);
    pool->resize(number);
    return pool;
}

}  // namespace

std::string_view word(QuizOrder order) noexcept { return kOrderWords[static_cast<std::size_t>(order)]; }

Result<QuizOrder> parse_quiz_order(std::string_view text) {
    const auto found = std::find(kOrderWords.begin(), kOrderWords.end(), text);
    if (found == kOrderWords.end()) return Error{"unknown order " + quoted(text) + "; allowed: fixed, same, own order, own questions"};
    return static_cast<QuizOrder>(found - kOrderWords.begin());
}

std::string student_key(std::string_view name) {
    std::string out;
    bool blank = false;
    for (const char c : trimmed(name)) {
        if (c == ' ' || c == '\t') {
            blank = true;
            continue;
        }
        if (blank) out += ' ';
        blank = false;
        out += c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
    }
    return out;
}

Result<std::vector<QuizQuestion>> draw_questions(const Quiz& quiz, std::string_view student) {
    const std::uint64_t own = SeededDraw(quiz.seed ^ number_for(student_key(student))).next();
    SeededDraw seeds(quiz.order == QuizOrder::own_questions ? own : quiz.seed);
    SeededDraw own_seeds(own);
    std::vector<QuizQuestion> out;
    for (std::size_t i = 0; i < quiz.parts.size(); ++i) {
        SeededDraw draw(seeds.next());
        auto questions = questions_of_part(quiz, i, quiz.order == QuizOrder::fixed ? nullptr : &draw);
        if (!questions) return questions;
        SeededDraw own_draw(own_seeds.next());
        if (quiz.order == QuizOrder::own_order && !std::holds_alternative<ChartAsked>(quiz.parts[i].what)) own_draw.shuffle(*questions);
        out.insert(out.end(), questions->begin(), questions->end());
    }
    if (out.size() > static_cast<std::size_t>(kMostQuizQuestions))
        return Error{std::to_string(out.size()) + " questions in all are too many; at most " + std::to_string(kMostQuizQuestions) + " are allowed"};
    return out;
}

std::string question_text(const QuizQuestion& question) {
    std::string out(word(question.asking));
    out += "  " + (question.step.chord.empty() ? std::string("grip") : question.step.chord) + " with " + question.step.bass + " in the bass  " + question.step.grip.text();
    if (question.beat) out += "  bar " + std::to_string(question.beat->bar) + ", beat " + std::to_string(question.beat->beat);
    return out;
}

}  // namespace gripline

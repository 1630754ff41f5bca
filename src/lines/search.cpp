#include "lines/search.h"

#include <algorithm>
#include <limits>
#include <optional>
#include <tuple>

namespace gripline {

namespace {

// Above the cost of any line (kMostBars * 6 counts * 13 costs of kMostCost * 24 frets is 3.1e12), and summable over two rules a beat.
constexpr std::int64_t kBroken = 10'000'000'000'000;
constexpr std::int64_t kNever = std::numeric_limits<std::int64_t>::max();

/// What a line so far has cost; of equal costs the one nearer to the wanted frets is taken, and then numbers drawn for each choice decide.
struct Price {
    std::int64_t cost = 0;
    std::int64_t outside = 0;  // frets, summed over the beats
    std::uint64_t draw = 0;
    friend auto operator<=>(const Price&, const Price&) = default;
};

/// A choice with what it must remember.
struct State {
    int chosen = 0;
    Memory memory;
    int parent = -1;
    Price price;
};
using Layer = std::vector<State>;

/// 16 bits from seed, slot and choice (the finaliser of SplitMix64; Steele, Lea & Flood 2014).
std::uint64_t drawn(std::uint64_t seed, int slot, int chosen) {
    std::uint64_t z = seed * 0x9E3779B97F4A7C15U + (static_cast<std::uint64_t>(slot) << 20U) + static_cast<std::uint64_t>(chosen) + 1;
    z = (z ^ (z >> 30U)) * 0xBF58476D1CE4E5B9U;
    z = (z ^ (z >> 27U)) * 0x94D049BB133111EBU;
    return (z ^ (z >> 31U)) & 0xFFFFU;
}

class Search {
public:
    Search(const Problem& problem, const Surcharge& surcharge, bool breaking) : problem_(problem), surcharge_(surcharge), breaking_(breaking) {
        for (const auto& choices : problem.choices) most_choices_ = std::max(most_choices_, choices->all.size());
    }

    /// False when no line keeps the rules. `first`: the only choice for the first beat, to which the line leads back; -1: any, and it leads nowhere.
    bool run(bool keep_layers, int first = -1) {
        layer_ = first_layer(first);
        for (int slot = 1; slot < problem_.size() && !layer_.empty(); ++slot) {
            note_parents(keep_layers);
            Layer next;
            clear_index(slot);
            for (std::size_t i = 0; i < layer_.size(); ++i)
                for_each_move(slot, layer_[i], [&](const State& to) { relax(next, slot, to, static_cast<int>(i)); });
            layer_ = std::move(next);
        }
        note_parents(keep_layers);
        end_prices_.clear();
        for (const State& state : layer_) end_prices_.push_back(first < 0 ? state.price : price_back(state, first));
        return std::any_of(end_prices_.begin(), end_prices_.end(), [](const Price& each) { return each.cost != kNever; });
    }

    /// Of the best line that was found.
    [[nodiscard]] const Price& price() const { return end_prices_[best_end()]; }

    [[nodiscard]] std::uint64_t joints() const noexcept { return joints_; }

    [[nodiscard]] Path path() const {
        Path out;
        out.joints = joints_;
        out.chosen.resize(parents_.size());
        int at = static_cast<int>(best_end());
        for (std::size_t slot = parents_.size(); slot-- > 0;) {
            const auto [parent, chosen] = parents_[slot][static_cast<std::size_t>(at)];
            out.chosen[slot] = chosen;
            at = parent;
        }
        return out;
    }

    /// What the cheapest whole lines through every state of every slot cost, from the last slot to the first: then(slot, costs); kNever: there is none.
    /// Walks the layers backwards; needs run(true).
    template <class Then>
    void whole_costs(Then then) {
        std::vector<std::int64_t> ahead;
        for (std::size_t i = 0; i < layer_.size(); ++i) ahead.push_back(end_prices_[i].cost == kNever ? kNever : end_prices_[i].cost - layer_[i].price.cost);
        for (int slot = problem_.size(); slot-- > 0;) {
            const Layer& here = layers_[static_cast<std::size_t>(slot)];
            if (slot + 1 < problem_.size()) ahead = costs_ahead(slot, ahead);
            std::vector<std::int64_t> whole(here.size(), kNever);
            for (std::size_t i = 0; i < here.size(); ++i)
                if (ahead[i] != kNever) whole[i] = here[i].price.cost + ahead[i];
            then(slot, whole);
        }
    }

    /// Into `seconds` the best choice of another grip than that of the line chosen, on every slot, where this search has a better one. `best`: what the chosen line costs.
    void seconds(const std::vector<int>& chosen, std::int64_t best, std::vector<SecondBest>& seconds) {
        seconds.resize(chosen.size());
        whole_costs([&](int slot, const std::vector<std::int64_t>& whole) {
            const Layer& here = layers_[static_cast<std::size_t>(slot)];
            const Grip& mine = problem_.candidate(slot, chosen[static_cast<std::size_t>(slot)]).grip;
            SecondBest& second = seconds[static_cast<std::size_t>(slot)];
            for (std::size_t i = 0; i < here.size(); ++i) {
                if (whole[i] == kNever || problem_.candidate(slot, here[i].chosen).grip == mine) continue;
                if (second.chosen < 0 || whole[i] - best < second.hundredths) second = {here[i].chosen, whole[i] - best};
            }
        });
    }

    /// What a whole line costs at least that begins on each first choice, cheapest first.
    std::vector<std::pair<std::int64_t, int>> least_by_first() {
        std::vector<std::pair<std::int64_t, int>> out;
        whole_costs([&](int slot, const std::vector<std::int64_t>& whole) {
            for (std::size_t i = 0; slot == 0 && i < whole.size(); ++i)
                if (whole[i] != kNever) out.emplace_back(whole[i], layers_.front()[i].chosen);
        });
        std::sort(out.begin(), out.end());
        return out;
    }

private:
    struct Parent {
        int parent;
        int chosen;
    };
    const Problem& problem_;
    const Surcharge& surcharge_;
    bool breaking_;
    Layer layer_;
    std::vector<Layer> layers_;
    std::vector<Price> end_prices_;  // of whole lines, by state of the last layer; kNever: it does not lead back
    std::vector<std::vector<Parent>> parents_;
    std::vector<int> index_;  // of a state in the layer that is being made, by key
    std::uint64_t joints_ = 0;
    std::size_t most_choices_ = 0;

    [[nodiscard]] std::size_t best_end() const { return static_cast<std::size_t>(std::min_element(end_prices_.begin(), end_prices_.end()) - end_prices_.begin()); }

    /// The price of a whole line that leads back to its first grip.
    Price price_back(const State& last, int first) {
        ++joints_;
        Price price = last.price;
        const auto add = [&](Cost, std::int64_t amount) { price.cost += amount; };
        const Joint joint = join(problem_, 0, last.chosen, first, add);
        if (!joint.possible || (joint.broken != Broken::none && !breaking_)) return {kNever, 0, 0};
        if (joint.broken != Broken::none) price.cost += kBroken;
        remember(problem_, 0, last.memory, joint, first, add);
        return price;
    }

    void note_parents(bool keep_layers) {
        std::vector<Parent> row;
        row.reserve(layer_.size());
        for (const State& state : layer_) row.push_back({state.parent, state.chosen});
        parents_.push_back(std::move(row));
        if (keep_layers) layers_.push_back(layer_);
    }

    /// The bars' first grips that a state of the slot may remember, and none.
    [[nodiscard]] std::size_t starts(int slot) const { return problem_.slot(slot).remembers ? most_choices_ + 1 : 1; }
    [[nodiscard]] std::size_t key(int slot, const State& state) const {
        return (static_cast<std::size_t>(state.chosen) * 3 + static_cast<std::size_t>(state.memory.motion + 1)) * starts(slot) + static_cast<std::size_t>(state.memory.bar_start + 1);
    }
    void clear_index(int slot) { index_.assign(problem_.at(slot).all.size() * 3 * starts(slot), -1); }

    /// The price of a choice by itself, or false when it breaks a rule and none may be broken.
    bool price_alone(int slot, int chosen, Price& price) const {
        if (broken_alone(problem_, slot, chosen) != Broken::none) {
            if (!breaking_) return false;
            price.cost += kBroken;
        }
        cost_alone(problem_, slot, chosen, [&](Cost, std::int64_t amount) { price.cost += amount; });
        if (!surcharge_.empty()) price.cost += surcharge_[static_cast<std::size_t>(slot)][static_cast<std::size_t>(chosen)];
        price.outside += frets_outside(problem_.settings, problem_.candidate(slot, chosen));
        price.draw += drawn(problem_.settings.seed, slot, chosen);
        return true;
    }

    Layer first_layer(int first) {
        Layer out;
        for (int chosen = 0; chosen < static_cast<int>(problem_.at(0).all.size()); ++chosen) {
            if (first >= 0 && chosen != first) continue;
            State state{chosen, {}, -1, {}};
            if (!price_alone(0, chosen, state.price)) continue;
            state.memory = remember(problem_, 0, {}, {}, chosen, [](Cost, std::int64_t) {});
            out.push_back(state);
        }
        return out;
    }

    /// Calls then(state on `slot`) for every joint that may follow `from`.
    template <class Then>
    void for_each_move(int slot, const State& from, Then then) {
        const Candidate& before = problem_.candidate(slot - 1, from.chosen);
        const Slot& to = problem_.slot(slot);
        const Choices& choices = problem_.at(slot);
        if (before.target >= 0) return try_move(slot, from, before.target, then);
        const bool walks = !breaking_ && !to.approach && !to.first && choices.steps > 0 && problem_.at(slot - 1).steps > 0;
        if (walks) {
            for (const Move& move : choices.moves[static_cast<std::size_t>(from.chosen)]) try_move(slot, from, move.to, then);
            return;
        }
        const int end = breaking_ ? static_cast<int>(choices.all.size()) : choices.unbroken;
        for (int chosen = 0; chosen < end; ++chosen) try_move(slot, from, chosen, then);
    }

    template <class Then>
    void try_move(int slot, const State& from, int chosen, Then& then) {
        ++joints_;
        State to{chosen, {}, -1, from.price};
        const auto add = [&](Cost, std::int64_t amount) { to.price.cost += amount; };
        const Joint joint = join(problem_, slot, from.chosen, chosen, add);
        if (!joint.possible || (joint.broken != Broken::none && !breaking_)) return;
        if (joint.broken != Broken::none) to.price.cost += kBroken;
        if (!price_alone(slot, chosen, to.price)) return;
        to.memory = remember(problem_, slot, from.memory, joint, chosen, add);
        then(to);
    }

    void relax(Layer& next, int slot, State to, int parent) {
        to.parent = parent;
        int& known = index_[key(slot, to)];
        if (known < 0) {
            known = static_cast<int>(next.size());
            next.push_back(to);
        } else if (State& there = next[static_cast<std::size_t>(known)]; to.price < there.price) {
            there = to;
        }
    }

    /// From the costs ahead of the states of slot + 1 those of slot.
    std::vector<std::int64_t> costs_ahead(int slot, const std::vector<std::int64_t>& ahead) {
        const Layer& here = layers_[static_cast<std::size_t>(slot)];
        const Layer& next = layers_[static_cast<std::size_t>(slot) + 1];
        clear_index(slot + 1);
        for (std::size_t i = 0; i < next.size(); ++i) index_[key(slot + 1, next[i])] = static_cast<int>(i);
        std::vector<std::int64_t> out(here.size(), kNever);
        for (std::size_t i = 0; i < here.size(); ++i) {
            for_each_move(slot + 1, here[i], [&](const State& to) {
                const std::int64_t behind = ahead[static_cast<std::size_t>(index_[key(slot + 1, to)])];
                if (behind != kNever) out[i] = std::min(out[i], to.price.cost - here[i].price.cost + behind);
            });
        }
        return out;
    }
};

/// The best line that leads nowhere, or no path.
Path open_path(const Problem& problem, const Surcharge& surcharge, bool breaking, bool want_seconds) {
    Search search(problem, surcharge, breaking);
    if (!search.run(want_seconds)) return {{}, {}, search.joints()};
    Path path = search.path();
    if (want_seconds) search.seconds(path.chosen, search.price().cost, path.seconds);
    return path;
}

/// The best line that leads back to its first grip, or no path. Each first choice takes a search of its own; what a line that leads nowhere costs from there is
/// the least that it can come to, and so most of them need none.
Path round_path(const Problem& problem, const Surcharge& surcharge, bool breaking, bool want_seconds) {
    Search open(problem, surcharge, breaking);
    const bool any = open.run(true);
    Path best{{}, {}, open.joints()};
    if (!any) return best;
    std::optional<Price> price;
    const auto firsts = open.least_by_first();
    for (const auto& [least, first] : firsts) {
        if (price && least > price->cost) break;
        Search search(problem, surcharge, breaking);
        const bool leads_back = search.run(false, first);
        const std::uint64_t joints = best.joints + search.joints();
        if (leads_back && (!price || search.price() < *price)) {
            price = search.price();
            best = search.path();
        }
        best.joints = joints;
    }
    for (std::size_t i = 0; want_seconds && price && i < firsts.size(); ++i) {
        Search search(problem, surcharge, breaking);
        if (search.run(true, firsts[i].second)) search.seconds(best.chosen, price->cost, best.seconds);
        best.joints += search.joints();
    }
    return best;
}

}  // namespace

Path shortest_path(const Problem& problem, const Surcharge& surcharge, bool want_seconds) {
    std::uint64_t joints = 0;
    for (const bool breaking : {false, true}) {
        Path path = (problem.settings.comes_again ? round_path : open_path)(problem, surcharge, breaking, want_seconds);
        joints += path.joints;
        if (path.chosen.empty()) continue;
        path.joints = joints;
        return path;
    }
    return {};
}

}  // namespace gripline

#include "lines/search.h"

#include <algorithm>
#include <limits>
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

    /// False when no line keeps the rules.
    bool run(bool keep_layers) {
        layer_ = first_layer();
        for (int slot = 1; slot < problem_.size() && !layer_.empty(); ++slot) {
            note_parents(keep_layers);
            Layer next;
            clear_index(slot);
            for (std::size_t i = 0; i < layer_.size(); ++i)
                for_each_move(slot, layer_[i], [&](const State& to) { relax(next, slot, to, static_cast<int>(i)); });
            layer_ = std::move(next);
        }
        note_parents(keep_layers);
        return !layer_.empty();
    }

    [[nodiscard]] std::uint64_t joints() const noexcept { return joints_; }

    [[nodiscard]] Path path() const {
        Path out;
        out.joints = joints_;
        out.chosen.resize(parents_.size());
        int at = static_cast<int>(std::min_element(layer_.begin(), layer_.end(), [](const State& a, const State& b) { return a.price < b.price; }) - layer_.begin());
        for (std::size_t slot = parents_.size(); slot-- > 0;) {
            const auto [parent, chosen] = parents_[slot][static_cast<std::size_t>(at)];
            out.chosen[slot] = chosen;
            at = parent;
        }
        return out;
    }

    /// Cheapest whole lines through every state, by walking the layers backwards; needs run(true).
    std::vector<SecondBest> seconds(const std::vector<int>& chosen) {
        std::vector<SecondBest> out(chosen.size());
        std::vector<std::int64_t> ahead(layers_.back().size(), 0);
        for (int slot = problem_.size(); slot-- > 0;) {
            const Layer& here = layers_[static_cast<std::size_t>(slot)];
            if (slot + 1 < problem_.size()) ahead = costs_ahead(slot, ahead);
            std::int64_t best = kNever, second = kNever;
            const Grip& mine = problem_.candidate(slot, chosen[static_cast<std::size_t>(slot)]).grip;
            for (std::size_t i = 0; i < here.size(); ++i) {
                if (ahead[i] == kNever) continue;
                const std::int64_t whole = here[i].price.cost + ahead[i];
                best = std::min(best, whole);
                if (whole >= second || problem_.candidate(slot, here[i].chosen).grip == mine) continue;
                second = whole;
                out[static_cast<std::size_t>(slot)].chosen = here[i].chosen;
            }
            if (second != kNever) out[static_cast<std::size_t>(slot)].hundredths = second - best;
        }
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
    std::vector<std::vector<Parent>> parents_;
    std::vector<int> index_;  // of a state in the layer that is being made, by key
    std::uint64_t joints_ = 0;
    std::size_t most_choices_ = 0;

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

    Layer first_layer() {
        Layer out;
        for (int chosen = 0; chosen < static_cast<int>(problem_.at(0).all.size()); ++chosen) {
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

}  // namespace

Path shortest_path(const Problem& problem, const Surcharge& surcharge, bool want_seconds) {
    std::uint64_t joints = 0;
    for (const bool breaking : {false, true}) {
        Search search(problem, surcharge, breaking);
        if (!search.run(want_seconds)) {
            joints += search.joints();
            continue;
        }
        Path path = search.path();
        path.joints += joints;
        if (want_seconds) path.seconds = search.seconds(path.chosen);
        return path;
    }
    return {};
}

}  // namespace gripline

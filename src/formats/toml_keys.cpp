#include "formats/toml_keys.h"

#include <cmath>

#include "base/text.h"

namespace gripline {
namespace {

/// A number as a message shows it: 0.5, 20.
std::string shown(double number) {
    std::string text = std::to_string(number);
    text.erase(text.find_last_not_of('0') + 1);
    if (text.ends_with('.')) text.pop_back();
    return text;
}

std::string_view kind_of(const toml::node& node) {
    switch (node.type()) {
        case toml::node_type::table: return "a table";
        case toml::node_type::array: return "a list";
        case toml::node_type::string: return "a text";
        case toml::node_type::integer: return "a whole number";
        case toml::node_type::floating_point: return "a number";
        case toml::node_type::boolean: return "true or false";
        default: return "a date or time";
    }
}

}  // namespace

const toml::node* TomlKeys::find(std::string_view key) {
    known_.emplace(key);
    return trouble_.empty() ? table_.get(key) : nullptr;
}

void TomlKeys::complain(std::string_view key, const std::string& what) {
    if (!trouble_.empty()) return;
    const toml::node* node = table_.get(key);
    const auto line = node != nullptr ? node->source().begin.line : table_.source().begin.line;
    trouble_ = "line " + std::to_string(line) + ", " + prefix_ + "key \"" + std::string(key) + "\": " + what;
}

void TomlKeys::wrong_kind(std::string_view key, const toml::node& node, std::string_view wanted) {
    complain(key, "is " + std::string(kind_of(node)) + "; " + std::string(wanted) + " is wanted");
}

void TomlKeys::text(std::string_view key, std::string& value) {
    const toml::node* node = find(key);
    if (node == nullptr) return;
    if (const auto* held = node->as_string()) value = held->get();
    else wrong_kind(key, *node, "a text in quotes");
}

void TomlKeys::flag(std::string_view key, bool& value) {
    const toml::node* node = find(key);
    if (node == nullptr) return;
    if (const auto* held = node->as_boolean()) value = held->get();
    else wrong_kind(key, *node, "true or false");
}

void TomlKeys::whole(std::string_view key, std::int64_t least, std::int64_t most, std::int64_t& value) {
    const toml::node* node = find(key);
    if (node == nullptr) return;
    const auto* held = node->as_integer();
    if (held == nullptr) return wrong_kind(key, *node, "a whole number");
    if (held->get() < least || held->get() > most)
        return complain(key, std::to_string(held->get()) + " is out of range; " + std::to_string(least) + " to " + std::to_string(most) + " is allowed");
    value = held->get();
}

void TomlKeys::number(std::string_view key, double least, double most, double& value) {
    const toml::node* node = find(key);
    if (node == nullptr) return;
    if (!node->is_number()) return wrong_kind(key, *node, "a number");
    const double held = *node->value<double>();
    if (!(held >= least && held <= most)) return complain(key, shown(held) + " is out of range; " + shown(least) + " to " + shown(most) + " is allowed");
    value = held;
}

void TomlKeys::numbers(std::string_view key, double least, double most, std::span<float> value) {
    const toml::node* node = find(key);
    if (node == nullptr) return;
    const auto* list = node->as_array();
    if (list == nullptr || list->size() != value.size()) return wrong_kind(key, *node, "a list of " + std::to_string(value.size()) + " numbers");
    for (std::size_t i = 0; i < value.size(); ++i) {
        const auto* item = list->get(i);
        if (!item->is_number()) return wrong_kind(key, *item, "a list of " + std::to_string(value.size()) + " numbers");
        const double held = *item->value<double>();
        if (!(held >= least && held <= most)) return complain(key, shown(held) + " is out of range; " + shown(least) + " to " + shown(most) + " is allowed");
        value[i] = static_cast<float>(held);
    }
}

void TomlKeys::texts(std::string_view key, std::vector<std::string>& value) {
    const toml::node* node = find(key);
    if (node == nullptr) return;
    if (const auto* held = node->as_string()) {
        value = {held->get()};
        return;
    }
    const auto* list = node->as_array();
    if (list == nullptr) return wrong_kind(key, *node, "a list of texts");
    if (list->empty()) return complain(key, "is an empty list; at least one text is wanted");
    value.clear();
    for (const toml::node& item : *list) {
        const auto* held = item.as_string();
        if (held == nullptr) return wrong_kind(key, item, "a list of texts");
        value.push_back(held->get());
    }
}

void TomlKeys::need(std::string_view key, const std::string& what_for) {
    if (!has(key)) complain(key, "is missing; " + what_for);
}

void TomlKeys::finish() {
    if (!trouble_.empty()) return;
    for (const auto& [key, node] : table_) {
        if (known_.contains(key.str())) continue;
        std::string allowed;
        for (const std::string& known : known_) allowed += (allowed.empty() ? "" : ", ") + known;
        trouble_ = "line " + std::to_string(node.source().begin.line) + ", " + prefix_ + "key " + quoted(key.str()) + " is unknown; allowed: " + allowed;
        return;
    }
}

}  // namespace gripline

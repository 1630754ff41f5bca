// Reads the keys of a JSON object and remembers the first thing that is wrong, with its place: "answers[3].tries[0].confidence".
// Only .cpp files of this folder include it, for it knows the JSON library.
#pragma once

#include <nlohmann/json.hpp>

#include <cstdint>
#include <string>
#include <string_view>

#include "base/text.h"

namespace gripline {

class JsonKeys {
public:
    /// place: of the object, "" for the outermost. `trouble` takes the first error.
    JsonKeys(const nlohmann::ordered_json& object, std::string place, std::string& trouble) : object_(object), place_(std::move(place)), trouble_(trouble) {
        if (!object.is_object() && good()) trouble_ = (place_.empty() ? "the file" : place_) + ": is no object";
    }

    [[nodiscard]] bool good() const noexcept { return trouble_.empty(); }
    [[nodiscard]] bool has(std::string_view key) const { return object_.is_object() && object_.contains(key); }
    [[nodiscard]] std::string place(std::string_view key) const { return (place_.empty() ? "" : place_ + ".") + std::string(key); }
    void complain(std::string_view key, const std::string& what) {
        if (good()) trouble_ = place(key) + ": " + what;
    }

    /// Each is there and of its kind, or that is the error; then what comes back means nothing.
    std::string text(std::string_view key) {
        const auto* held = find(key);
        if (held != nullptr && held->is_string()) return held->get<std::string>();
        wrong_kind(held, key, "a text");
        return {};
    }
    double number(std::string_view key, double least, double most) {
        const auto* held = find(key);
        if (held == nullptr || !held->is_number()) {
            wrong_kind(held, key, "a number");
            return least;
        }
        const auto value = held->get<double>();
        if (!(value >= least && value <= most)) complain(key, held->dump() + " is out of range; " + shown(least) + " to " + shown(most) + " is allowed");
        return value;
    }
    std::int64_t whole(std::string_view key, std::int64_t least, std::int64_t most) {
        const auto* held = find(key);
        if (held == nullptr || !held->is_number_integer()) {
            wrong_kind(held, key, "a whole number");
            return least;
        }
        const auto value = held->get<std::int64_t>();
        if (value < least || value > most) complain(key, held->dump() + " is out of range; " + std::to_string(least) + " to " + std::to_string(most) + " is allowed");
        return value;
    }
    /// An empty list where there is none.
    const nlohmann::ordered_json& list(std::string_view key, std::size_t most) {
        static const nlohmann::ordered_json kNone = nlohmann::ordered_json::array();
        const auto* held = find(key);
        if (held == nullptr || !held->is_array()) {
            wrong_kind(held, key, "a list");
            return kNone;
        }
        if (held->size() > most) complain(key, std::to_string(held->size()) + " items are too many; at most " + std::to_string(most) + " are allowed");
        return good() ? *held : kNone;
    }
    const nlohmann::ordered_json& object(std::string_view key) {
        static const nlohmann::ordered_json kNone = nlohmann::ordered_json::object();
        const auto* held = find(key);
        if (held != nullptr && held->is_object()) return *held;
        wrong_kind(held, key, "an object");
        return kNone;
    }
    /// The text read by `parse`, whose error is told with the place.
    template <class T, class Parse>
    void read(std::string_view key, T& out, Parse parse) {
        const std::string held = text(key);
        if (!good()) return;
        auto value = parse(held);
        if (value) out = std::move(*value);
        else complain(key, value.error().message);
    }

private:
    const nlohmann::ordered_json* find(std::string_view key) const {
        if (!has(key)) return nullptr;
        return &object_.at(std::string(key));
    }
    static std::string shown(double number) {
        std::string out = std::to_string(number);
        out.erase(out.find_last_not_of('0') + 1);
        if (out.ends_with('.')) out.pop_back();
        return out;
    }
    void wrong_kind(const nlohmann::ordered_json* held, std::string_view key, const char* wanted) {
        complain(key, held == nullptr ? std::string("is missing; ") + wanted + " is wanted" : std::string("is a ") + held->type_name() + "; " + wanted + " is wanted");
    }

    const nlohmann::ordered_json& object_;
    std::string place_;
    std::string& trouble_;
};

}  // namespace gripline

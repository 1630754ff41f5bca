// Reads the keys of a TOML table (toml.io, 1.0.0) and remembers the first thing that is wrong, with its line and key.
// Only .cpp files of this folder include it, for it knows the TOML library.
#pragma once

#include <toml++/toml.h>

#include <cstdint>
#include <optional>
#include <set>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace gripline {

class TomlKeys {
public:
    /// prefix: how keys are named in errors, "part 2, ". `trouble` takes the first error; nothing is read after it.
    TomlKeys(const toml::table& table, std::string prefix, std::string& trouble) : table_(table), prefix_(std::move(prefix)), trouble_(trouble) {}

    [[nodiscard]] bool has(std::string_view key) const { return table_.contains(key); }
    /// Each leaves `value` as it is when the key is not there.
    void text(std::string_view key, std::string& value);
    void flag(std::string_view key, bool& value);
    void whole(std::string_view key, std::int64_t least, std::int64_t most, std::int64_t& value);
    void number(std::string_view key, double least, double most, double& value);
    /// A list of exactly value.size() numbers.
    void numbers(std::string_view key, double least, double most, std::span<float> value);
    /// A list of texts, or one text; at least one.
    void texts(std::string_view key, std::vector<std::string>& value);
    /// Read elsewhere.
    void known(std::string_view key) { known_.emplace(key); }
    /// The key must be there.
    void need(std::string_view key, const std::string& what_for);
    /// Something is wrong with the value of the key.
    void complain(std::string_view key, const std::string& what);
    /// A key that nobody asked for is an error that names those that there are.
    void finish();
    [[nodiscard]] bool good() const noexcept { return trouble_.empty(); }

private:
    const toml::node* find(std::string_view key);
    void wrong_kind(std::string_view key, const toml::node& node, std::string_view wanted);

    const toml::table& table_;
    std::string prefix_;
    std::string& trouble_;
    std::set<std::string, std::less<>> known_;
};

}  // namespace gripline

// A value or an error. Errors are values everywhere in gripline: an exception means a bug.
#pragma once

#include <string>
#include <utility>
#include <variant>

namespace gripline {

/// What went wrong, in words for the player: place, value, limit, what to do.
struct Error {
    std::string message;
};

/// Either a T or an Error. `value()` may be called only when `ok()`.
template <class T>
class [[nodiscard]] Result {
public:
    Result(T value) : held_(std::move(value)) {}
    Result(Error error) : held_(std::move(error)) {}

    [[nodiscard]] bool ok() const noexcept { return held_.index() == 0; }
    explicit operator bool() const noexcept { return ok(); }
    [[nodiscard]] T& value() & { return std::get<0>(held_); }
    [[nodiscard]] const T& value() const& { return std::get<0>(held_); }
    [[nodiscard]] T&& value() && { return std::get<0>(std::move(held_)); }
    [[nodiscard]] const Error& error() const { return std::get<1>(held_); }
    T& operator*() & { return value(); }
    const T& operator*() const& { return value(); }
    T* operator->() { return &value(); }
    const T* operator->() const { return &value(); }

private:
    std::variant<T, Error> held_;
};

}  // namespace gripline

#pragma once
// A value or a Problem. Members are named as std::expected names them (C++23), so that a later change is an
// alias; GCC 12 has it only with -std=c++23 and clang 14 not at all.
#include "core/base/Problem.h"
#include "core/base/Require.h"

#include <utility>
#include <variant>

namespace kitround {

template <class T>
class [[nodiscard]] Result {
public:
    Result(T value) : content_(std::in_place_index<0>, std::move(value)) {}
    Result(Problem problem) : content_(std::in_place_index<1>, std::move(problem)) {}

    bool has_value() const { return content_.index() == 0; }
    explicit operator bool() const { return has_value(); }
    T &value() & {
        KITROUND_REQUIRE(has_value());
        return std::get<0>(content_);
    }
    const T &value() const & {
        KITROUND_REQUIRE(has_value());
        return std::get<0>(content_);
    }
    T &&value() && {
        KITROUND_REQUIRE(has_value());
        return std::get<0>(std::move(content_));
    }
    T &operator*() & { return value(); }
    const T &operator*() const & { return value(); }
    T &&operator*() && { return std::move(*this).value(); }
    T *operator->() { return &value(); }
    const T *operator->() const { return &value(); }
    const Problem &error() const {
        KITROUND_REQUIRE(!has_value());
        return std::get<1>(content_);
    }

private:
    std::variant<T, Problem> content_;
};

template <>
class [[nodiscard]] Result<void> {
public:
    Result() = default;
    Result(Problem problem) : problem_(std::move(problem)), ok_(false) {}
    bool has_value() const { return ok_; }
    explicit operator bool() const { return ok_; }
    const Problem &error() const {
        KITROUND_REQUIRE(!ok_);
        return problem_;
    }

private:
    Problem problem_;
    bool ok_ = true;
};

} // namespace kitround

#pragma once
// Row identities that cannot be mixed: a PatientId is not a NurseId. No arithmetic. A default-made id is
// "not stored yet"; the store gives the real one on first save.
#include <compare>
#include <cstdint>
#include <functional>

namespace kitround {

template <class Tag>
class Id {
public:
    constexpr Id() = default;
    constexpr explicit Id(std::int64_t value) : value_(value) {}

    constexpr std::int64_t value() const { return value_; }
    constexpr bool isSet() const { return value_ > 0; }
    friend constexpr auto operator<=>(Id, Id) = default;

private:
    std::int64_t value_ = 0;
};

} // namespace kitround

template <class Tag>
struct std::hash<kitround::Id<Tag>> {
    std::size_t operator()(kitround::Id<Tag> id) const noexcept {
        return std::hash<std::int64_t>{}(id.value());
    }
};

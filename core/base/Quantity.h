#pragma once
// Whole amounts with a unit in the type: millilitres never meet bottles, and a case becomes eaches only
// through an item's pack size. Differences may be negative; facts that may not be are checked at the border.
#include <cassert>
#include <compare>
#include <cstdint>

namespace kitround {

template <class Tag>
class Quantity {
public:
    constexpr Quantity() = default;
    static constexpr Quantity of(std::int64_t count) { return Quantity(count); }

    constexpr std::int64_t count() const { return count_; }
    constexpr bool isNegative() const { return count_ < 0; }
    constexpr bool isZero() const { return count_ == 0; }

    friend constexpr auto operator<=>(Quantity, Quantity) = default;
    friend constexpr Quantity operator+(Quantity a, Quantity b) { return Quantity(a.count_ + b.count_); }
    friend constexpr Quantity operator-(Quantity a, Quantity b) { return Quantity(a.count_ - b.count_); }
    friend constexpr Quantity operator-(Quantity a) { return Quantity(-a.count_); }
    friend constexpr Quantity operator*(Quantity a, std::int64_t times) { return Quantity(a.count_ * times); }
    constexpr Quantity &operator+=(Quantity other) { return count_ += other.count_, *this; }
    constexpr Quantity &operator-=(Quantity other) { return count_ -= other.count_, *this; }

private:
    constexpr explicit Quantity(std::int64_t count) : count_(count) {}
    std::int64_t count_ = 0;
};

using Millilitres = Quantity<struct MillilitresTag>;
using Minutes = Quantity<struct MinutesTag>; // a length of time, or minutes after local midnight
using Days = Quantity<struct DaysTag>;       // calendar days; never 1440 minutes
using Metres = Quantity<struct MetresTag>;

inline constexpr double kMetresAMile = 1609.344; // international mile, exact
constexpr double inMiles(Metres distance) {
    return static_cast<double>(distance.count()) / kMetresAMile;
}
using Sessions = Quantity<struct SessionsTag>; // drains
using Kits = Quantity<struct KitsTag>;
using Bottles = Quantity<struct BottlesTag>;
using Eaches = Quantity<struct EachesTag>; // single units of any item; what the stock ledger moves
using Cases = Quantity<struct CasesTag>;   // supplier packs

// Pack size is a fact of one item at one supplier, so a case becomes eaches only here.
struct PackSize {
    Eaches eachesPerCase = Eaches::of(1);
    friend constexpr auto operator<=>(const PackSize &, const PackSize &) = default;
};
constexpr Eaches toEaches(Cases cases, PackSize pack) {
    return pack.eachesPerCase * cases.count();
}
// The fewest whole cases that hold `need`; zero for no need. Precondition: pack is positive.
constexpr Cases casesCovering(Eaches need, PackSize pack) {
    assert(pack.eachesPerCase.count() > 0);
    if (need.count() <= 0)
        return {};
    return Cases::of((need.count() + pack.eachesPerCase.count() - 1) / pack.eachesPerCase.count());
}

} // namespace kitround

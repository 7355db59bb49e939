#include "tests/bench/year/Storeroom.h"

#include "tests/bench/world/Draws.h"

#include <algorithm>
#include <cmath>

namespace kitround::bench {
namespace {

constexpr int kStartDays = 28;
constexpr int kHabitDays = 56;

} // namespace

Storeroom::Storeroom(std::uint64_t seed, const std::array<double, kStoreItems> &perDay)
    : seed_(seed), planned_(perDay) {
    for (std::size_t i = 0; i < kStoreItems; ++i)
        lots_.push_back({i, static_cast<std::int64_t>(std::ceil(kStartDays * perDay[i])), 300});
}

std::int64_t Storeroom::held(std::size_t item) const {
    std::int64_t sum = 0;
    for (const ShelfLot &lot : lots_)
        sum += lot.item == item ? lot.left : 0;
    return sum;
}

void Storeroom::morning(int day) {
    asked_.resize(static_cast<std::size_t>(day) + 1);
    for (const SupplierOrder &order : orders_) {
        if (order.arrivesOn != day)
            continue;
        Draws draws(seed_ * 7919 + static_cast<std::uint64_t>(day));
        for (std::size_t i = 0; i < kStoreItems; ++i) {
            const int lastDay = day + draws.whole(150, 500);
            if (order.cases[i] > 0)
                lots_.push_back({i, order.cases[i] * kCase, lastDay});
        }
    }
    std::ranges::stable_sort(lots_, {}, &ShelfLot::lastDay);
    for (ShelfLot &lot : lots_)
        if (lot.lastDay < day) {
            expired_ += lot.left;
            lot.left = 0;
        }
    std::erase_if(lots_, [](const ShelfLot &lot) { return lot.left == 0; });
    for (std::size_t i = 0; i < kStoreItems; ++i) {
        heldSum_ += static_cast<double>(held(i));
        emptyDays_ += planned_[i] > 0 && held(i) == 0 ? 1 : 0;
    }
}

int Storeroom::take(std::size_t item, int wanted, int day, bool isAgain) {
    asked_[static_cast<std::size_t>(day)][item] += isAgain ? 0 : wanted;
    std::int64_t open = wanted;
    for (ShelfLot &lot : lots_) {
        if (lot.item != item)
            continue;
        const std::int64_t taken = std::min(open, lot.left);
        lot.left -= taken;
        open -= taken;
    }
    given_ += wanted - open;
    return wanted - static_cast<int>(open);
}

void Storeroom::order(int day, const ByItem &cases) {
    if (std::ranges::all_of(cases, [](std::int64_t c) { return c <= 0; }))
        return;
    // Three to seven days, and one order in twenty up to nine days late (assumed).
    Draws draws(seed_ * 104729 + static_cast<std::uint64_t>(day));
    const int lead = draws.whole(3, 7) + (draws.chance(0.05) ? draws.whole(4, 9) : 0);
    orders_.push_back({day, day + lead, cases});
}

void Storeroom::orderByHabit(int day) {
    ByItem cases{};
    const int from = std::max(0, day - kHabitDays);
    for (std::size_t i = 0; i < kStoreItems; ++i) {
        double used = 0;
        for (int d = from; d < day; ++d)
            used += static_cast<double>(asked_[static_cast<std::size_t>(d)][i]);
        // The plan speaks for the days of the eight weeks that are not over yet.
        used += planned_[i] * (kHabitDays - (day - from));
        const double demand = used / kHabitDays * (kReviewEvery + kPromisedLead);
        std::int64_t position = held(i);
        for (const SupplierOrder &order : orders_)
            position += order.arrivesOn > day ? order.cases[i] * kCase : 0;
        const double need = demand + 3 * std::sqrt(demand) - static_cast<double>(position);
        cases[i] = need > 0 ? static_cast<std::int64_t>(std::ceil(need / kCase)) : 0;
    }
    order(day, cases);
}

double Storeroom::daysHeld() const {
    return given_ > 0 ? heldSum_ / static_cast<double>(given_) : 0; // both over the same days
}

} // namespace kitround::bench

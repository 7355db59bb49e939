#pragma once
// The agency's own shelf for a year: lots by their last day, orders on their way, late suppliers. The same
// supplier for every policy: how late an order is and how long a lot lasts depend on the day alone.
#include <array>
#include <cstdint>
#include <vector>

namespace kitround::bench {

inline constexpr std::size_t kStoreItems = 4; // items 1 to 4 of the year's homes
inline constexpr int kCase = 10;
inline constexpr int kPromisedLead = 5;
inline constexpr int kReviewEvery = 7; // days between the storeroom's orders
using ByItem = std::array<std::int64_t, kStoreItems>;

struct ShelfLot {
    std::size_t item = 0;
    std::int64_t left = 0;
    int lastDay = 0; // of use
};
struct SupplierOrder {
    int orderedOn = 0;
    int arrivesOn = 0;
    ByItem cases{};
};

class Storeroom {
public:
    // Begins with four weeks of planned use.
    Storeroom(std::uint64_t seed, const std::array<double, kStoreItems> &perDay);

    void morning(int day); // orders arrive; lots past their day are thrown away
    // First expiring first; gives what is there. `isAgain`: asked for before, counts as use once.
    int take(std::size_t item, int wanted, int day, bool isAgain);
    void order(int day, const ByItem &cases); // nothing where there is nothing to order
    // The rule beside the refills that know no forecast: up to the use of review and lead time by the last
    // eight weeks' issues and three times its square root (the trade's rule of thumb).
    void orderByHabit(int day);

    const std::vector<ShelfLot> &lots() const { return lots_; }
    const std::vector<SupplierOrder> &orders() const { return orders_; }

    int emptyDays() const { return emptyDays_; } // days, summed over items in use, that began with none
    std::int64_t expired() const { return expired_; }
    int orderCount() const { return static_cast<int>(orders_.size()); }
    double daysHeld() const; // mean stock over mean use a day

private:
    std::int64_t held(std::size_t item) const;

    std::uint64_t seed_;
    std::vector<ShelfLot> lots_; // by last day
    std::vector<SupplierOrder> orders_;
    std::vector<ByItem> asked_; // by day
    std::array<double, kStoreItems> planned_;
    std::int64_t expired_ = 0, given_ = 0;
    double heldSum_ = 0;
    int emptyDays_ = 0;
};

} // namespace kitround::bench

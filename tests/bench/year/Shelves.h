#pragma once
// What stands at every home: the true stock, day by day, and what the policy is measured by.
#include "tests/bench/year/Policies.h"
#include "tests/bench/year/Storeroom.h"

#include <array>
#include <vector>

namespace kitround::bench {

using Pair = std::array<int, 2>; // kit, extra bottle

struct Parcel {
    int sentOn = 0;
    int arrivesOn = 0;
    Pair units{};
};
struct Shelf {
    Pair stock{};
    std::vector<Parcel> parcels; // all, by day sent
    Pair owed{};                 // asked for when the storeroom was short
    bool wasDry = false;
    std::size_t nextSession = 0;

    Pair coming(int day) const; // sent, not arrived by the morning of the day
};

class Shelves {
public:
    explicit Shelves(const Year &year, std::string policy);
    const Year &year() const { return *year_; }
    Shelf &of(std::size_t home) { return shelves_[home]; }
    const Shelf &at(std::size_t home) const { return shelves_[home]; }

    void morning(int day); // parcels arrive; who left is cleared out
    // What the storeroom has of them; with `isOwed` the rest is sent once it is there.
    void send(std::size_t home, int day, int arrivesOn, Pair units, bool isOwed);
    void sendOwed(int day);
    Storeroom &storeroom() { return storeroom_; }
    const Storeroom &storeroom() const { return storeroom_; }
    void drainAll(int day); // the day's true drains
    YearOutcome outcome() const;

private:
    void drain(std::size_t home, const TrueSession &session);

    const Year *year_;
    Storeroom storeroom_;
    std::vector<Shelf> shelves_;
    YearOutcome outcome_;
    double heldSum_ = 0;
    std::int64_t heldDays_ = 0;
};

bool isWeekday(const Year &year, int day);
int nextWeekday(const Year &year, int day); // after the day
// Planned sessions over `days` from a day, and `more` of them, as units.
Pair planFor(const Year &year, const YearHome &home, int day, double days, double more);

} // namespace kitround::bench

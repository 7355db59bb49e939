#include "tests/bench/year/Shelves.h"

#include <algorithm>

namespace kitround::bench {
namespace {

constexpr int kRefillDays = 30;
constexpr int kCountDays = 14;
constexpr double kParDays = 21, kParSessions = 3;

// A home's first refill comes when its starter set runs low; those in service at the start are spread evenly.
int firstRefill(const YearHome &home, int every, std::size_t h) {
    return home.life.start >= 0 ? home.life.start + 7 : static_cast<int>(h) % std::min(every, 10);
}

template <class Units>
YearOutcome everySo(const Year &year, const char *name, int every, Units units) {
    Shelves shelves(year, name);
    std::vector<int> due;
    for (std::size_t h = 0; h < year.homes.size(); ++h)
        due.push_back(firstRefill(year.homes[h], every, h));
    for (int day = 0; day < kYearDays; ++day) {
        shelves.morning(day);
        if (isWeekday(year, day))
            shelves.sendOwed(day);
        if (day % kReviewEvery == 0) // the year begins on a Monday
            shelves.storeroom().orderByHabit(day);
        for (std::size_t h = 0; h < year.homes.size(); ++h) {
            const YearHome &home = year.homes[h];
            if (!isWeekday(year, day) || day < due[h] || !home.isInServiceOn(day) || home.isAwayOn(day))
                continue; // who is away is served on return
            shelves.send(h, day, nextWeekday(year, day), units(home, shelves.of(h), day), true);
            due[h] = day + every;
        }
        shelves.drainAll(day);
    }
    return shelves.outcome();
}

} // namespace

YearOutcome fixedRefills(const Year &year) {
    return everySo(year, "fixed_30_days", kRefillDays,
                   [&](const YearHome &home, const Shelf &shelf, int day) {
                       Pair units = planFor(year, home, day, kRefillDays, 0);
                       for (std::size_t i = 0; i < 2; ++i)
                           units[i] += shelf.owed[i];
                       return units;
                   });
}

YearOutcome parLevels(const Year &year) {
    return everySo(year, "par_levels", kCountDays, [&](const YearHome &home, const Shelf &shelf, int day) {
        Pair units = planFor(year, home, day, kParDays, kParSessions);
        const Pair coming = shelf.coming(day);
        for (std::size_t i = 0; i < 2; ++i) // what was owed is part of the new order
            units[i] = std::max(0, units[i] - shelf.stock[i] - coming[i]);
        return units;
    });
}

} // namespace kitround::bench

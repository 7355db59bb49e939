#include "tests/bench/year/Shelves.h"

#include <algorithm>
#include <cmath>

namespace kitround::bench {
namespace {

// Everyone starts alike with so much of the plan, not counted as sent; who comes during the year takes it
// from the storeroom.
constexpr double kStarterDays = 14, kStarterSessions = 3;
constexpr double kPricePerEach = 20;  // as the made-up supplier of the other benchmarks
constexpr double kPricePerRun = 25;   // the setting courier_cost
constexpr double kPricePerOrder = 20; // the setting order_cost

std::size_t itemOf(const YearHome &home, std::size_t i) {
    return static_cast<std::size_t>(home.items[i].value()) - 1;
}

std::array<double, kStoreItems> plannedUse(const Year &year) {
    std::array<double, kStoreItems> perDay{};
    for (const YearHome &home : year.homes) {
        if (!home.isInServiceOn(0))
            continue;
        const double sessions = home.plannedPerDay(0);
        perDay[itemOf(home, 0)] += sessions;
        perDay[itemOf(home, 1)] += sessions * home.extrasPerSession(year.firstDay);
    }
    return perDay;
}

} // namespace

Pair Shelf::coming(int day) const {
    Pair sum{};
    for (const Parcel &p : parcels)
        if (p.arrivesOn > day)
            for (std::size_t i = 0; i < 2; ++i)
                sum[i] += p.units[i];
    return sum;
}

Shelves::Shelves(const Year &year, std::string policy)
    : year_(&year), storeroom_(year.seed, plannedUse(year)), shelves_(year.homes.size()) {
    outcome_.name = std::move(policy);
    for (std::size_t h = 0; h < year.homes.size(); ++h) {
        const YearHome &home = year.homes[h];
        if (home.life.start <= 0)
            shelves_[h].stock = planFor(year, home, 0, kStarterDays, kStarterSessions);
        const auto &sessions = home.life.sessions;
        while (shelves_[h].nextSession < sessions.size() && sessions[shelves_[h].nextSession].day < 0)
            ++shelves_[h].nextSession;
    }
    outcome_.homes = static_cast<int>(year.homes.size());
}

void Shelves::morning(int day) {
    storeroom_.morning(day);
    for (std::size_t h = 0; h < shelves_.size(); ++h) {
        Shelf &shelf = shelves_[h];
        const YearHome &home = year_->homes[h];
        if (home.life.exit == day) {
            const Pair coming = shelf.coming(day - 1);
            outcome_.lost += shelf.stock[0] + shelf.stock[1] + coming[0] + coming[1];
        }
        if (!home.isInServiceOn(day))
            continue;
        if (day > 0 && home.life.start == day) {
            const Pair starter = planFor(*year_, home, day, kStarterDays, kStarterSessions);
            for (std::size_t i = 0; i < 2; ++i) {
                shelf.stock[i] = storeroom_.take(itemOf(home, i), starter[i], day, false);
                shelf.owed[i] = starter[i] - shelf.stock[i];
            }
        }
        for (const Parcel &p : shelf.parcels)
            if (p.arrivesOn == day)
                for (std::size_t i = 0; i < 2; ++i)
                    shelf.stock[i] += p.units[i];
    }
}

void Shelves::send(std::size_t home, int day, int arrivesOn, Pair units, bool isOwed) {
    for (std::size_t i = 0; i < 2; ++i) {
        const std::size_t item = itemOf(year_->homes[home], i);
        const int again = std::min(units[i], shelves_[home].owed[i]); // of them
        int there = again > 0 ? storeroom_.take(item, again, day, true) : 0;
        if (there == again && units[i] > again)
            there += storeroom_.take(item, units[i] - again, day, false);
        shelves_[home].owed[i] = isOwed ? units[i] - there : 0;
        units[i] = there;
    }
    if (units[0] + units[1] <= 0)
        return;
    shelves_[home].parcels.push_back({day, arrivesOn, units});
    outcome_.sent += units[0] + units[1];
    outcome_.orders += 1;
}

void Shelves::sendOwed(int day) {
    for (std::size_t h = 0; h < shelves_.size(); ++h)
        if (const Pair owed = shelves_[h].owed; owed[0] + owed[1] > 0) {
            if (year_->homes[h].isInServiceOn(day))
                send(h, day, nextWeekday(*year_, day), owed, true);
            else
                shelves_[h].owed = {};
        }
}

void Shelves::drain(std::size_t home, const TrueSession &s) {
    Shelf &shelf = shelves_[home];
    const Pair asked = {s.kits + s.kitsLost, s.extras + s.extrasLost};
    if (shelf.stock[0] < asked[0] || shelf.stock[1] < asked[1]) {
        shelf.wasDry = true;
        outcome_.dryDrains += 1;
    }
    for (std::size_t i = 0; i < 2; ++i)
        shelf.stock[i] = std::max(0, shelf.stock[i] - asked[i]);
}

void Shelves::drainAll(int day) {
    for (std::size_t h = 0; h < shelves_.size(); ++h) {
        const YearHome &home = year_->homes[h];
        const auto &sessions = home.life.sessions;
        for (std::size_t &next = shelves_[h].nextSession; next < sessions.size() && sessions[next].day == day;
             ++next)
            drain(h, sessions[next]);
        if (home.isInServiceOn(day)) {
            heldSum_ += shelves_[h].stock[0] / home.plannedPerDay(day);
            ++heldDays_;
        }
    }
}

YearOutcome Shelves::outcome() const {
    YearOutcome outcome = outcome_;
    outcome.dryHomes = static_cast<int>(std::ranges::count_if(shelves_, &Shelf::wasDry));
    outcome.daysHeld = heldSum_ / static_cast<double>(std::max<std::int64_t>(heldDays_, 1));
    outcome.storeroomEmptyDays = storeroom_.emptyDays();
    outcome.storeroomExpired = storeroom_.expired();
    outcome.storeroomOrders = storeroom_.orderCount();
    outcome.storeroomDays = storeroom_.daysHeld();
    outcome.cost = kPricePerEach * static_cast<double>(outcome.sent + outcome.storeroomExpired) +
                   kPricePerRun * outcome.orders + kPricePerOrder * outcome.storeroomOrders;
    return outcome;
}

bool isWeekday(const Year &year, int day) {
    return WeekdaySet::mondayToFriday().contains(year.firstDay.plusDays(day).weekday());
}

int nextWeekday(const Year &year, int day) {
    do
        ++day;
    while (!isWeekday(year, day));
    return day;
}

Pair planFor(const Year &year, const YearHome &home, int day, double days, double more) {
    const double sessions = days * home.plannedPerDay(day) + more;
    const double extras = sessions * home.extrasPerSession(year.firstDay.plusDays(day));
    return {static_cast<int>(std::ceil(sessions - 1e-9)), static_cast<int>(std::ceil(extras - 1e-9))};
}

} // namespace kitround::bench

#include "tests/bench/year/YearHomes.h"

#include <algorithm>
#include <cmath>

namespace kitround::bench {
namespace {

constexpr double kComingPerPatientAndDay = 0.0105; // about what leaves

std::vector<DrainEntry> writeLog(const YearHome &home, Date firstDay, Draws &draws) {
    const double written = draws.between(0.9, 1.0);
    std::vector<DrainEntry> log;
    for (const TrueSession &s : home.life.sessions) {
        if (!draws.chance(written))
            continue;
        DrainEntry entry;
        entry.catheter = home.catheter;
        entry.at = {firstDay.plusDays(s.day), Minutes::of(9 * 60)};
        entry.volume = Millilitres::of(s.millilitres);
        entry.supplies.push_back({home.items[0], Eaches::of(s.kits), Eaches::of(s.kitsLost), {}});
        if (s.extras + s.extrasLost > 0)
            entry.supplies.push_back({home.items[1], Eaches::of(s.extras), Eaches::of(s.extrasLost), {}});
        log.push_back(std::move(entry));
    }
    return log;
}

} // namespace

bool YearHome::isAwayOn(int day) const {
    return std::ranges::any_of(life.stays, [&](const Stay &s) { return s.from <= day && day < s.to; });
}

const DrainPattern &YearHome::patternOn(int day) const {
    const OrderVersion *found = &life.orders.front();
    for (const OrderVersion &order : life.orders)
        if (order.from <= day)
            found = &order;
    return found->pattern;
}

double YearHome::plannedPerDay(int day) const {
    const DrainPattern &p = patternOn(day);
    if (p.kind == DrainPatternKind::EveryNDays)
        return 1.0 / p.everyDays;
    if (p.kind == DrainPatternKind::TimesAWeek)
        return p.timesAWeek / 7.0;
    return 0.75 * p.mostPerWeek.value_or(2) / 7.0;
}

double YearHome::extrasPerSession(Date on) const {
    double sessions = 0, extras = 0;
    for (const DrainEntry &entry : log) {
        if (entry.at.date >= on.plusDays(-daysBehind) || entry.at.date < on.plusDays(-56))
            continue;
        sessions += 1;
        for (const BottleUse &use : entry.supplies)
            if (use.item == items[1])
                extras += static_cast<double>((use.used + use.lost).count());
    }
    return sessions > 0 ? extras / sessions : 0.25;
}

Year makeYear(int patients, std::uint64_t seed) {
    Year year;
    year.firstDay = Date::of(2026, 1, 5);
    year.seed = seed;
    year.comingPerDay = kComingPerPatientAndDay * patients;
    Draws draws(seed * 1000033 + 7);
    const AgencyTraits agency{draws.between(0.7, 1.3), draws.between(-0.3, 0.3), draws.between(0.85, 1.15)};
    const auto addHome = [&](int start) {
        Draws own(draws.fork());
        YearHome home;
        const auto kind = worldNames()[static_cast<std::size_t>(own.whole(0, 7))].kind;
        home.life = liveHome(kind, agency, start, kYearDays, year.firstDay, own);
        if (home.life.exit && *home.life.exit <= 0)
            return false;
        home.catheter = CatheterId(static_cast<std::int64_t>(year.homes.size()) + 1);
        home.items = {ItemId(home.life.hasLargeKit ? 2 : 1), ItemId(home.life.hasLargeKit ? 4 : 3)};
        home.daysBehind = own.whole(1, 3);
        home.log = writeLog(home, year.firstDay, own);
        year.homes.push_back(std::move(home));
        return true;
    };
    while (static_cast<int>(year.homes.size()) < patients)
        addHome(-draws.whole(1, 150));
    double due = 0;
    for (int day = 0; day < kYearDays; ++day)
        for (due += year.comingPerDay; due >= 1; due -= 1)
            addHome(day);
    return year;
}

} // namespace kitround::bench

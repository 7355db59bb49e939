// How long 5,000 homes take: half with three months of log, mixed orders, some silent, some with a parcel on
// its way.
#include "core/base/Random.h"
#include "core/calendar/DrainCalendar.h"
#include "core/forecast/HomeForecast.h"
#include "tests/support/SmallAgency.h"

#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <ctime>

using namespace kitround;
using namespace kitround::test;

int main(int argc, char **argv) {
    const int homes = argc > 1 ? std::atoi(argv[1]) : 5000;
    const Date today = Date::of(2026, 3, 4);
    Random random(1);
    SmallAgency agency(today);
    for (int i = 0; i < homes; ++i) {
        const Home home = agency.addHome(random.chance(0.8) ? CavitySite::Chest : CavitySite::Abdomen);
        const std::uint64_t kind = random.below(20);
        const DrainPattern pattern =
            kind < 6    ? everyDays(1, today)
            : kind < 13 ? everyDays(2, today.plusDays(static_cast<int>(random.below(2))))
            : kind < 16 ? timesAWeek(3, {Weekday::Monday, Weekday::Wednesday, Weekday::Friday})
            : kind < 18 ? timesAWeek(2)
                        : asNeeded(1, 4);
        agency.order(home, pattern, random.chance(0.5) ? SmallAgency::kKit500 : SmallAgency::kKit1000);
        const ItemId kit =
            agency.asOf() == today && i % 2 == 0 ? SmallAgency::kKit500 : SmallAgency::kKit1000;
        const std::int64_t silent = random.chance(0.5) ? 1 : random.between(1, 7);
        if (!random.chance(0.2)) // the others are new
            for (std::int64_t d = -90; d <= -silent; ++d) {
                const Date on = today.plusDays(d);
                const bool isDue = pattern.kind == DrainPatternKind::AsNeeded
                                       ? random.chance(0.3)
                                       : calendar::isDrainDay(pattern, on) != random.chance(0.002);
                if (isDue && random.chance(0.92))
                    agency.drained(home, on, static_cast<int>(random.between(50, 900)), {{kit, 1, 0}});
            }
        agency.counted(home, SmallAgency::kKit500, random.between(5, 40),
                       today.plusDays(-random.between(1, 20)));
        agency.counted(home, SmallAgency::kKit1000, random.between(5, 40),
                       today.plusDays(-random.between(1, 20)));
        if (random.chance(0.15))
            agency.delivery(home, SmallAgency::kKit500, 10, today.plusDays(2), DeliveryStatus::InTransit);
        if (random.chance(0.05))
            agency.hold(home, today.plusDays(-2), std::nullopt);
    }
    const Snapshot snapshot = agency.build();
    const SnapshotIndex index(snapshot);
    for (const bool keeps : {false, true}) {
        const auto start = std::chrono::steady_clock::now();
        const std::clock_t cpu = std::clock();
        const auto all = forecast::forecastAll(index, {Days::of(84), keeps}, {}, {});
        const std::chrono::duration<double> took = std::chrono::steady_clock::now() - start;
        const double busy = static_cast<double>(std::clock() - cpu) / CLOCKS_PER_SEC;
        double sum = 0;
        for (const forecast::ItemForecast &f : *all)
            for (const forecast::WeekUse &week : f.weeks)
                sum += week.mean;
        std::printf("%d homes, %zu lines, cumulated %s: %.3f s of processor time, %.3f s by the clock (mean "
                    "use %.6f)\n",
                    homes, all->size(), keeps ? "kept" : "not kept", busy, took.count(),
                    sum / static_cast<double>(all->size()));
    }
    return 0;
}

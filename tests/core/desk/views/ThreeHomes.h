#pragma once
// The tiny agency of the views, and its stock and week from the engines up.
#include "core/desk/views/StockView.h"
#include "core/desk/views/WeekView.h"
#include "tests/support/SmallAgency.h"

#include <gtest/gtest.h>

#include <memory>

namespace kitround::desk::three_homes {

using test::everyDays;
using test::Home;
using test::SmallAgency;

inline constexpr Date kToday = Date::of(2026, 3, 2); // a Monday
inline constexpr const char *kSecret = "door code 4711";

// Three homes: one nearly dry, one well stocked, one nobody has counted.
struct Three {
    SmallAgency agency{kToday};
    Home dry, full, unknown;
    Three() {
        dry = agency.addHome();
        full = agency.addHome();
        unknown = agency.addHome();
        for (const Home &h : {dry, full, unknown}) {
            agency.order(h, everyDays(2, kToday));
            for (int back = 20; back >= 2; back -= 2)
                agency.drained(h, kToday.plusDays(-back), 400);
        }
        agency.counted(dry, SmallAgency::kKit500, 1, kToday);
        agency.counted(full, SmallAgency::kKit500, 40, kToday);
        agency.counted(full, SmallAgency::kBottle500, 40, kToday); // every item of the home is known
        agency.storeroom(SmallAgency::kKit500, 5);
        agency.edit([](Snapshot &s) {
            for (Patient &p : s.patients) {
                p.notes = kSecret;
                p.address.accessNotes = kSecret;
                p.bornOn = Date::of(1941, 7, 9);
            }
            for (DrainEntry &e : s.drainEntries)
                e.note = kSecret;
        });
    }
    AgencyPtr build() const { return std::make_shared<const Agency>(agency.build()); }
};

inline StockPicturePtr stockOf(const AgencyPtr &agency) {
    auto stock = computeStock(agency, {}, {});
    EXPECT_TRUE(stock) << debugText(stock.error());
    return *stock;
}

inline WeekPicturePtr weekOf(const AgencyPtr &agency, const StockPicture &stock) {
    auto week = openWeek(agency, nextWeek(*agency), &stock.refills);
    EXPECT_TRUE(week) << debugText(week.error());
    return *week;
}

} // namespace kitround::desk::three_homes

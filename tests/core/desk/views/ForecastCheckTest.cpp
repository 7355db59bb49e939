#include "core/desk/views/ForecastCheck.h"

#include "tests/support/SmallAgency.h"

#include <gtest/gtest.h>

namespace kitround::desk {
namespace {

const Date kToday = Date::of(2026, 3, 2);
const Date kStart = kToday.plusDays(-100);

// The first home drains daily and leaves three weeks ago, the other every fourth day with one bottle or
// seven.
std::unique_ptr<Agency> agencyOfTwoKinds() {
    test::SmallAgency agency(kToday);
    const test::Home daily = agency.addHome(), unlike = agency.addHome();
    const auto begun = [](DrainOrder &o) { o.start = kStart; };
    const ItemId kit = test::SmallAgency::kKit500;
    agency.order(daily, test::everyDays(1, kToday), kit, begun)
        .order(unlike, test::everyDays(4, kToday), kit, begun);
    for (int d = 0; d < 100; ++d) {
        if (d < 79)
            agency.drained(daily, kStart.plusDays(d), 300, {{kit, 1}});
        if (d % 4 == 0)
            agency.drained(unlike, kStart.plusDays(d), 300, {{kit, d % 8 == 0 ? 1 : 7}});
    }
    agency.edit([](Snapshot &s) {
        s.logFrom = kStart;
        for (Catheter &catheter : s.catheters)
            catheter.insertedOn = kStart;
        s.patients.front().status = CareStatus::Deceased;
        s.patients.front().exitedAt = Instant::fromUnixSeconds(kToday.plusDays(-21).dayNumber() * 86400);
    });
    return std::make_unique<Agency>(agency.build());
}

TEST(ForecastCheckTest, EveryCaseIsOfOneKindOfUse) {
    const auto check = checkForecast(*agencyOfTwoKinds(), {}, {});
    ASSERT_TRUE(check.has_value());
    ASSERT_EQ(check->kinds.size(), 3U); // the extra bottles were never used: some days, alike
    EXPECT_EQ(check->kinds[0].name, QStringLiteral("Most days, alike"));
    EXPECT_EQ(check->kinds[1].name, QStringLiteral("Some days, alike"));
    EXPECT_EQ(check->kinds[2].name, QStringLiteral("Some days, unlike"));
    std::int64_t cases = 0;
    for (const ForecastCheck::Kind &kind : check->kinds)
        cases += kind.cases;
    EXPECT_EQ(cases, check->cases);
    EXPECT_GT(check->kinds[2].loss, check->kinds[0].loss);
    EXPECT_FALSE(check->kinds[2].best.isEmpty());
}

// 79 and 100 days with one exit: 1000 / 179 = 5.6; Garwood's 90 % interval 0.0513 / 179 to 4.744 / 179. By
// the presets 79 x (0.0099 + 0.0053) + 100 x (0.0024 + 0.0053) = 1.97.
TEST(ForecastCheckTest, ExitsAreToldBesideThePublishedRates) {
    const auto check = checkForecast(*agencyOfTwoKinds(), {}, {});
    ASSERT_TRUE(check.has_value());
    EXPECT_EQ(
        check->exits,
        QStringLiteral("Catheters out of service: 1 in 179 days of service, that is 5.6 in 1000 days (90 % "
                       "interval: 0.3 to 26.5). By the published rates it would have been 2."));
    const std::vector<Table> tables = forecastCheckTables(*check);
    ASSERT_EQ(tables.size(), 4U);
    EXPECT_EQ(tables[2].key, "kinds");
    EXPECT_EQ(tables[2].rows.size(), 3U);
    EXPECT_EQ(tables[3].key, "in_service");
    ASSERT_EQ(tables[3].notes.size(), 1U);
    EXPECT_EQ(tables[3].notes[0], check->exits.toStdString());
}

} // namespace
} // namespace kitround::desk

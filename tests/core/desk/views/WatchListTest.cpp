#include "core/desk/views/WatchList.h"
#include "tests/support/SmallAgency.h"

#include <gtest/gtest.h>

#include <algorithm>

namespace kitround::desk {
namespace {

using test::everyDays;
using test::Home;
using test::SmallAgency;

constexpr Date kToday = Date::of(2026, 3, 2);
const Home kFirst{PatientId(1), CatheterId(1)};

SmallAgency quiet(Date insertedOn = kToday.plusDays(-30)) {
    SmallAgency agency(kToday);
    const Home home = agency.addHome();
    agency.order(home, everyDays(1, kToday));
    for (int back = 20; back > 0; --back)
        agency.drained(home, kToday.plusDays(-back), 400);
    agency.edit([&](Snapshot &s) {
        s.catheters[0].insertedOn = insertedOn;
        s.settings.set(SettingKey::WatchDwellDays, 90);
    });
    return agency;
}
std::vector<WatchReason> reasons(const SmallAgency &agency) {
    const Agency built(agency.build());
    return watchReasons(built, kFirst.patient);
}
void call(SmallAgency &agency, int daysAgo, CallTopic topic = CallTopic::Clinical) {
    agency.edit([&](Snapshot &s) {
        PhoneCall made;
        made.id = PhoneCallId(static_cast<std::int64_t>(s.phoneCalls.size()) + 1);
        made.patient = kFirst.patient;
        made.at = {kToday.plusDays(-daysAgo), Minutes::of(600)};
        made.topic = topic;
        made.closedAt = made.at;
        s.phoneCalls.push_back(made);
    });
}

TEST(WatchListTest, ALongDwellIsAReasonAnewEachTimeAsManyDaysHaveGoneBy) {
    EXPECT_TRUE(reasons(quiet(kToday.plusDays(-89))).empty());
    const auto first = reasons(quiet(kToday.plusDays(-90)));
    ASSERT_EQ(first.size(), 1U);
    EXPECT_EQ(first[0].subject, "dwell:1:90");
    EXPECT_EQ(reasons(quiet(kToday.plusDays(-179)))[0].subject, "dwell:1:90");
    EXPECT_EQ(reasons(quiet(kToday.plusDays(-180)))[0].subject, "dwell:1:180");
    EXPECT_TRUE(first[0].text.contains(QStringLiteral("90 days")));
}

TEST(WatchListTest, OneTroubleCallIsNoPatternTwoWithinAFortnightAre) {
    SmallAgency agency = quiet();
    call(agency, 13);
    call(agency, 2, CallTopic::Supply);
    EXPECT_TRUE(reasons(agency).empty());
    call(agency, 14);
    EXPECT_TRUE(reasons(agency).empty()) << "fourteen days end yesterday a fortnight ago";
    call(agency, 1);
    ASSERT_EQ(reasons(agency).size(), 1U);
    EXPECT_TRUE(reasons(agency)[0].text.contains(QStringLiteral("2 trouble calls")));
}

TEST(WatchListTest, OneCallInOneDayIsNotSaidAsMany) {
    SmallAgency agency = quiet();
    agency.edit([](Snapshot &s) {
        s.settings.set(SettingKey::WatchCalls, 1);
        s.settings.set(SettingKey::WatchCallDays, 1);
    });
    call(agency, 0);
    ASSERT_EQ(reasons(agency).size(), 1U);
    EXPECT_TRUE(reasons(agency)[0].text.startsWith(QStringLiteral("1 trouble call in 1 day, ")))
        << reasons(agency)[0].text.toStdString();
}

TEST(WatchListTest, WhatIsAboutRecordsAndSuppliesIsNotAboutThePatientsState) {
    SmallAgency agency = quiet();
    agency.edit([](Snapshot &s) { s.drainOrders[0].mostPerSession.reset(); });
    EXPECT_TRUE(reasons(agency).empty());
    agency.edit([](Snapshot &s) {
        std::erase_if(s.drainEntries, [](const DrainEntry &e) { return e.at.date > kToday.plusDays(-9); });
    });
    ASSERT_EQ(reasons(agency).size(), 1U) << "nothing heard for nine days";
}

TEST(WatchListTest, ThePaperOfTheListNamesNobodyAndEveryReasonIsInWords) {
    SmallAgency agency = quiet(kToday.plusDays(-100));
    agency.edit([](Snapshot &s) { s.patients[0].familyName = "Verysecret"; });
    const Agency built(agency.build());
    const WatchList list = watchList(built);
    ASSERT_EQ(list.rows.size(), 1U);
    EXPECT_EQ(list.rows[0].state, WatchState::NoOwner);
    const Table table = watchTable(list, built);
    ASSERT_EQ(table.rows.size(), 1U);
    for (const std::string &cell : table.rows.front())
        EXPECT_EQ(cell.find("Verysecret"), std::string::npos);
    EXPECT_TRUE(reasonsText(list.rows[0]).startsWith(QStringLiteral("The catheter")));
}

} // namespace
} // namespace kitround::desk

// The clock of an external report counts work days only, from the day the agency learned of it.
#include "core/safety/IncidentReports.h"

#include <gtest/gtest.h>

namespace kitround::safety {
namespace {

constexpr Date nov(unsigned day) {
    return Date::of(2026, 11, day);
}
constexpr Date dec(unsigned day) {
    return Date::of(2026, 12, day);
}

TEST(IncidentReportsTest, TenWorkDaysPassOverWeekendsAndFederalHolidays) {
    EXPECT_EQ(reportDue(nov(2)), nov(17)) << "Veterans Day lies between";
    EXPECT_EQ(reportDue(nov(20)), dec(7)) << "and Thanksgiving";
    EXPECT_EQ(reportDue(nov(21)), dec(7)) << "learned of on a Saturday: Monday is the first day";
    EXPECT_EQ(reportDue(Date::of(2026, 6, 25)), Date::of(2026, 7, 10))
        << "4 July is a Saturday, observed on Friday";
}

TEST(IncidentReportsTest, ItIsNearFromThreeWorkDaysBefore) {
    EXPECT_FALSE(isReportNear(dec(7), dec(1)));
    EXPECT_TRUE(isReportNear(dec(7), dec(2)));
    EXPECT_TRUE(isReportNear(dec(7), dec(8))) << "what is past is not forgotten";
}

TEST(IncidentReportsTest, OnlySeriousHarmWithADeviceAsksForOne) {
    Incident incident;
    incident.kind = IncidentKind::Device;
    for (const IncidentHarm harm : {IncidentHarm::NotKnown, IncidentHarm::None, IncidentHarm::Slight}) {
        incident.harm = harm;
        EXPECT_FALSE(asksForReport(incident));
    }
    for (const IncidentHarm harm : {IncidentHarm::Serious, IncidentHarm::Death}) {
        incident.harm = harm;
        EXPECT_TRUE(asksForReport(incident));
    }
    incident.kind = IncidentKind::Infection;
    EXPECT_FALSE(asksForReport(incident));
}

} // namespace
} // namespace kitround::safety

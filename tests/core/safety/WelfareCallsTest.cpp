#include "core/safety/WelfareCalls.h"
#include "tests/support/SmallAgency.h"

#include <gtest/gtest.h>

namespace kitround::safety {
namespace {

using test::Home;
using test::SmallAgency;

const Date kNow = Date::of(2026, 3, 2);
const LocalTime kAtTheDoor{kNow.plusDays(-1), Minutes::of(540)};

struct ClosedDoor {
    SmallAgency agency{kNow};
    Home home = agency.addHome();

    explicit ClosedDoor(MissReason why = MissReason::NotHome) { visit(kAtTheDoor, VisitStatus::Missed, why); }
    void visit(LocalTime at, VisitStatus status, MissReason why = MissReason::None) {
        agency.edit([&](Snapshot &s) {
            Visit made;
            made.id = VisitId(static_cast<std::int64_t>(s.visits.size()) + 500);
            made.patient = home.patient;
            made.status = status;
            made.missReason = why;
            made.dueFrom = at.date;
            made.dueTo = at.date.plusDays(1);
            made.length = Minutes::of(45);
            made.on = at.date;
            made.startAt = at.minute;
            if (status == VisitStatus::Done)
                made.startedAt = at;
            s.visits.push_back(made);
        });
    }
    void phoned(LocalTime at, CallTopic topic, const std::string &outcome) {
        agency.edit([&](Snapshot &s) {
            PhoneCall call;
            call.id = PhoneCallId(static_cast<std::int64_t>(s.phoneCalls.size()) + 1);
            call.patient = home.patient;
            call.topic = topic;
            call.at = at;
            if (!outcome.empty())
                call.closedAt = at;
            call.outcome = outcome;
            s.phoneCalls.push_back(call);
        });
    }
    std::vector<WelfareCall> owed() const {
        const Snapshot snapshot = agency.build();
        return welfareCalls(SnapshotIndex(snapshot));
    }
};

TEST(WelfareCallsTest, ADoorNobodyOpenedIsFollowedUpAndOtherMissesAreNot) {
    const auto owed = ClosedDoor().owed();
    ASSERT_EQ(owed.size(), 1U);
    EXPECT_EQ(owed[0].visit, VisitId(500));
    EXPECT_EQ(owed[0].since, kAtTheDoor);
    EXPECT_TRUE(ClosedDoor(MissReason::Refused).owed().empty());
    EXPECT_TRUE(ClosedDoor(MissReason::Hospital).owed().empty());
}

TEST(WelfareCallsTest, TheNewestDoorCountsAndALaterVisitThatWasMadeSettlesIt) {
    ClosedDoor door;
    door.visit({kNow.plusDays(-5), Minutes::of(600)}, VisitStatus::Done);
    EXPECT_EQ(door.owed().size(), 1U) << "seen before is not seen since";
    door.visit({kNow, Minutes::of(420)}, VisitStatus::Missed, MissReason::NotHome);
    ASSERT_EQ(door.owed().size(), 1U) << "one home is one call";
    EXPECT_EQ(door.owed()[0].since.date, kNow);
    door.visit({kNow, Minutes::of(450)}, VisitStatus::Done);
    EXPECT_TRUE(door.owed().empty());
}

TEST(WelfareCallsTest, WhatWasHeardSinceSettlesIt) {
    ClosedDoor before, drained, away, ahead, left;
    before.agency.drained(before.home, kAtTheDoor.date.plusDays(-1), 400);
    EXPECT_EQ(before.owed().size(), 1U);
    drained.agency.drained(drained.home, kNow, 400);
    EXPECT_TRUE(drained.owed().empty());
    away.agency.hold(away.home, kAtTheDoor.date, std::nullopt);
    EXPECT_TRUE(away.owed().empty());
    ahead.agency.hold(ahead.home, kNow.plusDays(10), std::nullopt);
    EXPECT_EQ(ahead.owed().size(), 1U) << "a journey to come says nothing of today";
    left.agency.edit([](Snapshot &s) { s.patients[0].status = CareStatus::Transferred; });
    EXPECT_TRUE(left.owed().empty());
}

TEST(WelfareCallsTest, OnlyAClinicalCallClosedWithWhatCameOfItSettlesIt) {
    const LocalTime later{kNow, Minutes::of(470)};
    ClosedDoor open, supplies, earlier, reached;
    open.phoned(later, CallTopic::Clinical, {});
    EXPECT_EQ(open.owed().size(), 1U);
    supplies.phoned(later, CallTopic::Supply, "bottles sent");
    EXPECT_EQ(supplies.owed().size(), 1U);
    earlier.phoned({kAtTheDoor.date, Minutes::of(500)}, CallTopic::Clinical, "well");
    EXPECT_EQ(earlier.owed().size(), 1U);
    reached.phoned(later, CallTopic::Clinical, "spoke with the daughter");
    EXPECT_TRUE(reached.owed().empty());
}

TEST(WelfareCallsTest, ACallThatAPersonAnsweredSettlesItAndAMessageDoesNot) {
    const auto told = [](Reached reached) {
        ClosedDoor door;
        door.agency.edit([&](Snapshot &s) {
            PatientTold call;
            call.id = PatientToldId(1);
            call.patient = door.home.patient;
            call.at = s.now;
            call.reached = reached;
            s.patientTold.push_back(call);
        });
        return door.owed().size();
    };
    EXPECT_EQ(told(Reached::Message), 1U);
    EXPECT_EQ(told(Reached::Relative), 0U);
    const auto asked = [](RefillAnswer answer) {
        ClosedDoor door;
        door.agency.edit([&](Snapshot &s) {
            RefillContact contact;
            contact.id = RefillContactId(1);
            contact.patient = door.home.patient;
            contact.at = s.now;
            contact.answer = answer;
            s.refillContacts.push_back(contact);
        });
        return door.owed().size();
    };
    EXPECT_EQ(asked(RefillAnswer::NoAnswer), 1U);
    EXPECT_EQ(asked(RefillAnswer::Declined), 0U);
}

} // namespace
} // namespace kitround::safety

// The check finds what somebody changed behind the program's back.
#include "core/store/AgencyFileInner.h"
#include "core/store/Audit.h"
#include "tests/core/store/World.h"

#include <gtest/gtest.h>

namespace kitround::store {
namespace {

class CheckTest : public testing::Test {
protected:
    CheckTest() : file(makeFile(folder.path("a"))), agency(addSmallAgency(*file)) {}
    void byHand(const char *sql) {
        const auto done = file->inner().connection->run(QLatin1String(sql));
        ASSERT_TRUE(done) << debugText(done.error());
    }
    // Takes the guards away as somebody with another program could.
    void withoutGuards(const char *sql) {
        byHand("DROP TRIGGER audit_entry_no_update");
        byHand("DROP TRIGGER audit_entry_no_delete");
        byHand(sql);
        byHand("CREATE TRIGGER audit_entry_no_update BEFORE UPDATE ON audit_entry BEGIN SELECT RAISE(ABORT, "
               "''); END");
        byHand("CREATE TRIGGER audit_entry_no_delete BEFORE DELETE ON audit_entry BEGIN SELECT RAISE(ABORT, "
               "''); END");
    }
    Problems check() { return file->check({}, {}).value(); }

    TestFolder folder;
    std::unique_ptr<AgencyFile> file;
    SmallAgency agency;
};

TEST_F(CheckTest, ASoundFileHasNoFaults) {
    EXPECT_EQ(wordsOf(check()), "");
}

TEST_F(CheckTest, AChangedAuditEntryBreaksTheChainThere) {
    withoutGuards(
        "UPDATE audit_entry SET after = replace(after, 'Example', 'Another') WHERE table_name = 'patient'");
    const Problems faults = check();
    ASSERT_EQ(faults.size(), 1U) << wordsOf(faults);
    EXPECT_EQ(faults[0].field, "audit_entry");
    EXPECT_EQ(faults[0].args[0], "changed");
    const auto entries = file->audit(100, "patient");
    EXPECT_EQ(faults[0].args[1], std::to_string(entries->front().number));
}

TEST_F(CheckTest, EveryFieldOfAnEntryIsInTheChain) {
    const AuditEntry plain{3, kMoment, UserId(1), AuditAction::Insert, "patient", 7, "b", "a", ""};
    const std::string chain = chainOf("x", plain);
    EXPECT_EQ(chain.size(), 64U);
    EXPECT_NE(chainOf("y", plain), chain);
    const auto changed = [&](auto change) {
        AuditEntry entry = plain;
        change(entry);
        return chainOf("x", entry);
    };
    EXPECT_NE(changed([](AuditEntry &e) { e.number = 4; }), chain);
    EXPECT_NE(changed([](AuditEntry &e) { e.at = e.at + Minutes::of(1); }), chain);
    EXPECT_NE(changed([](AuditEntry &e) { e.user = UserId(2); }), chain);
    EXPECT_NE(changed([](AuditEntry &e) { e.action = AuditAction::Update; }), chain);
    EXPECT_NE(changed([](AuditEntry &e) { e.table = "nurse"; }), chain);
    EXPECT_NE(changed([](AuditEntry &e) { e.record = 8; }), chain);
    EXPECT_NE(changed([](AuditEntry &e) { e.before = "c"; }), chain);
    EXPECT_NE(changed([](AuditEntry &e) { e.after = "c"; }), chain);
    // Text moved from one field to the next is a change too.
    EXPECT_NE(changed([](AuditEntry &e) { e.before = "ba", e.after = ""; }), chain);
}

TEST_F(CheckTest, ARemovedAuditEntryIsMissedInTheMiddleAndAtTheEnd) {
    withoutGuards("DELETE FROM audit_entry WHERE number = 3");
    EXPECT_NE(wordsOf(check()).find("[missing] [3]"), std::string::npos) << wordsOf(check());
    withoutGuards("DELETE FROM audit_entry WHERE number = (SELECT max(number) FROM audit_entry)");
    EXPECT_NE(wordsOf(check()).find("[cut off]"), std::string::npos) << wordsOf(check());
}

TEST_F(CheckTest, AMissingGuardIsAFault) {
    byHand("DROP TRIGGER stock_movement_no_update");
    const Problems faults = check();
    ASSERT_EQ(faults.size(), 1U);
    EXPECT_EQ(faults[0].args, std::vector<std::string>{"stock_movement_no_update"});
}

TEST_F(CheckTest, ABrokenReferenceIsAFault) {
    byHand("PRAGMA foreign_keys = 0");
    byHand("UPDATE catheter SET patient_id = 999");
    const Problems faults = check();
    ASSERT_EQ(faults.size(), 1U) << wordsOf(faults);
    EXPECT_EQ(faults[0].code, ProblemCode::UnknownRecord);
    EXPECT_EQ(faults[0].field, "catheter");
}

TEST_F(CheckTest, AHomeBelowZeroIsReportedWithItsSum) {
    UnitOfWork unit(*file, kFirstUser, kMoment);
    StockMovement out = plainMovement(agency, {Date::of(2026, 11, 1), {}}, 3);
    out.from = Place::home(agency.catheter.id);
    out.to = Place::returned();
    ASSERT_TRUE(unit.post(out));
    ASSERT_TRUE(unit.commit());
    const Problems faults = check();
    ASSERT_EQ(faults.size(), 1U) << wordsOf(faults);
    EXPECT_EQ(faults[0].code, ProblemCode::Negative);
    EXPECT_EQ(faults[0].args, (std::vector<std::string>{"home", "1", "1", "-3"}));
}

TEST_F(CheckTest, ASettingOutOfItsRangeIsAFault) {
    byHand("UPDATE setting SET value = 99999 WHERE name = 'certification_days'");
    const Problems faults = check();
    ASSERT_FALSE(faults.empty());
    EXPECT_EQ(faults[0].field, "certification_days");
}

} // namespace
} // namespace kitround::store

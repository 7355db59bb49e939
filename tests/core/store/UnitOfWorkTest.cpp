// The only way to write: refusals with their fields, row versions, the audit, two seats at once.
#include "core/store/AgencyFileInner.h"
#include "tests/core/store/World.h"

#include <gtest/gtest.h>

#include <thread>

namespace kitround::store {
namespace {

class UnitOfWorkTest : public testing::Test {
protected:
    UnitOfWorkTest() : file(makeFile(folder.path("a"))), agency(addSmallAgency(*file)) {}
    Connection &connection() { return *file->inner().connection; }
    template <class R>
    Problem refusalOf(const R &record) {
        UnitOfWork unit(*file, kFirstUser, kMoment);
        const auto saved = unit.save(record);
        EXPECT_FALSE(saved) << "was saved";
        if (saved)
            return {};
        EXPECT_EQ(unit.commit().error(), saved.error()); // nothing of a refused unit is kept
        return saved.error();
    }
    int count(const char *table) {
        return connection()
            .single(QStringLiteral("SELECT count(*) FROM %1").arg(QLatin1String(table)))
            ->toInt();
    }

    const LocalTime noon{Date::of(2026, 11, 20), Minutes::of(720)};
    TestFolder folder;
    std::unique_ptr<AgencyFile> file;
    SmallAgency agency;
};

TEST_F(UnitOfWorkTest, WhatIsNotCommittedIsGone) {
    {
        UnitOfWork unit(*file, kFirstUser, kMoment);
        ASSERT_TRUE(unit.save(plainEntry(agency, noon)));
    }
    EXPECT_EQ(count("drain_entry"), 0);
    EXPECT_EQ(count("drain_supply"), 0);
}

TEST_F(UnitOfWorkTest, ACommittedUnitTakesNothingMore) {
    UnitOfWork unit(*file, kFirstUser, kMoment);
    ASSERT_TRUE(unit.commit());
    EXPECT_EQ(unit.save(plainEntry(agency, noon)).error().code, ProblemCode::NotAllowed);
    EXPECT_EQ(unit.commit().error().code, ProblemCode::NotAllowed);
}

TEST_F(UnitOfWorkTest, AfterTheFirstProblemEveryCallGivesIt) {
    UnitOfWork unit(*file, kFirstUser, kMoment);
    ASSERT_TRUE(unit.save(plainEntry(agency, noon)));
    DrainEntry wrong = plainEntry(agency, noon);
    wrong.volume = Millilitres::of(-1);
    const Problem first = unit.save(wrong).error();
    EXPECT_EQ(first.code, ProblemCode::Negative);
    EXPECT_EQ(first.field, "volume_ml");
    EXPECT_EQ(unit.save(plainEntry(agency, noon)).error(), first);
    EXPECT_EQ(unit.post(plainMovement(agency, noon, 1)).error(), first);
    EXPECT_EQ(unit.remove(HoldId(1), 1).error(), first);
    EXPECT_EQ(unit.note(AuditAction::View, "patient", 1, "x").error(), first);
    EXPECT_EQ(unit.commit().error(), first);
}

TEST_F(UnitOfWorkTest, ATakenCodeIsADuplicateWithItsField) {
    Patient twin = agency.patient;
    twin.id = {};
    const Problem problem = refusalOf(twin);
    EXPECT_EQ(problem.code, ProblemCode::Duplicate);
    EXPECT_EQ(problem.field, "code");
    EXPECT_EQ(problem.args, std::vector<std::string>{"P1"});

    Lot lot = agency.lot;
    lot.id = {};
    EXPECT_EQ(refusalOf(lot).field, "number"); // one number an item, the item itself is not the fault
    User user = firstUser();
    EXPECT_EQ(refusalOf(user).field, "name");
}

TEST_F(UnitOfWorkTest, AnUnknownReferenceIsNamedByItsField) {
    Patient patient = agency.patient;
    patient.id = {};
    patient.code = "P2";
    patient.payer = PayerId(99);
    patient.barredNurses = {agency.nurse.id, NurseId(77)};
    const Problem problem = refusalOf(patient);
    const Problems all = flattened(problem);
    ASSERT_EQ(all.size(), 2U) << debugText(problem); // both are told in one go
    EXPECT_EQ(all[1].field, "nurse_id");
    EXPECT_EQ(all[1].args, (std::vector<std::string>{"nurse", "77"}));
    EXPECT_EQ(problem.code, ProblemCode::UnknownRecord);
    EXPECT_EQ(problem.field, "payer_id");
    EXPECT_EQ(problem.args, (std::vector<std::string>{"payer", "99"}));

    patient.payer = agency.payer.id;
    EXPECT_EQ(refusalOf(patient).field, "nurse_id");

    DrainEntry entry = plainEntry(agency, noon);
    entry.supplies[0].item = ItemId(55);
    entry.supplies[0].lot.reset();
    EXPECT_EQ(refusalOf(entry).field, "item_id");
}

TEST_F(UnitOfWorkTest, ALotOfAnotherItemIsAConflict) {
    Item other = agency.item;
    other.id = {};
    other.code = "OTHER";
    {
        UnitOfWork unit(*file, kFirstUser, kMoment);
        other = unit.save(other).value();
        ASSERT_TRUE(unit.commit());
    }
    DrainEntry entry = plainEntry(agency, noon);
    entry.supplies[0].item = other.id;
    const Problem problem = refusalOf(entry);
    EXPECT_EQ(problem.code, ProblemCode::Conflict);
    EXPECT_EQ(problem.field, "lot_id");
}

TEST_F(UnitOfWorkTest, AnUnknownWriterIsRefused) {
    UnitOfWork unit(*file, UserId(42), kMoment);
    const auto saved = unit.save(plainEntry(agency, noon));
    ASSERT_FALSE(saved);
    EXPECT_EQ(saved.error().code, ProblemCode::UnknownRecord);
    EXPECT_EQ(saved.error().field, "user_id");
}

TEST_F(UnitOfWorkTest, APlaceThatIsNotThereIsUnknown) {
    for (const Place &place :
         {Place::home(CatheterId(9)), Place::car(NurseId(9)), Place::transit(DeliveryId(9)),
          Place::used(DrainEntryId(9)), Place::supplier(SupplierId(9)), Place{PlaceKind::Wasted, 9}}) {
        UnitOfWork unit(*file, kFirstUser, kMoment);
        StockMovement movement = plainMovement(agency, noon, 1);
        movement.to = place;
        const auto posted = unit.post(movement);
        ASSERT_FALSE(posted) << int(place.kind);
        EXPECT_EQ(posted.error().code, ProblemCode::UnknownRecord) << int(place.kind);
        EXPECT_EQ(posted.error().field, "to_place");
    }
}

TEST_F(UnitOfWorkTest, AnUpdateUnderAnOldRowVersionIsRefused) {
    auto second = mustOpen(folder.path("a"));
    Patient mine = agency.patient, theirs = agency.patient;
    theirs.phone = "1";
    mine.phone = "2";
    {
        UnitOfWork unit(*second, kFirstUser, kMoment);
        theirs = unit.save(theirs).value();
        EXPECT_EQ(theirs.rowVersion, agency.patient.rowVersion + 1);
        ASSERT_TRUE(unit.commit());
    }
    EXPECT_EQ(refusalOf(mine).code, ProblemCode::ChangedMeanwhile);
    mine.rowVersion = theirs.rowVersion;
    UnitOfWork unit(*file, kFirstUser, kMoment);
    EXPECT_EQ(unit.save(mine)->rowVersion, theirs.rowVersion + 1);
    ASSERT_TRUE(unit.commit());
}

TEST_F(UnitOfWorkTest, AnUnknownIdIsNotUpdated) {
    Patient ghost = agency.patient;
    ghost.id = PatientId(1234);
    EXPECT_EQ(refusalOf(ghost).code, ProblemCode::UnknownRecord);
}

TEST_F(UnitOfWorkTest, SavingWhatStandsAlreadyWritesNothing) {
    const auto before = file->audit(1)->front().number;
    UnitOfWork unit(*file, kFirstUser, kMoment);
    EXPECT_EQ(unit.save(agency.patient).value(), agency.patient);
    ASSERT_TRUE(unit.commit());
    EXPECT_EQ(file->audit(1)->front().number, before);
}

TEST_F(UnitOfWorkTest, OnlyWhatMayBeRemovedIsRemovedUnderItsVersion) {
    Hold hold;
    hold.patient = agency.patient.id;
    hold.from = Date::of(2026, 11, 1);
    {
        UnitOfWork unit(*file, kFirstUser, kMoment);
        hold = unit.save(hold).value();
        ASSERT_TRUE(unit.commit());
    }
    {
        UnitOfWork unit(*file, kFirstUser, kMoment);
        EXPECT_EQ(unit.remove(hold.id, hold.rowVersion + 1).error().code, ProblemCode::ChangedMeanwhile);
    }
    UnitOfWork unit(*file, kFirstUser, kMoment);
    ASSERT_TRUE(unit.remove(hold.id, hold.rowVersion));
    ASSERT_TRUE(unit.commit());
    EXPECT_EQ(count("hold"), 0);
    const AuditEntry last = file->audit(1)->front();
    EXPECT_EQ(last.action, AuditAction::Delete);
    EXPECT_EQ(last.table, "hold");
    EXPECT_NE(last.before.find("2026-11-01"), std::string::npos);
    EXPECT_EQ(last.after, "");
}

TEST_F(UnitOfWorkTest, ARemovedIdIsNeverGivenAgain) {
    TimeOff off;
    off.nurse = agency.nurse.id;
    off.from = Date::of(2026, 12, 1);
    off.to = Date::of(2026, 12, 2);
    UnitOfWork unit(*file, kFirstUser, kMoment);
    const TimeOff first = unit.save(off).value();
    ASSERT_TRUE(unit.remove(first.id, first.rowVersion));
    EXPECT_NE(unit.save(off)->id, first.id);
}

TEST_F(UnitOfWorkTest, TheLedgerAndTheAuditAreAppendOnly) {
    UnitOfWork unit(*file, kFirstUser, kMoment);
    const StockMovement posted = unit.post(plainMovement(agency, noon, 3)).value();
    EXPECT_EQ(unit.post(posted).error().code, ProblemCode::NotAllowed);
    for (const char *sql : {"UPDATE stock_movement SET quantity = 9", "DELETE FROM stock_movement",
                            "UPDATE audit_entry SET after = ''", "DELETE FROM audit_entry"}) {
        const auto done = connection().run(QLatin1String(sql));
        ASSERT_FALSE(done) << sql;
        EXPECT_NE(debugText(done.error()).find("append-only"), std::string::npos) << debugText(done.error());
    }
}

TEST_F(UnitOfWorkTest, AContactOrReceiptIsWrittenOnce) {
    RefillContact contact;
    contact.patient = agency.patient.id;
    contact.at = noon;
    UnitOfWork unit(*file, kFirstUser, kMoment);
    contact = unit.save(contact).value();
    contact.note = "later";
    EXPECT_EQ(unit.save(contact).error().code, ProblemCode::NotAllowed);
}

TEST_F(UnitOfWorkTest, TheAuditTellsWhoWhenAndWhatBeforeAndAfter) {
    Patient changed = agency.patient;
    changed.familyName = "Wong \"Wei\"";
    changed.languages = {"zh"};
    UnitOfWork unit(*file, kFirstUser, kMoment + Minutes::of(5));
    ASSERT_TRUE(unit.save(changed));
    ASSERT_TRUE(unit.note(AuditAction::Print, "visit", 0, "day sheet"));
    ASSERT_TRUE(unit.commit());
    const std::vector<AuditEntry> entries = file->audit(2).value();
    ASSERT_EQ(entries.size(), 2U);
    EXPECT_EQ(entries[0].action, AuditAction::Print);
    EXPECT_EQ(entries[0].after, "{\"what\":\"day sheet\"}");
    EXPECT_EQ(entries[1].action, AuditAction::Update);
    EXPECT_EQ(entries[1].record, agency.patient.id.value());
    EXPECT_EQ(entries[1].user, kFirstUser);
    EXPECT_EQ(entries[1].at, kMoment + Minutes::of(5));
    EXPECT_NE(entries[1].before.find("\"family_name\":\"Example\""), std::string::npos) << entries[1].before;
    EXPECT_NE(entries[1].after.find("\"family_name\":\"Wong \\\"Wei\\\"\""), std::string::npos)
        << entries[1].after;
    EXPECT_NE(entries[1].after.find("\"patient_language\":[{\"language\":\"zh\"}]"), std::string::npos);
    const auto ofPatient = file->audit(100, "patient", agency.patient.id.value());
    EXPECT_EQ(ofPatient->size(), 2U); // insert and update, not the other tables
}

TEST_F(UnitOfWorkTest, ASummaryHasOneEntryATable) {
    const std::int64_t before = file->audit(1)->front().number;
    {
        UnitOfWork unit(*file, kFirstUser, kMoment, AuditDetail::Summary);
        for (int i = 0; i < 50; ++i) {
            ASSERT_TRUE(unit.save(plainEntry(agency, noon)));
            ASSERT_TRUE(unit.post(plainMovement(agency, noon, 1)));
        }
        ASSERT_TRUE(unit.commit());
    }
    const std::vector<AuditEntry> entries = file->audit(10).value();
    EXPECT_EQ(entries[0].number, before + 2);
    EXPECT_EQ(entries[0].table, "stock_movement");
    EXPECT_NE(entries[0].after.find("\"inserted\":50"), std::string::npos);
    EXPECT_EQ(entries[1].table, "drain_entry");
    EXPECT_EQ(wordsOf(file->check({}, {}).value()).find("audit"), std::string::npos);
}

TEST_F(UnitOfWorkTest, TwoSeatsThatPostAtOnceLoseNoMovement) {
    constexpr int kEach = 40;
    const auto post = [&](std::int64_t quantity) {
        auto seat = AgencyFile::open(folder.path("a"), OpenMode::ReadWrite); // a connection of its own thread
        ASSERT_TRUE(seat);
        for (int i = 0; i < kEach;) {
            UnitOfWork unit(**seat, kFirstUser, kMoment);
            if (unit.post(plainMovement(agency, noon, quantity)) && unit.commit())
                ++i;
        }
    };
    std::thread one(post, 1), two(post, 1000);
    one.join();
    two.join();
    const auto movements = file->movementsAt(Place::home(agency.catheter.id), agency.item.id);
    ASSERT_TRUE(movements);
    EXPECT_EQ(movements->size(), std::size_t(2 * kEach));
    std::int64_t sum = 0;
    for (const StockMovement &movement : *movements)
        sum += movement.quantity.count();
    EXPECT_EQ(sum, kEach * 1001);
    const Problems faults = file->check({}, {}).value();
    ASSERT_EQ(faults.size(), 1U) << wordsOf(faults); // only the storeroom that sent more than it had
    EXPECT_EQ(faults[0].code, ProblemCode::Negative);
}

TEST_F(UnitOfWorkTest, MovementsAreFoundByWhatTheyName) {
    UnitOfWork unit(*file, kFirstUser, kMoment);
    const DrainEntry entry = unit.save(plainEntry(agency, noon)).value();
    StockMovement used = plainMovement(agency, noon, 1);
    used.from = Place::home(agency.catheter.id);
    used.to = Place::used(entry.id);
    used = unit.post(used).value();
    StockMovement lost = used;
    lost.id = {};
    lost.to = {PlaceKind::Wasted, entry.id.value()};
    lost = unit.post(lost).value();
    StockMovement back = used;
    back.id = {};
    std::swap(back.from, back.to);
    back.undoes = used.id;
    back.at.date = noon.date.plusDays(-1); // order is by time, not by number
    back = unit.post(back).value();
    ASSERT_TRUE(unit.commit());
    const std::vector<StockMovement> expected = {back, used, lost};
    EXPECT_EQ(file->movementsOfEntry(entry.id).value(), expected);
    EXPECT_EQ(file->movementsOfLot(agency.lot.id).value(), expected);
    EXPECT_EQ(file->movementsAt(Place::home(agency.catheter.id), agency.item.id).value(), expected);
    EXPECT_EQ(file->allMovements().value(), expected);
    EXPECT_EQ(file->movementsOfEntry(DrainEntryId(99)).value(), std::vector<StockMovement>{});
    EXPECT_EQ(file->wholeLog(agency.catheter.id).value(), std::vector<DrainEntry>{entry});
}

} // namespace
} // namespace kitround::store

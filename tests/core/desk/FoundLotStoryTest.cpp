// A lot that stands on the shelf and not in the ledger: counted in as its label has it.
#include "core/desk/views/ReceiveScan.h"
#include "core/desk/views/StoreroomCounts.h"
#include "core/desk/words/Words.h"
#include "core/records/Gtin.h"
#include "tests/core/desk/Story.h"

#include <algorithm>

namespace kitround::desk {
namespace {

constexpr Date kNextYear = Date::of(2027, 6, 1);

class FoundLot : public Story {
public:
    FoundLot() { listed = receive(kit500, "LISTED", 10, kNextYear); }

    StoreroomCount count(const std::string &number, std::int64_t eaches,
                         std::optional<Date> expiresOn) const {
        LotCount found;
        found.lotNumber = number;
        found.counted = Eaches::of(eaches);
        found.expiresOn = expiresOn;
        StoreroomCount counted;
        counted.item = kit500;
        counted.lots = {found};
        counted.why = "stood behind the door";
        counted.secondPerson = "Invented Colleague";
        return counted;
    }
    const Lot *lot(const std::string &number) const { return lotNumbered(snapshot(), kit500, number); }
    Problems refusals(const StoreroomCount &count) {
        return flattened(refused(desk().countStoreroom(count)));
    }
    void nameArticle(ItemId id, const std::string &digits) {
        Item item = *index().item(id);
        item.gtin = digits + gs1CheckDigit(digits);
        must(desk().save(item));
    }

    LotId listed;
};

TEST(FoundLotStory, ALotThatIsNotOnRecordIsPutOnItWithItsVarianceAtOnce) {
    FoundLot s;
    const StoreroomCounted done = must(s.desk().countStoreroom(s.count("NEW-7", 4, kNextYear)));
    EXPECT_TRUE(done.flags.empty());
    ASSERT_NE(s.lot("NEW-7"), nullptr);
    const Lot lot = *s.lot("NEW-7");
    EXPECT_EQ(lot.expiresOn, kNextYear);
    EXPECT_EQ(lot.state, LotState::Usable);
    EXPECT_EQ(s.balance(Place::storeroom(), s.kit500), Eaches::of(14));
    const auto movements = must(s.desk().movementsOfLot(lot.id));
    ASSERT_EQ(movements.size(), 1U);
    EXPECT_EQ(movements[0].reason, MovementReason::Count);
    EXPECT_EQ(movements[0].note, "stood behind the door; counted with Invented Colleague");
    EXPECT_FALSE(must(lastStoreroomCounts(s.desk())).contains(s.kit500)) << "the listed lot was not counted";
    must(s.desk().countStoreroom(s.count("new 7", 6, std::nullopt)));
    EXPECT_EQ(s.balance(Place::storeroom(), s.kit500), Eaches::of(16)) << "the same lot, by its number";
    EXPECT_EQ(s.snapshot().lots.size(), 2U);
}

TEST(FoundLotStory, CountedWithAllThatTheLedgerListsTheItemIsCountedWhole) {
    FoundLot s;
    StoreroomCount count = s.count("NEW-7", 4, kNextYear);
    count.lots.insert(count.lots.begin(), LotCount{s.listed, Eaches::of(10)});
    must(s.desk().countStoreroom(count));
    EXPECT_TRUE(must(lastStoreroomCounts(s.desk())).contains(s.kit500));
    EXPECT_EQ(s.balance(Place::storeroom(), s.kit500), Eaches::of(14));
}

TEST(FoundLotStory, ANewLotIsNotComparedWithTheStockThatHasNone) {
    FoundLot s;
    const StoreroomCount loose = s.count("", 4, std::nullopt);
    must(s.desk().countStoreroom(loose));
    ASSERT_EQ(shelfLedger(s.index(), s.kit500, std::nullopt), Eaches::of(4));
    StoreroomCount count = s.count("NEW-7", 4, kNextYear);
    count.lots[0].seen = Eaches{};
    count.why.clear();
    const Problems found = s.refusals(count);
    ASSERT_EQ(found.size(), 1U) << "it stood on no book: nothing moved meanwhile, and it is a difference";
    EXPECT_EQ(found[0].field, "why");
    count.why = "stood behind the door";
    must(s.desk().countStoreroom(count));
    EXPECT_EQ(s.balance(Place::storeroom(), s.kit500), Eaches::of(18));
}

TEST(FoundLotStory, WhatReceivingWouldNotTakeIsRefusedAndNothingIsStored) {
    FoundLot s;
    Problems found = s.refusals(s.count("NEW-7", 4, std::nullopt));
    ASSERT_EQ(found.size(), 1U) << "its other lots have a last day of use";
    EXPECT_EQ(found[0].field, "expires_on");
    EXPECT_EQ(found[0].code, ProblemCode::Missing);
    EXPECT_EQ(found[0].row, 1);
    found = s.refusals(s.count("OLD-1", 4, kMonday.plusDays(-1)));
    EXPECT_EQ(found[0].args, (std::vector<std::string>{"found_expired", "OLD-1", "2026-03-01"}));
    EXPECT_TRUE(words(found[0]).contains(QStringLiteral("set it aside"))) << words(found[0]).toStdString();
    found = s.refusals(s.count("LISTED", 10, kNextYear.plusDays(1)));
    EXPECT_EQ(found[0].args.front(), "other_expiry");
    found = s.refusals(s.count("NEW-7", 0, kNextYear));
    EXPECT_EQ(found[0].field, "counted");
    found = s.refusals(s.count("--", 4, kNextYear));
    EXPECT_EQ(found[0].field, "lot_number");
    StoreroomCount twice = s.count("listed", 3, std::nullopt);
    twice.lots.insert(twice.lots.begin(), LotCount{s.listed, Eaches::of(10)});
    found = s.refusals(twice);
    EXPECT_EQ(found[0].args, (std::vector<std::string>{"lot_counted_twice", "listed"}));
    EXPECT_EQ(found[0].row, 2);
    StoreroomCount both = s.count("NEW-7", 3, kNextYear);
    both.lots.push_back(both.lots.front());
    EXPECT_EQ(s.refusals(both).size(), 1U) << "said once, at the second";
    EXPECT_EQ(s.snapshot().lots.size(), 1U);
    EXPECT_EQ(s.balance(Place::storeroom(), s.kit500), Eaches::of(10));
}

TEST(FoundLotStory, ALotWithoutADayIsTakenWhereTheItemExpiresNever) {
    FoundLot s;
    StoreroomCount count = s.count("PLAIN", 4, std::nullopt);
    count.item = s.kit1000; // no lot of it has a day, and no shelf life is entered
    must(s.desk().countStoreroom(count));
    EXPECT_EQ(s.balance(Place::storeroom(), s.kit1000), Eaches::of(4));
    Item item = *s.index().item(s.bottle500);
    item.shelfLife = Days::of(730);
    must(s.desk().save(item));
    count.item = s.bottle500;
    EXPECT_EQ(s.refusals(count)[0].field, "expires_on");
}

TEST(FoundLotStory, WhatIsFoundOfALotOutOfUseGoesToQuarantineAndIsSaid) {
    FoundLot s;
    must(s.desk().setLotState(s.listed, LotState::Recalled, "notice of the maker"));
    ASSERT_EQ(s.balance(Place::quarantine(), s.kit500), Eaches::of(10));
    const StoreroomCounted done = must(s.desk().countStoreroom(s.count("listed", 3, std::nullopt)));
    ASSERT_EQ(done.flags.size(), 1U);
    EXPECT_EQ(firstArg(done.flags[0]), "found_recalled");
    EXPECT_TRUE(words(done.flags[0]).contains(QStringLiteral("went to quarantine")));
    EXPECT_EQ(s.balance(Place::storeroom(), s.kit500), Eaches{});
    EXPECT_EQ(s.balance(Place::quarantine(), s.kit500), Eaches::of(13));
}

TEST(FoundLotStory, ALabelOfAnotherItemIsRefusedBeforeItIsCounted) {
    FoundLot s;
    const std::string own = "0952999999999", other = "0952999999998", nobodys = "0952999999997";
    const auto label = [](const std::string &digits) {
        return "(01)" + digits + gs1CheckDigit(digits) + "(17)270601(10)NEW-7";
    };
    s.nameArticle(s.kit1000, other);
    const auto read = [&](const std::string &digits) {
        return readScanOf(*s.agency(), s.kit500, label(digits));
    };
    EXPECT_EQ(firstArg(refused(read(other))), "label_of_other_item");
    const ScanReading unnamed = must(read(nobodys));
    EXPECT_EQ(unnamed.item, s.kit500) << "the item has no number on record to tell them apart";
    EXPECT_EQ(unnamed.remarks.size(), 1);
    s.nameArticle(s.kit500, own);
    EXPECT_EQ(firstArg(refused(read(nobodys))), "label_of_other_article");
    const ScanReading reading = must(read(own));
    EXPECT_EQ(reading.lotNumber, "NEW-7");
    EXPECT_EQ(reading.expiresOn, kNextYear);
    EXPECT_TRUE(reading.remarks.isEmpty());
    EXPECT_EQ(firstArg(refused(readScanOf(*s.agency(), s.kit500, "(17)270601"))), "label_without_lot");
    EXPECT_EQ(must(readScanOf(*s.agency(), s.kit500, "(10)listed")).knownLot, s.listed);
}

} // namespace
} // namespace kitround::desk

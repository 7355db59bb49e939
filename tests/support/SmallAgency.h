#pragma once
// Tiny, valid, invented agencies for tests: one supplier, one nurse, one payer, kits and bottles of 500 and
// 1000 mL, and as many homes as a test adds. Ids are handed out in order from 1, so a test can name them.
//
//     SmallAgency agency(Date::of(2026, 3, 2));
//     const Home home = agency.addHome();
//     agency.order(home, everyDays(2, agency.asOf()))
//         .counted(home, SmallAgency::kKit500, 14, agency.asOf())
//         .drained(home, Date::of(2026, 2, 28), 400, {{SmallAgency::kKit500, 1}});
//     const Snapshot snapshot = agency.build();
//     const SnapshotIndex index(snapshot);
#include "core/records/Snapshot.h"

#include <functional>
#include <vector>

namespace kitround::test {

struct Home {
    PatientId patient;
    CatheterId catheter;
};
struct Supply { // what one session opened
    ItemId item;
    std::int64_t used = 0;
    std::int64_t lost = 0;
};

DrainPattern everyDays(int days, Date anchor);
DrainPattern timesAWeek(int times, WeekdaySet named = {}); // empty: the home chooses
DrainPattern asNeeded(std::optional<int> mostPerDay, std::optional<int> mostPerWeek = std::nullopt);

class SmallAgency {
public:
    static constexpr ItemId kKit500{1}, kKit1000{2}, kBottle500{3}, kBottle1000{4}, kDressing{5};
    static constexpr SupplierId kSupplier{1};
    static constexpr NurseId kNurse{1};
    static constexpr PayerId kPayer{1};

    // Now is 08:00 of the day, before anybody drains.
    explicit SmallAgency(Date asOf = Date::of(2026, 3, 2));
    Date asOf() const { return snapshot_.asOf; }

    // A patient in service at home since 60 days, with one catheter.
    Home addHome(CavitySite site = CavitySite::Chest);
    // A second catheter of the same patient.
    Home addCatheter(const Home &home, CavitySite site, Side side);
    // Order in force from `start` (default: 60 days before today), replacing nothing. Extra bottles of the
    // kit's own size; the prescribed maximum is 1000 mL. `edit` changes what the default does not fit.
    SmallAgency &order(const Home &home, const DrainPattern &pattern, ItemId kit = kKit500,
                       const std::function<void(DrainOrder &)> &edit = {});
    // Logged at 09:00 of the day. No supplies: not written down.
    SmallAgency &drained(const Home &home, Date on, std::optional<int> millilitres,
                         std::vector<Supply> supplies = {}, DrainOutcome outcome = DrainOutcome::Drained);
    SmallAgency &notDone(const Home &home, Date on);
    // Counted at 07:00 of the day: the ledger equals it at that moment. What is logged or delivered later
    // moves it.
    SmallAgency &counted(const Home &home, ItemId item, std::int64_t eaches, Date on);
    // A delivery of one line; Delivered arrives at 12:00 of its day, others stay open and are promised for
    // it.
    SmallAgency &delivery(const Home &home, ItemId item, std::int64_t eaches, Date on,
                          DeliveryStatus status = DeliveryStatus::Delivered);
    // Back on `to`; an open hold has none and may have a guess.
    SmallAgency &hold(const Home &home, Date from, std::optional<Date> to,
                      std::optional<Date> expectedReturn = std::nullopt, bool stillDraining = false);
    // On the storeroom's shelf, as a lot of its own that expires on the day given (default: in two years).
    LotId storeroom(ItemId item, std::int64_t eaches, std::optional<Date> expiresOn = std::nullopt);
    // Anything else.
    SmallAgency &edit(const std::function<void(Snapshot &)> &change);

    // Sorted as the store sorts; balances of the homes follow from counts, deliveries and the log.
    Snapshot build() const;

private:
    Snapshot snapshot_;
};

} // namespace kitround::test

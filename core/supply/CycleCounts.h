#pragma once
// Which items of the storeroom to count: often where much money goes through, seldom where little does.
#include "core/records/Snapshot.h"

#include <map>
#include <optional>
#include <vector>

namespace kitround::supply {

// Class A holds the items of highest yearly use value up to its share of the total, B those up to the next,
// C the rest. Presets as the settings of the same meaning.
struct CountRules {
    double shareA = 0.80, shareAB = 0.95;
    Days everyA = Days::of(30), everyB = Days::of(90), everyC = Days::of(180);
    Money secondPersonAbove = Money::of(10000); // a difference worth more needs a second person
};
CountRules countRulesOf(const AgencySettings &settings);
struct CountDue {
    ItemId item;
    StockClass countClass = StockClass::C;
    Money yearlyValue; // expected use of a year at the best offer's price
    std::optional<Date> lastCounted;
    Date dueOn;        // the as-of date where it was never counted
    int openPicks = 0; // openPicksOf: do not count while picking
    bool isDue(Date today) const { return dueOn <= today; }
};
// Active items, and others with stock in the storeroom; longest due first, then by value. `perDay`: expected
// use of the storeroom's stock; items left out use nothing.
std::vector<CountDue> countsDue(const SnapshotIndex &agency, const std::map<ItemId, double> &perDay,
                                const std::map<ItemId, Date> &lastCounted, const CountRules &rules);

// Deliveries with the item that are picked and not gone yet; what is only promised is still on the shelf.
int openPicksOf(const SnapshotIndex &agency, ItemId item);
// One each at the best offer's case price, in minor units; 0 where nobody sells it.
double minorPerEach(const SnapshotIndex &agency, ItemId item);
// A count that differs from the ledger by just the factor of a case: counted in the wrong unit?
bool looksLikeWrongUnit(Eaches ledger, Eaches counted, PackSize casePack);

} // namespace kitround::supply

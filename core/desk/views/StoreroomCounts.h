#pragma once
// When the storeroom was counted last, and what may be counted on its shelf beside what the ledger lists.
#include "core/desk/Desk.h"
#include "core/supply/CycleCounts.h"

#include <QString>

#include <map>
#include <optional>
#include <string>
#include <vector>

namespace kitround::desk {

// The last day each item was counted in the storeroom, from the ledger and the record of changes; items never
// counted are left out. A count of some of its lots only leaves the item due.
inline constexpr const char *kCountedWhole = "counted:";
inline constexpr const char *kCountedInPart = "counted in part:";
Result<std::map<ItemId, Date>> lastStoreroomCounts(Desk &desk);

// All that speaks against putting a found lot of the item on the books, by the rules of receiving
// (lotLabelProblems, views/ReceiveScan.h): number missing, another expiry on file; NotAllowed at
// "expires_on", args {"found_expired", number, last day of use}; Missing at "expires_on" for a lot nobody
// knows of an item that expires; OutOfRange at "counted" for none of it.
Problems foundLotProblems(const Agency &agency, ItemId item, const LotCount &found);
// What the ledger has of a lot on the shelf; without a lot: of what has none.
Eaches shelfLedger(const SnapshotIndex &agency, ItemId item, std::optional<LotId> lot);
// Where a count differs from the ledger, lot by lot, as the form has them.
struct CountVariance {
    std::string lotNumber; // empty: without a lot
    Eaches counted, books;
    Money worth;
};
std::vector<CountVariance> countVariances(const Agency &agency, const StoreroomCount &count);
// "Lot L1: counted 20, books 31, 11 missing, 110.00 USD."
QString words(const CountVariance &variance, const std::string &currency);
// Kept a limited time: it has a shelf life, or a lot of it has a last day of use.
bool expires(const Agency &agency, ItemId item);
// Lots on record of which the shelf has none by the ledger: their numbers, for whoever finds one there.
std::vector<std::string> lotsNotOnShelf(const Agency &agency, ItemId item);

} // namespace kitround::desk

#include "core/desk/views/StoreroomCounts.h"

#include "core/desk/views/ClosedHomes.h"
#include "core/desk/views/LocalTimes.h"
#include "core/desk/views/ReceiveScan.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"

#include <algorithm>
#include <set>

namespace kitround::desk {
namespace {

constexpr std::int64_t kMostNotes = 500; // of one item, newest first

void keepLatest(std::map<ItemId, Date> &last, ItemId item, Date on) {
    const auto [at, isNew] = last.try_emplace(item, on);
    if (!isNew)
        at->second = std::max(at->second, on);
}

} // namespace

Result<std::map<ItemId, Date>> lastStoreroomCounts(Desk &desk) {
    std::map<ItemId, Date> last;
    const AgencyPtr agency = desk.agency();
    for (const Item &item : agency->snapshot().items) {
        const auto movements = desk.movementsAt(Place::storeroom(), item.id);
        if (!movements)
            return movements.error();
        const auto notes = desk.audit(kMostNotes, "item", item.id.value());
        if (!notes)
            return notes.error();
        std::set<Date> inPart;
        for (const AuditEntry &note : *notes) {
            if (note.action != AuditAction::View)
                continue;
            // Nothing is counted after the day on which the file is read.
            const Date on = std::min(agency->today(), localTimeOf(*agency, note.at).date);
            if (note.after.find(kCountedWhole) != std::string::npos)
                keepLatest(last, item.id, on);
            else if (note.after.find(kCountedInPart) != std::string::npos)
                inPart.insert(on);
        }
        // What was counted before whole counts were noted, the ledger alone tells.
        for (const StockMovement &m : *movements)
            if (m.reason == MovementReason::Count && !inPart.contains(m.at.date))
                keepLatest(last, item.id, m.at.date);
    }
    return last;
}

Eaches shelfLedger(const SnapshotIndex &agency, ItemId item, std::optional<LotId> lot) {
    Eaches there;
    for (const StockBalance &balance : agency.balancesAt(Place::storeroom()))
        if (balance.item == item && balance.lot == lot)
            there += balance.quantity;
    return there;
}

std::vector<CountVariance> countVariances(const Agency &agency, const StoreroomCount &count) {
    std::vector<CountVariance> differing;
    for (const LotCount &lot : count.lots) {
        const Lot *known = lot.isFound() ? lotNumbered(agency.snapshot(), count.item, lot.lotNumber)
                           : lot.lot     ? agency.index().lot(*lot.lot)
                                         : nullptr;
        const bool isNew = lot.isFound() && !known;
        const auto id = known ? std::optional(known->id) : std::nullopt;
        const Eaches books = isNew ? Eaches{} : shelfLedger(agency.index(), count.item, id);
        if (lot.counted == books)
            continue;
        const Eaches off = lot.counted > books ? lot.counted - books : books - lot.counted;
        differing.push_back(
            {known ? known->number : lot.lotNumber, lot.counted, books, stockValue(agency, count.item, off)});
    }
    return differing;
}

QString words(const CountVariance &variance, const std::string &currency) {
    const QString lot = variance.lotNumber.empty() ? Text::tr("Without a lot")
                                                   : Text::tr("Lot %1").arg(fromStd(variance.lotNumber));
    const Eaches off = variance.counted - variance.books;
    const QString how = off.isNegative() ? Text::tr("%1 missing").arg(numberText(-off.count()))
                                         : Text::tr("%1 more than on the books").arg(numberText(off.count()));
    return Text::tr("%1: counted %2, books %3, %4, %5.")
        .arg(lot, numberText(variance.counted.count()), numberText(variance.books.count()), how,
             moneyText(variance.worth, currency));
}

bool expires(const Agency &agency, ItemId itemId) {
    const Item *item = agency.index().item(itemId);
    return (item && item->shelfLife) || std::ranges::any_of(agency.snapshot().lots, [&](const Lot &lot) {
               return lot.item == itemId && lot.expiresOn;
           });
}

Problems foundLotProblems(const Agency &agency, ItemId item, const LotCount &found) {
    Problems wrong;
    for (Problem &p : lotLabelProblems(agency, item, found.lotNumber, found.expiresOn, agency.today())) {
        if (p.code == ProblemCode::OutOfRange) { // nobody is told that it was sent too old
            p.code = ProblemCode::NotAllowed;
            p.args = {"found_expired", found.lotNumber, p.args.front()};
        }
        wrong.push_back(std::move(p));
    }
    if (!found.expiresOn && !lotNumbered(agency.snapshot(), item, found.lotNumber) && expires(agency, item)) {
        Problem missing;
        missing.code = ProblemCode::Missing;
        missing.field = "expires_on";
        wrong.push_back(std::move(missing));
    }
    if (found.counted.isZero()) {
        Problem none;
        none.code = ProblemCode::OutOfRange;
        none.field = "counted";
        none.args = {"0", "1", ""};
        wrong.push_back(std::move(none));
    }
    return wrong;
}

std::vector<std::string> lotsNotOnShelf(const Agency &agency, ItemId item) {
    std::set<LotId> onShelf;
    for (const StockBalance &balance : agency.index().balancesAt(Place::storeroom()))
        if (balance.item == item && balance.lot && !balance.quantity.isZero())
            onShelf.insert(*balance.lot);
    std::vector<std::string> numbers;
    for (const Lot &lot : agency.snapshot().lots)
        if (lot.item == item && !onShelf.contains(lot.id))
            numbers.push_back(lot.number);
    return numbers;
}

} // namespace kitround::desk

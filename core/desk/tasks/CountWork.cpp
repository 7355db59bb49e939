// Counting the storeroom: what a count must say, and the variances it posts.
#include "core/desk/tasks/DeskInner.h"
#include "core/desk/tasks/Movements.h"
#include "core/desk/views/ReceiveScan.h"
#include "core/desk/views/StoreroomCounts.h"
#include "core/supply/CycleCounts.h"
#include "core/supply/Ledger.h"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <set>

namespace kitround::desk {
namespace {

// A lot that nobody knew stood on no book: what has no lot there is other stock.
Eaches booksOf(const SnapshotIndex &agency, ItemId item, const LotCount &lot) {
    return lot.isFound() && !lot.lot ? Eaches{} : shelfLedger(agency, item, lot.lot);
}

Problems lotProblems(const SnapshotIndex &agency, const Item &item, const LotCount &lot,
                     bool isCountedAgain) {
    if (lot.lot) {
        const Lot *known = agency.lot(*lot.lot);
        if (!known)
            return {unknown("lot", "lot_id", *lot.lot)};
        if (known->item != item.id)
            return {
                problem(ProblemCode::Conflict, "lot_id", {"lot_of_other_item", known->number, item.code})};
    }
    if (lot.counted.isNegative())
        return {problem(ProblemCode::Negative, "counted", {std::to_string(lot.counted.count())})};
    const Eaches ledger = booksOf(agency, item.id, lot);
    if (!isCountedAgain && lot.seen && *lot.seen != ledger)
        return {
            problem(ProblemCode::Conflict, "counted",
                    {"moved_meanwhile", std::to_string(lot.seen->count()), std::to_string(ledger.count())})};
    if (!isCountedAgain && supply::looksLikeWrongUnit(ledger, lot.counted, item.casePack))
        return {problem(ProblemCode::Conflict, "counted",
                        {"looks_like_cases", std::to_string(item.casePack.eachesPerCase.count())})};
    return {};
}

// A number typed or scanned that is on record means that lot.
StoreroomCount withKnownLots(const Snapshot &agency, StoreroomCount count) {
    for (LotCount &lot : count.lots)
        if (lot.isFound()) {
            const Lot *known = lotNumbered(agency, count.item, lot.lotNumber);
            lot.lot = known ? std::optional(known->id) : std::nullopt;
        }
    return count;
}

bool isSameLot(const LotCount &a, const LotCount &b) {
    if (a.lot || b.lot)
        return a.lot == b.lot;
    return a.isFound() && b.isFound() && isSameLotNumber(a.lotNumber, b.lotNumber);
}

// What speaks against the found lot at this place of the count.
Problems foundProblems(const Agency &agency, const StoreroomCount &count, std::size_t place) {
    const LotCount &found = count.lots[place];
    if (!found.isFound())
        return {};
    Problems wrong = foundLotProblems(agency, count.item, found);
    for (std::size_t other = 0; other < count.lots.size(); ++other)
        if (other != place && isSameLot(count.lots[other], found) &&
            (other < place || !count.lots[other].isFound())) {
            wrong.push_back(
                problem(ProblemCode::Conflict, "lot_number", {"lot_counted_twice", found.lotNumber}));
            break;
        }
    return wrong;
}

Problems countProblems(const Agency &agency, const StoreroomCount &count, const std::string &userName) {
    const SnapshotIndex &index = agency.index();
    const Item *item = index.item(count.item);
    if (!item)
        return {unknown("item", "item_id", count.item)};
    Problems wrong;
    if (count.lots.empty())
        wrong.push_back(problem(ProblemCode::Missing, "counted"));
    double worth = 0;
    bool differs = false;
    for (std::size_t i = 0; i < count.lots.size(); ++i) {
        const LotCount &lot = count.lots[i];
        const Eaches off = lot.counted - booksOf(index, count.item, lot);
        differs = differs || !off.isZero();
        worth += std::abs(static_cast<double>(off.count())) * supply::minorPerEach(index, count.item);
        Problems ofLot = lotProblems(index, *item, lot, count.isCountedAgain);
        std::ranges::move(foundProblems(agency, count, i), std::back_inserter(ofLot));
        for (Problem &p : ofLot) {
            p.row = static_cast<int>(i) + 1;
            wrong.push_back(std::move(p));
        }
    }
    if (differs && count.why.empty())
        wrong.push_back(problem(ProblemCode::Missing, "why"));
    if (worth > static_cast<double>(supply::countRulesOf(agency.settings()).secondPersonAbove.count())) {
        if (count.secondPerson.empty())
            wrong.push_back(problem(ProblemCode::Missing, "second_person"));
        else if (count.secondPerson == userName)
            wrong.push_back(problem(ProblemCode::Conflict, "second_person", {"second_is_user", userName}));
    }
    return wrong;
}

// Whether every lot by the ledger was counted decides when the item is due again.
std::string countNote(const SnapshotIndex &agency, const StoreroomCount &count, bool differs) {
    std::set<std::optional<LotId>> standing;
    for (const StockBalance &balance : agency.balancesAt(Place::storeroom()))
        if (balance.item == count.item && !balance.quantity.isZero())
            standing.insert(balance.lot);
    const auto isCounted = [&](const std::optional<LotId> &lot) {
        return std::ranges::find(count.lots, lot, &LotCount::lot) != count.lots.end();
    };
    const auto counted = std::ranges::count_if(standing, isCounted);
    if (counted < std::ssize(standing))
        return std::string(kCountedInPart) + ' ' + std::to_string(counted) + " of " +
               std::to_string(standing.size()) + " lots";
    return std::string(kCountedWhole) + (differs ? " every lot" : " as the ledger says");
}

// One transaction: the lots found, each lot's variance, and what is out of use on to quarantine.
class Counting {
public:
    Counting(store::UnitOfWork &unit, const Agency &agency, StoreroomCount count, LocalTime now)
        : unit_(unit), agency_(agency), count_(std::move(count)), now_(now) {
        why_ = count_.why.empty() ? "cycle count" : count_.why;
        if (!count_.secondPerson.empty())
            why_ += "; counted with " + count_.secondPerson;
    }

    Result<StoreroomCounted> run() {
        bool differs = false;
        for (LotCount &lot : count_.lots) {
            const Result<LotState> state = stateOf(lot);
            if (!state)
                return state.error();
            auto variance = supply::movementForCount(Place::storeroom(), count_.item,
                                                     shelfLedger(agency_.index(), count_.item, lot.lot),
                                                     lot.counted, now_);
            if (!variance)
                continue;
            differs = true;
            variance->lot = lot.lot;
            if (Result<void> done = post(*std::move(variance)); !done)
                return done.error();
            if (lot.isFound() && *state != LotState::Usable)
                if (Result<void> done = quarantine(lot, *state); !done)
                    return done.error();
        }
        if (Result<void> noted = unit_.note(AuditAction::View, "item", count_.item.value(),
                                            countNote(agency_.index(), count_, differs));
            !noted)
            return noted.error();
        return counted_;
    }

private:
    // Of a found lot; by then it is on record.
    Result<LotState> stateOf(LotCount &lot) {
        if (!lot.isFound())
            return LotState::Usable;
        Result<Lot> record = lotOnRecord(unit_, agency_, {}, count_.item, lot.lotNumber, lot.expiresOn);
        if (!record)
            return record.error();
        lot.lot = record->id;
        return record->state;
    }

    Result<void> post(StockMovement movement) {
        movement.note = why_;
        const Result<StockMovement> done = unit_.post(movement);
        return done ? Result<void>() : done.error();
    }

    Result<void> quarantine(const LotCount &lot, LotState state) {
        counted_.flags.push_back(
            problem(ProblemCode::Conflict, "lot_number",
                    {state == LotState::Recalled ? "found_recalled" : "found_quarantined", lot.lotNumber}));
        return post(moved(now_, Place::storeroom(), Place::quarantine(), count_.item, lot.lot, lot.counted,
                          MovementReason::Quarantine));
    }

    store::UnitOfWork &unit_;
    const Agency &agency_;
    StoreroomCount count_;
    const LocalTime now_;
    std::string why_;
    StoreroomCounted counted_;
};

} // namespace

Result<StoreroomCounted> Desk::countStoreroom(const StoreroomCount &asEntered) {
    return inner_->writeOn([&](store::UnitOfWork &unit, const Agency &agency) -> Result<StoreroomCounted> {
        const Result<User> me = inner_->me();
        if (!me)
            return me.error();
        StoreroomCount count = withKnownLots(agency.snapshot(), asEntered);
        if (Problems wrong = countProblems(agency, count, me->name); !wrong.empty())
            return joined(std::move(wrong));
        return Counting(unit, agency, std::move(count), inner_->now()).run();
    });
}

} // namespace kitround::desk

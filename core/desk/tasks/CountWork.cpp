// Counting the storeroom: what a count must say, and the variances it posts.
#include "core/desk/tasks/DeskInner.h"
#include "core/desk/views/StoreroomCounts.h"
#include "core/supply/CycleCounts.h"
#include "core/supply/Ledger.h"

#include <algorithm>
#include <cmath>
#include <set>

namespace kitround::desk {
namespace {

Eaches ledgerOf(const SnapshotIndex &agency, ItemId item, std::optional<LotId> lot) {
    Eaches there;
    for (const StockBalance &balance : agency.balancesAt(Place::storeroom()))
        if (balance.item == item && balance.lot == lot)
            there += balance.quantity;
    return there;
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
    const Eaches ledger = ledgerOf(agency, item.id, lot.lot);
    if (!isCountedAgain && lot.seen && *lot.seen != ledger)
        return {
            problem(ProblemCode::Conflict, "counted",
                    {"moved_meanwhile", std::to_string(lot.seen->count()), std::to_string(ledger.count())})};
    if (!isCountedAgain && supply::looksLikeWrongUnit(ledger, lot.counted, item.casePack))
        return {problem(ProblemCode::Conflict, "counted",
                        {"looks_like_cases", std::to_string(item.casePack.eachesPerCase.count())})};
    return {};
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
        const Eaches off = lot.counted - ledgerOf(index, count.item, lot.lot);
        differs = differs || !off.isZero();
        worth += std::abs(static_cast<double>(off.count())) * supply::minorPerEach(index, count.item);
        for (Problem &p : lotProblems(index, *item, lot, count.isCountedAgain)) {
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

} // namespace

Result<void> Desk::countStoreroom(const StoreroomCount &count) {
    return inner_->writeOn([&](store::UnitOfWork &unit, const Agency &agency) -> Result<void> {
        const Result<User> me = inner_->me();
        if (!me)
            return me.error();
        if (Problems wrong = countProblems(agency, count, me->name); !wrong.empty())
            return joined(std::move(wrong));
        std::string why = count.why.empty() ? "cycle count" : count.why;
        if (!count.secondPerson.empty())
            why += "; counted with " + count.secondPerson;
        bool differs = false;
        for (const LotCount &lot : count.lots) {
            auto variance = supply::movementForCount(Place::storeroom(), count.item,
                                                     ledgerOf(agency.index(), count.item, lot.lot),
                                                     lot.counted, inner_->now());
            if (!variance)
                continue;
            differs = true;
            variance->lot = lot.lot;
            variance->note = why;
            if (Result<StockMovement> done = unit.post(*variance); !done)
                return done.error();
        }
        return unit.note(AuditAction::View, "item", count.item.value(),
                         countNote(agency.index(), count, differs));
    });
}

} // namespace kitround::desk

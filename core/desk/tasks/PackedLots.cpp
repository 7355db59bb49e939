// The lots of a picked delivery put right: what was written down, and what was really taken.
#include "core/desk/tasks/Deliveries.h"
#include "core/desk/tasks/HomeLine.h"
#include "core/desk/tasks/Movements.h"
#include "core/desk/views/LotsTaken.h"
#include "core/desk/words/Words.h"
#include "core/supply/Ledger.h"
#include "core/supply/Lots.h"

#include <algorithm>
#include <map>
#include <tuple>

namespace kitround::desk {
namespace {

// A lot that is not set: stock without a lot on record.
using HomeLine = std::tuple<CatheterId, ItemId>;
using ShelfLot = std::tuple<ItemId, LotId>;
using HomeLot = std::tuple<CatheterId, ItemId, LotId>;

HomeLine homeLineOf(const DeliveryLine &line) {
    return {line.catheter, line.item};
}
ShelfLot shelfLotOf(const DeliveryLine &line) {
    return {line.item, line.lot.value_or(LotId{})};
}
HomeLot homeLotOf(const DeliveryLine &line) {
    return {line.catheter, line.item, line.lot.value_or(LotId{})};
}
std::optional<LotId> onRecord(LotId lot) {
    return lot.isSet() ? std::optional(lot) : std::nullopt;
}

struct Change {
    Eaches was, is;
    Eaches more() const { return is - was; }
    Eaches less() const { return was - is; }
};
template <class Key>
std::map<Key, Change> changesOf(const std::vector<DeliveryLine> &was, const std::vector<DeliveryLine> &is,
                                Key (*keyOf)(const DeliveryLine &)) {
    std::map<Key, Change> changes;
    for (const DeliveryLine &line : was)
        changes[keyOf(line)].was += line.quantity;
    for (const DeliveryLine &line : is)
        changes[keyOf(line)].is += line.quantity;
    return changes;
}
template <class Key>
bool isChanged(const std::map<Key, Change> &changes, const Key &key) {
    const auto found = changes.find(key);
    return found != changes.end() && !found->second.more().isZero();
}

std::vector<DeliveryLine> merged(const std::vector<DeliveryLine> &lines) {
    std::vector<DeliveryLine> kept;
    for (const DeliveryLine &line : lines) {
        const auto same = std::ranges::find(kept, homeLotOf(line), homeLotOf);
        if (same == kept.end())
            kept.push_back(line);
        else
            same->quantity += line.quantity;
    }
    return kept;
}

class LotCorrection {
public:
    LotCorrection(store::UnitOfWork &unit, store::AgencyFile &file, const Agency &agency,
                  const Delivery &before, const LotsTaken &taken, LocalTime now)
        : unit_(unit), file_(file), index_(agency.index()), before_(before), taken_(taken), now_(now),
          goodOn_(supply::arrivalOf(before, now.date)), hasLeft_(hasLeft(before)),
          lots_(changesOf(before.lines, taken.lines, shelfLotOf)),
          homes_(changesOf(before.lines, taken.lines, homeLotOf)) {}

    Result<LotsCorrected> run() {
        if (Problems wrong = problems(); !wrong.empty())
            return joined(std::move(wrong));
        if (std::ranges::all_of(homes_, [](const auto &home) { return home.second.more().isZero(); }))
            return problem(ProblemCode::NotAllowed, "lot_number", {"already"});
        if (Result<void> done = moveStock(); !done)
            return done.error();
        if (before_.status == DeliveryStatus::Delivered)
            if (Result<void> done = keepCountsTrue(); !done)
                return done.error();
        if (Result<void> done = keepReason(); !done)
            return done.error();
        Delivery corrected = before_;
        corrected.lines = merged(taken_.lines);
        Result<Delivery> saved = unit_.save(corrected);
        if (!saved)
            return saved.error();
        return LotsCorrected{*std::move(saved), flags()};
    }

private:
    // ---- what speaks against it
    Problems problems() const {
        Problems wrong;
        for (std::size_t i = 0; i < taken_.lines.size(); ++i)
            for (Problem &found : problemsOf(taken_.lines[i])) {
                found.row = static_cast<int>(i) + 1;
                wrong.push_back(std::move(found));
            }
        for (const auto &[home, change] : changesOf(before_.lines, taken_.lines, homeLineOf)) {
            if (change.more().isZero())
                continue;
            const auto line = std::ranges::find(taken_.lines, home, homeLineOf);
            wrong.push_back(problem(ProblemCode::Conflict, "quantity",
                                    {"not_the_line", itemName(index_, std::get<ItemId>(home)).toStdString(),
                                     std::to_string(change.was.count()), std::to_string(change.is.count())}));
            if (line != taken_.lines.end())
                wrong.back().row = static_cast<int>(line - taken_.lines.begin()) + 1;
        }
        return wrong;
    }
    Problems problemsOf(const DeliveryLine &line) const {
        if (line.quantity.count() <= 0)
            return {problem(ProblemCode::OutOfRange, "quantity",
                            {std::to_string(line.quantity.count()), "1", ""})};
        const Eaches more = lots_.at(shelfLotOf(line)).more();
        if (more.count() <= 0)
            return {}; // it was packed already
        if (!line.lot || !line.lot->isSet())
            return {problem(ProblemCode::Missing, "lot_number")};
        const Lot *lot = index_.lot(*line.lot);
        if (!lot)
            return {unknown("lot", "lot_number", *line.lot)};
        if (lot->item != line.item)
            return {problem(ProblemCode::Conflict, "lot_number", {"lot_of_other_item", lot->number})};
        auto unfit = lotOutOfUse(index_, *lot, goodOn_);
        if (unfit && !hasLeft_)
            return {*std::move(unfit)};
        const Eaches there = leftOf(*lot);
        if (there >= more)
            return {};
        Problems wrong; // that the home has to be rung comes before the books
        if (unfit)
            wrong.push_back(*std::move(unfit));
        wrong.push_back(problem(
            ProblemCode::Infeasible, "quantity",
            {"lot_too_few", lot->number, std::to_string(there.count()), std::to_string(more.count())}));
        return wrong;
    }
    // With us and in nobody's parcel; what is out of use stands in quarantine.
    Eaches leftOf(const Lot &lot) const {
        Eaches left;
        for (const StockBalance &row :
             index_.balancesAt(lot.state == LotState::Usable ? Place::storeroom() : Place::quarantine()))
            left += row.lot == lot.id ? row.quantity : Eaches{};
        return left;
    }

    // ---- the ledger
    Result<void> post(const Place &from, const Place &to, ItemId item, LotId lot, Eaches quantity,
                      MovementReason reason, std::optional<DeliveryId> delivery = std::nullopt) {
        if (quantity.count() <= 0)
            return {};
        StockMovement movement = moved(now_, from, to, item, onRecord(lot), quantity, reason);
        movement.delivery = delivery;
        movement.note = taken_.why;
        Result<StockMovement> done = unit_.post(movement);
        return done ? Result<void>() : done.error();
    }
    Result<void> moveStock() {
        if (Result<void> done = undoWrong(); !done)
            return done;
        const Place way = placeOf(before_);
        for (const auto &[key, change] : lots_) {
            const auto [item, lot] = key;
            if (change.more().isZero())
                continue;
            if (Result<void> done = keepOffShelf(unit_, index_, item, lot, change.less(), now_, taken_.why);
                !done)
                return done;
            if (Result<void> done =
                    post(Place::storeroom(), way, item, lot, change.is, MovementReason::Issue, before_.id);
                !done)
                return done;
        }
        if (before_.status != DeliveryStatus::Delivered)
            return {};
        for (const auto &[key, change] : homes_) {
            const auto [catheter, item, lot] = key;
            if (change.more().isZero())
                continue;
            if (Result<void> done = post(way, Place::home(catheter), item, lot, change.is,
                                         MovementReason::Handover, before_.id);
                !done)
                return done;
        }
        return {};
    }
    // A movement is undone as a whole; what of it was right is posted anew.
    Result<void> undoWrong() {
        Result<std::vector<StockMovement>> movements = file_.movementsOfDelivery(before_.id);
        if (!movements)
            return movements.error();
        std::vector<StockMovement> wrong = stillStanding(*movements);
        std::erase_if(wrong, [&](const StockMovement &m) {
            const LotId lot = m.lot.value_or(LotId{});
            return !(m.to.kind == PlaceKind::Home
                         ? isChanged(homes_, HomeLot(CatheterId(m.to.ref), m.item, lot))
                         : isChanged(lots_, ShelfLot(m.item, lot)));
        });
        for (StockMovement &contrary : supply::undoing(wrong, now_)) {
            contrary.note = taken_.why;
            if (Result<StockMovement> done = unit_.post(contrary); !done)
                return done.error();
        }
        return {};
    }

    // What a count at the home has taken off the lot written down, it took off the one that was there. What
    // was opened under that lot's number stands in the log, and is corrected there.
    Result<void> keepCountsTrue() {
        std::map<HomeLine, Eaches> counted;
        for (const auto &[key, change] : homes_)
            if (const auto [catheter, item, lot] = key; change.less().count() > 0 && lot.isSet()) {
                Result<Eaches> undone = undoCounts(Place::home(catheter), lot);
                if (!undone)
                    return undone.error();
                counted[{catheter, item}] += *undone;
            }
        for (const auto &[key, change] : homes_) {
            const auto [catheter, item, lot] = key;
            Eaches &left = counted[{catheter, item}];
            const Eaches off = std::min(left, change.more());
            if (off.count() <= 0)
                continue;
            if (Result<void> done =
                    post(Place::home(catheter), Place::variance(), item, lot, off, MovementReason::Count);
                !done)
                return done;
            left -= off;
        }
        return {};
    }
    // Until the lot is not below nought at the home: how much of it that was.
    Result<Eaches> undoCounts(const Place &home, LotId lot) {
        Result<std::vector<StockMovement>> movements = file_.movementsOfLot(lot); // with what was undone here
        if (!movements)
            return movements.error();
        const Eaches gone = std::max(-ledgerAt(*movements, home, now_), Eaches{});
        Eaches left = gone;
        std::vector<StockMovement> counts = stillStanding(*movements);
        std::erase_if(counts, [&](const StockMovement &m) {
            return m.from != home || m.to.kind != PlaceKind::Variance;
        });
        for (StockMovement &contrary : supply::undoing(counts, now_)) { // the newest first
            if (left.count() <= 0)
                break;
            const Eaches surplus = std::max(contrary.quantity - left, Eaches{});
            left -= contrary.quantity - surplus;
            if (Result<StockMovement> done = unit_.post(contrary); !done)
                return done.error();
            if (Result<void> done =
                    post(home, Place::variance(), contrary.item, lot, surplus, MovementReason::Count);
                !done)
                return done.error();
        }
        if (left.count() > 0)
            return problem(ProblemCode::NotAllowed, "lot_number",
                           {"lot_left_home", index_.lot(lot)->number, std::to_string(left.count())});
        return gone;
    }

    // Lots that only changed places within a parcel move nothing that could carry it.
    Result<void> keepReason() {
        const bool movesStock =
            before_.status == DeliveryStatus::Delivered ||
            std::ranges::any_of(lots_, [](const auto &lot) { return !lot.second.more().isZero(); });
        if (movesStock || taken_.why.empty())
            return {};
        return unit_.note(AuditAction::View, "delivery", before_.id.value(), taken_.why);
    }

    // ---- what to look at all the same
    Problems flags() const {
        Problems found;
        for (const auto &[key, change] : lots_) {
            const Lot *lot = change.more().count() > 0 ? index_.lot(std::get<LotId>(key)) : nullptr;
            if (!lot)
                continue;
            if (auto unfit = lotOutOfUse(index_, *lot, goodOn_))
                found.push_back(*std::move(unfit));
            else if (isShort(*lot))
                found.push_back(problem(ProblemCode::Conflict, "lot_number",
                                        {"short_dated", lot->number, lot->expiresOn->toIso()}));
            for (Problem &earlier : stayingBefore(*lot))
                if (std::ranges::find(found, earlier) == found.end())
                    found.push_back(std::move(earlier));
        }
        return found;
    }
    bool isShort(const Lot &lot) const {
        const Item *item = index_.item(lot.item);
        return supply::isShortDated(lot, goodOn_, item ? item->leastLifeToHome : Days{});
    }
    // Lots good for homes that expire before the one taken, and are on the shelf after it was.
    Problems stayingBefore(const Lot &taken) const {
        Problems earlier;
        for (const Lot &lot : index_.snapshot().lots) {
            const bool shouldGoFirst = lot.item == taken.item && lot.expiresOn &&
                                       (!taken.expiresOn || *lot.expiresOn < *taken.expiresOn) &&
                                       supply::isUsable(index_, lot.id, goodOn_) && !isShort(lot);
            if (!shouldGoFirst)
                continue;
            const auto change = lots_.find({lot.item, lot.id});
            const Eaches stays = leftOf(lot) + (change == lots_.end() ? Eaches{} : change->second.less());
            if (stays.count() > 0)
                earlier.push_back(problem(
                    ProblemCode::Conflict, "lot_number",
                    {"earlier_stays", lot.number, lot.expiresOn->toIso(), std::to_string(stays.count())}));
        }
        return earlier;
    }

    store::UnitOfWork &unit_;
    store::AgencyFile &file_;
    const SnapshotIndex &index_;
    const Delivery &before_;
    const LotsTaken &taken_;
    const LocalTime now_;
    const Date goodOn_;
    const bool hasLeft_;
    const std::map<ShelfLot, Change> lots_;
    const std::map<HomeLot, Change> homes_;
};

} // namespace

Result<LotsCorrected> Desk::correctLots(const LotsTaken &taken) {
    return inner_->writeOn([&](store::UnitOfWork &unit, const Agency &agency) -> Result<LotsCorrected> {
        const Delivery *before = agency.index().delivery(taken.delivery);
        if (!before)
            return unknown("delivery", "delivery_id", taken.delivery);
        if (before->status == DeliveryStatus::Promised)
            return problem(ProblemCode::NotAllowed, "status", {"not_picked"});
        if (before->status == DeliveryStatus::Cancelled)
            return notInState(*before);
        if (std::ranges::any_of(before->lines, [](const auto &l) { return !l.notArrived().isZero(); }))
            return problem(ProblemCode::NotAllowed, "status", {"arrived_short"});
        if (before->rowVersion != taken.rowVersion)
            return problem(ProblemCode::ChangedMeanwhile, "row_version", {"delivery"});
        return LotCorrection(unit, *inner_->file, agency, *before, taken, inner_->now()).run();
    });
}

} // namespace kitround::desk

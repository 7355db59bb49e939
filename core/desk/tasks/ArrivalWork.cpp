// How a parcel reached the home: what came whole stands there, what came damaged or not at all leaves the
// books by a movement of its own. The same put right afterwards.
#include "core/desk/tasks/Deliveries.h"
#include "core/desk/tasks/HomeLine.h"
#include "core/desk/tasks/Movements.h"
#include "core/desk/words/Words.h"
#include "core/supply/Ledger.h"

#include <algorithm>
#include <set>
#include <utility>

namespace kitround::desk {
namespace {

using ParcelLot = std::pair<ItemId, std::optional<LotId>>;

ParcelLot parcelLotOf(const DeliveryLine &line) {
    return {line.item, line.lot};
}

Problems lineProblems(const SnapshotIndex &index, const DeliveryLine &packed, const ArrivedLine &came) {
    for (const auto &[field, count] : {std::pair("good", came.good), std::pair("damaged", came.damaged),
                                       std::pair("missing", came.missing)})
        if (count.isNegative())
            return {problem(ProblemCode::Negative, field, {std::to_string(count.count())})};
    const Eaches sum = came.good + came.damaged + came.missing;
    if (sum == packed.quantity)
        return {};
    return {problem(ProblemCode::Conflict, "good",
                    {"arrived_not_packed", itemName(index, packed.item).toStdString(),
                     std::to_string(packed.quantity.count()), std::to_string(sum.count())})};
}

Problems arrivalProblems(const SnapshotIndex &index, const Delivery &delivery, const Arrived &arrived) {
    if (arrived.lines.empty())
        return {};
    if (arrived.lines.size() != delivery.lines.size())
        return {problem(ProblemCode::ChangedMeanwhile, "row_version", {"delivery"})};
    Problems wrong;
    bool isShort = false;
    for (std::size_t i = 0; i < arrived.lines.size(); ++i) {
        const ArrivedLine &came = arrived.lines[i];
        isShort = isShort || !came.damaged.isZero() || !came.missing.isZero();
        for (Problem &found : lineProblems(index, delivery.lines[i], came)) {
            found.row = static_cast<int>(i) + 1;
            wrong.push_back(std::move(found));
        }
    }
    if (isShort && arrived.why.empty())
        wrong.push_back(problem(ProblemCode::Missing, "why"));
    return wrong;
}

std::vector<DeliveryLine> linesAsArrived(const Delivery &delivery, const Arrived &arrived) {
    std::vector<DeliveryLine> lines = delivery.lines;
    for (std::size_t i = 0; i < lines.size(); ++i) {
        lines[i].damaged = arrived.lines.empty() ? Eaches{} : arrived.lines[i].damaged;
        lines[i].missing = arrived.lines.empty() ? Eaches{} : arrived.lines[i].missing;
    }
    return lines;
}

// A missing one is a difference that was found on counting the parcel: nobody saw it being destroyed.
void addArrival(std::vector<StockMovement> &booked, const Delivery &delivery, const DeliveryLine &line,
                LocalTime at, const std::string &why) {
    const auto book = [&](Eaches quantity, const Place &to, MovementReason reason, const std::string &note) {
        if (quantity.count() <= 0)
            return;
        booked.push_back(moved(at, placeOf(delivery), to, line.item, line.lot, quantity, reason));
        booked.back().delivery = delivery.id;
        booked.back().note = note;
    };
    book(line.arrived(), Place::home(line.catheter), MovementReason::Handover, {});
    book(line.damaged, Place::wasted(), MovementReason::Waste, "damaged on arrival: " + why);
    book(line.missing, Place::variance(), MovementReason::Count, "missing from the parcel: " + why);
}

bool isWhereParcelsEnd(PlaceKind kind) {
    return kind == PlaceKind::Home || kind == PlaceKind::Wasted || kind == PlaceKind::Variance;
}

// Dated as the hand-over was, so that a count made since stays true. A movement is undone as a whole; what of
// it was right is posted anew.
Result<void> bookAnew(store::UnitOfWork &unit, store::AgencyFile &file, const Agency &agency,
                      const Delivery &before, const Delivery &corrected, const std::string &why) {
    std::set<ParcelLot> changed;
    for (std::size_t i = 0; i < before.lines.size(); ++i)
        if (before.lines[i] != corrected.lines[i])
            changed.insert(parcelLotOf(before.lines[i]));
    Result<std::vector<StockMovement>> movements = file.movementsOfDelivery(before.id);
    if (!movements)
        return movements.error();
    std::vector<StockMovement> wrong = stillStanding(*movements);
    std::erase_if(wrong, [&](const StockMovement &m) {
        return !isWhereParcelsEnd(m.to.kind) || !changed.contains({m.item, m.lot});
    });
    std::vector<StockMovement> booked = supply::undoing(wrong, *before.deliveredAt);
    for (StockMovement &contrary : booked)
        contrary.note = why;
    for (const DeliveryLine &line : corrected.lines)
        if (changed.contains(parcelLotOf(line)))
            addArrival(booked, corrected, line, *before.deliveredAt, why);
    return postToHomes(unit, agency, booked);
}

} // namespace

Result<std::vector<DeliveryLine>> bookArrival(store::UnitOfWork &unit, const Agency &agency,
                                              const Delivery &delivery, const Arrived &arrived,
                                              LocalTime at) {
    if (Problems wrong = arrivalProblems(agency.index(), delivery, arrived); !wrong.empty())
        return joined(std::move(wrong));
    std::vector<DeliveryLine> lines = linesAsArrived(delivery, arrived);
    std::vector<StockMovement> booked;
    for (const DeliveryLine &line : lines)
        addArrival(booked, delivery, line, at, arrived.why);
    if (Result<void> done = postToHomes(unit, agency, booked); !done)
        return renamed(done.error(), "at", "delivered_at");
    return lines;
}

Result<Delivery> Desk::correctArrival(DeliveryId id, std::int64_t rowVersion, const Arrived &arrived) {
    return inner_->writeOn([&](store::UnitOfWork &unit, const Agency &agency) -> Result<Delivery> {
        const Delivery *before = agency.index().delivery(id);
        if (!before)
            return unknown("delivery", "delivery_id", id);
        if (before->status != DeliveryStatus::Delivered || !before->deliveredAt)
            return problem(ProblemCode::NotAllowed, "status", {"not_delivered"});
        if (before->rowVersion != rowVersion)
            return problem(ProblemCode::ChangedMeanwhile, "row_version", {"delivery"});
        if (Problems wrong = arrivalProblems(agency.index(), *before, arrived); !wrong.empty())
            return joined(std::move(wrong));
        Delivery corrected = *before;
        corrected.lines = linesAsArrived(*before, arrived);
        if (corrected.lines == before->lines)
            return problem(ProblemCode::NotAllowed, "good", {"already"});
        if (arrived.why.empty()) // all came whole after all: that needs a reason too
            return problem(ProblemCode::Missing, "why");
        if (Result<void> done = bookAnew(unit, *inner_->file, agency, *before, corrected, arrived.why); !done)
            return renamed(done.error(), "at", "delivered_at");
        return unit.save(corrected);
    });
}

} // namespace kitround::desk

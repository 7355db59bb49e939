#include "core/desk/views/RecallView.h"

#include "core/desk/views/ReceiveScan.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"
#include "core/supply/CarStock.h"
#include "core/supply/Recall.h"

#include <algorithm>
#include <map>
#include <set>

namespace kitround::desk {
namespace {

QString placeText(const SnapshotIndex &index, const Place &place) {
    if (place.kind == PlaceKind::Car)
        if (const Nurse *nurse = index.nurse(NurseId(place.ref)))
            return Text::tr("car of %1").arg(personName(*nurse));
    if (place.kind == PlaceKind::Transit)
        for (const Delivery &delivery : index.snapshot().deliveries)
            if (delivery.id.value() == place.ref)
                return Text::tr("parcel for %1")
                    .arg(nameWithCode(index, delivery.patient)); // as in the calls
    return words(place.kind);
}

// Its patient stands among the homes.
bool hasLeftUs(const SnapshotIndex &index, const Place &place) {
    const Delivery *delivery =
        place.kind == PlaceKind::Transit ? index.delivery(DeliveryId(place.ref)) : nullptr;
    return delivery && supply::leftWithCarrier(*delivery);
}

QString standingText(const supply::RecallHome &home) {
    const QString care = home.hasLeft    ? Text::tr("has left the service")
                         : home.isOnHold ? Text::tr("on hold")
                                         : Text::tr("in service");
    if (home.onTheWay.count() <= 0)
        return care;
    return Text::tr("%1; %2 on the way: refuse the parcel, or set it aside")
        .arg(care, numberText(home.onTheWay.count()));
}

// The home's tries, and the newest answer: the last one written of the latest moment.
void addOutcomes(RecallHomeRow &row, const Snapshot &snapshot, LotId lot) {
    const RecallOutcome *last = nullptr;
    for (const RecallOutcome &o : snapshot.recallOutcomes)
        if (o.lot == lot && o.catheter == row.catheter) {
            ++row.tries;
            row.isReached = row.isReached || isReached(o.answer);
            if (!last || o.at >= last->at)
                last = &o;
        }
    if (!last)
        return;
    row.setAside = last->setAside;
    // What was put aside, unopened, is there and was not used, whatever the record reckons.
    if (const Eaches seen = row.setAside - row.onTheWay; seen.count() > 0) {
        row.there = std::max(row.there, seen);
        row.used = std::clamp(row.received - seen, Eaches{}, std::max(row.used, Eaches{}));
    }
    row.replaced = last->replaced;
    const QString who = last->spokeWith.empty()
                            ? fromStd(last->toldBy)
                            : Text::tr("%1 with %2").arg(fromStd(last->toldBy), fromStd(last->spokeWith));
    row.outcome = Text::tr("%1, %2: %3").arg(momentText(last->at), who, words(last->answer));
    if (last->setAside.count() > 0)
        row.outcome += Text::tr(" (%1)").arg(numberText(last->setAside.count()));
    if (last->replaced.count() > 0)
        row.outcome += Text::tr(", %1 replaced").arg(numberText(last->replaced.count()));
}

// What a home throws away counts as used there.
bool isGone(const Place &from, const Place &to) {
    return to.kind == PlaceKind::Returned || (to.kind == PlaceKind::Wasted && from.kind != PlaceKind::Home);
}

RecallStopRow stopRow(const SnapshotIndex &index, const supply::LotStop &stop, const Lot *lot) {
    RecallStopRow row{placeText(index, stop.place), stop.received, stop.there, std::nullopt, {}};
    if (stop.place.kind != PlaceKind::Car || !lot || lot->state == LotState::Usable ||
        stop.there.count() <= 0)
        return row;
    const NurseId nurse(stop.place.ref);
    if (supply::looseInCar(index, nurse, *lot).count() > 0)
        row.car = nurse;
    row.todo = row.car ? Text::tr("the lot is %1: have it taken out of the car").arg(words(lot->state))
                       : Text::tr("the lot is %1; packed for a home: cancel that delivery once it is back")
                             .arg(words(lot->state));
    return row;
}

// Where it was and is not: one sentence, so that what is still to be emptied is not lost among noughts.
QString passedText(const SnapshotIndex &index, const supply::LotTrace &trace) {
    QStringList places;
    std::int64_t parcels = 0;
    for (const supply::LotStop &stop : trace.stops) {
        if (hasLeftUs(index, stop.place) || !stop.there.isZero() || stop.received.count() <= 0)
            continue;
        if (stop.place.kind == PlaceKind::Transit)
            ++parcels;
        else
            places << placeText(index, stop.place);
    }
    if (parcels > 0)
        places << counted(parcels, Text::tr("%1 parcel"), Text::tr("%1 parcels"));
    return places.isEmpty() ? QString()
                            : Text::tr("None of it is left in: %1.").arg(places.join(QStringLiteral(", ")));
}

// Homes somebody rang that the record never sent the lot to.
void addHomesByHand(RecallView &view, const Snapshot &snapshot, const SnapshotIndex &index) {
    for (const RecallOutcome &told : snapshot.recallOutcomes) {
        if (told.lot != view.lot ||
            std::ranges::find(view.homes, told.catheter, &RecallHomeRow::catheter) != view.homes.end())
            continue;
        view.homes.push_back(recallHomeRow(index, told.catheter));
        addOutcomes(view.homes.back(), snapshot, view.lot);
    }
}

void addSums(RecallView &view, const SnapshotIndex &index, const supply::LotTrace &trace,
             std::span<const StockMovement> movements) {
    for (const StockMovement &m : movements) {
        if (m.from.kind == PlaceKind::Supplier)
            view.fromSupplier += m.quantity;
        if (m.to.kind == PlaceKind::Supplier)
            view.fromSupplier -= m.quantity;
        if (isGone(m.from, m.to))
            view.gone += m.quantity;
        if (isGone(m.to, m.from))
            view.gone -= m.quantity;
    }
    for (const supply::LotStop &stop : trace.stops) {
        if (stop.place.kind == PlaceKind::Quarantine)
            view.quarantined += stop.there;
        else if (!hasLeftUs(index, stop.place))
            view.stillOut += std::max(stop.there, Eaches{});
    }
    for (const RecallHomeRow &home : view.homes) {
        view.used += home.used;
        view.setAside += home.setAside;
        view.replaced += home.replaced;
        view.stillOut += std::max(home.there + home.onTheWay - home.setAside, Eaches{});
    }
    std::map<PatientId, bool> reached;
    std::set<PatientId> holding;
    for (const RecallHomeRow &home : view.homes) {
        bool &isAnswered = reached.try_emplace(home.patient, true).first->second;
        isAnswered = isAnswered && home.isReached;
        if ((home.there + home.onTheWay).count() > 0)
            holding.insert(home.patient);
    }
    view.mayHaveIt = static_cast<int>(holding.size());
    view.places = static_cast<int>(reached.size());
    for (const auto &[patient, isAnswered] : reached)
        view.reached += isAnswered ? 1 : 0;
}

} // namespace

QString RecallView::reachedText() const {
    const std::int64_t all = places;
    if (all == 0)
        return Text::tr("No home had it.");
    return counted(all, Text::tr("%2 of 1 home reached (%3 %)"), Text::tr("%2 of %1 homes reached (%3 %)"))
        .replace(QStringLiteral("%2"), numberText(reached))
        .replace(QStringLiteral("%3"), numberText((100 * reached + all / 2) / all));
}

RecallView recallView(const Agency &agency, LotId lot, std::span<const StockMovement> movements) {
    const SnapshotIndex &index = agency.index();
    const supply::LotTrace trace = supply::traceLot(index, lot, movements);
    RecallView view;
    view.lot = lot;
    if (const Lot *record = index.lot(lot)) {
        view.number = fromStd(record->number);
        view.state = words(record->state);
        view.reason = fromStd(record->stateReason);
        if (const Item *item = index.item(record->item))
            view.itemName = fromStd(item->name);
    }
    for (const supply::LotStop &stop : trace.stops)
        if (!hasLeftUs(index, stop.place) && !stop.there.isZero())
            view.stops.push_back(stopRow(index, stop, index.lot(lot)));
    view.passed = passedText(index, trace);
    for (const supply::RecallHome &home : trace.homes) {
        RecallHomeRow row = recallHomeRow(index, home.catheter);
        row.standing = standingText(home);
        row.received = home.received;
        row.there = home.there;
        row.used = home.used;
        row.onTheWay = home.onTheWay;
        row.drains = static_cast<int>(home.drains.size());
        addOutcomes(row, agency.snapshot(), lot);
        view.homes.push_back(std::move(row));
    }
    addHomesByHand(view, agency.snapshot(), index);
    addSums(view, index, trace, movements);
    return view;
}

RecallHomeRow recallHomeRow(const SnapshotIndex &index, CatheterId id) {
    RecallHomeRow row;
    row.catheter = id;
    const Catheter *catheter = index.catheter(id);
    if (!catheter)
        return row;
    row.patient = catheter->patient;
    row.place = catheterText(*catheter);
    if (const Patient *patient = index.patient(catheter->patient)) {
        row.name = personName(*patient, index);
        row.phone = fromStd(patient->phone);
    }
    supply::RecallHome home;
    home.isOnHold = index.holdOn(row.patient, index.snapshot().asOf) != nullptr;
    home.hasLeft = !index.isInService(*catheter);
    row.standing = Text::tr("%1; not on the list by the record").arg(standingText(home));
    return row;
}

bool asksWhyBeyond(const Problem &problem) {
    return problem.code == ProblemCode::Conflict && !problem.args.empty() &&
           (problem.args.front() == "more_aside_than_sent" || problem.args.front() == "lot_never_there");
}

LotPlaces lotPlaces(const SnapshotIndex &agency, LotId lot) {
    LotPlaces sums;
    std::set<std::int64_t> cars;
    std::set<PatientId> homes;
    for (const StockBalance &row : agency.snapshot().balances) {
        if (row.lot != lot || row.quantity.count() <= 0)
            continue;
        if (row.place.kind == PlaceKind::Storeroom)
            sums.storeroom += row.quantity;
        if (row.place.kind == PlaceKind::Quarantine)
            sums.quarantine += row.quantity;
        if (row.place.kind == PlaceKind::Transit)
            sums.onTheWay += row.quantity;
        if (row.place.kind == PlaceKind::Car) {
            sums.cars += row.quantity;
            cars.insert(row.place.ref);
        }
        if (row.place.kind == PlaceKind::Home) {
            sums.homes += row.quantity;
            if (const Catheter *catheter = agency.catheter(CatheterId(row.place.ref)))
                homes.insert(catheter->patient);
        }
    }
    sums.carsWithIt = static_cast<int>(cars.size());
    sums.homesWithIt = static_cast<int>(homes.size());
    return sums;
}

QString words(const LotPlaces &places) {
    const QString cars = places.carsWithIt == 0
                             ? Text::tr("in no car")
                             : counted(places.carsWithIt, Text::tr("in %1 car %2"), Text::tr("in %1 cars %2"))
                                   .arg(numberText(places.cars.count()));
    const QString homes =
        counted(places.homesWithIt, Text::tr("in %1 home at most %2"), Text::tr("in %1 homes at most %2"));
    return Text::tr("In the storeroom %1, in quarantine %2, %3, on the way %4, %5.")
        .arg(numberText(places.storeroom.count()), numberText(places.quarantine.count()), cars,
             numberText(places.onTheWay.count()), homes.arg(numberText(places.homes.count())));
}

QString noticeText(const SnapshotIndex &agency, const Lot &lot, const QString &asked) {
    QStringList parts;
    const QString number = fromStd(lot.number);
    if (!isSameLotNumber(lot.number, asked.trimmed().toStdString()))
        parts << Text::tr("You typed %1; the whole number on record is %2. Compare it with the notice.")
                     .arg(asked.trimmed(), number);
    parts << Text::tr("Lot %1 of %2 is now: %3.").arg(number, itemName(agency, lot.item), words(lot.state))
          << words(lotPlaces(agency, lot.id))
          << Text::tr("Mark it recalled now? What is in the storeroom goes to quarantine, packed parcels "
                      "with it are opened; the nurses who carry it and the homes that have it are to be "
                      "called.");
    return parts.join(u' ');
}

void hearSetAside(RecallOutcome &outcome, std::optional<std::int64_t> typed) {
    outcome.setAside = Eaches::of(typed.value_or(0));
    if (outcome.answer == RecallAnswer::SetAside && typed == 0)
        outcome.answer = RecallAnswer::NoneLeft;
}

std::vector<LotId> lotsNamed(const Agency &agency, const QString &number) {
    return supply::lotsMatching(agency.snapshot(), ItemId(), number.trimmed().toStdString());
}

} // namespace kitround::desk

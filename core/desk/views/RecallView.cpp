#include "core/desk/views/RecallView.h"

#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"
#include "core/supply/Recall.h"

namespace kitround::desk {
namespace {

QString placeText(const SnapshotIndex &index, const Place &place) {
    if (place.kind == PlaceKind::Car)
        if (const Nurse *nurse = index.nurse(NurseId(place.ref)))
            return Text::tr("car of %1").arg(personName(*nurse));
    if (place.kind == PlaceKind::Transit)
        for (const Delivery &delivery : index.snapshot().deliveries)
            if (delivery.id.value() == place.ref)
                if (const Patient *patient = index.patient(delivery.patient))
                    return Text::tr("parcel for %1").arg(personName(*patient));
    return words(place.kind);
}

} // namespace

RecallView recallView(const Agency &agency, LotId lot, std::span<const StockMovement> movements) {
    const SnapshotIndex &index = agency.index();
    const supply::LotTrace trace = supply::traceLot(index, lot, movements);
    RecallView view;
    view.lot = lot;
    if (const Lot *record = index.lot(lot)) {
        view.number = fromStd(record->number);
        view.state = words(record->state);
        if (const Item *item = index.item(record->item))
            view.itemName = fromStd(item->name);
    }
    for (const supply::LotStop &stop : trace.stops)
        view.stops.push_back({placeText(index, stop.place), stop.received, stop.there});
    for (const supply::RecallHome &home : trace.homes) {
        RecallHomeRow row;
        row.patient = home.patient;
        if (const Patient *patient = index.patient(home.patient)) {
            row.name = personName(*patient);
            row.phone = fromStd(patient->phone);
        }
        if (const Catheter *catheter = index.catheter(home.catheter))
            row.place = catheterText(*catheter);
        row.standing = home.hasLeft    ? Text::tr("has left the service")
                       : home.isOnHold ? Text::tr("on hold")
                                       : Text::tr("in service");
        row.received = home.received;
        row.there = home.there;
        row.used = home.used;
        row.drains = static_cast<int>(home.drains.size());
        view.homes.push_back(std::move(row));
    }
    return view;
}

std::vector<LotId> lotsNamed(const Agency &agency, const QString &number) {
    return supply::lotsMatching(agency.snapshot(), ItemId(), number.trimmed().toStdString());
}

} // namespace kitround::desk

#include "core/desk/views/PackedParcels.h"

#include "core/desk/views/WeekRepair.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"
#include "core/supply/CarStock.h"

#include <algorithm>

namespace kitround::desk {
namespace {

QString nameOfNurse(const SnapshotIndex &agency, NurseId id) {
    const Nurse *nurse = agency.nurse(id);
    return nurse ? personName(*nurse) : Text::tr("another nurse");
}

} // namespace

std::optional<ParcelElsewhere> parcelElsewhere(const SnapshotIndex &agency, const Visit &visit,
                                               const VisitPlace &place) {
    if (!visit.id.isSet())
        return std::nullopt; // nothing can be packed for it yet
    for (const Delivery *delivery : agency.deliveriesOf(visit.patient)) {
        const std::optional<NurseId> holder = supply::carHolding(*delivery);
        const bool comesAlong = place.isSet() && (place.nurse == holder || place.secondNurse == holder);
        if (holder && delivery->visit == visit.id && !comesAlong)
            return ParcelElsewhere{visit.patient, *holder, place};
    }
    return std::nullopt;
}

std::optional<NurseId> takerOf(const SnapshotIndex &agency, const Delivery &delivery) {
    const Visit *visit = delivery.visit ? agency.visit(*delivery.visit) : nullptr;
    if (!visit || !supply::carHolding(delivery))
        return std::nullopt;
    const auto parcel = parcelElsewhere(agency, *visit, plannedPlace(*visit));
    return parcel ? parcel->visit.nurse : std::nullopt;
}

bool endsWithParcelInCar(const SnapshotIndex &agency, PatientId patient, std::optional<CatheterId> only) {
    const bool othersGoOn = only && std::ranges::any_of(agency.cathetersOf(patient), [&](const Catheter *c) {
                                return !c->removedAt && c->id != *only;
                            });
    return std::ranges::any_of(agency.deliveriesOf(patient), [&](const Delivery *delivery) {
        return delivery->status == DeliveryStatus::Picked && supply::carHolding(*delivery) &&
               (!othersGoOn ||
                std::ranges::find(delivery->lines, *only, &DeliveryLine::catheter) != delivery->lines.end());
    });
}

std::vector<ParcelElsewhere> parcelsElsewhere(const WeekPicture &week) {
    std::vector<ParcelElsewhere> parcels;
    for (std::size_t j = 0; j < week.due.size(); ++j)
        if (auto parcel = parcelElsewhere(week.agency->index(), week.due[j].visit,
                                          placeIn(week, week.plan.placements[j])))
            parcels.push_back(*parcel);
    return parcels;
}

QString parcelText(const SnapshotIndex &agency, const ParcelElsewhere &parcel) {
    const QString holder = nameOfNurse(agency, parcel.inCarOf);
    return parcel.visit.isSet()
               ? Text::tr("The packed parcel is in the car of %1: to be handed over to %2, or brought back "
                          "to the storeroom")
                     .arg(holder, nameOfNurse(agency, *parcel.visit.nurse))
               : Text::tr("The packed parcel is in the car of %1, and its visit has no place: to be brought "
                          "back to the storeroom")
                     .arg(holder);
}

QString parcelText(const SnapshotIndex &agency, const Visit &visit, const VisitPlace &place) {
    const auto parcel = parcelElsewhere(agency, visit, place);
    return parcel ? parcelText(agency, *parcel) : QString();
}

} // namespace kitround::desk

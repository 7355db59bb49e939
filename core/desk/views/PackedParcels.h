#pragma once
// A packed parcel lies in the car it was packed into, whoever makes its visit by now. Where the visit went to
// another nurse, or has no place any more, somebody has to be told: else one drives there without it. Pure.
#include "core/desk/views/WeekView.h"

#include <QString>

#include <optional>
#include <vector>

namespace kitround::desk {

struct ParcelElsewhere {
    PatientId patient;
    NurseId inCarOf;
    VisitPlace visit; // where its visit stands; not set: nowhere
};
// The parcel that is packed for the visit, where nobody who makes it at that place has it in the car.
std::optional<ParcelElsewhere> parcelElsewhere(const SnapshotIndex &agency, const Visit &visit,
                                               const VisitPlace &place);
// By the plan in hand.
std::vector<ParcelElsewhere> parcelsElsewhere(const WeekPicture &week);
// "The packed parcel is in the car of Marsh, Owen: to be handed over to Bell, Ada, or brought back to the
// storeroom"; without a full stop.
QString parcelText(const SnapshotIndex &agency, const ParcelElsewhere &parcel);
// The same of that visit; empty where its parcel, if there is one, is where it should be.
QString parcelText(const SnapshotIndex &agency, const Visit &visit, const VisitPlace &place);

} // namespace kitround::desk

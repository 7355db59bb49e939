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
// Who makes the visit of a delivery whose parcel lies in another nurse's car: to whom it is handed over.
std::optional<NurseId> takerOf(const SnapshotIndex &agency, const Delivery &delivery);
// Whether the end of care, of the patient or of one catheter alone, meets a parcel packed in a nurse's car:
// then it is asked where it is.
bool endsWithParcelInCar(const SnapshotIndex &agency, PatientId patient,
                         std::optional<CatheterId> only = std::nullopt);
// By the plan in hand.
std::vector<ParcelElsewhere> parcelsElsewhere(const WeekPicture &week);
// "The packed parcel is in the car of Marsh, Owen: to be handed over to Bell, Ada, or brought back to the
// storeroom"; without a full stop.
QString parcelText(const SnapshotIndex &agency, const ParcelElsewhere &parcel);
// The same of that visit; empty where its parcel, if there is one, is where it should be.
QString parcelText(const SnapshotIndex &agency, const Visit &visit, const VisitPlace &place);

} // namespace kitround::desk

#pragma once
// Steps that several uses share: whether an item may go to a patient, taking a packed delivery apart, and
// stopping care. Private to core/desk.
#include "core/desk/tasks/DeskInner.h"

namespace kitround::desk {

// Why an item may not go to this catheter's home: Conflict at "item_id", args {"allergy", material, item
// code} or
// {"connector", item's connector, catheter's}. Empty where it may.
Problems barred(const SnapshotIndex &agency, const Patient &patient, const Catheter &catheter, ItemId item);

// NotAllowed at "status", args {its status}.
Problem notInState(const Delivery &delivery);

// Where a picked delivery stands until it is handed over.
Place placeOf(const Delivery &delivery);
// Of a lot that is out of use nothing stands on the shelf: what has come back to it goes on into quarantine;
// what is to leave it (less than nought comes back) is first fetched from there. Any other lot stays.
Result<void> keepOffShelf(store::UnitOfWork &unit, const SnapshotIndex &index, ItemId item, LotId lot,
                          Eaches back, LocalTime now, const std::string &note = {});
// Contrary movements for what was picked, kept with the delivery; lots leave its lines and equal lines merge.
// A lot that went out of use meanwhile comes back into quarantine.
Result<Delivery> putBack(store::UnitOfWork &unit, store::AgencyFile &file, const SnapshotIndex &index,
                         Delivery delivery, LocalTime now);
// By the books unpacking brings lines of a parcel back; out of a car they come when somebody has taken them
// out. `parcel`: the delivery they stay packed for.
Result<void> stillInCar(store::UnitOfWork &unit, const SnapshotIndex &index,
                        const std::vector<DeliveryLine> &lines, NurseId nurse, LocalTime now,
                        std::optional<DeliveryId> parcel = std::nullopt);
struct Cancelling {
    std::string why;
    LocalTime now;
    CameBack where = CameBack::NeverLeft; // of a parcel that is out; any other goes back
};
Result<Delivery> cancel(store::UnitOfWork &unit, store::AgencyFile &file, const SnapshotIndex &index,
                        const Delivery &delivery, const Cancelling &how);
// Some lines of a parcel that lies packed in a nurse's car leave it, to where they are; the rest stays
// packed.
Result<Delivery> takeOutOfParcel(store::UnitOfWork &unit, store::AgencyFile &file, const SnapshotIndex &index,
                                 const Delivery &delivery, const std::vector<DeliveryLine> &leaving,
                                 const Cancelling &how);
// Books what the parcel brought (ArrivalWork.cpp); gives its lines with what did not come whole.
Result<std::vector<DeliveryLine>> bookArrival(store::UnitOfWork &unit, const Agency &agency,
                                              const Delivery &delivery, const Arrived &arrived, LocalTime at);
// Parcels promised with a visit that will not be made wait for another one: nobody carries them until then.
Result<void> freeDeliveries(store::UnitOfWork &unit, const Agency &agency, const Visit &visit);

struct StopCare {
    PatientId patient;
    std::optional<CatheterId> onlyCatheter; // the others go on
    LocalTime at;
    LocalTime now;
    std::string why;
    bool keepDischargeVisit = false;
    CameBack carParcels = CameBack::InCar;
};
// Ends orders, cancels visits not yet made and deliveries not yet out of the house; says what is in transit.
Result<ExitEffect> stopCare(store::UnitOfWork &unit, store::AgencyFile &file, const Agency &agency,
                            const StopCare &stop);

} // namespace kitround::desk

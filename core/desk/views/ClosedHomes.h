#pragma once
// Homes whose care has ended and which still have stock on the books: what to fetch, destroy, donate or
// leave.
#include "core/desk/Desk.h"

#include <QString>

#include <vector>

namespace kitround::desk {

struct ClosedHomeRow {
    PatientId patient;
    CatheterId catheter;
    ItemId item;
    QString who, place, itemName;
    QString why;   // "discharged, Thu 5 Nov", "catheter removed, Tue 3 Nov"
    QString where; // "at home", or the state of a parcel
    Eaches onBooks;
    QString recall; // of the books: "up to 14 of recalled lot L1"; empty where there is none
    Money value;    // at the price the agency pays today
    std::optional<DeliveryId> parcel; // never reached the home: goes back to the shelf by cancelling it
};
// A home's line where the ledger is not nought, and parcels packed or under way to it; by name, place, item.
std::vector<ClosedHomeRow> closedHomeRows(const Agency &agency);
// At the best offer's price; nought where nobody sells it.
Money stockValue(const Agency &agency, ItemId item, Eaches quantity);
// What leaves the books as a loss: nothing where the home keeps it or the supplier gives credit.
Money writtenOff(const Agency &agency, ItemId item, Eaches quantity, Disposition disposition);
// Lots of the item the ledger has at the home, by id.
std::vector<LotId> lotsAtHome(const SnapshotIndex &agency, CatheterId catheter, ItemId item);

} // namespace kitround::desk

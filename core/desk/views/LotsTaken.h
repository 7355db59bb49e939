#pragma once
// Before the lots of a packed delivery are put right: what may be taken instead, and which lot a label means.
#include "core/desk/Desk.h"

#include <QString>

namespace kitround::desk {

struct LotOffer {
    LotId lot;
    QString number;
    QString text; // "L2, 40 on the shelf, last day of use Tue 1 Jun 2027, short-dated"
};
// Lots of the item on the shelf that may go with the delivery, in the order of giving.
std::vector<LotOffer> lotOffers(const Agency &agency, const Delivery &delivery, ItemId item);

// Why a lot may not stand at a home on that day: NotAllowed at "lot_number", args {"lot_recalled"|
// "lot_quarantined", number} or {"lot_expired", number, last day of use}.
std::optional<Problem> lotOutOfUse(const SnapshotIndex &index, const Lot &lot, Date on);
std::optional<Problem> lotOutOfUse(const Agency &agency, const Delivery &delivery, const Lot &lot);
// On its way or at the home: what is in it is written down whatever it is, and told.
bool hasLeft(const Delivery &delivery);

// The lot of one of the delivery's items that a label in GS1 form, or a number alone, means. Problems at
// "scan": those of readScan (views/ReceiveScan.h) and of numberedLot; Conflict {"label_without_lot"},
// {"not_in_delivery", item name or article number}, {"label_other_expiry", number, day on the label, day on
// record}; of what has not left also those of lotOutOfUse.
Result<LotId> scannedLot(const Agency &agency, const Delivery &delivery, const std::string &label);
// The box itself is in question, not how it was read: nothing is saved until that is cleared.
bool putsBoxAside(const Problem &problem);

// The lot of the item under a typed number. Problems at "lot_number": Conflict {"lot_of_other_item", number},
// UnknownRecord {"lot", number}.
Result<LotId> numberedLot(const Snapshot &agency, ItemId item, const std::string &number);

} // namespace kitround::desk

#pragma once
// Before the lots of a packed delivery are put right: what may be taken instead, and which lot a label means.
#include "core/desk/Desk.h"

#include <QString>

namespace kitround::desk {

// The day on which its lots have to be good: that of the delivery, or the first on which it can be.
Date lotsGoodOn(const Delivery &delivery, Date today);

struct LotOffer {
    LotId lot;
    QString number;
    QString text; // "L2, 40 on the shelf, last day of use Tue 1 Jun 2027, short-dated"
};
// Lots of the item on the shelf that may go with the delivery, in the order of giving.
std::vector<LotOffer> lotOffers(const Agency &agency, const Delivery &delivery, ItemId item);

// The lot of one of the delivery's items that a label in GS1 form, or a number alone, means. Problems at
// "scan": those of readScan (views/ReceiveScan.h); Conflict {"label_without_lot"}, {"not_in_delivery", item
// name or article number}; UnknownRecord {"lot", number}.
Result<LotId> scannedLot(const Agency &agency, const Delivery &delivery, const std::string &label);

} // namespace kitround::desk

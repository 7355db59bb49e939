#pragma once
// The clerk's weekly and monthly lists: what runs short and for whom, what suppliers did, and where use and
// order part.
#include "core/desk/views/StockView.h"
#include "core/supply/Shortage.h"
#include "core/supply/UseReview.h"

namespace kitround::desk {

struct ShortageRow { // one home and item
    PatientId patient;
    CatheterId catheter;
    ItemId itemId;
    QString item, supply; // supply: "12 free; 40 on order for Tue 1 Dec"
    QString who;
    std::optional<Date> atRisk;
    Eaches onHand, wanted;
    supply::ShortageStep step = supply::ShortageStep::Ask;
    QString action, owner; // who does it: the clerk, or a nurse with the prescriber
    // What was stored about this home and item: the open action, else the one closed last.
    std::optional<ShortageAction> stored;
    QString standing; // "open since Tue 1 Dec: R. Alder rings the second supplier", "done: ..."
};
std::vector<ShortageRow> shortageRows(const StockPicture &picture);

struct SupplierRow {
    SupplierId supplier;
    QString name, lead, promised; // lead: "6.2 days, spread 1.1"
    double leadMean = -1;         // below nought: nothing received yet
    std::int64_t orders = 0;
    std::optional<double> fillRate, onTime; // shares
    Money paid, overList;                   // what was paid, and how much more than at today's list prices
};
std::vector<SupplierRow> supplierRows(const Agency &agency);

struct UseRow {
    PatientId patient;
    QString who, item, verdict, advice;
    supply::UseLine line;
};
std::vector<UseRow> useRows(const Agency &agency);

} // namespace kitround::desk

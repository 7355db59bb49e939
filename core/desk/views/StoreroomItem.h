#pragma once
// One item of the storeroom looked at closely: its lots wherever they stand, what is on order, and the demand
// of the coming weeks.
#include "core/desk/views/StockView.h"

#include <QString>

#include <map>

namespace kitround::desk {

struct LotRow {
    std::optional<LotId> lot; // none: stock whose lot nobody wrote down
    QString number, state;    // state: "usable", "expired", ...
    LotState lotState = LotState::Usable;
    std::optional<Date> expiresOn;
    bool isExpired = false;
    bool isShortDated = false; // too little life left for homes
    Eaches storeroom, quarantine, cars, transit, homes;
};
std::vector<LotRow> lotRows(const Agency &agency, ItemId item); // by expiry, unknown last

struct OpenOrderRow {
    PurchaseOrderId order;
    QString number, supplier;
    Eaches quantity; // not received yet
    Date expectedOn;
    bool isBackordered = false;
};
std::vector<OpenOrderRow> openOrderRows(const Agency &agency, ItemId item); // by expected day

// Mean demand on the storeroom in each of the next 12 weeks, by item.
std::map<ItemId, std::vector<double>> weeklyDemand(const StockPicture &picture);

// The time-phased table of one item: `free` stock now, less mean demand, with what is on order as it comes.
struct StoreroomWeek {
    Date from;
    double demand = 0;
    Eaches arriving;
    double left = 0; // at the week's end; below nought means short
};
std::vector<StoreroomWeek> storeroomWeeks(const Agency &agency, Eaches free,
                                          const std::vector<double> &demand,
                                          const std::vector<OpenOrderRow> &open);

} // namespace kitround::desk

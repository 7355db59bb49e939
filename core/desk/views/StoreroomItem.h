#pragma once
// One item of the storeroom looked at closely: its lots wherever they stand, what is on order, and the demand
// of the coming weeks.
#include "core/desk/views/StockView.h"
#include "core/supply/CostOpinion.h"

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

// What the coming weeks ask of an item, and what costs alone would say of keeping it.
struct ItemOutlook {
    std::vector<double> demand; // mean on the storeroom, in each of the next 12 weeks
    std::optional<supply::CostOpinion> opinion;
};
std::map<ItemId, ItemOutlook> itemOutlooks(const StockPicture &picture);
// The opinion in a sentence or two, with the level the agency's own rule orders up to, where it orders.
QString opinionText(const Agency &agency, const ItemOutlook &outlook, std::optional<Eaches> orderUpTo);

} // namespace kitround::desk

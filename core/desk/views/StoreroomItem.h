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
    // The same if demand is as large, or as small, as it is 1 time in 10.
    std::optional<double> leftLow, leftHigh;
};
struct DemandBand { // from today to a week's end
    std::int64_t p10 = 0, p90 = 0;
};
// `bands`: of each week, or none.
std::vector<StoreroomWeek> storeroomWeeks(const Agency &agency, Eaches free,
                                          const std::vector<double> &demand,
                                          const std::vector<OpenOrderRow> &open,
                                          const std::vector<DemandBand> &bands = {});
// "120", "short by 34": what is missing is no number of pieces.
QString leftText(double left);

// What the coming weeks ask of an item, and what costs alone would say of keeping it.
struct ItemOutlook {
    std::vector<double> demand; // mean on the storeroom, in each of the next 12 weeks
    double fromReferrals = 0;   // of all of it: people nobody knows yet
    std::vector<DemandBand> bands;
    std::optional<supply::CostOpinion> opinion;
};
// Stopped, it gives what it has.
std::map<ItemId, ItemOutlook> itemOutlooks(const StockPicture &picture, const std::stop_token &stop = {});
// What of the demand is for referrals, then the opinion in a sentence or two, with the level the agency's own
// rule orders up to, where it orders.
QString opinionText(const Agency &agency, const ItemOutlook &outlook, std::optional<Eaches> orderUpTo);

} // namespace kitround::desk

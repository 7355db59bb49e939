#pragma once
// What the clerk looks at: homes by run-out risk, the storeroom by item, refills and reorders. Pure functions
// of the agency; heavy ones take a stop token and run in the background.
#include "core/desk/Desk.h"
#include "core/desk/Table.h"
#include "core/forecast/HomeForecast.h"
#include "core/supply/Lots.h"
#include "core/supply/Recall.h"
#include "core/supply/Refills.h"
#include "core/supply/Reorders.h"

#include <QString>

namespace kitround::desk {

// Everything computed for supplies, kept together because each part feeds the next.
struct StockPicture {
    AgencyPtr agency;
    forecast::AgencyFigures figures;           // what the caseload taught: to ask one home anew
    std::vector<forecast::ItemForecast> homes; // all catheters in service x items
    std::vector<supply::RefillProposal> refills;
    std::vector<supply::SupplierReorder> reorders;
    std::vector<supply::ExpiringLot> expiring;
};
using StockPicturePtr = std::shared_ptr<const StockPicture>;
// Progress: the forecast takes the first nine tenths. Problem Cancelled when stopped.
Result<StockPicturePtr> computeStock(AgencyPtr agency, std::stop_token stop, const ProgressSink &progress);

struct HomeRow { // one catheter and item, for the homes list
    PatientId patient;
    CatheterId catheter;
    ItemId item;
    QString patientName, place, itemName; // place: "chest, right"
    forecast::StockKnowledge knowledge = forecast::StockKnowledge::Unknown;
    Eaches onHand;
    Eaches recalled; // of those, at most: of a recalled lot, not counted as stock
    Eaches expired;  // of those, besides: past its last day, not counted as stock
    QString recall;  // "up to 14 of recalled lot L1"; also where it is set aside
    QString past;    // "4 of lot L2, past its last day Wed 1 Jan 2025"
    std::optional<Date> runOutP10, runOutP50;
    double chanceDry7 = 0; // within 7 days; means nothing where the stock is unknown
    double daysOfSupply = 0;
    std::optional<Date> refillBy;
    bool isOnHold = false;
    QString standIn;          // "2 × Kit 500 for 1 × Kit 1000 until Tue 1 Dec"; empty where none stands in
    QString promised;         // "11 promised for Fri 20 Nov": not on its way yet
    std::size_t forecast = 0; // index into StockPicture::homes

    Eaches usable() const { return onHand - recalled - expired; }
};
// Riskiest first: homes whose chance of running dry within 7 days is above the agency's target, then homes
// whose stock is unknown, then the others, those on hold last.
std::vector<HomeRow> homeRows(const StockPicture &picture);

struct StoreroomRow {
    ItemId item;
    QString code, name;
    Eaches storeroom, free, promised, cars, transit, homes, quarantine, onOrder;
    double weeklyMean = 0;           // expected demand on the storeroom, next 4 weeks
    std::optional<Eaches> orderUpTo; // the level the reorder list fills up to; none for what is given up
    bool isToReorder = false;        // it is on that list
    std::optional<Date> nextReceipt; // of what is on order, else of an order sent now
    // Of the shelf being empty before the next receipt, or before an order sent now could come, if that is
    // more.
    double chanceShort = 0;
    bool mayRunShort = false; // that chance is more than the item's service level allows
    double daysOfStock = 0;   // free stock over expected demand a day; at most 999, which means no demand
    std::optional<Date> firstExpiry;
    int lots = 0;
    bool isBackordered = false;
    bool hasRecall = false;
};
// By code. Stopped, it gives what it has.
std::vector<StoreroomRow> storeroomRows(const StockPicture &picture, const std::stop_token &stop = {});

// The same with what wants a person first: a recalled lot, more promised than is there, what may run short or
// is late from the supplier, what is to be ordered; of these the likeliest to run short first.
void sortByRisk(std::vector<StoreroomRow> &rows);

// Headless tables, with stable keys (documented in DEVELOPERS.md). Patients by code and initials; dates in
// ISO.
Table forecastTable(const StockPicture &picture); // riskiest first
Table refillTable(const StockPicture &picture);   // one row a line
Table reorderTable(const StockPicture &picture);  // one row a line
Table storeroomTable(const StockPicture &picture);
Table purchaseOrderTable(const Agency &agency, const PurchaseOrder &order); // one row a line
// Drafts of purchase orders from the reorder list, for saving after review. Lines without a supplier are left
// out.
std::vector<PurchaseOrder> draftOrders(const StockPicture &picture);

} // namespace kitround::desk

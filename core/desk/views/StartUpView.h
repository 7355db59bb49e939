#pragma once
// First deliveries of new catheters as the clerk reads them.
#include "core/desk/views/StockView.h"
#include "core/supply/StartUps.h"

namespace kitround::desk {

struct StartUpRow {
    supply::StartUp start;
    QString who, catheter; // catheter: "chest, right, line A"
    QString items;         // "10 × Drainage kit 500 mL"
    QString gaps;          // what does not fit or is missing, and whom to ask; empty where nothing is
    QString way;           // "nurse, Tue 1 Dec"
    bool mayPromise = false;
};
std::vector<StartUpRow> startUpRows(const StockPicture &picture); // by first drain
// A row an item to send; one without an item where nothing can be chosen. Codes and initials, no names.
Table startUpTable(const StockPicture &picture);
QString startUpNote(const AgencySettings &settings);

} // namespace kitround::desk

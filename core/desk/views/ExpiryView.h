#pragma once
// What falls due within the bands of the settings, place by place, with what is expected to be lost and what
// to do.
#include "core/desk/views/StockView.h"
#include "core/desk/words/Words.h"
#include "core/supply/ExpiryList.h"

namespace kitround::desk {

struct ExpiryRow {
    supply::ExpiryLine line;
    QString item, lot, place, due; // due: "within 30 days", "past its last day"
    QString action;                // what to do, as a sentence
    bool isRemovable = false;      // ours to write off or give back
};
// Soonest first.
std::vector<ExpiryRow> expiryRows(const StockPicture &picture, PatientNamed named = PatientNamed::InFull);
QString dueText(int band); // 0: "past its last day"; else "within 30 days"
// The bands one may choose, soonest first: past the last day, then those of the settings.
std::vector<int> dueBands(const AgencySettings &settings);
QString nothingDueText(const AgencySettings &settings);
Table expiryTable(const StockPicture &picture);
QString expiryNote(); // how use and loss were worked out

} // namespace kitround::desk

#pragma once
// The month's books as people read them: item by item, with the sums and what they rest on.
#include "core/desk/Desk.h"
#include "core/desk/Table.h"

#include <QStringList>

namespace kitround::desk {

struct MonthRow {
    MonthLine line;
    QString item, price; // price: "120.00 USD for 10", marked where it was not paid
    Money value;         // of the closing
    std::optional<double> usePerDay;
};
std::vector<MonthRow> monthRows(const Agency &agency, const MonthClose &close); // by item code
QString priceText(const MonthLine &line, const std::string &currency);
// Stock in money, patient-days, use, spoilage, expired: each with what it is made of.
QStringList monthFigures(const Agency &agency, const MonthClose &close);
// What the columns mean and where the price comes from; the same on screen and paper.
QStringList monthNotes();
// "Open" or "closed by ... on ..."; tells also why it was opened again.
QString monthState(const Agency &agency, const supply::MonthBooks &books);
Table monthTable(const Agency &agency, const MonthClose &close);

} // namespace kitround::desk

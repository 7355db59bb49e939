#include "core/desk/views/MonthView.h"

#include "core/desk/views/Cells.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"

#include <algorithm>

namespace kitround::desk {
namespace {

QString percent(std::optional<double> share) {
    return share ? Text::tr("%1 %").arg(QString::number(*share * 100, 'f', 1)) : Text::tr("not known");
}

QString perDayText(std::optional<double> perDay) {
    return perDay ? QString::number(*perDay, 'f', 3) : Text::tr("not known");
}

} // namespace

QString priceText(const MonthLine &line, const std::string &currency) {
    if (line.price == PriceSource::None)
        return Text::tr("no price known");
    return (line.price == PriceSource::LastPaid ? Text::tr("%1 for %2")
                                                : Text::tr("%1 for %2, by today's offer"))
        .arg(moneyText(line.perCase, currency), numberText(line.pack.eachesPerCase.count()));
}

std::vector<MonthRow> monthRows(const Agency &agency, const MonthClose &close) {
    std::vector<MonthRow> rows;
    for (const MonthLine &line : close.lines) {
        const Item *item = agency.index().item(line.item);
        rows.push_back({line, item ? fromStd(item->name) : Text::tr("an unknown item"),
                        priceText(line, agency.settings().currency), supply::valueOf(line, line.closing),
                        supply::usePerPatientDay(close, line.homeUsed)});
    }
    std::ranges::stable_sort(rows, {},
                             [&](const MonthRow &r) { return codeOf(agency.index(), r.line.item); });
    return rows;
}

QStringList monthFigures(const Agency &agency, const MonthClose &close) {
    const supply::MonthTotals totals = supply::totalsOf(close);
    const auto money = [&](Money amount) { return moneyText(amount, agency.settings().currency); };
    QStringList lines;
    lines << Text::tr("Stock %1 at the start, %2 at the end; received %3, given back %4, issued and used %5, "
                      "written off %6, counts and corrections %7.")
                 .arg(money(totals.opening), money(totals.closing), money(totals.received),
                      money(totals.returned), money(totals.issued), money(totals.wasted),
                      money(totals.adjusted));
    lines << Text::tr("%1 used in homes over %2 patient-days: %3 a patient-day.")
                 .arg(counted(totals.homeUsed, Text::tr("1 each"), Text::tr("%1 eaches")),
                      numberText(close.patientDays),
                      perDayText(supply::usePerPatientDay(close, Eaches::of(totals.homeUsed))));
    lines << Text::tr("Spoilage %1: %2 wasted with us and in homes, the expired among them, of %3 issued.")
                 .arg(percent(supply::spoilageOf(totals)), numberText(totals.wastedEaches),
                      numberText(totals.issuedEaches));
    lines << Text::tr("Expired and written off %1; expired and still on hand %2.")
                 .arg(money(totals.expired), money(totals.expiredOnHand));
    return lines;
}

QStringList monthNotes() {
    return {
        Text::tr("Cost: the last price paid each, by the order of the newest receipt up to the month's "
                 "last day; where nothing was received within a year, today's best offer, marked so."),
        Text::tr("Stock is the agency's own: storeroom, quarantine, cars and parcels under way. What "
                 "stands in a home is the patient's. Closing = opening + received - given back - issued - "
                 "used - written off + counts; it is tied to the ledger at the end of the last day."),
        Text::tr("Patient-days: from start of care to the day before the exit; days away without "
                 "draining are taken out.")};
}

QString monthState(const Agency &agency, const supply::MonthBooks &books) {
    const MonthClose &close = books.close;
    if (!books.untied.empty())
        return Text::tr(
                   "The movements do not lead to what the ledger says for %1. Run the check of the file.")
            .arg(fromStd(nameOf(agency.index(), books.untied.front().item)));
    if (close.isClosed)
        return Text::tr("Closed by %1 on %2 %3.")
            .arg(fromStd(close.closedBy), dayText(close.closedAt.date),
                 QString::number(close.closedAt.date.year()));
    if (!close.reopenReason.empty())
        return Text::tr("Opened again: %1. Tied to the ledger.").arg(fromStd(close.reopenReason));
    return monthAfter(close.month) > agency.today()
               ? Text::tr("Running; the figures are those so far. Tied to the ledger.")
               : Text::tr("Open; it may be closed. Tied to the ledger.");
}

Table monthTable(const Agency &agency, const MonthClose &close) {
    Table table;
    table.title = Text::tr("Supplies in %1").arg(monthText(close.month)).toStdString();
    table.key = "month";
    table.columns = {textColumn(Text::tr("Item"), "item"),
                     inCopies(textColumn(Text::tr("Name"), "name")),
                     numberColumn(Text::tr("Opening"), "opening"),
                     numberColumn(Text::tr("Received"), "received"),
                     numberColumn(Text::tr("Given back"), "returned"),
                     numberColumn(Text::tr("Issued"), "issued"),
                     numberColumn(Text::tr("Used"), "used"),
                     numberColumn(Text::tr("Written off"), "wasted"),
                     numberColumn(Text::tr("Counts"), "adjusted"),
                     numberColumn(Text::tr("Closing"), "closing"),
                     numberColumn(Text::tr("A case"), "price_minor"),
                     numberColumn(Text::tr("Eaches a case"), "eaches_per_case"),
                     inCopies(textColumn(Text::tr("Price is"), "price_source")),
                     numberColumn(Text::tr("Value"), "value_minor"),
                     inCopies(numberColumn(Text::tr("Expired of written off"), "expired")),
                     inCopies(numberColumn(Text::tr("Expired on hand"), "expired_on_hand")),
                     numberColumn(Text::tr("Used in homes"), "home_used"),
                     inCopies(numberColumn(Text::tr("Wasted in homes"), "home_wasted")),
                     numberColumn(Text::tr("A patient-day"), "use_per_patient_day")};
    const auto source = [](PriceSource s) {
        return std::string(s == PriceSource::LastPaid ? "last_paid"
                           : s == PriceSource::Offer  ? "offer"
                                                      : "none");
    };
    for (const MonthRow &row : monthRows(agency, close)) {
        const MonthLine &l = row.line;
        table.rows.push_back({codeOf(agency.index(), l.item), nameOf(agency.index(), l.item),
                              cell(l.opening.count()), cell(l.received.count()), cell(l.returned.count()),
                              cell(l.issued.count()), cell(l.used.count()), cell(l.wasted.count()),
                              cell(l.adjusted.count()), cell(l.closing.count()), cell(l.perCase.count()),
                              cell(l.pack.eachesPerCase.count()), source(l.price), cell(row.value.count()),
                              cell(l.expired.count()), cell(l.expiredOnHand.count()),
                              cell(l.homeUsed.count()), cell(l.homeWasted.count()),
                              row.usePerDay ? cell(*row.usePerDay, 3) : std::string()});
    }
    for (const QString &line : monthFigures(agency, close) + monthNotes())
        table.notes.push_back(line.toStdString());
    return table;
}

} // namespace kitround::desk

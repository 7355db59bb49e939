#include "core/desk/views/BudgetView.h"
#include "core/desk/views/Cells.h"
#include "core/desk/views/StockView.h"
#include "core/desk/words/Reasons.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"

namespace kitround::desk {
namespace {

constexpr std::size_t kWeeksShown = 4;

void addNotes(Table &table, const AgencySettings &settings) {
    table.notes.push_back(planningCaution().toStdString());
    if (settings.isInvented)
        table.notes.push_back(inventedMark().toStdString());
}

void addWeekColumns(Table &table) {
    for (std::size_t w = 1; w <= kWeeksShown; ++w) {
        const QString week = Text::tr("Week %1").arg(w);
        const std::string key = "week" + std::to_string(w);
        table.columns.push_back(
            inText({Text::tr("%1: mean, 10-50-90").arg(week).toStdString(), key, Align::Right, false, {}}));
        for (const char *part : {"mean", "p10", "p50", "p90", "plain"})
            table.columns.push_back(inCopies({week.toStdString(), key + "_" + part, Align::Right, true, {}}));
    }
}

void addWeeks(std::vector<std::string> &row, const forecast::ItemForecast &home) {
    for (std::size_t w = 0; w < kWeeksShown; ++w) {
        if (w < home.weeks.size()) {
            const forecast::WeekUse &use = home.weeks[w];
            const std::string p10 = cell(use.p10), p50 = cell(use.p50), p90 = cell(use.p90);
            row.push_back(cell(use.mean, 1) + ", " + p10 + "-" + p50 + "-" + p90);
            row.insert(row.end(), {cell(use.mean, 1), p10, p50, p90});
        } else
            row.insert(row.end(), 5, std::string());
        row.push_back(w < home.plain.weeks() ? cell(home.plain.inWeek(w)) : std::string());
    }
}

} // namespace

Table forecastTable(const StockPicture &picture) {
    const SnapshotIndex &index = picture.agency->index();
    Table table;
    table.title = Text::tr("Stock in the homes, riskiest first").toStdString();
    table.key = "forecast";
    table.columns = {textColumn(Text::tr("Patient"), "patient"),
                     textColumn(Text::tr("Initials"), "initials"),
                     inCopies(textColumn(Text::tr("Catheter"), "catheter")),
                     textColumn(Text::tr("Item"), "item"),
                     textColumn(Text::tr("Stock is"), "stock_is"),
                     numberColumn(Text::tr("On hand"), "on_hand"),
                     inCopies(numberColumn(Text::tr("Of these recalled or expired"), "not_usable")),
                     inCopies(numberColumn(Text::tr("On the way"), "in_transit")),
                     inCopies(numberColumn(Text::tr("Promised"), "promised")),
                     textColumn(Text::tr("Run out (1 in 10)"), "run_out_p10"),
                     textColumn(Text::tr("Run out (middle)"), "run_out_p50"),
                     inCopies(textColumn(Text::tr("Run out (9 in 10)"), "run_out_p90")),
                     numberColumn(Text::tr("Dry in 7 days, %"), "dry_7_percent"),
                     numberColumn(Text::tr("Days of supply"), "days_of_supply"),
                     textColumn(Text::tr("Supply ends by rule"), "plain_supply_ends"),
                     textColumn(Text::tr("Refill by"), "refill_by"),
                     inCopies(textColumn(Text::tr("On hold"), "on_hold")),
                     inCopies(textColumn(Text::tr("Assumed"), "is_assumed"))};
    addWeekColumns(table);
    for (const HomeRow &r : homeRows(picture)) {
        const forecast::ItemForecast &home = picture.homes[r.forecast];
        const bool isKnown = home.knowledge != forecast::StockKnowledge::Unknown;
        const auto known = [&](std::string text) { return isKnown ? std::move(text) : std::string(); };
        std::vector<std::string> row{codeOf(index, r.patient),
                                     initialsOf(index, r.patient),
                                     placeOf(index, r.catheter),
                                     codeOf(index, r.item),
                                     cell(words(home.knowledge)),
                                     known(cell(home.onHand.count())),
                                     known(cell((home.recalled + home.expired).count())),
                                     cell(home.inTransit.count()),
                                     cell(home.promised.count()),
                                     known(cell(home.runOutP10)),
                                     known(cell(home.runOutP50)),
                                     known(cell(home.runOutP90)),
                                     known(cell(100 * r.chanceDry7, 1)),
                                     known(cell(home.daysOfSupply, 1)),
                                     known(cell(home.plain.supplyEnds)),
                                     cell(r.refillBy),
                                     yesNo(home.isOnHold),
                                     yesNo(home.model.isFromDefaults)};
        addWeeks(row, home);
        table.rows.push_back(std::move(row));
    }
    table.notes.push_back(
        Text::tr("Weeks count from today; 10, 50 and 90 are the use that is not exceeded in 10, 50 and "
                 "90 of 100 cases; rule is sessions times units. Empty cells are unknown, not zero.")
            .toStdString());
    addNotes(table, picture.agency->settings());
    return table;
}

Table refillTable(const StockPicture &picture) {
    const SnapshotIndex &index = picture.agency->index();
    Table table;
    table.title = Text::tr("Refills to agree with the homes").toStdString();
    table.key = "refills";
    table.columns = {textColumn(Text::tr("Urgency"), "urgency"),
                     textColumn(Text::tr("Patient"), "patient"),
                     textColumn(Text::tr("Initials"), "initials"),
                     inCopies(textColumn(Text::tr("Catheter"), "catheter")),
                     textColumn(Text::tr("Item"), "item"),
                     numberColumn(Text::tr("Send"), "quantity"),
                     inCopies(numberColumn(Text::tr("On hand"), "on_hand")),
                     inCopies(textColumn(Text::tr("Call from"), "call_from")),
                     textColumn(Text::tr("Call by"), "call_by"),
                     inCopies(textColumn(Text::tr("Deliver from"), "deliver_from")),
                     inCopies(textColumn(Text::tr("Deliver by"), "deliver_by")),
                     textColumn(Text::tr("Deliver on"), "deliver_on"),
                     inCopies(textColumn(Text::tr("Way"), "way")),
                     inCopies(numberColumn(Text::tr("Dry if not sent, %"), "dry_if_not_percent")),
                     inCopies(textColumn(Text::tr("Count first"), "count_first")),
                     textColumn(Text::tr("Why"), "reason")};
    for (const supply::RefillProposal &p : picture.refills)
        for (const supply::RefillLine &line : p.lines)
            table.rows.push_back({cell(words(p.urgency)), codeOf(index, p.patient),
                                  initialsOf(index, p.patient), placeOf(index, line.catheter),
                                  codeOf(index, line.item), cell(line.quantity.count()),
                                  p.stockIsUnknown ? std::string() : cell(line.onHand.count()),
                                  cell(p.callFrom), cell(p.callBy), cell(p.deliverFrom), cell(p.deliverBy),
                                  cell(p.deliverOn), cell(words(p.way)), cell(100 * line.chanceDryIfNot, 1),
                                  yesNo(p.stockIsUnknown), cell(reason(line, index))});
    table.notes.push_back(
        Text::tr("A call list: nothing is sent without a yes from the home.").toStdString());
    addNotes(table, picture.agency->settings());
    return table;
}

Table reorderTable(const StockPicture &picture) {
    const SnapshotIndex &index = picture.agency->index();
    Table table;
    table.title = Text::tr("Orders to place").toStdString();
    table.key = "reorders";
    table.columns = {textColumn(Text::tr("Supplier"), "supplier"),
                     textColumn(Text::tr("Order on"), "order_on"),
                     textColumn(Text::tr("Item"), "item"),
                     inCopies(textColumn(Text::tr("Name"), "name")),
                     numberColumn(Text::tr("Cases"), "cases"),
                     inCopies(numberColumn(Text::tr("Eaches"), "eaches")),
                     inCopies(numberColumn(Text::tr("On the shelf"), "storeroom")),
                     inCopies(numberColumn(Text::tr("Promised"), "promised")),
                     inCopies(numberColumn(Text::tr("On order"), "on_order")),
                     inCopies(numberColumn(Text::tr("Expiring"), "expiring")),
                     inCopies(numberColumn(Text::tr("Position"), "position")),
                     inCopies(numberColumn(Text::tr("Expected need"), "demand_mean")),
                     inCopies(numberColumn(Text::tr("Over days"), "cover_days")),
                     inCopies(numberColumn(Text::tr("Level"), "order_up_to")),
                     inCopies(numberColumn(Text::tr("Need"), "exact_need")),
                     numberColumn(Text::tr("Line total"), "line_total_minor"),
                     textColumn(Text::tr("Expected"), "expected_on"),
                     inCopies(textColumn(Text::tr("Minimum met"), "meets_minimum")),
                     textColumn(Text::tr("Why"), "reason")};
    Money total;
    for (const supply::SupplierReorder &order : picture.reorders) {
        const Supplier *supplier = index.supplier(order.supplier);
        total += order.total;
        for (const supply::ReorderLine &line : order.lines)
            table.rows.push_back(
                {supplier ? supplier->name : std::string(), cell(order.orderOn), codeOf(index, line.item),
                 nameOf(index, line.item), cell(line.cases.count()),
                 cell(toEaches(line.cases, line.pack).count()), cell(line.storeroom.count()),
                 cell(line.promised.count()), cell(line.onOrder.count()), cell(line.expiring.count()),
                 cell(line.position.count()), cell(line.demandMean, 1), cell(line.coverDays.count()),
                 cell(line.orderUpTo.count()), cell(line.exactNeed.count()), cell(line.lineTotal.count()),
                 cell(line.expectedOn), yesNo(order.meetsMinimum), cell(reason(line, index))});
    }
    table.notes.push_back(
        Text::tr("Total %1.").arg(moneyText(total, picture.agency->settings().currency)).toStdString());
    if (const QString budget = budgetText(*picture.agency, total); !budget.isEmpty())
        table.notes.push_back(budget.toStdString());
    addNotes(table, picture.agency->settings());
    return table;
}

Table storeroomTable(const StockPicture &picture) {
    Table table;
    table.title = Text::tr("Storeroom").toStdString();
    table.key = "storeroom";
    table.columns = {textColumn(Text::tr("Item"), "item"),
                     textColumn(Text::tr("Name"), "name"),
                     numberColumn(Text::tr("On the shelf"), "storeroom"),
                     numberColumn(Text::tr("Free"), "free"),
                     numberColumn(Text::tr("Promised"), "promised"),
                     numberColumn(Text::tr("Cars"), "cars"),
                     numberColumn(Text::tr("On the way"), "in_transit"),
                     numberColumn(Text::tr("Homes"), "homes"),
                     numberColumn(Text::tr("Quarantine"), "quarantine"),
                     numberColumn(Text::tr("On order"), "on_order"),
                     numberColumn(Text::tr("Need a week"), "weekly_mean"),
                     numberColumn(Text::tr("Days of stock"), "days_of_stock"),
                     numberColumn(Text::tr("Level"), "order_up_to"),
                     textColumn(Text::tr("To reorder"), "to_reorder"),
                     textColumn(Text::tr("Next receipt"), "next_receipt"),
                     numberColumn(Text::tr("Runs short before, %"), "short_before_percent"),
                     textColumn(Text::tr("First expiry"), "first_expiry"),
                     textColumn(Text::tr("Backordered"), "backordered"),
                     textColumn(Text::tr("Recall"), "recall")};
    for (const StoreroomRow &r : storeroomRows(picture))
        table.rows.push_back({cell(r.code), cell(r.name), cell(r.storeroom.count()), cell(r.free.count()),
                              cell(r.promised.count()), cell(r.cars.count()), cell(r.transit.count()),
                              cell(r.homes.count()), cell(r.quarantine.count()), cell(r.onOrder.count()),
                              cell(r.weeklyMean, 1), cell(r.daysOfStock, 0),
                              r.orderUpTo ? cell(r.orderUpTo->count()) : std::string(), yesNo(r.isToReorder),
                              cell(r.nextReceipt), cell(100 * r.chanceShort, 1), cell(r.firstExpiry),
                              yesNo(r.isBackordered), yesNo(r.hasRecall)});
    addNotes(table, picture.agency->settings());
    return table;
}

Table purchaseOrderTable(const Agency &agency, const PurchaseOrder &order) {
    const SnapshotIndex &index = agency.index();
    const Supplier *supplier = index.supplier(order.supplier);
    Table table;
    table.title = Text::tr("Purchase order %1").arg(fromStd(order.number)).toStdString();
    table.key = "purchase_order";
    table.columns = {textColumn(Text::tr("Order"), "order"),
                     textColumn(Text::tr("Supplier"), "supplier"),
                     textColumn(Text::tr("Status"), "status"),
                     textColumn(Text::tr("Ordered"), "ordered_on"),
                     textColumn(Text::tr("Item"), "item"),
                     textColumn(Text::tr("Name"), "name"),
                     numberColumn(Text::tr("Cases"), "cases"),
                     numberColumn(Text::tr("Eaches"), "eaches"),
                     numberColumn(Text::tr("Received"), "received"),
                     numberColumn(Text::tr("A case"), "per_case_minor"),
                     numberColumn(Text::tr("Line total"), "line_total_minor"),
                     textColumn(Text::tr("Expected"), "expected_on"),
                     textColumn(Text::tr("Why"), "reason")};
    for (const PurchaseLine &line : order.lines)
        table.rows.push_back({order.number, supplier ? supplier->name : std::string(),
                              cell(words(order.status)), cell(order.orderedOn), codeOf(index, line.item),
                              nameOf(index, line.item), cell(line.cases.count()),
                              cell(toEaches(line.cases, line.pack).count()), cell(line.received.count()),
                              cell(line.perCase.count()), cell((line.perCase * line.cases.count()).count()),
                              cell(line.backorderedUntil ? line.backorderedUntil : order.expectedOn),
                              line.reason});
    if (agency.settings().isInvented)
        table.notes.push_back(inventedMark().toStdString());
    return table;
}

} // namespace kitround::desk

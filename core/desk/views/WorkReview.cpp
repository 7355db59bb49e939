#include "core/desk/views/WorkReview.h"

#include "core/calendar/Weeks.h"
#include "core/desk/views/Cells.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"

#include <algorithm>
#include <functional>

namespace kitround::desk {
namespace {

std::vector<std::string> workCells(const caseload::WorkDone &done) {
    const double miles = inMiles(done.driven);
    return {cell(std::int64_t{done.visits}),  cell(done.days, 1),
            cell(done.visitsADay(), 1),       cell(100 * done.travelShare(), 0),
            cell(done.inHome.count()),        cell(done.notes.count()),
            cell(done.road.count()),          cell(miles, 0),
            cell(inMiles(done.estimated), 0), cell(done.visits > 0 ? miles / done.visits : 0, 1)};
}

std::vector<Column> workColumns() {
    return {numberColumn(Text::tr("Visits"), "visits"),
            numberColumn(Text::tr("Days"), "days"),
            numberColumn(Text::tr("Visits a day"), "visits_a_day"),
            numberColumn(Text::tr("Travel, %"), "travel_percent"),
            numberColumn(Text::tr("In homes, min"), "in_homes_min"),
            numberColumn(Text::tr("Notes, min"), "notes_min"),
            numberColumn(Text::tr("Road, min"), "road_min"),
            numberColumn(Text::tr("Miles"), "miles"),
            numberColumn(Text::tr("Of them estimated"), "miles_estimated"),
            numberColumn(Text::tr("Miles a visit"), "miles_a_visit")};
}

std::string moneyCell(Money amount) {
    return cell(static_cast<double>(amount.count()) / 100, 2);
}

std::vector<std::string> costCells(const QString &whose, const caseload::WorkCost &cost, bool isPayTold) {
    return {cell(whose),
            cell(std::int64_t{cost.visits}),
            cell(inMiles(cost.paidWay), 0),
            moneyCell(cost.mileage),
            cell(cost.overtime.count()),
            isPayTold ? moneyCell(cost.overtimePay) : std::string(),
            cell(std::int64_t{cost.courierRuns}),
            moneyCell(cost.couriers),
            moneyCell(cost.supplies),
            moneyCell(cost.sum())};
}

// Nothing where nothing is left out.
QString leftOutText(const caseload::Productivity &work) {
    QStringList left;
    if (work.drainsWithoutSupplies > 0)
        left << counted(work.drainsWithoutSupplies, Text::tr("1 drain logged without what was opened"),
                        Text::tr("%1 drains logged without what was opened"));
    if (work.itemsWithoutPrice > 0)
        left << counted(work.itemsWithoutPrice, Text::tr("1 item without a price"),
                        Text::tr("%1 items without a price"));
    return left.isEmpty() ? QString() : Text::tr(" Not in it: %1.").arg(left.join(Text::tr(" and ")));
}

Table workCostTable(const caseload::Productivity &work, const std::vector<caseload::WorkCost> &costs,
                    const Agency &agency, const std::function<QString(const caseload::WorkCost &)> &whose) {
    Table table;
    table.columns = {numberColumn(Text::tr("Visits"), "visits"),
                     numberColumn(Text::tr("Miles paid"), "miles_paid"),
                     numberColumn(Text::tr("Mileage"), "mileage"),
                     numberColumn(Text::tr("Overtime, min"), "overtime_min"),
                     numberColumn(Text::tr("Overtime pay"), "overtime_pay"),
                     numberColumn(Text::tr("Courier runs"), "courier_runs"),
                     numberColumn(Text::tr("Couriers"), "couriers"),
                     numberColumn(Text::tr("Supplies"), "supplies"),
                     numberColumn(Text::tr("In all"), "in_all")};
    const bool isPayTold = agency.settings()[SettingKey::OvertimeHourMinor] > 0;
    for (const caseload::WorkCost &cost : costs)
        table.rows.push_back(costCells(whose(cost), cost, isPayTold));
    table.endsWithSum = !costs.empty();
    if (table.endsWithSum)
        table.rows.push_back(costCells(Text::tr("Sum"), caseload::wholeCost(costs), isPayTold));
    table.notes.push_back(
        Text::tr("%1 to %2, in %3. Miles as read off the car; estimated ones are not paid. Couriers at the "
                 "price of a run (Settings), supplies at the preferred offer's price.%4")
            .arg(dayText(work.days.from), dayText(work.days.to.plusDays(-1)),
                 fromStd(agency.settings().currency), leftOutText(work))
            .toStdString());
    if (!isPayTold)
        table.notes.push_back(Text::tr("Overtime stands in minutes only and is in no sum of money: enter "
                                       "\"%1\" in Settings to see its pay.")
                                  .arg(label(SettingKey::OvertimeHourMinor))
                                  .toStdString());
    return table;
}

void addWorkNotes(Table &table, const caseload::Productivity &work) {
    table.notes.push_back(
        Text::tr("%1 to %2. Rural and city nurses are not compared by visits a day alone: read it with the "
                 "travel share beside it, and compare within an area.")
            .arg(dayText(work.days.from), dayText(work.days.to.plusDays(-1)))
            .toStdString());
    table.notes.push_back(
        Text::tr(
            "Minutes on the road are worked out from the miles on record and the speed "
            "of the patient's area (Settings). Estimated miles come from the map and not from a car: they "
            "are not paid as driven.")
            .toStdString());
}

} // namespace

DateRange wholeWeeksBack(const Agency &agency, int weeks) {
    const Date thisWeek = calendar::weekStartOf(agency.today(), agency.settings().weekStart);
    return {thisWeek.plusDays(-7 * std::clamp(weeks, 1, 13)), thisWeek};
}

Table nurseCostTable(const caseload::Productivity &work, const Agency &agency) {
    Table table = workCostTable(
        work, caseload::workCosts(work, agency.index()).byNurse, agency, [&](const caseload::WorkCost &cost) {
            return cost.nurse ? fromStd(nurseOf(agency.index(), *cost.nurse)) : Text::tr("no main nurse");
        });
    table.title = Text::tr("Cost by nurse").toStdString();
    table.key = "cost_by_nurse";
    table.columns.insert(table.columns.begin(), textColumn(Text::tr("Nurse"), "nurse"));
    table.notes.push_back(Text::tr("A visit by two nurses counts for both. Couriers and supplies stand with "
                                   "the home's main nurse.")
                              .toStdString());
    return table;
}

Table areaCostTable(const caseload::Productivity &work, const Agency &agency) {
    Table table = workCostTable(work, caseload::workCosts(work, agency.index()).byArea, agency,
                                [](const caseload::WorkCost &cost) { return words(cost.area); });
    table.title = Text::tr("Cost by area").toStdString();
    table.key = "cost_by_area";
    table.columns.insert(table.columns.begin(), textColumn(Text::tr("Area"), "area"));
    table.notes.push_back(
        Text::tr("A nurse's overtime is shared out by the minutes in each area that week.").toStdString());
    return table;
}

Table nurseWorkTable(const caseload::Productivity &work, const Agency &agency) {
    Table table;
    table.title = Text::tr("Work done by nurse").toStdString();
    table.key = "work_by_nurse";
    table.columns = workColumns();
    table.columns.insert(table.columns.begin(),
                         {textColumn(Text::tr("Nurse"), "nurse"), textColumn(Text::tr("Mostly"), "mostly")});
    table.columns.push_back(numberColumn(Text::tr("Overtime, min"), "overtime_min"));
    for (const caseload::NurseWork &w : work.nurses) {
        std::vector<std::string> cells = workCells(w.done);
        cells.insert(cells.begin(), {nurseOf(agency.index(), w.nurse), cell(words(w.mostly()))});
        cells.push_back(cell(w.done.overtime.count()));
        table.rows.push_back(std::move(cells));
    }
    addWorkNotes(table, work);
    return table;
}

Table areaWorkTable(const caseload::Productivity &work, const Agency &) {
    Table table;
    table.title = Text::tr("Work done by area").toStdString();
    table.key = "work_by_area";
    table.columns = workColumns();
    table.columns.insert(table.columns.begin(), textColumn(Text::tr("Area"), "area"));
    for (const caseload::AreaWork &w : work.areas) {
        std::vector<std::string> cells = workCells(w.done);
        cells.insert(cells.begin(), cell(words(w.area)));
        table.rows.push_back(std::move(cells));
    }
    addWorkNotes(table, work);
    return table;
}

Table kindWorkTable(const caseload::Productivity &work, const Agency &) {
    Table table;
    table.title = Text::tr("Minutes by kind of visit").toStdString();
    table.key = "work_by_kind";
    table.columns = {textColumn(Text::tr("Visit"), "visit"),
                     numberColumn(Text::tr("Visits"), "visits"),
                     numberColumn(Text::tr("Mean in the home, min"), "mean_min"),
                     numberColumn(Text::tr("Planned, min"), "planned_min"),
                     numberColumn(Text::tr("In homes, min"), "in_homes_min"),
                     numberColumn(Text::tr("Notes, min"), "notes_min")};
    for (const caseload::KindWork &w : work.kinds)
        table.rows.push_back({cell(words(w.kind)), cell(std::int64_t{w.visits}),
                              cell(static_cast<double>(w.inHome.count()) / w.visits, 0),
                              cell(static_cast<double>(w.planned.count()) / w.visits, 0),
                              cell(w.inHome.count()), cell(w.notes.count())});
    return table;
}

Table supplyCostTable(const caseload::Productivity &work, const Agency &agency) {
    Table table;
    table.title = Text::tr("Supplies a patient-day").toStdString();
    table.key = "supply_cost";
    table.columns = {textColumn(Text::tr("Main nurse, or area"), "whose"),
                     numberColumn(Text::tr("Patient-days"), "patient_days"),
                     numberColumn(Text::tr("Eaches opened"), "eaches"),
                     numberColumn(Text::tr("Eaches a patient-day"), "eaches_a_day"),
                     numberColumn(Text::tr("Cost"), "cost"),
                     numberColumn(Text::tr("Cost a patient-day"), "cost_a_day")};
    const auto add = [&](const QString &whose, const caseload::SupplyCost &c) {
        const double days = static_cast<double>(c.patientDays);
        table.rows.push_back({cell(whose), cell(c.patientDays), cell(c.used.count()),
                              cell(days > 0 ? static_cast<double>(c.used.count()) / days : 0, 2),
                              cell(c.costMinor / 100, 2), cell(c.perPatientDayMinor() / 100, 2)});
    };
    for (const caseload::SupplyCost &c : work.suppliesByNurse)
        add(c.mainNurse ? fromStd(nurseOf(agency.index(), *c.mainNurse)) : Text::tr("no main nurse"), c);
    for (const caseload::SupplyCost &c : work.suppliesByArea)
        add(Text::tr("area: %1").arg(words(c.area)), c);
    table.notes.push_back(Text::tr("In %1. Opened and lost, at the preferred offer's price.%2")
                              .arg(fromStd(agency.settings().currency), leftOutText(work))
                              .toStdString());
    return table;
}

std::vector<Table> workTables(const caseload::Productivity &work, const Agency &agency) {
    return {nurseCostTable(work, agency), areaCostTable(work, agency), nurseWorkTable(work, agency),
            areaWorkTable(work, agency),  kindWorkTable(work, agency), supplyCostTable(work, agency)};
}

} // namespace kitround::desk

#include "core/desk/views/CaseloadView.h"

#include "core/desk/views/Cells.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"

namespace kitround::desk {
namespace {} // namespace

caseload::LoadReview loadReview(const WeekPicture &week) {
    return loadReview(week, week.week);
}

caseload::LoadReview loadReview(const WeekPicture &week, DateRange days) {
    return caseload::reviewLoad(week.agency->index(), days, week.due, week.problem, week.plan);
}

Table loadTable(const WeekPicture &week, const caseload::LoadReview &review) {
    const AgencySettings &settings = week.agency->settings();
    Table table;
    table.title = Text::tr("Load, week of %1").arg(dayText(review.week.from)).toStdString();
    table.key = "load";
    table.columns = {textColumn(Text::tr("Nurse"), "nurse"),
                     numberColumn(Text::tr("Visits"), "visits"),
                     numberColumn(Text::tr("Most a day"), "most_a_day"),
                     numberColumn(Text::tr("Direct, min"), "direct_min"),
                     numberColumn(Text::tr("Travel, min"), "travel_min"),
                     numberColumn(Text::tr("Waiting, min"), "waiting_min"),
                     numberColumn(Text::tr("Notes, min"), "notes_min"),
                     numberColumn(Text::tr("Capacity, min"), "capacity_min"),
                     numberColumn(Text::tr("Share, %"), "share_percent"),
                     numberColumn(Text::tr("Overtime, min"), "overtime_min"),
                     numberColumn(Text::tr("Points"), "points"),
                     numberColumn(Text::tr("Points in full"), "points_capacity"),
                     numberColumn(Text::tr("Miles"), "miles"),
                     numberColumn(Text::tr("Mileage"), "mileage_minor"),
                     numberColumn(Text::tr("Patients"), "patients"),
                     textColumn(Text::tr("Load"), "sign")};
    for (const caseload::NurseLoad &n : review.nurses)
        table.rows.push_back(
            {nurseOf(week.agency->index(), n.nurse), cell(std::int64_t{n.visits}),
             cell(std::int64_t{n.mostVisitsInADay}), cell(n.direct.count()), cell(n.travel.count()),
             cell(n.waiting.count()), cell(n.notes.count()), cell(n.capacity.count()),
             n.capacity.count() > 0 ? cell(100 * n.share, 0) : std::string(), cell(n.overtime.count()),
             cell(n.points, 2), cell(n.pointsCapacity, 2), cell(inMiles(n.driven), 1),
             cell(n.mileage.count()), cell(std::int64_t{n.patients}), cell(words(n.sign))});
    table.notes.push_back(
        Text::tr("%1 placed, %2 not placed, %3 missed, %4 with two nurses; overtime %5 min; mileage %6.")
            .arg(numberText(review.placed), numberText(review.unplaced), numberText(review.missed),
                 numberText(review.twoNurse), numberText(review.overtime.count()),
                 moneyText(review.mileage, settings.currency))
            .toStdString());
    table.notes.push_back(Text::tr("Evenness of points: Gini %1 (0 is even), Jain %2 (1 is even).")
                              .arg(QString::number(review.gini, 'f', 3), QString::number(review.jain, 'f', 3))
                              .toStdString());
    table.notes.push_back(
        Text::tr("Share counts visits, travel, waiting and notes against shift minutes.").toStdString());
    if (settings.isInvented)
        table.notes.push_back(inventedMark().toStdString());
    return table;
}

Table continuityTable(const WeekPicture &week, const caseload::LoadReview &review) {
    const SnapshotIndex &index = week.agency->index();
    Table table;
    table.title = Text::tr("Who sees whom").toStdString();
    table.key = "continuity";
    table.columns = {textColumn(Text::tr("Patient"), "patient"), textColumn(Text::tr("Initials"), "initials"),
                     numberColumn(Text::tr("Visits"), "visits"), numberColumn(Text::tr("Nurses"), "nurses"),
                     numberColumn(Text::tr("By the main nurse, %"), "main_share_percent")};
    for (const caseload::Continuity &c : review.continuity)
        table.rows.push_back({codeOf(index, c.patient), initialsOf(index, c.patient),
                              cell(std::int64_t{c.visits}), cell(std::int64_t{c.nurses}),
                              cell(100 * c.mainShare, 0)});
    table.notes.push_back(Text::tr("Mean share by the main nurse: %1 %.")
                              .arg(QString::number(100 * review.meanMainShare, 'f', 0))
                              .toStdString());
    return table;
}

} // namespace kitround::desk

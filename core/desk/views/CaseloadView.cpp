#include "core/desk/views/CaseloadView.h"

#include "core/desk/views/Cells.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"

#include <algorithm>
#include <tuple>

namespace kitround::desk {

QString evennessText(const caseload::LoadReview &review, int decimals) {
    if (std::ranges::none_of(review.nurses, [](const caseload::NurseLoad &load) { return load.points > 0; }))
        return Text::tr("Evenness of points: nothing to compare yet.");
    return Text::tr("Evenness of points: Gini %1 (0 is even), Jain %2 (1 is even).")
        .arg(QString::number(review.gini, 'f', decimals), QString::number(review.jain, 'f', decimals));
}

QString pointsText(double points) {
    return QString::number(points, 'f', kPointsDecimals);
}

QString pointsText(const caseload::NurseLoad &load) {
    return Text::tr("%1 of %2").arg(pointsText(load.points), pointsText(load.pointsCapacity));
}

QString pointsMarkedText(const caseload::NurseLoad &load) {
    return load.isAboveFullPoints() ? Text::tr("%1, over").arg(pointsText(load)) : pointsText(load);
}

QString overtimeCountsText() {
    return Text::tr(
        "Overtime counts minutes beyond the contract of the whole week; leave and holidays do not "
        "lower it, so a share above 100 % may have none. Beyond capacity: the minutes that the "
        "share has above 100 %.");
}

QString loadOrderText() {
    return Text::tr(
        "Over full first, then nearly full, then the others; within each by share. Where the visits "
        "of one day make a nurse's week full and the share does not, the row says so.");
}

QString minutesShareText() {
    return Text::tr(
        "Share: minutes of visits, travel, waiting and notes, of shift minutes less breaks and "
        "time off, at most the contract. Travel of visits made: worked out from the miles driven, else "
        "from the map.");
}

QString continuityDaysText(const caseload::LoadReview &review, Date today) {
    const DateRange days = caseload::continuityDays(review.week);
    return Text::tr("Visits made and planned from %1 to %2.")
        .arg(dayText(days.from, today), dayText(days.to.plusDays(-1), today));
}

QString mainNurseText() {
    return Text::tr("The main nurse is the one on record; where none is named, the nurse seen most.");
}

QString pointsShareText() {
    return Text::tr(
        "Percent: points, of the points of a full week by contract, less time off and holidays. It "
        "is not the share of minutes that stands under Nurses: of weeks gone by the minutes on the "
        "road are not on record. Over full goes by minutes and visits a day; above 100 % here is "
        "above a full week's points.");
}

std::vector<caseload::NurseLoad> overloadedFirst(const caseload::LoadReview &review) {
    std::vector<caseload::NurseLoad> nurses = review.nurses;
    std::ranges::stable_sort(nurses, {}, [](const caseload::NurseLoad &load) {
        return std::tuple(-static_cast<int>(load.sign), -load.share);
    });
    return nurses;
}

namespace {

bool isAboveByPointsOnly(const caseload::NurseLoad &load) {
    return load.isAboveFullPoints() && load.sign != caseload::LoadSign::Red;
}

// "3 not placed, 1 missed"; "2 not made" of those whose days are over.
QString leftVisitsText(const caseload::LoadReview &review) {
    QStringList parts;
    if (review.toPlace() > 0 || review.notMade == 0)
        parts << Text::tr("%1 not placed").arg(numberText(review.toPlace()));
    if (review.notMade > 0)
        parts << Text::tr("%1 not made").arg(numberText(review.notMade));
    parts << Text::tr("%1 missed").arg(numberText(review.missed));
    return parts.join(QStringLiteral(", "));
}

} // namespace

QString loadHeadline(const caseload::LoadReview &review) {
    if (review.placed + review.unplaced + review.missed == 0)
        return Text::tr(
            "No visit is due or planned in this week yet: visits come from the visit orders in the "
            "patients' records.");
    QStringList parts;
    if (review.toPlace() > review.placed)
        parts << Text::tr("Most visits of this week are not placed yet: plan it in the caseload calendar.");
    if (const int full = nursesOverFull(review); full > 0)
        parts << counted(full, Text::tr("1 nurse over full."), Text::tr("%1 nurses over full."));
    if (const auto above = std::ranges::count_if(review.nurses, isAboveByPointsOnly); above > 0)
        parts << counted(above, Text::tr("1 nurse not over full, but above a full week's points."),
                         Text::tr("%1 nurses not over full, but above a full week's points."));
    const QString byTwo =
        review.twoNurse > 0 ? Text::tr(" (%1 by two nurses)").arg(numberText(review.twoNurse)) : QString();
    parts << Text::tr("%1 visits placed%2, %3. Overtime %4 min, beyond capacity %5 min.")
                 .arg(numberText(review.placed), byTwo, leftVisitsText(review),
                      numberText(review.overtime.count()), numberText(review.beyondCapacity.count()));
    if (!review.continuity.empty())
        parts << Text::tr("Main nurse makes %1 % of visits on average.")
                     .arg(QString::number(100 * review.meanMainShare, 'f', 0));
    parts << evennessText(review, 2);
    return parts.join(u' ');
}

int nursesOverFull(const caseload::LoadReview &review) {
    return static_cast<int>(
        std::ranges::count(review.nurses, caseload::LoadSign::Red, &caseload::NurseLoad::sign));
}

caseload::LoadReview loadReview(const WeekPicture &week) {
    return loadReview(week, week.week);
}

caseload::LoadReview loadReview(const WeekPicture &week, DateRange days) {
    return caseload::reviewLoad(week.agency->index(), days, week.due, week.problem, week.plan);
}

Table leftTable(const caseload::LoadReview &review, const Agency &agency, PatientNamed named) {
    Table table;
    table.title = Text::tr("Not placed or missed, week of %1").arg(dayText(review.week.from)).toStdString();
    table.key = "week_left";
    table.columns = {textColumn(Text::tr("State"), "state"),    textColumn(Text::tr("Patient"), "patient"),
                     textColumn(Text::tr("Visit"), "visit"),    textColumn(Text::tr("First day"), "from"),
                     textColumn(Text::tr("Last day"), "until"), textColumn(Text::tr("To know"), "to_know")};
    for (const caseload::LeftVisit &left : review.left) {
        const bool isOver = left.days.to <= agency.today();
        QStringList know;
        if (left.isMissed) {
            know << words(left.reason);
            know << (left.prescriberTold ? Text::tr("prescriber told") : Text::tr("prescriber NOT told"));
        } else if (isOver) {
            know << Text::tr("its days are over");
        }
        table.rows.push_back({cell(left.isMissed ? Text::tr("missed")
                                   : isOver      ? Text::tr("not made")
                                                 : Text::tr("not placed")),
                              patientOf(agency.index(), left.patient, named), cell(words(left.kind)),
                              cell(left.days.from), cell(left.days.to.plusDays(-1)),
                              cell(know.join(QStringLiteral("; ")))});
    }
    if (review.toPlace() > 0)
        table.notes.push_back(
            Text::tr(
                "What stands in the way of a place, and the ways out, are told in the caseload calendar.")
                .toStdString());
    return table;
}

Table loadTable(const WeekPicture &week, const caseload::LoadReview &review) {
    const AgencySettings &settings = week.agency->settings();
    Table table;
    table.title = Text::tr("Load, week of %1").arg(dayText(review.week.from)).toStdString();
    table.key = "load";
    table.columns = {textColumn(Text::tr("Nurse"), "nurse"),
                     numberColumn(Text::tr("Visits"), "visits"),
                     numberColumn(Text::tr("New starts"), "new_starts"),
                     numberColumn(Text::tr("Most a day"), "most_a_day"),
                     numberColumn(Text::tr("Direct, min"), "direct_min"),
                     numberColumn(Text::tr("Travel, min"), "travel_min"),
                     numberColumn(Text::tr("Waiting, min"), "waiting_min"),
                     numberColumn(Text::tr("Notes, min"), "notes_min"),
                     numberColumn(Text::tr("Capacity, min"), "capacity_min"),
                     numberColumn(Text::tr("Share, %"), "share_percent"),
                     numberColumn(Text::tr("Overtime, min"), "overtime_min"),
                     numberColumn(Text::tr("Beyond capacity, min"), "beyond_capacity_min"),
                     numberColumn(Text::tr("Points"), "points"),
                     numberColumn(Text::tr("Points in full"), "points_capacity"),
                     numberColumn(Text::tr("Miles"), "miles"),
                     numberColumn(Text::tr("Mileage, %1").arg(fromStd(settings.currency)), "mileage"),
                     numberColumn(Text::tr("Patients"), "patients"),
                     textColumn(Text::tr("Load"), "sign")};
    for (const caseload::NurseLoad &n : review.nurses)
        table.rows.push_back(
            {nurseOf(week.agency->index(), n.nurse), cell(std::int64_t{n.visits}),
             cell(std::int64_t{n.starts}), cell(std::int64_t{n.mostVisitsInADay}), cell(n.direct.count()),
             cell(n.travel.count()), cell(n.waiting.count()), cell(n.notes.count()), cell(n.capacity.count()),
             n.capacity.count() > 0 ? cell(100 * n.share, 0) : std::string(), cell(n.overtime.count()),
             cell(n.beyondCapacity.count()), cell(n.points, kPointsDecimals),
             cell(n.pointsCapacity, kPointsDecimals), cell(inMiles(n.driven), 1),
             cell(static_cast<double>(n.mileage.count()) / 100, 2), cell(std::int64_t{n.patients}),
             cell(words(n.sign))});
    table.notes.push_back(
        Text::tr("%1 placed, %2, %3 by two nurses, which count for each of them above; overtime %4 min, "
                 "beyond capacity %5 min; mileage %6.")
            .arg(numberText(review.placed), leftVisitsText(review), numberText(review.twoNurse),
                 numberText(review.overtime.count()), numberText(review.beyondCapacity.count()),
                 moneyText(review.mileage, settings.currency))
            .toStdString());
    table.notes.push_back(evennessText(review, 3).toStdString());
    table.notes.push_back(minutesShareText().toStdString());
    table.notes.push_back(overtimeCountsText().toStdString());
    table.notes.push_back(
        Text::tr("Miles still to be driven are the map's: what is paid is read off the car.").toStdString());
    if (settings.isInvented)
        table.notes.push_back(inventedMark().toStdString());
    return table;
}

QString seenByText(const caseload::Continuity &continuity, const SnapshotIndex &agency) {
    QStringList seen;
    for (const caseload::NurseVisits &by : continuity.byNurse)
        seen << QStringLiteral("%1 %2").arg(fromStd(nurseOf(agency, by.nurse)), numberText(by.visits));
    return seen.join(QStringLiteral("; "));
}

Table continuityTable(const WeekPicture &week, const caseload::LoadReview &review) {
    const SnapshotIndex &index = week.agency->index();
    Table table;
    table.title = Text::tr("Who sees whom").toStdString();
    table.key = "continuity";
    table.columns = {textColumn(Text::tr("Patient"), "patient"),
                     textColumn(Text::tr("Initials"), "initials"),
                     numberColumn(Text::tr("Visits"), "visits"),
                     numberColumn(Text::tr("Nurses"), "nurses"),
                     numberColumn(Text::tr("Main nurse, %"), "main_share_percent"),
                     textColumn(Text::tr("Main nurse on record"), "primary_nurse"),
                     textColumn(Text::tr("Seen by, visits"), "seen_by")};
    for (const caseload::Continuity &c : review.continuity) {
        const Patient *patient = index.patient(c.patient);
        table.rows.push_back(
            {codeOf(index, c.patient), initialsOf(index, c.patient), cell(std::int64_t{c.visits}),
             cell(std::int64_t{c.nurses}), cell(100 * c.mainShare, 0),
             patient && patient->primaryNurse ? nurseOf(index, *patient->primaryNurse) : std::string(),
             cell(seenByText(c, index))});
    }
    table.notes.push_back(Text::tr("Mean share by the main nurse: %1 %.")
                              .arg(QString::number(100 * review.meanMainShare, 'f', 0))
                              .toStdString());
    table.notes.push_back(continuityDaysText(review, week.agency->today()).toStdString());
    table.notes.push_back(mainNurseText().toStdString());
    return table;
}

} // namespace kitround::desk

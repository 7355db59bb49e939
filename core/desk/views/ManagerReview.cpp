#include "core/desk/views/ManagerReview.h"

#include "core/base/Index.h"
#include "core/calendar/Weeks.h"
#include "core/caseload/VisitsMade.h"
#include "core/desk/views/Cells.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <set>
#include <utility>

namespace kitround::desk {
namespace {

constexpr int kWeeksBack = 4;
constexpr std::int64_t kLeastMade = 20; // visits made that tell what the road takes (assumed)

void addWeek(LoadHeat &heat, const caseload::LoadReview &review, const SnapshotIndex &index) {
    heat.weeks.push_back(review.week);
    heat.gini.push_back(review.gini);
    heat.jain.push_back(review.jain);
    for (const caseload::NurseLoad &load : review.nurses) {
        auto row = std::ranges::find(heat.rows, load.nurse, &LoadHeat::Row::nurse);
        if (row == heat.rows.end()) {
            heat.rows.push_back({load.nurse, personName(*index.nurse(load.nurse)), {}});
            row = heat.rows.end() - 1;
        }
        HeatCell cell;
        cell.points = load.points;
        cell.inFull = load.pointsCapacity;
        cell.visits = load.visits;
        cell.isAway = load.capacity.isZero() && load.visits == 0;
        cell.sign = load.sign;
        row->cells.push_back(cell);
    }
}

QString percentOf(int part, int whole) {
    return whole > 0 ? Text::tr("%1 of %2 (%3 %)")
                           .arg(numberText(part), numberText(whole))
                           .arg(std::lround(100.0 * part / whole))
                     : Text::tr("none");
}

} // namespace

LoadHeat loadHeat(const WeekPicture &week) {
    const SnapshotIndex &index = week.agency->index();
    const Date today = week.agency->today();
    const Date thisWeek = calendar::weekStartOf(today, week.agency->settings().weekStart);
    LoadHeat heat;
    for (int back = kWeeksBack; back >= 1; --back) {
        const Date from = thisWeek.plusDays(-7 * back);
        if (from >= week.agency->snapshot().logFrom && from < week.week.from)
            addWeek(heat, caseload::reviewLoad(index, {from, from.plusDays(7)}, {}, {}, {}), index);
    }
    if (week.week.from > thisWeek)
        if (const auto current = openWeek(week.agency, today, nullptr))
            addWeek(heat, loadReview(**current), index);
    addWeek(heat, loadReview(week), index);
    return heat;
}

QString heatText(const HeatCell &cell) {
    if (cell.isAway)
        return words(cell.sign);
    const QString points = pointsText(cell.points);
    return cell.inFull > 0 ? Text::tr("%1 (%2 %)").arg(points).arg(std::lround(100 * cell.share())) : points;
}

QString heatWeekText(DateRange week, Date today) {
    return (week.to <= today ? Text::tr("%1, done") : Text::tr("%1, planned")).arg(dayText(week.from));
}

Table heatTable(const LoadHeat &heat, const Agency &agency) {
    Table table;
    table.title = Text::tr("Points by nurse and week").toStdString();
    table.key = "load_by_week";
    table.columns.push_back(textColumn(Text::tr("Nurse"), "nurse"));
    for (const DateRange &week : heat.weeks)
        table.columns.push_back(
            {dayText(week.from).toStdString(), "week_" + week.from.toIso(), Align::Right});
    for (const LoadHeat::Row &row : heat.rows) {
        std::vector<std::string> cells{cell(row.name)};
        for (const HeatCell &c : row.cells)
            cells.push_back(cell(heatText(c)));
        table.rows.push_back(std::move(cells));
    }
    const auto evenness = [&](const QString &name, const std::vector<double> &values) {
        std::vector<std::string> cells{cell(name)};
        for (const double value : values)
            cells.push_back(cell(value, 2));
        table.rows.push_back(std::move(cells));
    };
    evenness(Text::tr("Gini (0 is even)"), heat.gini);
    evenness(Text::tr("Jain (1 is even)"), heat.jain);
    table.notes.push_back(pointsShareText().toStdString());
    table.notes.push_back(weightsText(agency.settings()).toStdString());
    return table;
}

QString weightsText(const AgencySettings &settings) {
    QStringList weights;
    for (const VisitKind kind :
         {VisitKind::StartOfCare, VisitKind::Resumption, VisitKind::Recertification, VisitKind::Discharge,
          VisitKind::Teaching, VisitKind::Routine, VisitKind::Supervisory})
        weights << QStringLiteral("%1 %2").arg(words(kind),
                                               QString::number(visitPoints(settings, kind), 'f', 2));
    return Text::tr(
               "Points a visit: %1; %2 miles are a point; %3 points a full week. They are kept in Settings.")
        .arg(weights.join(QStringLiteral(", ")))
        .arg(settings[SettingKey::MilesPerPoint])
        .arg(settings[SettingKey::PointsPerWeek]);
}

namespace {

using AreaDays = std::map<std::pair<NurseId, Date>, std::array<int, 3>>; // visits by area

// Beside the plan: as the week's load counts them.
void addVisitsMade(const WeekPicture &week, std::array<AreaTravel, 3> &areas,
                   std::array<std::set<PatientId>, 3> &patients, AreaDays &days) {
    const SnapshotIndex &index = week.agency->index();
    for (const caseload::VisitMade &made :
         caseload::visitsMade(index, week.week, week.due, week.problem, week.plan)) {
        const Patient *patient = index.patient(made.visit->patient);
        const std::size_t a = patient ? indexOf(patient->address.area) : 1;
        ++areas[a].visits;
        areas[a].second += made.isSecond ? 1 : 0;
        areas[a].direct += made.inHome;
        areas[a].travel += made.road;
        areas[a].driven += made.driven;
        patients[a].insert(made.visit->patient);
        ++days[{made.nurse, made.on}][a];
    }
}

} // namespace

std::vector<AreaTravel> travelByArea(const WeekPicture &week) {
    std::array<AreaTravel, 3> areas;
    std::array<std::set<PatientId>, 3> patients;
    AreaDays days;
    for (std::size_t a = 0; a < areas.size(); ++a)
        areas[a].area = static_cast<AreaKind>(a);
    for (std::size_t d = 0; d < week.evaluation.duties.size(); ++d) {
        const rounds::DutyTimes &times = week.evaluation.duties[d];
        if (times.stops.empty())
            continue;
        const rounds::Duty &duty = week.problem.duties[d];
        std::array<int, 3> &visits =
            days[{week.problem.nurses[at(duty.nurse)].id, week.problem.firstDay.plusDays(duty.day)}];
        rounds::Minute toVisits = 0;
        std::size_t last = 0;
        std::int32_t from = duty.startPlace;
        for (const rounds::DutyTimes::Stop &stop : times.stops) {
            const rounds::Job &job = week.problem.jobs[at(stop.job)];
            const Patient *patient = week.agency->index().patient(job.patient);
            last = patient ? indexOf(patient->address.area) : 1;
            AreaTravel &area = areas[last];
            ++area.visits;
            ++visits[last];
            area.second += week.plan.placements[at(stop.job)].secondDuty == static_cast<std::int32_t>(d);
            patients[last].insert(job.patient);
            area.direct += Minutes::of(job.length);
            area.travel += Minutes::of(stop.travel);
            area.driven += Metres::of(week.problem.travel.metresBetween(at(from), at(job.place)));
            from = job.place;
            toVisits += stop.travel;
        }
        areas[last].travel += Minutes::of(times.travel - toVisits);
        areas[last].driven += Metres::of(week.problem.travel.metresBetween(at(from), at(duty.endPlace)));
    }
    addVisitsMade(week, areas, patients, days);
    for (const auto &[nurseDay, visits] : days)
        for (std::size_t a = 0; a < areas.size(); ++a)
            areas[a].nurseDays += visits[a] / static_cast<double>(visits[0] + visits[1] + visits[2]);
    std::vector<AreaTravel> made;
    for (std::size_t a = 0; a < areas.size(); ++a) {
        AreaTravel &area = areas[a];
        area.patients = static_cast<int>(patients[a].size());
        if (area.visits == 0)
            continue;
        area.travelPerVisit = static_cast<double>(area.travel.count()) / area.visits;
        area.milesPerVisit = inMiles(area.driven) / area.visits;
        area.visitsADay = area.nurseDays > 0 ? area.visits / area.nurseDays : 0;
        made.push_back(area);
    }
    return made;
}

std::optional<Minutes> travelPerVisit(const WeekPicture &week) {
    std::int64_t travel = 0, visits = 0;
    for (const rounds::DutyTimes &times : week.evaluation.duties)
        if (!times.stops.empty()) {
            travel += times.travel;
            visits += static_cast<std::int64_t>(times.stops.size());
        }
    if (visits == 0 || 2 * visits < static_cast<std::int64_t>(week.due.size()))
        return std::nullopt;
    return Minutes::of((travel + visits / 2) / visits);
}

Table areaTable(const std::vector<AreaTravel> &areas) {
    Table table;
    table.title = Text::tr("Travel by area").toStdString();
    table.key = "travel_by_area";
    table.columns = {textColumn(Text::tr("Area"), "area"),
                     numberColumn(Text::tr("Patients"), "patients"),
                     numberColumn(Text::tr("Visits"), "visits"),
                     numberColumn(Text::tr("Direct, min"), "direct_min"),
                     numberColumn(Text::tr("Travel, min"), "travel_min"),
                     numberColumn(Text::tr("Travel a visit, min"), "travel_per_visit_min"),
                     numberColumn(Text::tr("Miles a visit"), "miles_per_visit"),
                     numberColumn(Text::tr("Nurse-days"), "nurse_days"),
                     numberColumn(Text::tr("Visits a nurse-day"), "visits_a_day")};
    for (const AreaTravel &a : areas)
        table.rows.push_back({cell(words(a.area)), cell(std::int64_t{a.patients}),
                              cell(std::int64_t{a.visits}), cell(a.direct.count()), cell(a.travel.count()),
                              cell(a.travelPerVisit, 1), cell(a.milesPerVisit, 1), cell(a.nurseDays, 1),
                              cell(a.visitsADay, 1)});
    int second = 0;
    for (const AreaTravel &a : areas)
        second += a.second;
    QString counts =
        Text::tr("Visits planned and made. Travel of those made: worked out from the miles driven, "
                 "else from the map.");
    if (second > 0)
        counts += u' ' + counted(second, Text::tr("1 visit by two nurses counts for each of them."),
                                 Text::tr("%1 visits by two nurses count for each of them."));
    table.notes.push_back(counts.toStdString());
    table.notes.push_back(
        Text::tr("Compare rounds within an area: visits a day say nothing across areas whose "
                 "ways differ. A day in two areas is shared out by its visits.")
            .toStdString());
    return table;
}

Table complianceTable(const caseload::Compliance &compliance, const Agency &agency, PatientNamed named) {
    Table table;
    table.title = Text::tr("Ordered visits made").toStdString();
    table.key = "compliance";
    table.columns = {
        textColumn(Text::tr("Patient"), "patient"),    textColumn(Text::tr("Visit"), "visit"),
        textColumn(Text::tr("Week of"), "week"),       numberColumn(Text::tr("Owed"), "owed"),
        numberColumn(Text::tr("Done"), "done"),        numberColumn(Text::tr("Missed"), "missed"),
        numberColumn(Text::tr("Short by"), "short_by")};
    for (const caseload::PatientWeek &w : compliance.weeks)
        if (w.shortBy() > 0)
            table.rows.push_back({patientOf(agency.index(), w.patient, named), cell(words(w.kind)),
                                  cell(w.week.from), cell(std::int64_t{w.owed}), cell(std::int64_t{w.done}),
                                  cell(std::int64_t{w.missed}), cell(std::int64_t{w.shortBy()})});
    if (compliance.patientWeeks == 0) {
        table.notes.push_back(
            Text::tr("No whole week under a visit order has gone by yet; there is nothing to judge.")
                .toStdString());
        return table;
    }
    table.notes.push_back(Text::tr("Whole weeks from %1 to %2.")
                              .arg(dayText(compliance.days.from, agency.today()),
                                   dayText(compliance.days.to.plusDays(-1), agency.today()))
                              .toStdString());
    table.notes.push_back(
        Text::tr(
            "They are the weeks gone by, whichever week is looked at; its own visits that are not placed "
            "or were missed have a list of their own.")
            .toStdString());
    table.notes.push_back(
        Text::tr("Weeks with every ordered visit: %1; visits: %2. %3 partial or held weeks are "
                 "left out; only weeks that fell short are listed.")
            .arg(percentOf(compliance.kept, compliance.patientWeeks),
                 percentOf(compliance.done, compliance.owed))
            .arg(numberText(compliance.leftOut))
            .toStdString());
    return table;
}

Table missedTable(const caseload::Compliance &compliance, const Agency &agency, PatientNamed named) {
    Table table;
    table.title = Text::tr("Missed visits").toStdString();
    table.key = "missed_visits";
    table.columns = {textColumn(Text::tr("Day"), "day"), textColumn(Text::tr("Patient"), "patient"),
                     textColumn(Text::tr("Visit"), "visit"), textColumn(Text::tr("Reason"), "reason"),
                     textColumn(Text::tr("Prescriber told"), "prescriber_told")};
    for (const caseload::MissedVisit &m : compliance.missed)
        table.rows.push_back({cell(m.on), patientOf(agency.index(), m.patient, named), cell(words(m.kind)),
                              cell(words(m.reason)), yesNo(m.prescriberTold)});
    if (!compliance.missed.empty())
        table.notes.push_back(
            (compliance.untold == 0
                 ? Text::tr("%1 missed; the prescriber was told each time.").arg(compliance.missed.size())
                 : Text::tr("%1 missed; the prescriber was not told of %2 of them.")
                       .arg(compliance.missed.size())
                       .arg(compliance.untold))
                .toStdString());
    return table;
}

namespace {

// Written down, or to a home on the map: to any other the road is not known, and counted as none.
bool isRoadKnown(const Agency &agency, const caseload::VisitMade &made) {
    const Patient *patient = agency.index().patient(made.visit->patient);
    return patient && (patient->address.point || (made.visit->driven && !made.isSecond));
}

// What the road to a visit took in the weeks gone by: it stays the same however a week is drafted. Nothing
// where too few are made yet whose road is known.
std::optional<Minutes> travelMade(const Agency &agency, DateRange weeks) {
    std::int64_t road = 0, visits = 0;
    for (const caseload::VisitMade &made : caseload::visitsMade(agency.index(), weeks, {}, {}, {}))
        if (made.visit->status == VisitStatus::Done && made.visit->kind != VisitKind::Phone &&
            isRoadKnown(agency, made)) {
            road += made.road.count();
            ++visits;
        }
    if (visits < kLeastMade)
        return std::nullopt;
    return Minutes::of((road + visits / 2) / visits);
}

// The plan's own minutes where nothing is made yet: of the week in hand before one that may still be drafted
// anew, whichever of them is looked at.
std::optional<Minutes> travelPlanned(const WeekPicture &shown) {
    const AgencyPtr &agency = shown.agency;
    for (const Date day : {agency->today(), nextWeek(*agency)}) {
        if (shown.week.contains(day)) {
            if (const auto travel = travelPerVisit(shown))
                return travel;
        } else if (const auto other = openWeek(agency, day, nullptr)) {
            if (const auto travel = travelPerVisit(**other))
                return travel;
        }
    }
    return std::nullopt;
}

} // namespace

namespace {

std::optional<PlanBeside> planBeside(const WeekPicture &week, const caseload::LoadReview &load,
                                     const WeeksAhead &ahead) {
    if (std::ranges::none_of(ahead.weeks, [&](const WeekAhead &w) { return w.week.from == week.week.from; }))
        return std::nullopt;
    PlanBeside plan;
    plan.week = week.week.from;
    for (const rounds::DueVisit &due : week.due) {
        const bool isOrdered = due.visit.order || due.visit.kind == VisitKind::StartOfCare ||
                               due.visit.kind == VisitKind::Recertification;
        ++(isOrdered ? plan.ordered : plan.byEvents);
    }
    plan.made = std::max(0, load.placed + load.unplaced + load.missed - plan.ordered - plan.byEvents);
    return plan;
}

} // namespace

ManagerReview managerReview(const WeekPicturePtr &week) {
    const Agency &agency = *week->agency;
    const Date today = agency.today();
    const Date thisWeek = calendar::weekStartOf(today, agency.settings().weekStart);
    ManagerReview review;
    review.week = week;
    review.load = loadReview(*week);
    review.heat = loadHeat(*week);
    review.areas = travelByArea(*week);
    const auto made = travelMade(agency, {thisWeek.plusDays(-7 * kWeeksBack), thisWeek});
    review.ahead = weeksAhead(agency, kWeeksAhead, made ? made : travelPlanned(*week));
    review.ahead.travelIsMade = made.has_value();
    review.ahead.plan = planBeside(*week, review.load, review.ahead);
    review.intake = intakeCapacity(agency, review.ahead);
    review.compliance =
        caseload::frequencyCompliance(agency.index(), {thisWeek.plusDays(-7 * kWeeksBack), thisWeek});
    review.deadlines = deadlineList(agency);
    review.skills = skillMatrix(agency);
    review.onCall = onCallReview(agency);
    review.quality = caseload::qualityByMonth(agency.index());
    review.trend = qualityTrend(agency, review.quality);
    review.joint = jointVisits(agency);
    return review;
}

} // namespace kitround::desk

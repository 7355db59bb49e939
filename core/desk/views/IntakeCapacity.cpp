#include "core/desk/views/IntakeCapacity.h"

#include "core/calendar/Deadlines.h"
#include "core/calendar/Zone.h"
#include "core/caseload/Capacity.h"
#include "core/desk/views/Cells.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <map>

namespace kitround::desk {
namespace {

constexpr int kShareWeeks = 4;

// Where each nurse's hours go, by her visits of late.
std::map<NurseId, std::array<double, kAreas>> areaShares(const Agency &agency) {
    std::map<NurseId, std::array<double, kAreas>> shares;
    const Date from = agency.today().plusDays(-7 * kShareWeeks);
    for (const Visit &visit : agency.snapshot().visits) {
        const Patient *patient = agency.index().patient(visit.patient);
        if (visit.status == VisitStatus::Done && visit.nurse && visit.on && *visit.on >= from && patient)
            shares[*visit.nurse][indexOf(patient->address.area)] += 1;
    }
    for (const Nurse &nurse : agency.snapshot().nurses) {
        std::array<double, kAreas> &share = shares[nurse.id];
        const double sum = share[0] + share[1] + share[2];
        if (sum > 0)
            for (double &s : share)
                s /= sum;
        else
            share[indexOf(nurse.base.area)] = 1;
    }
    return shares;
}

int startsThatFit(double capacity, double minutes, double each) {
    return each > 0 ? static_cast<int>(std::floor(std::max(0.0, capacity - minutes) / each)) : 0;
}

bool isPlannedStart(const Visit *visit) {
    return visit->kind == VisitKind::StartOfCare && visit->on &&
           (visit->status == VisitStatus::Drafted || visit->status == VisitStatus::Published);
}

void addWaiting(IntakeCapacity &intake, const Agency &agency) {
    const auto zone = calendar::Zone::named(agency.settings().timeZone);
    for (const Patient &patient : agency.snapshot().patients) {
        if (!waitsForFirstVisit(agency, patient))
            continue;
        WaitingReferral row;
        row.patient = patient.id;
        row.area = patient.address.area;
        row.hasNurse = patient.primaryNurse.has_value();
        if (zone && patient.referredAt)
            row.waiting = agency.today() - zone->toLocal(*patient.referredAt).date;
        if (const auto due = calendar::firstVisitDue(patient, agency.settings()); zone && due)
            row.firstVisitDue = zone->toLocal(*due);
        row.isLate = row.firstVisitDue && *row.firstVisitDue < agency.snapshot().now;
        row.isAreaClosed = closureOf(agency, row.area, agency.today()) != nullptr;
        intake.waiting.push_back(row);
    }
    std::ranges::stable_sort(intake.waiting, std::greater<>(), &WaitingReferral::waiting);
}

QString rangeText(const Spread &s, double unit) {
    return QStringLiteral("%1 (%2–%3)")
        .arg(std::lround(s.middle / unit))
        .arg(std::lround(s.low / unit))
        .arg(std::lround(s.high / unit));
}

} // namespace

bool waitsForFirstVisit(const Agency &agency, const Patient &patient) {
    return patient.status == CareStatus::Referred &&
           std::ranges::none_of(agency.index().visitsOf(patient.id), isPlannedStart);
}

const IntakeClosure *closureOf(const Agency &agency, AreaKind area, Date day) {
    for (const IntakeClosure &closure : agency.snapshot().intakeClosures)
        if (closure.area == area && closure.covers(day))
            return &closure;
    return nullptr;
}

QString closedText(const IntakeClosure &closure) {
    const QString until = closure.to ? Text::tr(" to %1").arg(dayText(closure.to->plusDays(-1))) : QString();
    return Text::tr("The %1 area is closed to referrals from %2%3: %4")
        .arg(words(closure.area), dayText(closure.from), until, fromStd(closure.reason));
}

IntakeCapacity intakeCapacity(const Agency &agency, const WeeksAhead &ahead) {
    IntakeCapacity intake;
    const auto shares = areaShares(agency);
    const std::size_t weeks = std::min<std::size_t>(kIntakeWeeks, ahead.weeks.size());
    for (std::size_t a = 0; a < kAreas; ++a) {
        const auto area = static_cast<AreaKind>(a);
        const bool isServed =
            std::ranges::any_of(
                agency.snapshot().patients,
                [&](const Patient &p) { return isOnService(p.status) && p.address.area == area; }) ||
            std::ranges::any_of(shares, [&](const auto &share) { return share.second[a] > 0; });
        for (std::size_t k = 0; isServed && k < weeks; ++k) {
            const WeekAhead &week = ahead.weeks[k];
            AreaWeek made;
            made.area = area;
            made.week = week.week;
            made.visits = week.areaVisits[a];
            made.minutes = week.areaMinutes[a];
            double capacity = 0;
            for (const auto &[nurse, minutes] : caseload::capacityIn(agency.snapshot(), week.week))
                capacity += static_cast<double>(minutes.count()) * shares.at(nurse)[a];
            made.capacity = Minutes::of(std::llround(capacity));
            made.startsForSure = startsThatFit(capacity, made.minutes.high, week.startMinutes[a]);
            made.startsAtBest = startsThatFit(capacity, made.minutes.low, week.startMinutes[a]);
            made.knowsStarts = week.startMinutes[a] > 0;
            made.room = roomIn(capacity, made.minutes,
                               made.knowsStarts ? std::optional(made.startsForSure) : std::nullopt);
            for (Date day = week.week.from; day < week.week.to && !made.closed; ++day)
                if (const IntakeClosure *closure = closureOf(agency, area, day))
                    made.closed = *closure;
            intake.areas.push_back(made);
        }
    }
    addWaiting(intake, agency);
    for (const IntakeClosure &closure : agency.snapshot().intakeClosures)
        if (closure.from != closure.to && (!closure.to || *closure.to > agency.today()))
            intake.closures.push_back(closure);
    return intake;
}

Table intakeTable(const IntakeCapacity &intake) {
    Table table;
    table.title = Text::tr("Room for referrals").toStdString();
    table.key = "intake_capacity";
    table.columns = {textColumn(Text::tr("Area"), "area"),
                     textColumn(Text::tr("Week of"), "week"),
                     inText(textColumn(Text::tr("Visits"), "visits")),
                     inText(textColumn(Text::tr("Hours"), "hours")),
                     inCopies(numberColumn(Text::tr("Minutes, 10 %"), "minutes_p10")),
                     inCopies(numberColumn(Text::tr("Minutes, 50 %"), "minutes_p50")),
                     inCopies(numberColumn(Text::tr("Minutes, 90 %"), "minutes_p90")),
                     numberColumn(Text::tr("Capacity, h"), "capacity_h"),
                     textColumn(Text::tr("New starts that fit"), "starts"),
                     textColumn(Text::tr("Room"), "room"),
                     textColumn(Text::tr("Intake"), "intake")};
    for (const AreaWeek &w : intake.areas) {
        const QString starts = !w.knowsStarts ? Text::tr("not known yet")
                               : w.startsForSure == w.startsAtBest
                                   ? QString::number(w.startsForSure)
                                   : QStringLiteral("%1–%2").arg(w.startsForSure).arg(w.startsAtBest);
        table.rows.push_back(
            {cell(words(w.area)), cell(w.week.from), cell(rangeText(w.visits, 1)),
             cell(rangeText(w.minutes, 60)), cell(w.minutes.low, 0), cell(w.minutes.middle, 0),
             cell(w.minutes.high, 0), cell(static_cast<double>(w.capacity.count()) / 60, 0), cell(starts),
             cell(roomText(w.room, w.capacity, w.minutes)),
             cell(w.closed ? Text::tr("CLOSED: %1").arg(fromStd(w.closed->reason)) : Text::tr("open"))});
    }
    table.notes.push_back(
        Text::tr(
            "Middle (1 in 10 below, 1 in 10 above). Of new starts the first number fits even where nobody "
            "leaves as expected; do not promise more: \"tight\" is where it is 0. A nurse's hours are shared "
            "out by the areas visited in "
            "the last four weeks.")
            .toStdString());
    return table;
}

Table waitingTable(const IntakeCapacity &intake, const Agency &agency, PatientNamed named) {
    Table table;
    table.title = Text::tr("Referrals that wait").toStdString();
    table.key = "waiting_referrals";
    table.columns = {textColumn(Text::tr("Patient"), "patient"), textColumn(Text::tr("Area"), "area"),
                     numberColumn(Text::tr("Days"), "days"),
                     textColumn(Text::tr("First visit due"), "first_visit_due"),
                     textColumn(Text::tr("To know"), "to_know")};
    for (const WaitingReferral &w : intake.waiting) {
        QStringList know;
        if (w.isLate)
            know << Text::tr("LATE");
        if (!w.firstVisitDue)
            know << Text::tr("clock not known, enter the referral time");
        if (w.isAreaClosed)
            know << Text::tr("area closed");
        if (w.hasNurse)
            know << Text::tr("nurse named, first visit not planned");
        table.rows.push_back({patientOf(agency.index(), w.patient, named), cell(words(w.area)),
                              cell(w.waiting.count()),
                              w.firstVisitDue ? toIso(*w.firstVisitDue) : std::string(),
                              cell(know.join(QStringLiteral(", ")))});
    }
    if (!intake.waiting.empty())
        table.notes.push_back(
            Text::tr("Their first visit is not planned yet, whether or not a main nurse is named.")
                .toStdString());
    return table;
}

Table closureTable(const IntakeCapacity &intake) {
    Table table;
    table.title = Text::tr("Closed to referrals").toStdString();
    table.key = "intake_closures";
    table.columns = {textColumn(Text::tr("Area"), "area"), textColumn(Text::tr("From"), "from"),
                     textColumn(Text::tr("Until"), "until"), textColumn(Text::tr("Reason"), "reason")};
    for (const IntakeClosure &c : intake.closures)
        table.rows.push_back({cell(words(c.area)), cell(c.from),
                              c.to ? cell(c.to->plusDays(-1)) : cell(Text::tr("opened again")), c.reason});
    return table;
}

} // namespace kitround::desk

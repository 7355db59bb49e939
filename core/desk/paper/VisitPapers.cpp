#include "core/desk/paper/PaperParts.h"
#include "core/desk/views/PackedParcels.h"
#include "core/desk/views/PlanNews.h"
#include "core/desk/views/PlanState.h"
#include "core/desk/views/WeekBoard.h"
#include "core/desk/views/WeekRepair.h"
#include "core/desk/words/Reasons.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"

#include <algorithm>
#include <iterator>
#include <tuple>
#include <utility>

namespace kitround::desk {
namespace {

using namespace parts;

const rounds::Duty &dutyAt(const WeekPicture &week, std::int32_t duty) {
    return week.problem.duties[static_cast<std::size_t>(duty)];
}
Date dayOf(const WeekPicture &week, std::int32_t duty) {
    return week.week.from.plusDays(dutyAt(week, duty).day);
}
NurseId nurseOf(const WeekPicture &week, std::int32_t duty) {
    return week.problem.nurses[static_cast<std::size_t>(dutyAt(week, duty).nurse)].id;
}

QString itemCount(const WeekPicture &week, Eaches quantity, ItemId item) {
    return QStringLiteral("%1 × %2").arg(numberText(quantity.count()), itemName(week.agency->index(), item));
}

// A proposal nobody has said yes to yet is named as such.
QString proposedText(const WeekPicture &week, std::size_t rider) {
    QStringList items;
    if (rider < week.riderWishes.size())
        for (const rounds::RiderItem &line : week.riderWishes[rider].items)
            items << itemCount(week, line.quantity, line.item);
    return items.isEmpty() ? Text::tr("refill, not yet agreed")
                           : Text::tr("not yet agreed: %1").arg(items.join(QStringLiteral(", ")));
}

// What the job carries.
QStringList broughtWith(const WeekPicture &week, std::int32_t job) {
    QStringList lines;
    const auto at = static_cast<std::size_t>(job);
    if (const auto parcel = parcelElsewhere(week.agency->index(), week.due[at].visit,
                                            placeIn(week, week.plan.placements[at])))
        lines << Text::tr("packed: take it over from %1").arg(nurseName(*week.agency, parcel->inCarOf));
    for (std::size_t r = 0; r < week.plan.riderJob.size() && r < week.problem.riders.size(); ++r) {
        if (week.plan.riderJob[r] != job)
            continue;
        const Delivery *delivery = week.agency->index().delivery(week.problem.riders[r].delivery);
        if (!delivery) {
            lines << proposedText(week, r);
            continue;
        }
        for (const DeliveryLine &line : delivery->lines)
            lines << itemCount(week, line.quantity, line.item);
    }
    return lines;
}

struct Stop {
    Date on;
    NurseId nurse;
    PatientId patient;
    VisitKind kind = VisitKind::Routine;
    Minutes start, end, travel;
    std::optional<NurseId> with;
    QStringList bring;
};

std::vector<Stop> stopsOf(const WeekPicture &week) {
    std::vector<Stop> stops;
    for (const PlacedJob &p : placedJobs(week)) {
        const auto at = static_cast<std::size_t>(p.job);
        const rounds::Placement &placed = week.plan.placements[at];
        const std::int32_t other = placed.duty == p.duty ? placed.secondDuty : placed.duty;
        const Visit &visit = week.due[at].visit;
        stops.push_back({dayOf(week, p.duty), nurseOf(week, p.duty), visit.patient, visit.kind,
                         Minutes::of(p.start), Minutes::of(p.end), Minutes::of(p.travel),
                         other < 0 ? std::nullopt : std::optional(nurseOf(week, other)),
                         placed.duty == p.duty ? broughtWith(week, p.job) : QStringList()});
    }
    return stops;
}

// Visits of days outside the week in hand, as the file has them.
void addStoredStops(std::vector<Stop> &stops, const Agency &agency, Date on) {
    for (const Visit &v : agency.snapshot().visits)
        if (v.on == on && v.nurse && v.startAt &&
            (v.status == VisitStatus::Drafted || v.status == VisitStatus::Published))
            stops.push_back(
                {on, *v.nurse, v.patient, v.kind, *v.startAt, *v.startAt + v.length, {}, v.secondNurse, {}});
}

Table stopTable(const Agency &agency, const std::vector<Stop> &stops, bool withNurse) {
    Table made = table({column(Text::tr("Time"))});
    if (withNurse)
        made.columns.push_back(column(Text::tr("Nurse")));
    for (const QString &name :
         {Text::tr("Who"), Text::tr("Can be visited"), Text::tr("Address"), Text::tr("Visit"),
          Text::tr("Allergies"), Text::tr("Bring"), Text::tr("With"), Text::tr("Done")})
        made.columns.push_back(column(name));
    for (const Stop &s : stops) {
        const Patient *patient = agency.index().patient(s.patient);
        std::vector<std::string> row{
            QStringLiteral("%1-%2").arg(timeText(s.start), timeText(s.end)).toStdString()};
        if (withNurse)
            row.push_back(nurseName(agency, s.nurse).toStdString());
        row.push_back(patientMark(agency, s.patient).toStdString());
        row.push_back(patient ? windowsOn(*patient, s.on.weekday()).toStdString() : std::string());
        row.push_back(patient ? addressLine(patient->address).toStdString() : std::string());
        row.push_back(words(s.kind).toStdString());
        row.push_back(patient ? allergiesText(*patient, agency.today()).toStdString() : std::string());
        row.push_back(s.bring.join(QStringLiteral("; ")).toStdString());
        row.push_back(s.with ? nurseName(agency, *s.with).toStdString() : std::string());
        row.emplace_back();
        made.rows.push_back(std::move(row));
    }
    return made;
}

QStringList dutyLines(const WeekPicture &week, NurseId nurse, Date on) {
    QStringList lines;
    for (std::size_t d = 0; d < week.problem.duties.size() && d < week.evaluation.duties.size(); ++d) {
        const auto duty = static_cast<std::int32_t>(d);
        const rounds::DutyTimes &times = week.evaluation.duties[d];
        if (nurseOf(week, duty) != nurse || dayOf(week, duty) != on || times.stops.empty())
            continue;
        lines << Text::tr("Leave at %1, back at %2; driving %3 min.")
                     .arg(timeText(Minutes::of(times.leave)), timeText(Minutes::of(times.back)),
                          QString::number(times.travel));
        const rounds::Minute length = dutyAt(week, duty).breakLength;
        const QString where = times.breakStart >= times.back             ? Text::tr("Break after the round")
                              : times.breakStart + length <= times.leave ? Text::tr("Break before the round")
                                                                         : Text::tr("Break");
        if (times.breakStart >= 0)
            lines << Text::tr("%1, from %2, %3 min.")
                         .arg(where, timeText(Minutes::of(times.breakStart)), QString::number(length));
    }
    return lines;
}

// Packed parcels in her car whose visits others make by now, to the day of the visit.
QStringList parcelLines(const WeekPicture &week, NurseId nurse, Date on) {
    QStringList lines;
    for (const ParcelElsewhere &parcel : parcelsElsewhere(week))
        if (parcel.inCarOf == nurse && (!parcel.visit.isSet() || on <= *parcel.visit.on))
            lines << QStringLiteral("%1: %2.").arg(patientMark(*week.agency, parcel.patient),
                                                   parcelText(week.agency->index(), parcel));
    return lines;
}

// `all`: the stops of the week.
void addDaySheet(Paper &paper, const WeekPicture &week, const std::vector<Stop> &all, NurseId nurse,
                 Date on) {
    std::vector<Stop> stops;
    std::ranges::copy_if(all, std::back_inserter(stops),
                         [&](const Stop &s) { return s.nurse == nurse && s.on == on; });
    Paper::Section section;
    section.heading = QStringLiteral("%1, %2").arg(nurseName(*week.agency, nurse), dayText(on));
    section.startsPage = !paper.sections.empty();
    section.lines = dutyLines(week, nurse, on) + parcelLines(week, nurse, on);
    if (const auto news = roundNewsOf(*week.agency, nurse, on, PatientNamed::Initials))
        section.lines
            << Text::tr("Changed since %1: %2").arg(momentText(news->since), news->changes.join(u' '));
    if (stops.empty())
        section.lines << Text::tr("No visits.");
    else
        section.table = stopTable(*week.agency, stops, false);
    paper.sections.push_back(std::move(section));
}

// Two sheets of one day are told apart by the plan they are of.
Paper dayPaper(const WeekPicture &week, const QString &title, Date on) {
    Paper paper = blankPaper(*week.agency, title, dayText(on, week.agency->today()), true);
    if (const QString plan = planOnPaperText(week, on); !plan.isEmpty())
        paper.foot += QStringLiteral(" · ") + plan;
    return paper;
}

std::vector<NurseId> nursesOn(const std::vector<Stop> &all, Date on) {
    std::vector<NurseId> nurses;
    for (const Stop &s : all)
        if (s.on == on && std::ranges::find(nurses, s.nurse) == nurses.end())
            nurses.push_back(s.nurse);
    return nurses;
}

struct DrivenDay {
    QString name;
    NurseId nurse;
    Date on;
};
// By nurse as she is called, then by day.
std::vector<DrivenDay> drivenDays(const WeekPicture &week, const std::vector<Stop> &all, Date first) {
    std::vector<DrivenDay> days;
    for (Date on = first; on < week.week.to; ++on)
        for (const NurseId nurse : nursesOn(all, on))
            days.push_back({nurseName(*week.agency, nurse), nurse, on});
    std::ranges::sort(days, {}, [](const DrivenDay &d) { return std::tuple(d.name, d.nurse, d.on); });
    return days;
}

Date nextSaturday(Date today) {
    while (today.weekday() != Weekday::Saturday)
        ++today;
    return today;
}

QStringList onCallLines(const Agency &agency, DateRange days) {
    const Snapshot &s = agency.snapshot();
    QStringList lines;
    for (const Shift &shift : shiftsIn(days, s.nurses, s.shiftPatterns, s.extraShifts, s.timeOff))
        if (shift.isOnCall)
            lines << QStringLiteral("%1 %2-%3: %4")
                         .arg(dayText(shift.on), timeText(shift.from),
                              shift.to > shift.from ? timeText(shift.to)
                                                    : Text::tr("%1 next day").arg(timeText(shift.to)),
                              nurseName(agency, shift.nurse));
    if (lines.isEmpty())
        lines << Text::tr("Nobody is entered as on call.");
    return lines;
}

Table dryHomes(const StockPicture &stock, Date before) {
    Table made = table({column(Text::tr("Who")), column(Text::tr("Item")),
                        column(Text::tr("In the home"), Align::Right), column(Text::tr("May run out")),
                        column(Text::tr("Delivery"))});
    for (const HomeRow &row : homeRows(stock)) {
        const bool isUnknown = row.knowledge == forecast::StockKnowledge::Unknown;
        if (row.isOnHold ||
            (!isUnknown && (!row.runOutP10 || *row.runOutP10 >= before) && row.usable().count() > 0))
            continue;
        made.rows.push_back(
            {patientMark(*stock.agency, row.patient).toStdString(), row.itemName.toStdString(),
             isUnknown ? Text::tr("unknown").toStdString()
                       : std::to_string(std::max<std::int64_t>(0, row.usable().count())),
             row.runOutP10 ? dayText(*row.runOutP10).toStdString() : std::string(),
             row.promised.isEmpty() ? Text::tr("none").toStdString() : Text::tr("promised").toStdString()});
    }
    return made;
}

QString cardLine(const Agency &agency, const VisitCard &card, bool isOver) {
    QStringList text{timeText(card.start), patientMark(agency, card.patient), card.kind};
    if (isOver && !card.isUnrecorded) // else its kind says so
        text.back() += QStringLiteral(", ") + words(card.status);
    if (card.needsTwo)
        text.back() += Text::tr(", two nurses");
    return text.join(u' ');
}

// A nurse's day with the marks it has on the screen, a line each; visits by the clock.
QString nurseDayCell(const Agency &agency, const BoardDay &day) {
    std::vector<std::pair<Minutes, QString>> visits;
    for (const VisitCard &card : day.past)
        visits.emplace_back(card.start, cardLine(agency, card, true));
    for (const VisitCard &card : day.cards)
        visits.emplace_back(card.start, cardLine(agency, card, false));
    std::ranges::stable_sort(visits, {}, &std::pair<Minutes, QString>::first);
    QStringList lines{day.absence, day.sign};
    for (const auto &[start, text] : visits)
        lines << text;
    lines.removeAll(QString());
    return lines.join(u'\n');
}

// One row a nurse, one column a day of the week.
Table visitsByNurse(const WeekPicture &week, Date from) {
    const WeekBoard board = boardOf(week, {from, from.plusDays(7)});
    Table made = table({column(Text::tr("Nurse"))});
    for (std::size_t d = 0; d < board.dayNotes.size(); ++d) {
        const QString day = dayText(from.plusDays(static_cast<std::int64_t>(d)));
        made.columns.push_back(column(board.dayNotes[d].isEmpty() ? day : day + u'\n' + board.dayNotes[d]));
    }
    for (const BoardRow &nurse : board.rows) {
        std::vector<std::string> row{nurse.name.toStdString()};
        bool isEmpty = true;
        for (const BoardDay &day : nurse.days) {
            row.push_back(nurseDayCell(*week.agency, day).toStdString());
            isEmpty = isEmpty && row.back().empty();
        }
        if (!isEmpty)
            made.rows.push_back(std::move(row));
    }
    return made;
}

} // namespace

Paper daySheet(const WeekPicture &week, NurseId nurse, Date on) {
    Paper paper = dayPaper(week, Text::tr("Day sheet"), on);
    addDaySheet(paper, week, stopsOf(week), nurse, on);
    return paper;
}

Paper daySheets(const WeekPicture &week, Date on) {
    Paper paper = dayPaper(week, Text::tr("Day sheets"), on);
    const std::vector<Stop> all = stopsOf(week);
    for (const NurseId nurse : nursesOn(all, on))
        addDaySheet(paper, week, all, nurse, on);
    if (paper.sections.empty())
        addLines(paper, {}, {Text::tr("No visits on this day.")});
    return paper;
}

Paper daySheetsFrom(const WeekPicture &week, Date first, std::optional<NurseId> nurse) {
    const Date last = week.week.to.plusDays(-1);
    Paper paper = blankPaper(*week.agency, Text::tr("Day sheets"),
                             Text::tr("%1 to %2").arg(dayText(first), dayText(last)), true);
    QStringList plans;
    for (Date on = first; on <= last; ++on)
        plans << planOnPaperText(week, on);
    plans.removeDuplicates();
    const bool isOfOnePlan = plans.size() == 1;
    if (isOfOnePlan && !plans.front().isEmpty())
        paper.foot += QStringLiteral(" · ") + plans.front();
    const std::vector<Stop> all = stopsOf(week);
    for (const auto &[name, driver, on] : drivenDays(week, all, first)) {
        if (nurse && driver != *nurse)
            continue;
        addDaySheet(paper, week, all, driver, on);
        if (!isOfOnePlan)
            paper.sections.back().lines.prepend(Text::tr("Of the %1.").arg(planOnPaperText(week, on)));
    }
    if (paper.sections.empty())
        addLines(paper, {}, {Text::tr("No visits on these days.")});
    return paper;
}

Paper weekPaper(const WeekPicture &week) {
    Paper paper = blankPaper(*week.agency, Text::tr("Week of %1").arg(dayText(week.week.from)), {}, true);
    for (Date from = week.week.from; from < week.week.to; from = from.plusDays(7))
        add(paper,
            weeksIn(week) == 1 ? Text::tr("Visits") : Text::tr("Visits, week of %1").arg(dayText(from)),
            visitsByNurse(week, from));
    Table open = table({column(Text::tr("Who")), column(Text::tr("Visit")), column(Text::tr("Due")),
                        column(Text::tr("Why not placed"))});
    for (const std::int32_t job : unplacedJobs(week)) {
        const Visit &visit = week.due[static_cast<std::size_t>(job)].visit;
        open.rows.push_back(
            {patientMark(*week.agency, visit.patient).toStdString(), words(visit.kind).toStdString(),
             QStringLiteral("%1 - %2")
                 .arg(dayText(visit.dueFrom), dayText(visit.dueTo.plusDays(-1)))
                 .toStdString(),
             reason(rounds::whyUnplaced(week.problem, week.plan, job), week.problem, week.agency->index())
                 .toStdString()});
    }
    add(paper, Text::tr("Not placed"), std::move(open));
    return paper;
}

Paper weekendList(const WeekPicture &week, const StockPicture &stock) {
    const Agency &agency = *week.agency;
    const Date saturday = nextSaturday(agency.today()), sunday = saturday.plusDays(1);
    Paper paper = blankPaper(agency, Text::tr("Weekend list"),
                             Text::tr("%1 and %2").arg(dayText(saturday), dayText(sunday)), true);
    std::vector<Stop> stops;
    for (const Stop &s : stopsOf(week))
        if (s.on == saturday || s.on == sunday)
            stops.push_back(s);
    for (const Date on : {saturday, sunday})
        if (!week.week.contains(on))
            addStoredStops(stops, agency, on);
    for (const Date on : {saturday, sunday}) {
        std::vector<Stop> day = stops;
        std::erase_if(day, [&](const Stop &s) { return s.on != on; });
        std::ranges::stable_sort(day, {}, [](const Stop &s) { return std::pair(s.start, s.nurse); });
        add(paper, Text::tr("Visits on %1").arg(dayText(on)), stopTable(agency, day, true));
    }
    addLines(paper, Text::tr("On call"), onCallLines(agency, {saturday, sunday.plusDays(1)}));
    add(paper, Text::tr("Homes that may run dry before %1").arg(dayText(sunday.plusDays(2))),
        dryHomes(stock, sunday.plusDays(2)));
    addLines(paper, {}, {planningCaution()});
    return paper;
}

} // namespace kitround::desk

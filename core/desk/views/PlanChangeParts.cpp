#include "core/desk/views/PlanChangeParts.h"

#include "core/base/Index.h"
#include "core/desk/views/PackedParcels.h"
#include "core/desk/views/VisitCards.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"

#include <algorithm>
#include <tuple>

namespace kitround::desk::parts {
namespace {

// A request of that nurse that covers the day and waits for its decision.
const TimeOff *requestOn(const Snapshot &agency, NurseId nurse, Date on) {
    const auto found = std::ranges::find_if(agency.timeOff, [&](const TimeOff &off) {
        return off.nurse == nurse && off.status == LeaveStatus::Requested && off.from <= on && on < off.to;
    });
    return found == agency.timeOff.end() ? nullptr : &*found;
}

// Said of a visit that comes to stand on days its nurse has asked to be free on.
QString requestNote(const WeekPicture &week, std::int32_t duty) {
    if (duty < 0)
        return {};
    const NurseId nurse = nurseOfDuty(week, duty);
    return requestOn(week.agency->snapshot(), nurse, dayOfDuty(week, duty))
               ? Text::tr("%1 has asked for leave that day; not decided").arg(nurseNameIn(week, nurse))
               : QString();
}

// Said of a start of care that comes to stand on another day: it has a day by which it is owed.
QString startOfCareNote(const WeekPicture &week, std::int32_t job, const VisitPlace &was) {
    const std::int32_t duty = week.plan.placements[at(job)].duty;
    const Visit &visit = week.due[at(job)].visit;
    if (visit.kind != VisitKind::StartOfCare || duty < 0 || !was.isSet())
        return {};
    const auto days = (dayOfDuty(week, duty) - *was.on).count();
    if (days == 0)
        return {};
    return days > 0 ? Text::tr("Start of care %1 later, owed by %2")
                          .arg(counted(days, Text::tr("1 day"), Text::tr("%1 days")),
                               dayText(visit.dueTo.plusDays(-1)))
                    : Text::tr("Start of care %1 earlier")
                          .arg(counted(-days, Text::tr("1 day"), Text::tr("%1 days")));
}

} // namespace

PlanChange planChangeAt(const WeekPicture &week, std::int32_t job) {
    PlanChange change = planChangeOf(*week.agency, week.due[at(job)].visit);
    change.job = job;
    return change;
}

void sortPlanChanges(const WeekPicture &week, std::vector<PlanChange> &changes) {
    std::ranges::stable_sort(changes, {}, [&](const PlanChange &c) {
        const rounds::Placement &p = week.plan.placements[at(c.job)];
        return std::tuple(c.isSmall, !c.isUnplaced, p.isPlaced() ? week.problem.duties[at(p.duty)].day : 0,
                          p.start, c.isUnplaced ? 0 : c.job);
    });
}

QString joinedNotes(QStringList notes) {
    notes.removeAll(QString());
    QString joined;
    for (const QString &note : notes) {
        if (!joined.isEmpty())
            joined += joined.endsWith(u'?') ? QStringLiteral(" ") : QStringLiteral(". ");
        joined += note;
    }
    return joined;
}

QString moveNote(const WeekPicture &week, std::int32_t job, const VisitPlace &was) {
    const rounds::Placement &is = week.plan.placements[at(job)];
    return joinedNotes({startOfCareNote(week, job, was), requestNote(week, is.duty),
                        parcelText(week.agency->index(), week.due[at(job)].visit, placeIn(week, is))});
}

} // namespace kitround::desk::parts

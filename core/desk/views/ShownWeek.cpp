#include "core/desk/views/ShownWeek.h"

#include "core/base/Index.h"
#include "core/calendar/Weeks.h"
#include "core/desk/views/VisitCards.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/VisitWords.h"
#include "core/desk/words/Words.h"

#include <QStringList>

#include <algorithm>

namespace kitround::desk {
namespace {

// What the calendar owed does not change with what was planned of it; that its days grow fewer does not
// matter.
bool isOwedAlike(const rounds::DueVisit &a, const rounds::DueVisit &b) {
    return a.visit.patient == b.visit.patient && a.visit.order == b.visit.order &&
           a.visit.kind == b.visit.kind && a.visit.dueFrom < b.visit.dueTo && b.visit.dueFrom < a.visit.dueTo;
}

bool standsAlike(const WeekPicture &before, const rounds::Placement &was, const WeekPicture &after,
                 const rounds::Placement &is) {
    return was.isPlaced() && is.isPlaced() && was.start == is.start &&
           nurseOfDuty(before, was.duty) == nurseOfDuty(after, is.duty) &&
           dayOfDuty(before, was.duty) == dayOfDuty(after, is.duty);
}

} // namespace

Date firstWeek(const Agency &agency) {
    const Date today = agency.today();
    const bool isAtWork = std::ranges::any_of(agency.snapshot().visits, [&](const Visit &visit) {
        const bool isPlanned = visit.status == VisitStatus::Drafted || visit.status == VisitStatus::Published;
        return isPlanned && visit.on == today;
    });
    return isAtWork ? calendar::weekOf(today, agency.settings().weekStart).from : nextWeek(agency);
}

QString visitsCountText(const WeekPicture &week) {
    std::int64_t made = 0, missed = 0, calledOff = 0, others = 0;
    for (const Visit *visit : visitsOver(week, week.week)) {
        std::int64_t &count = visit->status == VisitStatus::Done        ? made
                              : visit->status == VisitStatus::Missed    ? missed
                              : visit->status == VisitStatus::Cancelled ? calledOff
                                                                        : others;
        ++count;
    }
    const auto due = static_cast<std::int64_t>(week.due.size());
    if (made + missed + calledOff + others == 0)
        return visitsText(due);
    const auto open = static_cast<std::int64_t>(unplacedJobs(week).size());
    QStringList parts{Text::tr("%1 to do").arg(numberText(due - open))};
    const auto add = [&](std::int64_t count, const QString &text) {
        if (count > 0)
            parts << text.arg(numberText(count));
    };
    add(made, Text::tr("%1 made"));
    add(missed, Text::tr("%1 missed"));
    add(calledOff, Text::tr("%1 called off"));
    add(others, Text::tr("%1 not recorded yet"));
    return parts.join(QStringLiteral(", "));
}

QString notPlacedText(const WeekPicture &week, std::int64_t visits) {
    const QString count = numberText(visits);
    if (rounds::hasPassed(week.problem))
        return visits == 1 ? Text::tr("1 was not planned") : Text::tr("%1 were not planned").arg(count);
    return Text::tr("%1 not placed").arg(count);
}

QString provenText(bool isWhole) {
    return isWhole ? Text::tr("the best possible, as the bound proves") : Text::tr("no plan places more");
}

std::int32_t sameJob(const WeekPicture &before, std::int32_t job, const WeekPicture &after) {
    if (job < 0 || at(job) >= before.due.size())
        return -1;
    const rounds::DueVisit &was = before.due[at(job)];
    const auto isIt = [&](const rounds::DueVisit &is) {
        return isOwedAlike(was, is) && was.ordinal == is.ordinal && was.visit.id == is.visit.id;
    };
    if (at(job) < after.due.size() && isIt(after.due[at(job)]))
        return job; // a plan of the same visits, as most
    std::int32_t alike = -1;
    for (std::size_t j = 0; j < after.due.size(); ++j) {
        const rounds::DueVisit &is = after.due[j];
        const auto index = static_cast<std::int32_t>(j);
        if (was.visit.id.isSet() && is.visit.id.isSet()) {
            if (was.visit.id == is.visit.id)
                return index;
            continue;
        }
        if (!isOwedAlike(was, is))
            continue;
        if (standsAlike(before, before.plan.placements[at(job)], after, after.plan.placements[j]))
            return index; // stored since
        if (was.ordinal == is.ordinal)
            alike = index;
    }
    return alike;
}

} // namespace kitround::desk

#include "core/desk/words/VisitWords.h"

#include "core/calendar/Holidays.h"
#include "core/calendar/VisitNotation.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"
#include "core/rounds/due/VisitsDue.h"
#include "core/rounds/problem/PrecedingVisit.h"

#include <QStringList>

#include <string_view>

namespace kitround::desk {
namespace {

QString rangeText(std::int64_t least, std::int64_t most, GapUnit unit) {
    const QString range = least == most ? QString::number(least) : Text::tr("%1 to %2").arg(least).arg(most);
    if (unit == GapUnit::Day)
        return most == 1 && least == 1 ? Text::tr("1 day") : Text::tr("%1 days").arg(range);
    return most == 1 && least == 1 ? Text::tr("1 minute") : Text::tr("%1 minutes").arg(range);
}

QString numberAWeek(int least, int most) {
    return least == most ? QString::number(least) : QStringLiteral("%1-%2").arg(least).arg(most);
}

// "2 a week on 3 days"
QString partText(const calendar::WeekPart &part) {
    const auto days = part.days.length().count();
    return Text::tr("%1 a week, in force on %2 (%3)")
        .arg(numberAWeek(part.least, part.most),
             days == 1
                 ? dayText(part.days.from)
                 : Text::tr("%1 to %2").arg(dayText(part.days.from), dayText(part.days.to.plusDays(-1))),
             counted(days, Text::tr("1 day"), Text::tr("%1 days")));
}

} // namespace

QString words(Reached reached) {
    switch (reached) {
    case Reached::Patient:
        return Text::tr("the patient");
    case Reached::Relative:
        return Text::tr("a relative or carer");
    case Reached::Message:
        return Text::tr("nobody, a message was left");
    case Reached::Nobody:
        return Text::tr("nobody");
    }
    return {};
}

QString visitsText(std::int64_t count) {
    return counted(count, Text::tr("1 visit"), Text::tr("%1 visits"));
}

QString holidayText(Date on) {
    const auto holiday = calendar::holidayOn(on);
    const std::string_view name = holiday ? calendar::englishName(holiday->which) : std::string_view();
    return QString::fromUtf8(name.data(), static_cast<qsizetype>(name.size()));
}

QString closedDayText(const AgencySettings &settings, VisitKind kind, Date on) {
    if (rounds::isVisitingDay(settings, on))
        return {};
    if (const QString holiday = holidayText(on); !holiday.isEmpty())
        return (kind == VisitKind::Routine ? Text::tr("no routine visits on %1")
                                           : Text::tr("no visits of this kind on %1"))
            .arg(holiday);
    return settings.visitingDays.contains(on.weekday()) ? Text::tr("the agency is closed that day")
                                                        : Text::tr("that is no visiting day of the agency");
}

QString visitOrderName(const VisitOrder &order) {
    return Text::tr("%1 %2 from %3")
        .arg(words(order.kind), fromStd(calendar::printVisitOrder(order.segments)), dayText(order.start));
}

QString addedVisitName(const Visit &visit) {
    const Date last = visit.dueTo.plusDays(-1);
    return visit.dueFrom == last
               ? Text::tr("Added %1, %2").arg(words(visit.kind), dayText(last))
               : Text::tr("Added %1, %2 to %3").arg(words(visit.kind), dayText(visit.dueFrom), dayText(last));
}

QString afterText(const ComesAfter &after, const SnapshotIndex &agency) {
    QString what;
    for (const VisitOrder &order : agency.snapshot().visitOrders)
        if (after.order == order.id)
            what = visitOrderName(order);
    if (after.visit)
        if (const Visit *visit = agency.visit(*after.visit))
            what = addedVisitName(*visit);
    if (what.isEmpty())
        return {};
    const QString gap = rangeText(after.least, after.most, after.unit);
    const QString text = after.unit == GapUnit::Day
                             ? Text::tr("Comes %1 after: %2").arg(gap, what)
                             : Text::tr("Starts %1 after the end of: %2").arg(gap, what);
    return after.byAnother ? Text::tr("%1; by another nurse").arg(text) : text;
}

QString afterText(const Visit &visit, const SnapshotIndex &agency) {
    return afterText(rounds::comesAfterOf(agency, visit), agency);
}

QString followText(const rounds::Follow &follow, const rounds::WeekProblem &problem, const QString &first) {
    const bool inDays = follow.unit == GapUnit::Day;
    const std::int64_t length = inDays ? 0 : problem.jobs[static_cast<std::size_t>(follow.first)].length;
    const QString gap = rangeText(follow.least - length, follow.most - length, follow.unit);
    const QString text =
        inDays ? Text::tr("is to come %1 after %2").arg(gap, first)
               : Text::tr("is to start %1 after the end of %2, on the same day").arg(gap, first);
    return follow.byAnother ? Text::tr("%1, by another nurse").arg(text) : text;
}

QString begunText(Minutes start) {
    return Text::tr("Begun %1, stays").arg(timeText(start));
}

QString begunTip() {
    return Text::tr("The visit has begun: it stays with its nurse, day and time without a lock.");
}

QString callOffText(const QString &visit, bool isAgain) {
    const QString asked = isAgain ? Text::tr("Nothing is written yet. Who agreed, when, and why:")
                                  : Text::tr("Who agreed, when, and why:");
    return Text::tr("%1.\n\nOnly where the prescriber has agreed to one visit fewer in this week. The order "
                    "itself does not change.")
               .arg(visit) +
           QStringLiteral("\n\n") + asked;
}

QString sharedWeekText(const std::vector<calendar::WeekPart> &parts) {
    if (parts.empty())
        return {};
    QStringList ordered, shares;
    int least = 0, most = 0;
    for (const calendar::WeekPart &part : parts) {
        ordered << partText(part);
        shares << numberAWeek(part.leastShare, part.mostShare);
        least += part.leastShare;
        most += part.mostShare;
    }
    return Text::tr(
               "Two orders of one kind share this week: %1. Each counts by its days, rounded up together "
               "and never above the larger number: %2 owed in all (%3). The orders stay as they are. "
               "Any other number is the prescriber's to say: only then add a visit or call one off.")
        .arg(ordered.join(Text::tr("; then ")), numberAWeek(least, std::max(least, most)),
             shares.join(Text::tr(" and ")));
}

} // namespace kitround::desk

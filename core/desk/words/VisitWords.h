#pragma once
// Sentences about visit orders: what comes after what, and how two orders share a week.
#include "core/calendar/VisitWeeks.h"
#include "core/records/Snapshot.h"
#include "core/rounds/problem/WeekProblem.h"

#include <QString>

namespace kitround::desk {

QString visitsText(std::int64_t count); // "1 visit", "3 visits"
QString holidayText(Date on);           // the federal holiday's name; empty on any other day
// Why the agency plans no visits on the day: "no routine visits on Thanksgiving Day"; empty where it does.
QString closedDayText(const AgencySettings &settings, VisitKind kind, Date on);
// "Routine visit 2W4 from Wed 6 May": how an order is named in a list and in a sentence.
QString visitOrderName(const VisitOrder &order);
// "Added teaching, Mon 4 May to Wed 6 May"
QString addedVisitName(const Visit &visit);
// "Comes 1 to 3 days after: Teaching 1W2 from ...; by another nurse". Empty where it comes after nothing.
QString afterText(const ComesAfter &after, const SnapshotIndex &agency);
QString afterText(const Visit &visit, const SnapshotIndex &agency); // what its order, or it itself, says
// "is to start 30 to 90 minutes after the end of RA teaching, on one day, by another nurse"
QString followText(const rounds::Follow &follow, const rounds::WeekProblem &problem, const QString &first);
// Of a visit under way: "Begun 09:10, stays"; and why it has no locks of its own.
QString begunText(Minutes start);
QString begunTip();
// What is asked before a visit is called off for good; the answer is kept with the visit. `visit`: whose and
// which; `isAgain`: nothing was written the last time.
QString callOffText(const QString &visit, bool isAgain);
// The reckoning of a shared week and whose it is to change it; empty where there are no parts.
QString sharedWeekText(const std::vector<calendar::WeekPart> &parts);

} // namespace kitround::desk

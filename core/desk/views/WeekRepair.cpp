#include "core/desk/views/WeekRepair.h"

#include "core/base/Index.h"
#include "core/desk/views/HomesTold.h"
#include "core/desk/views/PlanChangeParts.h"
#include "core/desk/views/PlanNews.h"
#include "core/desk/views/VisitCards.h"
#include "core/desk/words/Reasons.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/VisitWords.h"
#include "core/desk/words/Words.h"
#include "core/rounds/problem/Fit.h"
#include "core/rounds/repair/Repair.h"

#include <algorithm>
#include <cmath>

namespace kitround::desk {
namespace {

using parts::joinedNotes;
using parts::moveNote;
using parts::planChangeAt;
using parts::sortPlanChanges;

// Where "today" and "now" stand in the week. The whole week lies ahead: before its first day.
Result<rounds::RepairOptions> optionsFor(const WeekPicture &week) {
    rounds::RepairOptions options;
    const LocalTime now = week.agency->snapshot().now;
    const Date today = week.agency->today();
    if (today >= week.week.to)
        return Problem{ProblemCode::OutOfRange,
                       "week_start",
                       {today.toIso(), week.week.from.toIso(), week.week.to.plusDays(-1).toIso()}};
    if (today >= week.week.from) {
        options.today = static_cast<std::int32_t>((today - week.week.from).count());
        options.now = static_cast<rounds::Minute>(now.minute.count());
    }
    options.seed = static_cast<std::uint64_t>(week.seed);
    options.iterations *= weeksIn(week); // of several weeks more has to be looked at
    options.seconds *= weeksIn(week);
    return options;
}

// Visits people were told of that start a little off now: listed apart where that is as agreed. Where it adds
// up to more than that, the home has to be phoned.
void addShifts(const WeekPicture &week, Repaired &result) {
    const HomesTold homes(*week.agency);
    for (std::size_t j = 0; j < week.due.size(); ++j) {
        const auto job = static_cast<std::int32_t>(j);
        const VisitPlace was = placeIn(week, week.plan.placements[j]),
                         now = placeIn(*result.after, result.after->plan.placements[j]);
        const VisitPlace &told = homes.expected(week.due[j].visit.id, now);
        if (!told.isSet() || isSamePlace(was, now) ||
            std::ranges::find(result.changes, job, &PlanChange::job) != result.changes.end())
            continue;
        PlanChange change = planChangeAt(week, job);
        change.was = placeText(week, told);
        change.now = placeText(week, now);
        if (isAsAgreed(told, now)) {
            change.isSmall = true;
            change.note = isSamePlace(told, now) ? Text::tr("back at the time told") : shiftText(told, now);
            result.shifted.push_back(std::move(change));
        } else if (isAsAgreed(told, was)) {
            result.changes.push_back(std::move(change));
        }
    }
    sortPlanChanges(*result.after, result.shifted);
}

Result<Repaired> repaired(const WeekPicture &week, rounds::WeekProblem changed, std::stop_token stop) {
    const auto options = optionsFor(week);
    if (!options)
        return options.error();
    auto report = rounds::repair(changed, week.plan, *options, std::move(stop));
    if (!report)
        return report.error();
    auto picture = std::make_shared<WeekPicture>(week);
    picture->problem = std::move(changed);
    Repaired result;
    result.after = withPlan(*picture, std::move(report->plan));
    result.addedCost = result.after->evaluation.parts.total() - week.evaluation.parts.total();
    for (const rounds::MovedVisit &moved : report->moved) {
        PlanChange change = planChangeAt(week, moved.job);
        change.was = placeText(week, placeIn(week, moved.before));
        change.now =
            moved.after.isPlaced() ? placeText(week, placeIn(week, moved.after)) : Text::tr("no place found");
        change.isUnplaced = !moved.after.isPlaced();
        change.isNew = !moved.before.isPlaced();
        change.note = moveNote(*result.after, moved.job, placeIn(week, moved.before));
        result.changes.push_back(std::move(change));
    }
    addShifts(week, result);
    // As many as the calendar says afterwards, those that had no place before among them.
    for (const std::int32_t job : unplacedJobs(*result.after))
        if (std::ranges::find(result.changes, job, &PlanChange::job) == result.changes.end()) {
            PlanChange change = planChangeAt(week, job);
            change.was = Text::tr("not planned");
            change.now = Text::tr("no place found");
            change.isUnplaced = true;
            result.changes.push_back(std::move(change));
        }
    sortPlanChanges(*result.after, result.changes);
    return result;
}

} // namespace

PlanChange planChangeOf(const Agency &agency, const Visit &visit) {
    PlanChange change;
    change.patient = visit.patient;
    change.kind = words(visit.kind);
    if (const Patient *patient = agency.index().patient(visit.patient)) {
        change.who = personName(*patient);
        change.phone = fromStd(patient->phone);
    }
    return change;
}

VisitPlace placeIn(const WeekPicture &week, const rounds::Placement &placement) {
    if (!placement.isPlaced())
        return {};
    VisitPlace place{dayOfDuty(week, placement.duty), Minutes::of(placement.start),
                     nurseOfDuty(week, placement.duty), std::nullopt};
    if (placement.secondDuty >= 0)
        place.secondNurse = nurseOfDuty(week, placement.secondDuty);
    return place;
}

rounds::Placement placementAt(const WeekPicture &week, std::int32_t job, const VisitPlace &place) {
    const std::int32_t duty = place.isSet() ? dutyOf(week, *place.nurse, *place.on) : -1;
    if (duty < 0)
        return {};
    const bool hasSecond = week.problem.jobs[at(job)].twoNurses && place.secondNurse;
    return {duty, hasSecond ? dutyOf(week, *place.secondNurse, *place.on) : -1,
            static_cast<rounds::Minute>(place.startAt->count())};
}

QString placeText(const WeekPicture &week, const VisitPlace &place) {
    if (!place.isSet())
        return Text::tr("not planned");
    const QString text =
        Text::tr("%1 %2, %3")
            .arg(dayText(*place.on), timeText(*place.startAt), nurseNameIn(week, *place.nurse));
    return place.secondNurse ? Text::tr("%1 and %2").arg(text, nurseNameIn(week, *place.secondNurse)) : text;
}

QString shiftText(const VisitPlace &was, const VisitPlace &now) {
    return counted(std::abs((*now.startAt - *was.startAt).count()), Text::tr("by 1 minute"),
                   Text::tr("by %1 minutes"));
}

QString asAgreedText(std::int64_t visits) {
    return Text::tr("Within %1 minutes of the time told, which counts as agreed: %2.")
        .arg(numberText(rounds::kStillMinutes), visitsText(visits));
}

QStringList undecidedLeave(const WeekPicture &week) {
    QStringList lines;
    for (const TimeOff &off : week.agency->snapshot().timeOff) {
        if (off.status != LeaveStatus::Requested)
            continue;
        const auto visits = std::ranges::count_if(week.plan.placements, [&](const rounds::Placement &placed) {
            const auto isHers = [&](std::int32_t duty) {
                const Date on = duty >= 0 ? dayOfDuty(week, duty) : Date{};
                return duty >= 0 && nurseOfDuty(week, duty) == off.nurse && off.from <= on && on < off.to;
            };
            return isHers(placed.duty) || isHers(placed.secondDuty);
        });
        if (visits > 0)
            lines << Text::tr("%1 has asked for leave from %2 to %3, which is not decided: the plan has %4 "
                              "for these days.")
                         .arg(nurseNameIn(week, off.nurse), dayText(off.from), dayText(off.to.plusDays(-1)),
                              visitsText(visits));
    }
    return lines;
}

QString costChangeText(const WeekPicture &before, const WeekPicture &after) {
    QStringList parts;
    for (const CostChange &part : costChanges(before.evaluation.parts, after.evaluation.parts))
        parts << QStringLiteral("%1 %2").arg(part.name, signedText(part.is - part.was));
    if (parts.isEmpty())
        return Text::tr("The plan has as many weighted minutes as before.");
    const double one = before.evaluation.parts.total(), other = after.evaluation.parts.total();
    return Text::tr("Weighted minutes %1, then %2 (%3): %4.")
        .arg(numberText(std::llround(one)), numberText(std::llround(other)),
             signedText(wholeChange(one, other)), parts.join(QStringLiteral(", ")));
}

QStringList costDifferences(const WeekPicture &before, const WeekPicture &after) {
    QStringList lines;
    const auto line = [&](const QString &name, std::int64_t one, std::int64_t other) {
        lines << Text::tr("%1: %2, then %3 (%4)")
                     .arg(name, numberText(one), numberText(other), signedText(other - one));
    };
    for (const CostChange &part : costChanges(before.evaluation.parts, after.evaluation.parts))
        line(part.name, part.was, part.is);
    if (!lines.isEmpty())
        line(Text::tr("in all, weighted minutes"), std::llround(before.evaluation.parts.total()),
             std::llround(after.evaluation.parts.total()));
    return lines;
}

namespace {

Date lastDayOf(const CallOut &out) {
    return std::max(out.on, out.lastDay.value_or(out.on));
}

// The first day after the absence on which the nurse stands at that place.
std::optional<Date> waitsUntil(const WeekPicture &week, const rounds::Placement &placed, const CallOut &out) {
    for (const std::int32_t duty : {placed.duty, placed.secondDuty})
        if (duty >= 0 && nurseOfDuty(week, duty) == out.nurse && dayOfDuty(week, duty) > lastDayOf(out))
            return dayOfDuty(week, duty);
    return std::nullopt;
}

// Nobody knows yet whether she is back: what comes to stand with her again has to be looked at.
// What stood there before, too, is no news.
void noteReturn(const WeekPicture &before, const CallOut &out, Repaired &mended) {
    const WeekPicture &after = *mended.after;
    std::int64_t waiting = 0;
    std::optional<Date> first;
    for (PlanChange &change : mended.changes) {
        const auto back = waitsUntil(after, after.plan.placements[at(change.job)], out);
        if (!back || waitsUntil(before, before.plan.placements[at(change.job)], out))
            continue;
        ++waiting;
        first = std::min(first.value_or(*back), *back);
        change.note = joinedNotes(
            {Text::tr("Waits for %1: back by then?").arg(nurseNameIn(after, out.nurse)), change.note});
    }
    if (waiting == 0)
        return;
    const Date last = lastDayOf(out);
    const QString away = last > out.on ? Text::tr("is away until %1 (%2)") : Text::tr("is away on %1 (%2)");
    mended.toMind << Text::tr("%1 for %2, who %3: make sure that the nurse is back on %4.")
                         .arg(counted(waiting, Text::tr("1 visit waits"), Text::tr("%1 visits wait")),
                              nurseNameIn(after, out.nurse), away.arg(dayText(last), words(out.kind)),
                              dayText(*first));
}

// A visit of hers whose hour has passed and that nobody recorded goes to another nurse as if nobody had been
// there: whoever calls out for the whole day may have made it before.
void noteUnrecorded(const WeekPicture &before, std::int32_t duty, Repaired &mended) {
    const Agency &agency = *before.agency;
    if (dayOfDuty(before, duty) != agency.today())
        return;
    const Minutes now = agency.snapshot().now.minute;
    QStringList names;
    for (std::size_t j = 0; j < before.plan.placements.size(); ++j) {
        const rounds::Placement &was = before.plan.placements[j], &is = mended.after->plan.placements[j];
        const bool wasHers = was.duty == duty || was.secondDuty == duty;
        if (!wasHers || is.duty == duty || is.secondDuty == duty || Minutes::of(was.start) >= now)
            continue;
        const Patient *patient = agency.index().patient(before.due[j].visit.patient);
        names << (patient ? personName(*patient) : QString());
    }
    if (names.isEmpty())
        return;
    const QString text =
        names.size() == 1
            ? Text::tr("1 visit before %1 counts as not made: %2. Record it, or enter until when the nurse "
                       "works.")
            : Text::tr("%3 visits before %1 count as not made: %2. Record them, or enter until when the "
                       "nurse works.")
                  .replace(QStringLiteral("%3"), numberText(names.size()));
    mended.toMind << text.arg(timeText(now), names.join(QStringLiteral("; ")));
}

} // namespace

Result<Repaired> repairCallOut(const WeekPicture &week, const CallOut &out, std::stop_token stop) {
    const std::int32_t duty = week.week.contains(out.on) ? dutyOf(week, out.nurse, out.on) : -1;
    if (duty < 0)
        return Problem{ProblemCode::Conflict, "on_date", {"no_duty"}};
    const rounds::Duty &d = week.problem.duties[at(duty)];
    const auto from = static_cast<rounds::Minute>(out.from ? out.from->count() : 0);
    rounds::WeekProblem changed = rounds::withNurseAway(week.problem, d.nurse, d.day, from);
    const Date last = lastDayOf(out);
    for (Date day = out.on.plusDays(1); day <= last && day < week.week.to; ++day)
        changed = rounds::withNurseAway(changed, d.nurse,
                                        static_cast<std::int32_t>((day - week.problem.firstDay).count()), 0);
    Result<Repaired> mended = repaired(week, std::move(changed), std::move(stop));
    if (mended) {
        noteUnrecorded(week, duty, *mended);
        noteReturn(week, out, *mended);
    }
    return mended;
}

Result<Repaired> repairOverrun(const WeekPicture &week, std::int32_t job, Minutes longer,
                               std::stop_token stop) {
    if (job < 0 || at(job) >= week.plan.placements.size() || !week.plan.placements[at(job)].isPlaced())
        return Problem{ProblemCode::UnknownRecord, "visit_id", {"visit", std::to_string(job)}};
    return repaired(
        week, rounds::withOverrun(week.problem, week.plan, job, static_cast<rounds::Minute>(longer.count())),
        std::move(stop));
}

OverrunAsk overrunAsk(const WeekPicture &week, std::int32_t job) {
    if (job < 0 || at(job) >= week.plan.placements.size() || !week.plan.placements[at(job)].isPlaced())
        return {{}, Text::tr("Choose the visit that runs over first: a visit of today.")};
    const PlanChange visit = planChangeAt(week, job);
    const VisitPlace place = placeIn(week, week.plan.placements[at(job)]);
    if (*place.on != week.agency->today())
        return {
            {},
            Text::tr("The visit to %1 is on %2. Only a visit of today can run over: choose that one first.")
                .arg(visit.who, dayText(*place.on))};
    const Minutes end = *place.startAt + Minutes::of(week.problem.jobs[at(job)].length);
    return {Text::tr("By how many minutes does the visit to %1 (%2, today %3 to %4, %5) run over?")
                .arg(visit.who, visit.kind, timeText(*place.startAt), timeText(end),
                     nurseNameIn(week, *place.nurse)),
            {}};
}

Result<Repaired> repairToRecords(const WeekPicture &week, std::stop_token stop) {
    return repaired(week, week.problem, std::move(stop));
}

} // namespace kitround::desk

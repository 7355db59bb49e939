#include "core/desk/views/WeekRepair.h"

#include "core/base/Index.h"
#include "core/desk/views/PackedParcels.h"
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
#include <iterator>
#include <tuple>

namespace kitround::desk {
namespace {

PlanChange changeOf(const WeekPicture &week, std::int32_t job) {
    PlanChange change = planChangeOf(*week.agency, week.due[at(job)].visit);
    change.job = job;
    return change;
}

// What needs a decision comes first, as it was found: what lost its place before what had none.
void sortChanges(const WeekPicture &week, std::vector<PlanChange> &changes) {
    std::ranges::stable_sort(changes, {}, [&](const PlanChange &c) {
        const rounds::Placement &p = week.plan.placements[at(c.job)];
        return std::tuple(c.isSmall, !c.isUnplaced, p.isPlaced() ? week.problem.duties[at(p.duty)].day : 0,
                          p.start, c.isUnplaced ? 0 : c.job);
    });
}

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

// What to mind of a visit that stood elsewhere before.
QString moveNote(const WeekPicture &week, std::int32_t job, const VisitPlace &was) {
    const rounds::Placement &is = week.plan.placements[at(job)];
    return joinedNotes({startOfCareNote(week, job, was), requestNote(week, is.duty),
                        parcelText(week.agency->index(), week.due[at(job)].visit, placeIn(week, is))});
}

QString toTellText(const WeekPicture &week, const VisitPlace &place) {
    QStringList told;
    for (const std::optional<NurseId> &id : {place.nurse, place.secondNurse})
        if (const Nurse *nurse = id ? week.agency->index().nurse(*id) : nullptr)
            told << (nurse->phone.empty()
                         ? personName(*nurse)
                         : QStringLiteral("%1 (%2)").arg(personName(*nurse), fromStd(nurse->phone)));
    return Text::tr("Tell %1").arg(told.join(Text::tr(" and ")));
}

QString whereGoneText(const WeekPicture &week, const Visit &visit, Date toldOn) {
    if (visit.status == VisitStatus::Drafted && !week.week.contains(*visit.on))
        return placeText(week, plannedPlace(visit));
    return week.agency->index().holdOn(visit.patient, toldOn) ? Text::tr("taken out: on hold that day")
                                                              : Text::tr("taken out of the plan");
}

// Visits people were told of that the week does not hold any more: without a word the nurse still drives
// there.
std::vector<PlanChange> goneSincePublished(const WeekPicture &week) {
    const Agency &agency = *week.agency;
    std::vector<std::pair<VisitPlace, const Visit *>> gone;
    for (const Visit &visit : agency.snapshot().visits) {
        if (visit.status == VisitStatus::Done || visit.status == VisitStatus::Missed ||
            visit.kind == VisitKind::Phone)
            continue;
        const VisitPlace told = agency.index().toldPlace(visit);
        if (!told.isSet() || !week.week.contains(*told.on) || *told.on < agency.today())
            continue;
        const bool isDue = std::ranges::any_of(
            week.due, [&](const rounds::DueVisit &due) { return due.visit.id == visit.id; });
        if (!isDue)
            gone.push_back({told, &visit});
    }
    std::ranges::stable_sort(gone, {}, [](const auto &g) { return std::pair(g.first.on, g.first.startAt); });
    std::vector<PlanChange> changes;
    for (const auto &[told, visit] : gone) {
        PlanChange change = planChangeOf(agency, *visit);
        change.isGone = true;
        change.was = placeText(week, told);
        change.now = whereGoneText(week, *visit, *told.on);
        change.note = joinedNotes({toTellText(week, told), parcelText(agency.index(), *visit, {})});
        changes.push_back(std::move(change));
    }
    return changes;
}

// Where the visit stands elsewhere than people were told.
std::optional<PlanChange> changeSinceTold(const WeekPicture &week, std::int32_t job) {
    const VisitPlace told = week.agency->index().toldPlace(week.due[at(job)].visit);
    if (!told.isSet())
        return std::nullopt;
    const VisitPlace now = placeIn(week, week.plan.placements[at(job)]);
    if (isSamePlace(told, now))
        return std::nullopt;
    PlanChange change = changeOf(week, job);
    change.was = placeText(week, told);
    change.now = placeText(week, now);
    change.isUnplaced = !now.isSet();
    change.isSmall = isAsAgreed(told, now);
    change.note = change.isSmall ? shiftText(told, now) : moveNote(week, job, told);
    return change;
}

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

// Visits people were told of that start a little off now: counted where that is as agreed. Where it adds up
// to more than that, the home has to be phoned.
void addShifts(const WeekPicture &week, Repaired &result) {
    for (std::size_t j = 0; j < week.due.size(); ++j) {
        const auto job = static_cast<std::int32_t>(j);
        const VisitPlace told = week.agency->index().toldPlace(week.due[j].visit);
        const VisitPlace was = placeIn(week, week.plan.placements[j]),
                         now = placeIn(*result.after, result.after->plan.placements[j]);
        if (!told.isSet() || isSamePlace(was, now) ||
            std::ranges::find(result.changes, job, &PlanChange::job) != result.changes.end())
            continue;
        if (isAsAgreed(told, now)) {
            ++result.shifted;
        } else if (isAsAgreed(told, was)) {
            PlanChange change = changeOf(week, job);
            change.was = placeText(week, told);
            change.now = placeText(week, now);
            result.changes.push_back(std::move(change));
        }
    }
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
        PlanChange change = changeOf(week, moved.job);
        change.was = placeText(week, placeIn(week, moved.before));
        change.now =
            moved.after.isPlaced() ? placeText(week, placeIn(week, moved.after)) : Text::tr("no place found");
        change.isUnplaced = !moved.after.isPlaced();
        change.note = moveNote(*result.after, moved.job, placeIn(week, moved.before));
        result.changes.push_back(std::move(change));
    }
    addShifts(week, result);
    // As many as the calendar says afterwards, those that had no place before among them.
    for (const std::int32_t job : unplacedJobs(*result.after))
        if (std::ranges::find(result.changes, job, &PlanChange::job) == result.changes.end()) {
            PlanChange change = changeOf(week, job);
            change.was = Text::tr("not planned");
            change.now = Text::tr("no place found");
            change.isUnplaced = true;
            result.changes.push_back(std::move(change));
        }
    sortChanges(*result.after, result.changes);
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

std::vector<PlanChange> changesSincePublished(const WeekPicture &week) {
    std::vector<PlanChange> changes;
    for (std::size_t j = 0; j < week.due.size(); ++j)
        if (auto change = changeSinceTold(week, static_cast<std::int32_t>(j)))
            changes.push_back(*std::move(change));
    sortChanges(week, changes);
    std::vector<PlanChange> gone = goneSincePublished(week);
    const auto small = std::ranges::find(changes, true, &PlanChange::isSmall);
    changes.insert(small, std::make_move_iterator(gone.begin()), std::make_move_iterator(gone.end()));
    return changes;
}

QString changesText(const std::vector<PlanChange> &changes) {
    if (changes.empty())
        return Text::tr("Every visit stands as it was published last. Who has to be told of what changed by "
                        "publishing again stands under Today until it is recorded as told.");
    const auto small = std::ranges::count(changes, true, &PlanChange::isSmall);
    const auto gone = std::ranges::count(changes, true, &PlanChange::isGone);
    const auto open = std::ranges::count(changes, true, &PlanChange::isUnplaced);
    const auto moved = static_cast<std::int64_t>(changes.size()) - small - gone - open;
    QStringList parts;
    if (moved > 0)
        parts << counted(moved, Text::tr("1 visit has another nurse, day or time than people were told."),
                         Text::tr("%1 visits have another nurse, day or time than people were told."));
    if (open > 0)
        parts << counted(open, Text::tr("1 visit has no place any more."),
                         Text::tr("%1 visits have no place any more."));
    if (gone > 0)
        parts << counted(
            gone, Text::tr("1 visit is taken out: tell its nurse, who would still drive there."),
            Text::tr("%1 visits are taken out: tell their nurses, who would still drive there."));
    if (small > 0)
        parts << asAgreedText(small);
    return parts.join(u' ');
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

WeekPicturePtr publishedPicture(const WeekPicture &week) {
    std::vector<rounds::Placement> placements(week.due.size());
    bool wasPublished = false;
    for (std::size_t j = 0; j < week.due.size(); ++j) {
        const VisitPlace told = week.agency->index().toldPlace(week.due[j].visit);
        if (!told.isSet())
            continue;
        wasPublished = true;
        // A day gone by has no duties left: the visit stays where it is, so that nothing is made of it.
        placements[j] = *told.on < week.agency->today()
                            ? week.plan.placements[j]
                            : placementAt(week, static_cast<std::int32_t>(j), told);
    }
    return wasPublished ? withPlacements(week, std::move(placements)) : nullptr;
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

Result<Repaired> repairToRecords(const WeekPicture &week, std::stop_token stop) {
    return repaired(week, week.problem, std::move(stop));
}

} // namespace kitround::desk

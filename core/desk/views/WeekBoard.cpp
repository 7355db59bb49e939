#include "core/desk/views/WeekBoard.h"

#include "core/calendar/Holidays.h"
#include "core/desk/views/CaseloadView.h"
#include "core/desk/words/Reasons.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"

#include <algorithm>
#include <cmath>
#include <set>

namespace kitround::desk {
namespace {

std::size_t at(std::int32_t index) {
    return static_cast<std::size_t>(index);
}

const rounds::Duty &dutyOf(const WeekPicture &week, std::int32_t duty) {
    return week.problem.duties[at(duty)];
}
NurseId nurseOf(const WeekPicture &week, std::int32_t duty) {
    return week.problem.nurses[at(dutyOf(week, duty).nurse)].id;
}
Date dayOf(const WeekPicture &week, std::int32_t duty) {
    return week.problem.firstDay.plusDays(dutyOf(week, duty).day);
}

std::int32_t dutyOn(const WeekPicture &week, NurseId nurse, Date on) {
    for (std::size_t d = 0; d < week.problem.duties.size(); ++d) {
        const auto duty = static_cast<std::int32_t>(d);
        if (nurseOf(week, duty) == nurse && dayOf(week, duty) == on)
            return duty;
    }
    return -1;
}

QString nurseName(const WeekPicture &week, NurseId id) {
    const Nurse *nurse = week.agency->index().nurse(id);
    return nurse ? personName(*nurse) : QString();
}

VisitCard cardOf(const WeekPicture &week, std::int32_t job) {
    const rounds::Job &j = week.problem.jobs[at(job)];
    const rounds::DueVisit &due = week.due[at(job)];
    VisitCard card;
    card.job = job;
    card.patient = j.patient;
    const Patient *patient = week.agency->index().patient(j.patient);
    card.name = patient ? personName(*patient) : QString();
    card.kind = words(j.kind);
    card.isLocked = j.lockedDay >= 0 || j.lockedNurse >= 0 || j.lockedStart >= 0;
    card.needsTwo = j.twoNurses;
    card.isUrgent = j.priority >= rounds::Priority::High;
    card.carriesSupplies = std::ranges::find(week.plan.riderJob, job) != week.plan.riderJob.end();
    const rounds::Placement &placed = week.plan.placements[at(job)];
    const bool isAsPublished = due.visit.status == VisitStatus::Published && placed.isPlaced() &&
                               due.visit.on == dayOf(week, placed.duty) &&
                               due.visit.nurse == nurseOf(week, placed.duty);
    if (due.visit.status == VisitStatus::Done || due.visit.status == VisitStatus::Missed)
        card.status = due.visit.status;
    else if (placed.isPlaced())
        card.status = isAsPublished ? VisitStatus::Published : VisitStatus::Drafted;
    card.dueText = Text::tr("%1 of %2 this week, %3 to %4")
                       .arg(due.ordinal > 0 ? due.ordinal : 1)
                       .arg(due.ofWeek)
                       .arg(dayText(due.visit.dueFrom), dayText(due.visit.dueTo.plusDays(-1)));
    return card;
}

QString absenceOn(const Snapshot &agency, NurseId nurse, Date on) {
    for (const TimeOff &off : agency.timeOff)
        if (off.nurse == nurse && off.from <= on && on < off.to)
            return words(off.kind);
    return {};
}

QString signedMinutes(double minutes) {
    const auto whole = static_cast<long long>(std::llround(minutes));
    return (whole > 0 ? QStringLiteral("+") : QString()) + QString::number(whole);
}

MoveOffer offerOf(const WeekPicture &week, const rounds::MoveCheck &check) {
    MoveOffer offer;
    offer.after = withPlan(week, check.plan);
    offer.addedCost = check.after.total() - check.before.total();
    offer.travelAdded = Minutes::of(check.travelAdded);
    for (const rounds::RuleBreak &rule : check.broken)
        offer.broken << reason(rule, week.problem, week.agency->index());
    offer.broken.removeDuplicates();
    offer.summary = offer.broken.isEmpty() ? Text::tr("%1 min travel, cost %2")
                                                 .arg(signedMinutes(static_cast<double>(check.travelAdded)),
                                                      signedMinutes(offer.addedCost))
                                           : offer.broken.join(QStringLiteral(" "));
    return offer;
}

Suggestion suggestionOf(const WeekPicture &week, std::int32_t duty, rounds::Minute start, double cost) {
    Suggestion s;
    s.nurse = nurseOf(week, duty);
    s.on = dayOf(week, duty);
    if (start >= 0)
        s.start = Minutes::of(start);
    s.text = Text::tr("%1 on %2%3: cost %4")
                 .arg(nurseName(week, s.nurse), dayText(s.on),
                      start >= 0 ? Text::tr(" at %1").arg(timeText(Minutes::of(start))) : QString(),
                      signedMinutes(cost));
    return s;
}

QStringList factsOf(const WeekPicture &week, std::int32_t job, const VisitCard &card) {
    const rounds::Job &j = week.problem.jobs[at(job)];
    QStringList facts;
    const rounds::Placement &placed = week.plan.placements[at(job)];
    if (placed.isPlaced()) {
        facts << Text::tr("%1, %2 at %3, %4 min")
                     .arg(nurseName(week, nurseOf(week, placed.duty)), dayText(dayOf(week, placed.duty)),
                          timeText(Minutes::of(placed.start)))
                     .arg(j.length);
        if (placed.secondDuty >= 0)
            facts << Text::tr("With %1, at the same time")
                         .arg(nurseName(week, nurseOf(week, placed.secondDuty)));
    } else {
        facts << Text::tr("Not placed; %1 min").arg(j.length);
    }
    facts << Text::tr("Owed: %1").arg(card.dueText);
    if (j.primaryNurse >= 0)
        facts
            << Text::tr("Primary nurse: %1").arg(nurseName(week, week.problem.nurses[at(j.primaryNurse)].id));
    if (card.carriesSupplies)
        facts << Text::tr("Supplies ride with this visit");
    if (card.isLocked)
        facts << Text::tr("Locked");
    return facts;
}

} // namespace

WeekBoard boardOf(const WeekPicture &week) {
    const caseload::LoadReview review = loadReview(week);
    const Snapshot &agency = week.agency->snapshot();
    std::set<std::pair<std::int32_t, std::int32_t>> broken; // job, duty
    for (const rounds::RuleBreak &rule : week.evaluation.broken)
        broken.emplace(rule.job, rule.duty);

    WeekBoard board;
    for (std::int32_t d = 0; d < week.problem.days; ++d) {
        const auto holiday = calendar::holidayOn(week.problem.firstDay.plusDays(d));
        const std::string_view name = holiday ? calendar::englishName(holiday->which) : std::string_view();
        board.dayNotes.push_back(QString::fromUtf8(name.data(), static_cast<qsizetype>(name.size())));
    }
    for (const caseload::NurseLoad &load : review.nurses) {
        BoardRow row;
        row.nurse = load.nurse;
        row.name = nurseName(week, load.nurse);
        row.load = load;
        for (std::int32_t d = 0; d < week.problem.days; ++d) {
            BoardDay day;
            day.on = week.problem.firstDay.plusDays(d);
            day.absence = absenceOn(agency, load.nurse, day.on);
            const std::int32_t duty = dutyOn(week, load.nurse, day.on);
            if (duty >= 0) {
                day.hasDuty = true;
                day.isOnCall = dutyOf(week, duty).isOnCall;
                day.from = Minutes::of(dutyOf(week, duty).from);
                day.to = Minutes::of(dutyOf(week, duty).to);
                for (const rounds::DutyTimes::Stop &stop : week.evaluation.duties[at(duty)].stops) {
                    VisitCard card = cardOf(week, stop.job);
                    card.start = Minutes::of(stop.start);
                    card.end = Minutes::of(stop.end);
                    card.travelBefore = Minutes::of(stop.travel);
                    card.breaksRule = broken.contains({stop.job, duty}) || broken.contains({stop.job, -1});
                    day.cards.push_back(std::move(card));
                }
            }
            row.days.push_back(std::move(day));
        }
        board.rows.push_back(std::move(row));
    }
    std::ranges::stable_sort(board.rows, {}, &BoardRow::name);
    for (const std::int32_t job : unplacedJobs(week))
        board.tray.push_back(cardOf(week, job));
    return board;
}

MoveOffer offerMove(const WeekPicture &week, std::int32_t job, NurseId nurse, Date on,
                    std::optional<Minutes> start) {
    const std::int32_t duty = dutyOn(week, nurse, on);
    if (duty < 0) {
        MoveOffer none;
        const QString absence = absenceOn(week.agency->snapshot(), nurse, on);
        none.summary =
            absence.isEmpty()
                ? Text::tr("%1 does not work on %2.").arg(nurseName(week, nurse), dayText(on))
                : Text::tr("%1 is away on %2 (%3).").arg(nurseName(week, nurse), dayText(on), absence);
        none.broken << none.summary;
        return none;
    }
    return offerOf(week, rounds::tryMove(week.problem, week.plan, job, duty,
                                         start ? static_cast<rounds::Minute>(start->count()) : -1));
}

MoveOffer offerRemoval(const WeekPicture &week, std::int32_t job) {
    return offerOf(week, rounds::tryMove(week.problem, week.plan, job, -1, -1));
}

VisitReasons reasonsOf(const WeekPicture &week, std::int32_t job) {
    VisitReasons reasons;
    const VisitCard card = cardOf(week, job);
    reasons.title = Text::tr("%1: %2").arg(card.name, card.kind);
    reasons.facts = factsOf(week, job, card);
    const SnapshotIndex &index = week.agency->index();
    const bool isPlaced = week.plan.placements[at(job)].isPlaced();
    if (!isPlaced) {
        reasons.why << reason(rounds::whyUnplaced(week.problem, week.plan, job), week.problem, index);
        for (const rounds::WayOut &way : rounds::waysOut(week.problem, week.plan, job)) {
            Suggestion s;
            if (way.duty >= 0)
                s = suggestionOf(week, way.duty, way.start, way.addedCost);
            s.text = reason(way, week.problem, index);
            s.isAllowed = false;
            reasons.waysOut.push_back(std::move(s));
        }
    }
    for (const rounds::Alternative &other : rounds::alternatives(week.problem, week.plan, job)) {
        if (!other.broken.empty() || reasons.alternatives.size() >= 5)
            break; // allowed ones come first
        if (isPlaced && other.duty == week.plan.placements[at(job)].duty)
            continue;
        reasons.alternatives.push_back(suggestionOf(week, other.duty, other.start, other.addedCost));
    }
    return reasons;
}

} // namespace kitround::desk

#include "core/desk/views/VisitCards.h"

#include "core/base/Index.h"
#include "core/desk/views/PlanAsStored.h"
#include "core/desk/words/Reasons.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/VisitWords.h"
#include "core/desk/words/Words.h"

#include <algorithm>

namespace kitround::desk {

NurseId nurseOfDuty(const WeekPicture &week, std::int32_t duty) {
    return week.problem.nurses[at(week.problem.duties[at(duty)].nurse)].id;
}

Date dayOfDuty(const WeekPicture &week, std::int32_t duty) {
    return week.problem.firstDay.plusDays(week.problem.duties[at(duty)].day);
}

std::int32_t dutyOf(const WeekPicture &week, NurseId nurse, Date on) {
    for (std::size_t d = 0; d < week.problem.duties.size(); ++d) {
        const auto duty = static_cast<std::int32_t>(d);
        if (nurseOfDuty(week, duty) == nurse && dayOfDuty(week, duty) == on)
            return duty;
    }
    return -1;
}

QString nurseNameIn(const WeekPicture &week, NurseId id) {
    const Nurse *nurse = week.agency->index().nurse(id);
    return nurse ? personName(*nurse) : QString();
}

QString dayNote(Date on) {
    return holidayText(on);
}

QString absenceOn(const Snapshot &agency, NurseId nurse, Date on) {
    for (const TimeOff &off : agency.timeOff)
        if (off.nurse == nurse && off.coversDay(on))
            return words(off.kind);
    return {};
}

namespace {

void namePatient(VisitCard &card, const WeekPicture &week, PatientId id) {
    card.patient = id;
    const Patient *patient = week.agency->index().patient(id);
    if (!patient)
        return;
    card.name = personName(*patient);
    card.code = fromStd(patient->code);
    card.initials = initials(*patient).remove(u'.');
}

} // namespace

VisitCard visitCard(const WeekPicture &week, std::int32_t job) {
    const rounds::Job &j = week.problem.jobs[at(job)];
    const rounds::DueVisit &due = week.due[at(job)];
    VisitCard card;
    card.job = job;
    card.visit = due.visit.id;
    namePatient(card, week, j.patient);
    card.kind = words(j.kind);
    card.isLocked = j.lockedDay >= 0 || j.lockedNurse >= 0 || j.lockedStart >= 0;
    if (card.isLocked)
        card.lockText = j.hasBegun ? begunText(Minutes::of(j.lockedStart)) : Text::tr("Locked");
    card.needsTwo = j.twoNurses;
    card.isUrgent = j.priority >= rounds::Priority::High;
    card.carriesSupplies = std::ranges::find(week.plan.riderJob, job) != week.plan.riderJob.end();
    const rounds::Placement &placed = week.plan.placements[at(job)];
    const bool isAsPublished = due.visit.status == VisitStatus::Published && placed.isPlaced() &&
                               due.visit.on == dayOfDuty(week, placed.duty) &&
                               due.visit.nurse == nurseOfDuty(week, placed.duty);
    if (due.visit.status == VisitStatus::Done || due.visit.status == VisitStatus::Missed)
        card.status = due.visit.status;
    else if (placed.isPlaced())
        card.status = isAsPublished ? VisitStatus::Published : VisitStatus::Drafted;
    card.dueText =
        Text::tr("%1 to %2").arg(dayText(due.visit.dueFrom), dayText(due.visit.dueTo.plusDays(-1)));
    if (due.ofWeek > 1)
        card.dueText = Text::tr("visit %1 of the %2 this week, %3")
                           .arg(due.ordinal > 0 ? due.ordinal : 1)
                           .arg(due.ofWeek)
                           .arg(card.dueText);
    else if (due.visit.order)
        card.dueText = Text::tr("the one visit this week, %1").arg(card.dueText);
    return card;
}

VisitCard placedCard(const WeekPicture &week, const rounds::DutyTimes::Stop &stop, std::int32_t duty) {
    VisitCard card = visitCard(week, stop.job);
    card.start = Minutes::of(stop.start);
    card.end = Minutes::of(stop.end);
    card.travelBefore = Minutes::of(stop.travel);
    card.breaksRule = std::ranges::any_of(week.broken, [&](const rounds::RuleBreak &rule) {
        return rule.job == stop.job && (rule.duty == duty || rule.duty < 0);
    });
    if (card.breaksRule)
        card.broken = brokenRules(week, stop.job);
    return card;
}

std::vector<const Visit *> visitsOver(const WeekPicture &week, DateRange shown) {
    std::vector<const Visit *> over;
    for (const Visit &visit : week.agency->snapshot().visits)
        if (const auto on = visit.day();
            on && shown.contains(*on) && *on <= week.agency->today() &&
            (hasHappened(visit.status) || rounds::isUnrecorded(week.agency->snapshot(), visit)))
            over.push_back(&visit);
    return over;
}

std::vector<VisitCard> pastCards(const WeekPicture &week, const std::vector<const Visit *> &over,
                                 NurseId nurse, Date on) {
    std::vector<VisitCard> cards;
    for (const Visit *visit : over) {
        if (visit->day() != on || (visit->nurse != nurse && visit->secondNurse != nurse))
            continue;
        VisitCard card;
        card.visit = visit->id;
        namePatient(card, week, visit->patient);
        card.kind = words(visit->kind);
        card.isUnrecorded = !hasHappened(visit->status);
        if (card.isUnrecorded)
            card.kind = Text::tr("%1, not recorded").arg(card.kind);
        card.status = visit->status;
        card.start = visit->startedAt ? visit->startedAt->minute : visit->startAt.value_or(Minutes{});
        card.end = card.start + visit->lasted().value_or(visit->length);
        cards.push_back(std::move(card));
    }
    std::ranges::stable_sort(cards, {}, &VisitCard::start);
    return cards;
}

QStringList brokenRules(const WeekPicture &week, std::int32_t job) {
    const std::int32_t duty = job >= 0 ? week.plan.placements[at(job)].duty : -1;
    QStringList lines;
    for (const rounds::RuleBreak &rule : week.broken) {
        const bool isOfRound = rule.job < 0 && duty >= 0 && rule.duty == duty;
        if (job < 0 || rule.job == job || isOfRound)
            lines << reason(rule, week.problem, week.agency->index(), PatientNamed::InFull);
    }
    lines.removeDuplicates();
    return lines;
}

} // namespace kitround::desk

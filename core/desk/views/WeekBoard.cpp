#include "core/desk/views/WeekBoard.h"

#include "core/base/Index.h"
#include "core/calendar/VisitWeeks.h"
#include "core/calendar/Weeks.h"
#include "core/desk/views/CaseloadView.h"
#include "core/desk/views/HandMoves.h"
#include "core/desk/views/PackedParcels.h"
#include "core/desk/views/PlanAsStored.h"
#include "core/desk/views/PlanCautions.h"
#include "core/desk/views/VisitCards.h"
#include "core/desk/views/WaysOut.h"
#include "core/desk/views/WeekRepair.h"
#include "core/desk/words/PlaceWords.h"
#include "core/desk/words/Reasons.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/VisitWords.h"
#include "core/desk/words/Words.h"

#include <algorithm>
#include <cmath>

namespace kitround::desk {
namespace {

MoveOffer offerOf(const WeekPicture &week, const rounds::MoveCheck &check) {
    MoveOffer offer;
    offer.after = withPlan(week, check.plan);
    offer.addedCost = check.after.total() - check.before.total();
    offer.travelAdded = Minutes::of(check.travelAdded);
    for (const rounds::RuleBreak &rule : check.broken)
        offer.broken << reason(rule, week.problem, week.agency->index(), PatientNamed::InFull);
    offer.broken.removeDuplicates();
    offer.summary = offer.broken.isEmpty()
                        ? Text::tr("%1 min driving, %2")
                              .arg(signedText(check.travelAdded),
                                   addedMinutesText(check.before.total(), check.after.total()))
                        : offer.broken.join(QStringLiteral(" "));
    return offer;
}

// What the weighted minutes of a place are made of, each part that differs. Empty where that is the driving
// alone, minute by minute: the line above says it already.
QString partsText(const rounds::MoveCheck &check) {
    const std::vector<CostLine> before = costLines(check.before), after = costLines(check.after);
    constexpr double kNone = 0.5;
    QStringList parts;
    bool isAsDriven = false;
    for (std::size_t i = 0; i < after.size(); ++i)
        if (const double change = after[i].minutes - before[i].minutes;
            std::abs(change) >= kNone && after[i].key != "unplaced") {
            parts << QStringLiteral("%1 %2").arg(after[i].name, signedText(std::llround(change)));
            isAsDriven = after[i].key == "travel" && std::llround(change) == check.travelAdded;
        }
    return parts.size() == 1 && isAsDriven ? QString() : parts.join(QStringLiteral(", "));
}

// What a place means to people: the driving and who comes.
QString meaningText(const WeekPicture &week, std::int32_t job, std::int32_t duty,
                    const rounds::MoveCheck &check) {
    const rounds::Job &j = week.problem.jobs[at(job)];
    QStringList first;
    first << (check.travelAdded == 0 ? Text::tr("no more driving")
                                     : Text::tr("%1 min driving").arg(signedText(check.travelAdded)));
    if (j.primaryNurse >= 0)
        first << (week.problem.duties[at(duty)].nurse == j.primaryNurse ? Text::tr("the main nurse")
                                                                        : Text::tr("not the main nurse"));
    if (const Patient *patient = week.agency->index().patient(j.patient))
        first << guessedDrivingText(*patient);
    first.removeAll(QString());
    return first.join(QStringLiteral(", "));
}

Suggestion placeSuggestion(const WeekPicture &week, std::int32_t job, const rounds::Alternative &place) {
    const rounds::MoveCheck check = rounds::tryMove(week.problem, week.plan, job, place.duty, place.start);
    // That a visit gets a place at all is worth the same at each of them, and would hide what they differ by.
    const double added = place.addedCost - (check.after.unplaced - check.before.unplaced);
    Suggestion s = suggestionOf(week, place.duty, place.start, added);
    s.more << addedToPlan(week, added) << meaningText(week, job, place.duty, check);
    if (const QString parts = partsText(check); !parts.isEmpty())
        s.more << parts;
    for (const QString &others : {retimedText(week, check.plan, job), meetingText(week, check.plan, job)})
        if (!others.isEmpty())
            s.more << others;
    return s;
}

// What it comes after, what comes after it, and how its order shares the week with another.
QStringList followFacts(const WeekPicture &week, std::int32_t job) {
    QStringList facts;
    const auto named = [&](std::int32_t other) {
        const rounds::Placement &placed = week.plan.placements[at(other)];
        const QString kind = words(week.problem.jobs[at(other)].kind);
        return placed.isPlaced() ? Text::tr("%1 on %2 at %3")
                                       .arg(kind, dayText(dayOfDuty(week, placed.duty)),
                                            timeText(Minutes::of(placed.start)))
                                 : Text::tr("%1, which has no place yet").arg(kind);
    };
    bool isTold = false;
    for (const rounds::Follow &follow : week.problem.follows) {
        if (follow.second == job) {
            facts << Text::tr("It %1").arg(followText(follow, week.problem, named(follow.first)));
            isTold = true;
        } else if (follow.first == job) {
            facts << Text::tr("After it: %1, which %2")
                         .arg(named(follow.second), followText(follow, week.problem, Text::tr("this visit")));
        }
    }
    const Visit &visit = week.due[at(job)].visit;
    const SnapshotIndex &index = week.agency->index();
    const VisitOrder *order = nullptr;
    for (const VisitOrder *one : index.visitOrdersOf(visit.patient))
        if (visit.order == one->id)
            order = one;
    if (const QString after = afterText(visit, index); !isTold && !after.isEmpty())
        facts << after;
    if (order) {
        const Weekday weekStart = week.agency->settings().weekStart;
        const QString shared =
            sharedWeekText(calendar::sharedWeek(*order, index.visitOrdersOf(visit.patient),
                                                calendar::weekOf(visit.dueFrom, weekStart), weekStart));
        if (!shared.isEmpty())
            facts << shared;
    }
    return facts;
}

QStringList factsOf(const WeekPicture &week, std::int32_t job, const VisitCard &card) {
    const rounds::Job &j = week.problem.jobs[at(job)];
    QStringList facts;
    const rounds::Placement &placed = week.plan.placements[at(job)];
    if (placed.isPlaced()) {
        facts << Text::tr("%1, %2 at %3, %4 min")
                     .arg(nurseNameIn(week, nurseOfDuty(week, placed.duty)),
                          dayText(dayOfDuty(week, placed.duty)), timeText(Minutes::of(placed.start)))
                     .arg(j.length);
        if (placed.secondDuty >= 0)
            facts << Text::tr("With %1, at the same time")
                         .arg(nurseNameIn(week, nurseOfDuty(week, placed.secondDuty)));
    } else {
        facts << Text::tr("Not placed; %1 min").arg(j.length);
    }
    facts << Text::tr("Owed: %1").arg(card.dueText);
    if (j.primaryNurse >= 0)
        facts << Text::tr("Primary nurse: %1")
                     .arg(nurseNameIn(week, week.problem.nurses[at(j.primaryNurse)].id));
    facts << followFacts(week, job);
    if (card.carriesSupplies)
        facts << Text::tr("Supplies ride with this visit");
    if (const QString parcel =
            parcelText(week.agency->index(), week.due[at(job)].visit, placeIn(week, placed));
        !parcel.isEmpty())
        facts << parcel;
    if (!card.lockText.isEmpty())
        facts << card.lockText;
    return facts;
}

// An on-call turn stands beside the day's work, a leave that is asked for beside what it would take away.
void addSigns(const Snapshot &agency, NurseId nurse, const std::vector<Shift> &shifts, BoardDay &day) {
    QStringList signs, tips;
    for (const Shift &shift : shifts)
        if (shift.isOnCall && shift.nurse == nurse && shift.on == day.on) {
            signs << Text::tr("on call");
            tips << Text::tr("On call from %1 to %2").arg(timeText(shift.from), timeText(shift.to));
        }
    for (const TimeOff &off : agency.timeOff)
        if (off.status == LeaveStatus::Requested && off.nurse == nurse && off.from <= day.on &&
            day.on < off.to) {
            signs << Text::tr("leave asked for");
            tips << Text::tr("Leave asked for from %1 to %2; not decided, so the plan does not keep it free")
                        .arg(dayText(off.from), dayText(off.to.plusDays(-1)));
        }
    signs.removeDuplicates();
    day.sign = signs.join(QStringLiteral(", "));
    day.signTip = tips.join(u'\n');
}

} // namespace

WeekBoard boardOf(const WeekPicture &week, DateRange shown) {
    const caseload::LoadReview review = loadReview(week, shown);
    const Snapshot &agency = week.agency->snapshot();
    WeekBoard board;
    board.mainNurseShare = review.meanMainShare;
    const std::vector<Shift> shifts =
        shiftsIn(shown, agency.nurses, agency.shiftPatterns, agency.extraShifts, agency.timeOff);
    const std::vector<const Visit *> over = visitsOver(week, shown);
    for (Date on = shown.from; on < shown.to; ++on)
        board.dayNotes.push_back(dayNote(on));
    for (const caseload::NurseLoad &load : review.nurses) {
        BoardRow row;
        row.nurse = load.nurse;
        row.name = nurseNameIn(week, load.nurse);
        row.load = load;
        for (Date on = shown.from; on < shown.to; ++on) {
            BoardDay day;
            day.on = on;
            day.absence = absenceOn(agency, load.nurse, day.on);
            addSigns(agency, load.nurse, shifts, day);
            day.past = pastCards(week, over, load.nurse, day.on);
            const std::int32_t duty = dutyOf(week, load.nurse, day.on);
            if (duty >= 0) {
                day.hasDuty = true;
                const rounds::Duty &d = week.problem.duties[at(duty)];
                day.isOnCall = d.isOnCall;
                day.from = Minutes::of(d.from);
                day.to = Minutes::of(d.to);
                for (const rounds::DutyTimes::Stop &stop : week.evaluation.duties[at(duty)].stops)
                    day.cards.push_back(placedCard(week, stop, duty));
            }
            row.days.push_back(std::move(day));
        }
        board.rows.push_back(std::move(row));
    }
    std::ranges::stable_sort(board.rows, {}, &BoardRow::name);
    for (const std::int32_t job : unplacedJobs(week))
        board.tray.push_back(visitCard(week, job));
    return board;
}

namespace {

MoveOffer refusedOffer(const QString &why) {
    MoveOffer none;
    none.summary = why;
    none.broken << why;
    return none;
}

MoveOffer noDuty(const WeekPicture &week, NurseId nurse, Date on) {
    const QString absence = absenceOn(week.agency->snapshot(), nurse, on);
    return refusedOffer(
        absence.isEmpty()
            ? Text::tr("%1 does not work on %2.").arg(nurseNameIn(week, nurse), dayText(on))
            : Text::tr("%1 is away on %2 (%3).").arg(nurseNameIn(week, nurse), dayText(on), absence));
}

} // namespace

MoveOffer offerMove(const WeekPicture &week, std::int32_t job, NurseId nurse, Date on,
                    std::optional<Minutes> start) {
    const std::int32_t duty = dutyOf(week, nurse, on);
    if (duty < 0)
        return noDuty(week, nurse, on);
    return offerOf(week, rounds::tryMove(week.problem, week.plan, job, duty,
                                         start ? static_cast<rounds::Minute>(start->count()) : -1));
}

MoveOffer offerSwap(const WeekPicture &week, NurseId one, Date onOne, NurseId other, Date onOther) {
    const std::int32_t first = dutyOf(week, one, onOne);
    if (first < 0)
        return noDuty(week, one, onOne);
    const std::int32_t second = dutyOf(week, other, onOther);
    if (second < 0)
        return noDuty(week, other, onOther);
    MoveOffer offer = offerOf(week, rounds::trySwap(week.problem, week.plan, first, second));
    if (offer.isAllowed() && movedToOtherRounds(week, *offer.after).empty())
        return refusedOffer(
            Text::tr("Nothing to swap: on neither side is there a visit that may move. Choose a day "
                     "with visits that are neither locked nor of two nurses."));
    return offer;
}

MoveOffer offerRemoval(const WeekPicture &week, std::int32_t job) {
    if (week.problem.jobs[at(job)].hasBegun)
        return refusedOffer(begunTip());
    return offerOf(week, rounds::tryMove(week.problem, week.plan, job, -1, -1));
}

VisitReasons reasonsOf(const WeekPicture &week, std::int32_t job) {
    VisitReasons reasons;
    const VisitCard card = visitCard(week, job);
    reasons.title = Text::tr("%1: %2").arg(card.name, card.kind);
    if (week.problem.jobs[at(job)].hasBegun)
        reasons.noLocks = begunTip();
    reasons.facts = factsOf(week, job, card);
    const SnapshotIndex &index = week.agency->index();
    const bool isPlaced = week.plan.placements[at(job)].isPlaced();
    if (!isPlaced) {
        reasons.why << reason(rounds::whyUnplaced(week.problem, week.plan, job), week.problem, index,
                              PatientNamed::InFull);
        reasons.waysOut = waysOutOf(week, job);
    }
    for (const rounds::Alternative &other : rounds::alternatives(week.problem, week.plan, job)) {
        if (!other.broken.empty() || reasons.alternatives.size() >= 5)
            break; // allowed ones come first
        if (isPlaced && other.duty == week.plan.placements[at(job)].duty)
            continue;
        reasons.alternatives.push_back(placeSuggestion(week, job, other));
    }
    const bool isOrdered = week.due[at(job)].visit.order.has_value();
    if (!isPlaced && isOrdered && reasons.waysOut.empty() && reasons.alternatives.empty() &&
        !rounds::hasPassed(week.problem))
        reasons.why << (week.due[at(job)].visit.id.isSet()
                            ? Text::tr("No day keeps the order's gap and rules: it will be missed. Record it "
                                       "and tell the prescriber, or move another visit of this order.")
                            : Text::tr("No day keeps the order's gap and rules: it will be missed. Tell the "
                                       "prescriber, or move another visit of this order."));
    return reasons;
}

VisitReasons reasonsOfOver(const WeekPicture &week, const Visit &visit) {
    VisitReasons reasons;
    const Patient *patient = week.agency->index().patient(visit.patient);
    reasons.title = Text::tr("%1: %2").arg(patient ? personName(*patient) : QString(), words(visit.kind));
    reasons.noLocks = Text::tr("It is over: nothing of it is planned any more.");
    QStringList nurses;
    for (const std::optional<NurseId> &nurse : {visit.nurse, visit.secondNurse})
        if (nurse)
            nurses << nurseNameIn(week, *nurse);
    if (const auto on = visit.day())
        reasons.facts << Text::tr("%1, %2%3")
                             .arg(nurses.join(QStringLiteral("; ")), dayText(*on),
                                  visit.startAt ? Text::tr(", planned at %1").arg(timeText(*visit.startAt))
                                                : QString());
    if (!hasHappened(visit.status))
        reasons.facts << Text::tr("Published, over, and not recorded. Say whether it was made or missed: "
                                  "until then it counts as work of its week.");
    else if (visit.startedAt)
        reasons.facts << Text::tr("What happened: %1, begun at %2")
                             .arg(words(visit.status), timeText(visit.startedAt->minute));
    else
        reasons.facts << Text::tr("What happened: %1").arg(words(visit.status));
    return reasons;
}

} // namespace kitround::desk

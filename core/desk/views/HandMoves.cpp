#include "core/desk/views/HandMoves.h"

#include "core/base/Index.h"
#include "core/desk/views/PlanCautions.h"
#include "core/desk/views/VisitCards.h"
#include "core/desk/views/WeekRepair.h"
#include "core/desk/words/PlaceWords.h"
#include "core/desk/words/Reasons.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"

#include <algorithm>
#include <map>

namespace kitround::desk {
namespace {

QString spotText(const WeekPicture &week, std::int32_t job) {
    return placeText(week, placeIn(week, week.plan.placements[at(job)]));
}

bool isBy(const WeekPicture &week, const rounds::Placement &placed, std::int32_t nurse) {
    const auto has = [&](std::int32_t duty) {
        return duty >= 0 && week.problem.duties[at(duty)].nurse == nurse;
    };
    return has(placed.duty) || has(placed.secondDuty);
}

// Where the round becomes longer than a nurse's day usually is.
QString fullDayText(const WeekPicture &after, std::int32_t duty) {
    const auto visits = static_cast<std::int64_t>(after.evaluation.duties[at(duty)].stops.size()) +
                        after.problem.duties[at(duty)].made;
    return visits > after.agency->snapshot().settings[SettingKey::AmberVisitsADay]
               ? Text::tr("%1 visits on that day").arg(numberText(visits))
               : QString();
}

bool hasSameDuties(const WeekPicture &one, const WeekPicture &other) {
    if (one.problem.duties.size() != other.problem.duties.size() ||
        one.problem.nurses.size() != other.problem.nurses.size())
        return false;
    for (std::size_t d = 0; d < one.problem.duties.size(); ++d) {
        const auto duty = static_cast<std::int32_t>(d);
        const rounds::Duty &a = one.problem.duties[d], &b = other.problem.duties[d];
        if (nurseOfDuty(one, duty) != nurseOfDuty(other, duty) || a.day != b.day || a.from != b.from ||
            a.to != b.to)
            return false;
    }
    return true;
}

// Nought: it is another visit, or stands elsewhere. One that got its record since has none before; of two
// that an order owes and nobody placed, either may be either.
int likenessOf(const WeekPicture &hand, std::size_t job, const WeekPicture &fresh, std::size_t other) {
    const rounds::DueVisit &was = hand.due[job], &is = fresh.due[other];
    const bool isOwedAlike = was.visit.order == is.visit.order && was.visit.kind == is.visit.kind &&
                             was.visit.dueFrom < is.visit.dueTo && is.visit.dueFrom < was.visit.dueTo;
    if (!isOwedAlike || !isSameSpot(hand.plan.placements[job], fresh.plan.placements[other]) ||
        (was.visit.id.isSet() && is.visit.id.isSet() && was.visit.id != is.visit.id))
        return 0;
    return was.visit.id == is.visit.id && was.visit.id.isSet() ? 3 : was.ordinal == is.ordinal ? 2 : 1;
}

} // namespace

QString visitMark(const WeekPicture &week, std::int32_t job) {
    const rounds::Job &j = week.problem.jobs[at(job)];
    const Patient *patient = week.agency->index().patient(j.patient);
    return patient ? patientMark(*patient) : words(j.kind);
}

QString moveName(const WeekPicture &before, const WeekPicture &after, std::int32_t job) {
    const QString mark = visitMark(after, job);
    const bool wasPlaced = before.plan.placements[at(job)].isPlaced();
    const bool isPlaced = after.plan.placements[at(job)].isPlaced();
    if (wasPlaced && isPlaced)
        return Text::tr("%1 from %2 to %3").arg(mark, spotText(before, job), spotText(after, job));
    return wasPlaced ? Text::tr("%1 from %2").arg(mark, spotText(before, job))
                     : Text::tr("%1 on %2").arg(mark, spotText(after, job));
}

QString lockName(const WeekPicture &week, std::int32_t job, Locks locks) {
    QStringList parts;
    if (locks.day)
        parts << Text::tr("day");
    if (locks.nurse)
        parts << Text::tr("nurse");
    if (locks.time)
        parts << Text::tr("time");
    return parts.isEmpty()
               ? Text::tr("Unlock %1").arg(visitMark(week, job))
               : Text::tr("Lock %1: %2").arg(visitMark(week, job), parts.join(QStringLiteral(", ")));
}

QString retimedText(const WeekPicture &before, const rounds::WeekPlan &after, std::int32_t job) {
    std::int64_t others = 0, told = 0;
    for (std::size_t j = 0; j < before.plan.placements.size(); ++j) {
        const rounds::Placement &was = before.plan.placements[j], &is = after.placements[j];
        if (static_cast<std::int32_t>(j) == job || !was.isPlaced() || !is.isPlaced() || was.start == is.start)
            continue;
        ++others;
        if (before.agency->index().toldPlace(before.due[j].visit).isSet())
            ++told;
    }
    if (others == 0)
        return {};
    const QString text =
        counted(others, Text::tr("re-times 1 other visit"), Text::tr("re-times %1 other visits"));
    if (told == 0)
        return text;
    return others == 1 ? Text::tr("%1, which people were told").arg(text)
                       : Text::tr("%1 (%2 of them told)").arg(text, numberText(told));
}

QString moveText(const WeekPicture &before, std::int32_t job, const MoveOffer &offer) {
    if (!offer.isAllowed())
        return offer.summary;
    const WeekPicture &after = *offer.after;
    const rounds::Placement &was = before.plan.placements[at(job)], &is = after.plan.placements[at(job)];
    const rounds::CostParts &now = before.evaluation.parts, &then = after.evaluation.parts;
    const double gained = !was.isPlaced() && is.isPlaced() ? then.unplaced - now.unplaced : 0;
    QStringList parts{Text::tr("%1 min driving").arg(signedText(offer.travelAdded.count())),
                      addedMinutesText(now.total(), then.total() - gained)};
    if (const Patient *patient = before.agency->index().patient(before.problem.jobs[at(job)].patient))
        parts << guessedDrivingText(*patient);
    const std::int32_t mainNurse = before.problem.jobs[at(job)].primaryNurse;
    if (is.isPlaced() && mainNurse >= 0 && !isBy(after, is, mainNurse))
        parts << Text::tr("not the main nurse");
    parts << retimedText(before, after.plan, job) << meetingText(after, after.plan, job);
    if (is.isPlaced() && is.duty != was.duty)
        parts << fullDayText(after, is.duty);
    parts.removeAll(QString());
    return parts.join(QStringLiteral(", "));
}

QStringList swapLines(const WeekPicture &before, const MoveOffer &offer) {
    if (!offer.isAllowed())
        return offer.broken;
    const WeekPicture &after = *offer.after;
    const std::vector<std::int32_t> jobs = movedToOtherRounds(before, after);
    const SnapshotIndex &index = before.agency->index();
    std::int64_t told = 0;
    QStringList lost, again;
    for (const std::int32_t job : jobs) {
        told += index.toldPlace(before.due[at(job)].visit).isSet() ? 1 : 0;
        const std::int32_t mainNurse = before.problem.jobs[at(job)].primaryNurse;
        const Patient *patient = index.patient(before.problem.jobs[at(job)].patient);
        if (mainNurse < 0 || !patient)
            continue;
        const bool was = isBy(before, before.plan.placements[at(job)], mainNurse),
                   is = isBy(after, after.plan.placements[at(job)], mainNurse);
        if (was != is)
            (is ? again : lost) << personName(*patient);
    }
    const auto moved = static_cast<std::int64_t>(jobs.size());
    QString what = counted(moved, Text::tr("1 visit changes"), Text::tr("%1 visits change"));
    if (told > 0)
        what += Text::tr("; people were told of %1").arg(told == moved ? Text::tr("each") : numberText(told));
    QStringList lines{offer.summary, what};
    for (QStringList *names : {&lost, &again})
        names->removeDuplicates();
    if (!lost.isEmpty())
        lines << Text::tr("Not by the main nurse any more: %1").arg(lost.join(QStringLiteral("; ")));
    if (!again.isEmpty())
        lines << Text::tr("By the main nurse again: %1").arg(again.join(QStringLiteral("; ")));
    return lines;
}

bool canBeHeld(const WeekPicture &week, std::int32_t job) {
    const rounds::Placement &placed = week.plan.placements[at(job)];
    if (!placed.isPlaced())
        return false;
    const std::int32_t day = week.problem.duties[at(placed.duty)].day;
    return day > week.problem.nowDay || (day == week.problem.nowDay && placed.start > week.problem.now);
}

WeekPicturePtr heldInPlace(const WeekPicture &week, const std::vector<std::int32_t> &jobs) {
    auto held = std::make_shared<WeekPicture>(week);
    const auto nurseOn = [&](std::int32_t duty) {
        return duty < 0 ? -1 : held->problem.duties[at(duty)].nurse;
    };
    for (const std::int32_t job : jobs) {
        rounds::Job &j = held->problem.jobs[at(job)];
        const rounds::Placement &placed = held->plan.placements[at(job)];
        if (j.hasBegun || !canBeHeld(week, job))
            continue;
        j.lockedDay = held->problem.duties[at(placed.duty)].day;
        j.lockedNurse = nurseOn(placed.duty);
        j.lockedSecondNurse = nurseOn(placed.secondDuty);
        j.lockedStart = placed.start;
    }
    return held;
}

WeekPicturePtr withLocksOf(const WeekPicture &planned, const WeekPicture &before) {
    KITROUND_REQUIRE(planned.problem.jobs.size() == before.problem.jobs.size());
    auto changed = std::make_shared<WeekPicture>(planned);
    for (std::size_t j = 0; j < before.problem.jobs.size(); ++j) {
        rounds::Job &to = changed->problem.jobs[j];
        const rounds::Job &from = before.problem.jobs[j];
        to.lockedDay = from.lockedDay;
        to.lockedNurse = from.lockedNurse;
        to.lockedSecondNurse = from.lockedSecondNurse;
        to.lockedStart = from.lockedStart;
    }
    return withPlan(*changed, changed->plan);
}

std::int64_t standElsewhere(const WeekPicture &before, const WeekPicture &after,
                            const std::vector<std::int32_t> &jobs) {
    return std::ranges::count_if(jobs, [&](std::int32_t job) {
        return !isSameSpot(before.plan.placements[at(job)], after.plan.placements[at(job)]);
    });
}

std::vector<std::int32_t> movedToOtherRounds(const WeekPicture &before, const WeekPicture &after) {
    KITROUND_REQUIRE(before.plan.placements.size() == after.plan.placements.size());
    std::vector<std::int32_t> jobs;
    for (std::size_t j = 0; j < after.plan.placements.size(); ++j)
        if (const rounds::Placement &is = after.plan.placements[j];
            is.isPlaced() && !isSameRound(before.plan.placements[j], is))
            jobs.push_back(static_cast<std::int32_t>(j));
    return jobs;
}

std::vector<std::int32_t> jobsAsStored(const WeekPicture &hand, const WeekPicture &fresh) {
    if (hand.week != fresh.week || hand.due.size() != fresh.due.size() || !hasSameDuties(hand, fresh))
        return {};
    std::multimap<PatientId, std::int32_t> left; // not found yet
    for (std::size_t j = 0; j < fresh.due.size(); ++j)
        left.emplace(fresh.due[j].visit.patient, static_cast<std::int32_t>(j));
    std::vector<std::int32_t> jobs;
    for (std::size_t j = 0; j < hand.due.size(); ++j) {
        const auto [from, to] = left.equal_range(hand.due[j].visit.patient);
        auto best = to;
        int likeness = 0;
        for (auto one = from; one != to; ++one)
            if (const int alike = likenessOf(hand, j, fresh, at(one->second)); alike > likeness) {
                likeness = alike;
                best = one;
            }
        if (best == to)
            return {};
        jobs.push_back(best->second);
        left.erase(best);
    }
    return jobs;
}

WeekPicturePtr laidOnto(const WeekPicture &earlier, const WeekPicture &fresh,
                        const std::vector<std::int32_t> &jobs) {
    KITROUND_REQUIRE(jobs.size() == earlier.due.size() && jobs.size() == fresh.due.size());
    WeekPicture laid = fresh;
    laid.seed = earlier.seed; // what it was planned with is of the plan, not of the records
    std::vector<rounds::Placement> placements = fresh.plan.placements;
    for (std::size_t j = 0; j < jobs.size(); ++j) {
        rounds::Job &to = laid.problem.jobs[at(jobs[j])];
        if (to.hasBegun)
            continue;
        const rounds::Job &from = earlier.problem.jobs[j];
        placements[at(jobs[j])] = earlier.plan.placements[j];
        to.lockedDay = from.lockedDay;
        to.lockedNurse = from.lockedNurse;
        to.lockedSecondNurse = from.lockedSecondNurse;
        to.lockedStart = from.lockedStart;
        Visit &visit = laid.due[at(jobs[j])].visit;
        const Visit &was = earlier.due[j].visit;
        visit.dayIsLocked = was.dayIsLocked;
        visit.nurseIsLocked = was.nurseIsLocked;
        visit.timeIsLocked = was.timeIsLocked;
    }
    return withPlacements(laid, std::move(placements));
}

} // namespace kitround::desk

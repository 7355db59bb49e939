#include "core/desk/views/WeekView.h"

#include "core/calendar/Weeks.h"

#include <algorithm>
#include <set>
#include <tuple>

namespace kitround::desk {
namespace {

std::int64_t spaceOf(const SnapshotIndex &index, ItemId item, Eaches quantity) {
    const Item *record = index.item(item);
    return record ? record->unitVolumeMl * quantity.count() : 0;
}

bool courierAllowed(const SnapshotIndex &index, PatientId patient) {
    const Patient *record = index.patient(patient);
    return !record || record->allowsCourier;
}

// What has been promised with a visit is carried first; a proposal rides only where it must arrive, or is
// meant to arrive, within the week.
std::vector<rounds::RiderWish> riderWishes(const SnapshotIndex &index, DateRange week,
                                           const std::vector<supply::RefillProposal> *refills) {
    std::vector<rounds::RiderWish> wishes;
    const Date last = week.to.plusDays(-1);
    std::set<PatientId> promised;
    for (const Delivery &d : index.snapshot().deliveries) {
        const bool isWaiting = d.status == DeliveryStatus::Promised || d.status == DeliveryStatus::Picked;
        if (!isWaiting)
            continue;
        promised.insert(d.patient);
        if (d.way != DeliveryWay::WithVisit || d.promisedFor >= week.to || d.promisedFor < week.from)
            continue;
        rounds::RiderWish wish{.delivery = d.id,
                               .patient = d.patient,
                               .spaceMl = 0,
                               .earliest = week.from,
                               .latest =
                                   std::min(last, std::max(d.deliverBy.value_or(d.promisedFor), week.from)),
                               .courierPossible = courierAllowed(index, d.patient)};
        for (const DeliveryLine &line : d.lines)
            wish.spaceMl += spaceOf(index, line.item, line.quantity);
        wishes.push_back(wish);
    }
    if (!refills)
        return wishes;
    for (const supply::RefillProposal &p : *refills) {
        if (promised.contains(p.patient) || (!week.contains(p.deliverOn) && !week.contains(p.deliverBy)))
            continue;
        rounds::RiderWish wish{.delivery = {},
                               .patient = p.patient,
                               .spaceMl = 0,
                               .earliest = std::clamp(p.deliverFrom, week.from, last),
                               .latest = std::clamp(p.deliverBy, week.from, last),
                               .courierPossible = courierAllowed(index, p.patient)};
        wish.latest = std::max(wish.latest, wish.earliest);
        for (const supply::RefillLine &line : p.lines)
            wish.spaceMl += spaceOf(index, line.item, line.quantity);
        wishes.push_back(wish);
    }
    return wishes;
}

void evaluateAgain(WeekPicture &week) {
    week.evaluation = rounds::evaluate(week.problem, week.plan);
    week.plan.cost = week.evaluation.parts.total();
}

} // namespace

Date nextWeek(const Agency &agency) {
    return calendar::weekStartOf(agency.today(), agency.settings().weekStart).plusDays(7);
}

Result<WeekPicturePtr> openWeek(AgencyPtr agency, Date anyDay,
                                const std::vector<supply::RefillProposal> *refills) {
    auto week = std::make_shared<WeekPicture>();
    week->agency = agency;
    week->week = calendar::weekOf(anyDay, agency->settings().weekStart);
    const SnapshotIndex &index = agency->index();
    week->due = rounds::visitsDue(index, week->week);
    week->riderWishes = riderWishes(index, week->week, refills);
    auto problem = rounds::buildWeek(index, week->week, week->due, week->riderWishes);
    if (!problem)
        return problem.error();
    week->problem = *std::move(problem);
    week->plan = rounds::planOf(week->problem, week->due);
    for (const Plan &stored : agency->snapshot().plans)
        if (stored.weekStart == week->week.from)
            week->seed = stored.seed;
    evaluateAgain(*week);
    return WeekPicturePtr(std::move(week));
}

Result<WeekPicturePtr> planWeek(const WeekPicture &week, const rounds::SolveOptions &options,
                                std::stop_token stop, const ProgressSink &progress) {
    auto report = rounds::solve(week.problem, options, stop, progress);
    if (!report)
        return report.error();
    auto planned = std::make_shared<WeekPicture>(week);
    planned->plan = std::move(report->plan);
    planned->seed = static_cast<std::int64_t>(options.seed);
    evaluateAgain(*planned);
    // Planning never makes a sound plan worse: what stood there may have been found with more work, or by
    // hand.
    if (week.evaluation.broken.empty() && week.evaluation.parts.total() <= planned->evaluation.parts.total())
        return std::make_shared<const WeekPicture>(week);
    return WeekPicturePtr(std::move(planned));
}

WeekPicturePtr withPlan(const WeekPicture &week, rounds::WeekPlan plan) {
    auto changed = std::make_shared<WeekPicture>(week);
    changed->plan = std::move(plan);
    evaluateAgain(*changed);
    return changed;
}

std::vector<Visit> visitsOf(const WeekPicture &week) {
    return rounds::visitsOf(week.problem, week.plan, week.due);
}

WeekPicturePtr withLocks(const WeekPicture &week, std::int32_t job, Locks locks) {
    auto changed = std::make_shared<WeekPicture>(week);
    const auto at = static_cast<std::size_t>(job);
    KITROUND_REQUIRE(job >= 0 && at < changed->problem.jobs.size());
    rounds::Job &j = changed->problem.jobs[at];
    const rounds::Placement &placed = changed->plan.placements[at];
    if (!placed.isPlaced())
        locks = {};
    const auto nurseOfDuty = [&](std::int32_t duty) {
        return duty < 0 ? -1 : changed->problem.duties[static_cast<std::size_t>(duty)].nurse;
    };
    j.lockedDay = locks.day ? changed->problem.duties[static_cast<std::size_t>(placed.duty)].day : -1;
    j.lockedNurse = locks.nurse ? nurseOfDuty(placed.duty) : -1;
    j.lockedSecondNurse = locks.nurse ? nurseOfDuty(placed.secondDuty) : -1;
    j.lockedStart = locks.time ? placed.start : -1;
    Visit &visit = changed->due[at].visit;
    visit.dayIsLocked = locks.day;
    visit.nurseIsLocked = locks.nurse;
    visit.timeIsLocked = locks.time;
    evaluateAgain(*changed);
    return changed;
}

std::vector<PlacedJob> placedJobs(const WeekPicture &week) {
    std::vector<PlacedJob> placed;
    for (std::size_t d = 0; d < week.evaluation.duties.size(); ++d)
        for (const rounds::DutyTimes::Stop &stop : week.evaluation.duties[d].stops)
            placed.push_back({stop.job, static_cast<std::int32_t>(d), stop.start, stop.end, stop.travel});
    const auto key = [&](const PlacedJob &p) {
        const rounds::Duty &duty = week.problem.duties[static_cast<std::size_t>(p.duty)];
        const Nurse *nurse =
            week.agency->index().nurse(week.problem.nurses[static_cast<std::size_t>(duty.nurse)].id);
        return std::tuple(duty.day, nurse ? nurse->familyName : std::string(),
                          nurse ? nurse->givenName : std::string(), duty.nurse, p.start, p.job);
    };
    std::ranges::stable_sort(placed, [&](const PlacedJob &a, const PlacedJob &b) { return key(a) < key(b); });
    return placed;
}

std::vector<std::int32_t> unplacedJobs(const WeekPicture &week) {
    std::vector<std::int32_t> jobs;
    for (std::size_t j = 0; j < week.plan.placements.size(); ++j)
        if (!week.plan.placements[j].isPlaced())
            jobs.push_back(static_cast<std::int32_t>(j));
    std::ranges::stable_sort(jobs, std::greater<>(), [&](std::int32_t j) {
        return week.problem.jobs[static_cast<std::size_t>(j)].priority;
    });
    return jobs;
}

bool hasStoredPlan(const WeekPicture &week) {
    return std::ranges::any_of(week.agency->snapshot().plans,
                               [&](const Plan &plan) { return plan.weekStart == week.week.from; });
}

} // namespace kitround::desk

#include "core/desk/views/WeekView.h"

#include "core/calendar/Weeks.h"
#include "core/desk/views/LocalTimes.h"
#include "core/desk/views/PlanAsStored.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"
#include "core/rounds/problem/FromNow.h"
#include "core/rounds/problem/Riders.h"
#include "core/rounds/search/Begun.h"

#include <algorithm>
#include <set>
#include <tuple>

namespace kitround::desk {
namespace {

// A visit on a duty, in memory; several weeks of an agency beyond this are planned one after the other.
constexpr std::size_t kMostChoices = 15'000'000;

std::int64_t spaceOf(const SnapshotIndex &index, ItemId item, Eaches quantity) {
    const Item *record = index.item(item);
    return record ? record->unitVolumeMl * quantity.count() : 0;
}

bool courierAllowed(const SnapshotIndex &index, PatientId patient) {
    const Patient *record = index.patient(patient);
    return !record || record->allowsCourier;
}

// The visit for which the parcel lies in a car; none where nothing is packed or that visit is over.
const Visit *visitPackedFor(const SnapshotIndex &index, const Delivery &delivery) {
    const Visit *visit =
        delivery.status == DeliveryStatus::Picked && delivery.visit ? index.visit(*delivery.visit) : nullptr;
    return visit && !hasHappened(visit->status) ? visit : nullptr;
}

// What has been promised with a visit is carried first; a proposal rides only where it must arrive, or is
// meant to arrive, within the week.
std::vector<rounds::RiderWish> riderWishes(const SnapshotIndex &index, DateRange week,
                                           const std::vector<supply::RefillProposal> *refills) {
    std::vector<rounds::RiderWish> wishes;
    const Date last = week.to.plusDays(-1), today = index.snapshot().asOf;
    std::set<PatientId> promised;
    for (const Delivery &d : index.snapshot().deliveries) {
        const bool isWaiting = d.status == DeliveryStatus::Promised || d.status == DeliveryStatus::Picked;
        if (!isWaiting)
            continue;
        promised.insert(d.patient);
        if (d.way != DeliveryWay::WithVisit || d.promisedFor >= week.to || d.promisedFor < week.from)
            continue;
        const Visit *packedFor = visitPackedFor(index, d);
        if (packedFor && packedFor->on && (!week.contains(*packedFor->on) || *packedFor->on < today))
            continue; // it goes with that visit or comes back; no other one takes it along
        rounds::RiderWish wish{.delivery = d.id,
                               .patient = d.patient,
                               .spaceMl = 0,
                               .earliest = week.from,
                               .latest =
                                   std::min(last, std::max(d.deliverBy.value_or(d.promisedFor), week.from)),
                               .courierPossible = courierAllowed(index, d.patient)};
        if (packedFor) {
            wish.packedFor = packedFor->id;
            wish.latest = last; // it is in the car, whenever that visit is made
        }
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
        for (const supply::RefillLine &line : p.lines) {
            wish.spaceMl += spaceOf(index, line.item, line.quantity);
            if (!line.quantity.isZero())
                wish.items.push_back({line.item, line.quantity});
        }
        wishes.push_back(wish);
    }
    return wishes;
}

void evaluateAgain(WeekPicture &week) {
    week.evaluation = rounds::evaluate(week.problem, week.plan);
    week.broken = rounds::mayBeMended(week.problem, week.plan, week.evaluation.broken);
    week.plan.cost = week.evaluation.parts.total();
}

Problem tooMany(const rounds::WeekProblem &problem, int weeks) {
    const auto most = static_cast<int>(kMostChoices * static_cast<std::size_t>(weeks * weeks) /
                                       (problem.jobs.size() * problem.duties.size()));
    Problem found;
    found.code = ProblemCode::OutOfRange;
    found.field = "weeks";
    int fit = 1;
    while ((fit + 1) * (fit + 1) <= most)
        ++fit;
    found.args = {std::to_string(weeks), "1", std::to_string(fit)};
    return found;
}

const Plan *planOfWeek(const std::vector<Plan> &plans, Date weekStart) {
    const auto found = std::ranges::find(plans, weekStart, &Plan::weekStart);
    return found == plans.end() ? nullptr : &*found;
}

} // namespace

Date nextWeek(const Agency &agency) {
    return calendar::weekStartOf(agency.today(), agency.settings().weekStart).plusDays(7);
}

Result<WeekPicturePtr> openWeek(AgencyPtr agency, Date anyDay,
                                const std::vector<supply::RefillProposal> *refills, int weeks) {
    KITROUND_REQUIRE(weeks >= 1 && weeks <= kMostWeeks);
    auto week = std::make_shared<WeekPicture>();
    week->agency = agency;
    week->week = calendar::weekOf(anyDay, agency->settings().weekStart);
    week->week.to = week->week.from.plusDays(7 * weeks);
    const SnapshotIndex &index = agency->index();
    week->due = rounds::visitsDue(index, week->week);
    week->riderWishes = riderWishes(index, week->week, refills);
    auto problem = rounds::buildWeek(index, week->week, week->due, week->riderWishes);
    if (problem && weeks > 1 && problem->jobs.size() * problem->duties.size() > kMostChoices)
        return tooMany(*problem, weeks);
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

int weeksIn(const WeekPicture &week) {
    return static_cast<int>(week.week.length().count() / 7);
}

DateRange weekHolding(const WeekPicture &week, Date day) {
    KITROUND_REQUIRE(week.week.contains(day));
    const Date from = week.week.from.plusDays((day - week.week.from).count() / 7 * 7);
    return {from, from.plusDays(7)};
}

Result<WeekPicturePtr> weekAlone(const WeekPicture &weeks, DateRange one) {
    auto week = std::make_shared<WeekPicture>();
    week->agency = weeks.agency;
    week->week = one;
    week->seed = weeks.seed;
    const Date last = one.to.plusDays(-1);
    const std::vector<Visit> visits = visitsOf(weeks);
    for (std::size_t j = 0; j < visits.size(); ++j) {
        if (!one.contains(visits[j].on.value_or(visits[j].dueFrom)))
            continue;
        week->due.push_back(weeks.due[j]);
        week->due.back().visit = visits[j];
    }
    for (std::size_t r = 0; r < weeks.riderWishes.size(); ++r) {
        rounds::RiderWish wish = weeks.riderWishes[r];
        const std::int32_t carrier = weeks.plan.riderJob[r];
        const auto on = carrier >= 0 ? visits[static_cast<std::size_t>(carrier)].on : std::nullopt;
        if (!one.contains(on.value_or(wish.latest)))
            continue; // what a courier brings belongs to the week of its latest day
        wish.earliest = std::clamp(wish.earliest, one.from, last);
        wish.latest = std::clamp(wish.latest, one.from, last);
        week->riderWishes.push_back(wish);
    }
    auto problem = rounds::buildWeek(week->agency->index(), one, week->due, week->riderWishes);
    if (!problem)
        return problem.error();
    week->problem = *std::move(problem);
    week->plan = rounds::planOf(week->problem, week->due);
    evaluateAgain(*week);
    return WeekPicturePtr(std::move(week));
}

Result<std::vector<Desk::PlanRecord>> planRecords(const WeekPicture &week) {
    std::vector<Desk::PlanRecord> records;
    for (Date from = week.week.from; from < week.week.to; from = from.plusDays(7)) {
        const auto one = weeksIn(week) == 1 ? Result<WeekPicturePtr>(std::make_shared<WeekPicture>(week))
                                            : weekAlone(week, {from, from.plusDays(7)});
        if (!one)
            return one.error();
        records.push_back({from, visitsOf(**one), week.seed, (*one)->plan.cost});
    }
    return records;
}

std::size_t planFaults(const WeekPicture &week) {
    return week.broken.size() + rounds::outOfReach(week.problem, week.plan).size();
}

bool isNoBetter(const WeekPicture &planned, const WeekPicture &before) {
    constexpr double kSame = 0.005; // weighted minutes
    return planFaults(before) <= planFaults(planned) &&
           planned.evaluation.parts.total() > before.evaluation.parts.total() - kSame;
}

Result<WeekPicturePtr> planWeek(const WeekPicture &week, const rounds::SolveOptions &options,
                                std::stop_token stop, const ProgressSink &progress) {
    auto report =
        rounds::solve(rounds::goingOnFromNow(week.problem, week.problem, week.plan), options, stop, progress);
    if (!report)
        return report.error();
    auto planned = std::make_shared<WeekPicture>(week);
    planned->plan = std::move(report->plan);
    planned->seed = static_cast<std::int64_t>(options.seed);
    evaluateAgain(*planned);
    // Planning never makes a plan worse: what stood there may have been found with more work, or by hand.
    // Where that can't be made any more, what it costs does not count.
    if (isNoBetter(*planned, week))
        return std::make_shared<const WeekPicture>(week);
    return WeekPicturePtr(std::move(planned));
}

std::optional<double> leastCost(const WeekPicture &week, double planCost, const rounds::BoundOptions &options,
                                std::stop_token stop) {
    if (!rounds::Begun(week.problem).kept().empty())
        return std::nullopt; // the bound is of plans that break no rule; what has begun may
    rounds::WeekProblem free = week.problem;
    for (rounds::Job &job : free.jobs)
        job.lockedDay = job.lockedNurse = job.lockedSecondNurse = job.lockedStart = -1;
    return rounds::lowerBound(free, planCost, options, std::move(stop));
}

WeekPicturePtr withPlan(const WeekPicture &week, rounds::WeekPlan plan) {
    auto changed = std::make_shared<WeekPicture>(week);
    changed->plan = std::move(plan);
    evaluateAgain(*changed);
    return changed;
}

WeekPicturePtr withPlacements(const WeekPicture &week, std::vector<rounds::Placement> placements) {
    rounds::WeekPlan plan;
    plan.placements = std::move(placements);
    rounds::RiderMatcher(week.problem).assign(plan.placements, plan.riderJob);
    return withPlan(week, std::move(plan));
}

std::vector<Visit> visitsOf(const WeekPicture &week) {
    return rounds::visitsOf(week.problem, week.plan, week.due);
}

WeekPicturePtr withLocks(const WeekPicture &week, std::int32_t job, Locks locks) {
    auto changed = std::make_shared<WeekPicture>(week);
    const auto at = static_cast<std::size_t>(job);
    KITROUND_REQUIRE(job >= 0 && at < changed->problem.jobs.size());
    rounds::Job &j = changed->problem.jobs[at];
    if (j.hasBegun)
        return changed;
    const rounds::Placement &placed = changed->plan.placements[at];
    Visit &visit = changed->due[at].visit;
    if (!placed.isPlaced()) { // nothing to lock it to; what is locked on record is kept or let go
        j.lockedDay = locks.day ? j.lockedDay : -1;
        j.lockedNurse = locks.nurse ? j.lockedNurse : -1;
        j.lockedSecondNurse = locks.nurse ? j.lockedSecondNurse : -1;
        j.lockedStart = locks.time ? j.lockedStart : -1;
        visit.dayIsLocked = visit.dayIsLocked && locks.day;
        visit.nurseIsLocked = visit.nurseIsLocked && locks.nurse;
        visit.timeIsLocked = visit.timeIsLocked && locks.time;
        evaluateAgain(*changed);
        return changed;
    }
    const auto nurseOfDuty = [&](std::int32_t duty) {
        return duty < 0 ? -1 : changed->problem.duties[static_cast<std::size_t>(duty)].nurse;
    };
    j.lockedDay = locks.day ? changed->problem.duties[static_cast<std::size_t>(placed.duty)].day : -1;
    j.lockedNurse = locks.nurse ? nurseOfDuty(placed.duty) : -1;
    j.lockedSecondNurse = locks.nurse ? nurseOfDuty(placed.secondDuty) : -1;
    j.lockedStart = locks.time ? placed.start : -1;
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

bool isPlanPublished(const Agency &agency, Date weekStart) {
    const Plan *newest = planOfWeek(agency.snapshot().plans, weekStart);
    return newest && newest->status == PlanStatus::Published;
}

QString publishedText(const Agency &agency, Date weekStart, bool isChanged) {
    const Snapshot &s = agency.snapshot();
    const bool isPublished = isPlanPublished(agency, weekStart);
    const Plan *plan = planOfWeek(isPublished ? s.plans : s.plansInForce, weekStart);
    if (!plan || !plan->publishedAt)
        return {};
    const LocalTime at = localTimeOf(agency, *plan->publishedAt);
    const QString version = Text::tr("version %1, %2")
                                .arg(plan->version)
                                .arg(at.date == agency.today() ? timeText(at.minute) : momentText(at));
    return (isPublished && !isChanged ? Text::tr("published, %1")
                                      : Text::tr("published %1, is in force; this draft is not"))
        .arg(version);
}

} // namespace kitround::desk

#include "core/rounds/problem/CostModel.h"

#include "core/base/Index.h"
#include "core/rounds/problem/DayClock.h"
#include "core/rounds/problem/Fit.h"
#include "core/rounds/problem/HomeVisits.h"
#include "core/rounds/problem/Routes.h"
#include "core/rounds/problem/Shares.h"

#include <algorithm>

namespace kitround::rounds {
namespace {

class Evaluator {
public:
    Evaluator(const WeekProblem &problem, const WeekPlan &plan)
        : p_(problem), plan_(plan), routes_(routesOf(problem, plan)) {}

    Evaluation run() {
        e_.duties.resize(p_.duties.size());
        e_.nurseMinutes.assign(p_.nurses.size() * at(weeksOf(p_)), 0);
        points_.assign(p_.nurses.size(), 0);
        for (std::size_t j = 0; j < p_.jobs.size(); ++j)
            lookAtJob(static_cast<std::int32_t>(j));
        for (std::size_t d = 0; d < p_.duties.size(); ++d)
            if (!routes_[d].empty())
                lookAtDuty(static_cast<std::int32_t>(d));
        for (const Series &series : p_.series) {
            lookAtSeries(series);
            lookAtPatterns(series);
            lookAtSameness(series);
        }
        for (const Link &link : p_.links)
            lookAtLink(link);
        for (const Follow &follow : p_.follows)
            if (const std::int32_t off = offFollow(p_, follow, plan_.placements); off >= 0)
                breaks(Rule::Linked, follow.second, placed(follow.second).duty, off);
        e_.parts.softWindows += p_.weights.worstSoft * worstSoft_;
        lookAtNurses();
        lookAtRiders();
        lookAtHomes();
        return std::move(e_);
    }

private:
    void breaks(Rule rule, std::int32_t job, std::int32_t duty, std::int32_t amount = 0) {
        e_.broken.push_back({rule, job, duty, amount});
    }
    const Placement &placed(std::int32_t job) const { return plan_.placements[at(job)]; }

    void lookAtJob(std::int32_t j) {
        const Job &job = p_.jobs[at(j)];
        const Placement &placement = placed(j);
        if (!placement.isPlaced()) {
            e_.parts.unplaced += p_.weights.unplaced[static_cast<std::size_t>(job.priority)];
            return;
        }
        const Duty &first = p_.duties[at(placement.duty)];
        for (const Rule rule : standingRules(p_, j, placement.duty, Role::First))
            breaks(rule, j, placement.duty);
        const bool hasSecond = placement.secondDuty >= 0;
        if (hasSecond)
            for (const Rule rule : standingRules(p_, j, placement.secondDuty, Role::Second))
                breaks(rule, j, placement.secondDuty);
        const bool pairFits = hasSecond && placement.secondDuty != placement.duty &&
                              p_.duties[at(placement.secondDuty)].day == first.day;
        if (job.twoNurses ? !pairFits : hasSecond)
            breaks(Rule::TwoNurses, j, placement.duty);
        const FitCost fit = fitCost(p_, j, placement.duty, placement.secondDuty);
        e_.parts.continuity += fit.continuity;
        e_.parts.wishes += fit.wishes;
        e_.parts.changes += fit.changes;
        if (job.lockedStart >= 0 && placement.start != job.lockedStart)
            breaks(Rule::LockedTime, j, placement.duty, std::abs(placement.start - job.lockedStart));
        lookAtWindows(j, first.day);
    }

    void lookAtWindows(std::int32_t j, std::int32_t day) {
        const Placement &placement = placed(j);
        std::int32_t hardOff = -1;
        std::int32_t softOff = -1;
        for (const TimeWindow &w : p_.jobs[at(j)].windows[at(day)]) {
            const Minute off = std::max({w.from - placement.start, placement.start - w.to, 0});
            std::int32_t &least = w.isHard ? hardOff : softOff;
            least = least < 0 ? off : std::min(least, off);
        }
        if (hardOff > 0)
            breaks(Rule::Window, j, placement.duty, hardOff);
        worstSoft_ = std::max(worstSoft_, softOff);
        if (softOff > 0)
            e_.parts.softWindows +=
                p_.weights.softWindowMinute * softOff * (placement.secondDuty >= 0 ? 2 : 1);
    }

    void lookAtDuty(std::int32_t d) {
        const Duty &duty = p_.duties[at(d)];
        const std::vector<std::int32_t> &jobs = routes_[at(d)];
        std::vector<Minute> starts;
        for (const std::int32_t j : jobs)
            starts.push_back(placed(j).start);
        const DayClock clock(p_, duty);
        const DayReading r = clock.read(jobs, starts);
        if (static_cast<int>(jobs.size()) > duty.mostVisits)
            breaks(Rule::MostVisits, -1, d, static_cast<std::int32_t>(jobs.size()) - duty.mostVisits);
        std::int64_t load = 0;
        for (const std::int32_t j : jobs)
            load += p_.jobs[at(j)].load;
        if (load > duty.mostLoad)
            breaks(Rule::Load, -1, d, static_cast<std::int32_t>(load - duty.mostLoad));
        if (r.leave < duty.from)
            breaks(Rule::DutyHours, jobs.front(), d, duty.from - r.leave);
        if (r.back > duty.to)
            breaks(Rule::DutyHours, jobs.back(), d, r.back - duty.to);
        if (r.breakIsMissing)
            breaks(Rule::Break, -1, d, duty.breakLength);
        fillTimes(d, r, clock);
        e_.parts.travel += p_.weights.travelMinute * r.travel;
        e_.parts.waiting += p_.weights.waitMinute * r.wait;
        for (const std::int32_t j : jobs)
            points_[at(duty.nurse)] += p_.jobs[at(j)].points;
        const DutyTimes &times = e_.duties[at(d)];
        e_.nurseMinutes[hoursIndex(p_, duty.nurse, duty.day)] +=
            times.direct + times.travel + times.wait + times.notes;
    }

    void fillTimes(std::int32_t d, const DayReading &r, const DayClock &clock) {
        const Duty &duty = p_.duties[at(d)];
        DutyTimes &times = e_.duties[at(d)];
        times.leave = r.leave;
        times.back = r.back;
        times.travel = r.travel;
        times.wait = r.wait;
        times.direct = r.direct;
        times.breakStart = r.breakStart;
        times.metres = r.metres;
        Minute ready = r.leave;
        std::int32_t place = duty.startPlace;
        for (const std::int32_t j : routes_[at(d)]) {
            const Job &job = p_.jobs[at(j)];
            const Minute start = placed(j).start;
            DutyTimes::Stop stop;
            stop.job = j;
            stop.travel = clock.travelBetween(place, job.place);
            stop.arrive = clock.forward(ready, stop.travel);
            stop.start = start;
            stop.end = start + job.length;
            // A break in the gap is not waiting.
            const bool breakHere =
                r.breakStart >= ready && r.breakStart + duty.breakLength <= start && duty.breakLength > 0;
            stop.wait =
                std::max(0, clock.free(ready, start) - stop.travel - (breakHere ? duty.breakLength : 0));
            if (!times.stops.empty() && stop.arrive > start)
                breaks(Rule::Overlap, j, d, stop.arrive - start);
            if (clock.blockOver(start, job.length))
                breaks(Rule::Overlap, j, d, job.length);
            if (standsWherePublished(job, duty) && job.publishedStart >= 0 &&
                std::abs(start - job.publishedStart) > kStillMinutes)
                e_.parts.changes += p_.weights.changed;
            times.notes += job.notes;
            ready = stop.end;
            place = job.place;
            times.stops.push_back(stop);
        }
    }

    void lookAtSeries(const Series &series) {
        std::vector<std::pair<std::int32_t, std::int32_t>> days; // day, job (-1 = fixed)
        for (const std::int32_t day : series.fixedDays)
            days.emplace_back(day, -1);
        for (const std::int32_t j : series.jobs)
            if (placed(j).isPlaced())
                days.emplace_back(p_.duties[at(placed(j).duty)].day, j);
        std::ranges::sort(days);
        std::vector<std::int32_t> plain;
        for (const auto &[day, job] : days)
            plain.push_back(day);
        e_.parts.gaps += p_.weights.gapDay * daysTooFar(series, plain);
        for (std::size_t i = 1; i < days.size(); ++i) {
            const std::int32_t gap = days[i].first - days[i - 1].first;
            const std::int32_t job = days[i].second >= 0 ? days[i].second : days[i - 1].second;
            if (job < 0 || gap >= leastGapOf(series)) // two visits of the past are nobody's to mend
                continue;
            breaks(gap == 0 ? Rule::SameDayTwice : Rule::LeastGap, job, placed(job).duty,
                   leastGapOf(series) - gap);
        }
    }

    void lookAtPatterns(const Series &series) {
        std::uint64_t days = 0;
        std::int32_t any = -1;
        for (const std::int32_t j : series.jobs)
            if (placed(j).isPlaced()) {
                days |= UINT64_C(1) << p_.duties[at(placed(j).duty)].day;
                any = j;
            }
        if (any >= 0 && !fitsPattern(series, days))
            breaks(Rule::Pattern, any, placed(any).duty);
    }

    void lookAtSameness(const Series &series) {
        std::int32_t nurse = -1;
        for (const std::int32_t j : series.jobs) {
            if (!placed(j).isPlaced())
                continue;
            const std::int32_t visitor = p_.duties[at(placed(j).duty)].nurse;
            if (series.oneNurse && nurse >= 0 && visitor != nurse)
                breaks(Rule::OneNurse, j, placed(j).duty);
            nurse = visitor;
        }
    }

    void lookAtLink(const Link &link) {
        const Placement &a = placed(link.first);
        const Placement &b = placed(link.second);
        if (!a.isPlaced() || !b.isPlaced())
            return; // each costs its own unplaced visit
        const Duty &dutyA = p_.duties[at(a.duty)];
        const Duty &dutyB = p_.duties[at(b.duty)];
        const Minute apart = b.start - a.start;
        const Minute off = std::max({link.least - apart, apart - link.most, 0});
        if (dutyA.nurse == dutyB.nurse || dutyA.day != dutyB.day || off > 0)
            breaks(Rule::Linked, link.second, b.duty, off);
    }

    void lookAtNurses() {
        const std::vector<double> shares = fairShares(p_);
        double all = 0;
        for (const double points : points_)
            all += points;
        const std::size_t weeks = at(weeksOf(p_));
        for (std::size_t n = 0; n < p_.nurses.size(); ++n) {
            for (std::size_t week = 0; week < weeks; ++week)
                e_.parts.overtime += p_.weights.overtimeMinute *
                                     overtimeOf(p_.nurses[n], week, e_.nurseMinutes[n * weeks + week]);
            e_.parts.unevenness += p_.weights.uneven * unevenness(points_[n], all, shares[n]);
        }
    }

    void lookAtRiders() {
        std::vector<std::int64_t> used(p_.duties.size(), 0);
        std::vector<PatientId> byCourier;
        for (std::size_t r = 0; r < p_.riders.size(); ++r) {
            const Rider &rider = p_.riders[r];
            const std::int32_t j = r < plan_.riderJob.size() ? plan_.riderJob[r] : -1;
            if (j < 0) {
                if (!rider.courierPossible)
                    e_.parts.couriers += p_.weights.undelivered;
                else if (std::ranges::find(byCourier, rider.patient) == byCourier.end())
                    byCourier.push_back(rider.patient);
                continue;
            }
            const Placement &placement = placed(j);
            const bool sameHome = placement.isPlaced() && p_.jobs[at(j)].patient == rider.patient;
            if (!sameHome) {
                breaks(Rule::CarSpace, j, placement.duty);
                continue;
            }
            const std::int32_t day = p_.duties[at(placement.duty)].day;
            if (day < rider.earliestDay || day > rider.latestDay)
                breaks(Rule::Day, j, placement.duty,
                       std::max(rider.earliestDay - day, day - rider.latestDay));
            used[at(placement.duty)] += rider.spaceMl;
        }
        e_.parts.couriers += p_.weights.courierRun * static_cast<double>(byCourier.size());
        for (std::size_t d = 0; d < p_.duties.size(); ++d)
            if (used[d] > p_.nurses[at(p_.duties[d].nurse)].carSpaceMl)
                breaks(Rule::CarSpace, -1, static_cast<std::int32_t>(d));
    }

    void lookAtHomes() {
        const HomeVisits homes(p_);
        for (std::size_t j = 0; j < p_.jobs.size(); ++j) {
            const auto job = static_cast<std::int32_t>(j);
            for (const std::int32_t other : homes.besides(job))
                if (other < job && sendsSecondNurse(p_, placed(job), placed(other)))
                    e_.parts.secondNurses += p_.weights.secondNurse;
        }
    }

    const WeekProblem &p_;
    const WeekPlan &plan_;
    std::vector<std::vector<std::int32_t>> routes_;
    std::vector<double> points_;
    Minute worstSoft_ = 0;
    Evaluation e_;
};

} // namespace

std::vector<std::vector<std::int32_t>> routesOf(const WeekProblem &problem, const WeekPlan &plan) {
    std::vector<std::vector<std::int32_t>> routes(problem.duties.size());
    for (std::size_t j = 0; j < plan.placements.size(); ++j) {
        const Placement &placement = plan.placements[j];
        if (!placement.isPlaced())
            continue;
        routes[at(placement.duty)].push_back(static_cast<std::int32_t>(j));
        if (placement.secondDuty >= 0 && placement.secondDuty != placement.duty)
            routes[at(placement.secondDuty)].push_back(static_cast<std::int32_t>(j));
    }
    for (auto &route : routes)
        std::ranges::stable_sort(route, {}, [&](std::int32_t j) { return plan.placements[at(j)].start; });
    return routes;
}

Evaluation evaluate(const WeekProblem &problem, const WeekPlan &plan) {
    return Evaluator(problem, plan).run();
}

} // namespace kitround::rounds

#include "core/base/Index.h"
#include "core/rounds/problem/CostModel.h"
#include "core/rounds/problem/DutyTimer.h"
#include "core/rounds/problem/Fit.h"
#include "core/rounds/problem/FromNow.h"
#include "core/rounds/problem/Riders.h"
#include "core/rounds/problem/Routes.h"

#include <algorithm>

namespace kitround::rounds {
namespace {

// When two nurses must be found together, starts are tried on this grid.
constexpr Minute kGridMinutes = 15;

class Mover {
public:
    Mover(const WeekProblem &problem, const WeekPlan &plan, std::int32_t job)
        : p_(problem), timer_(problem), job_(job), plan_(plan), pins_(problem.jobs.size(), -1) {
        // Two-nurse visits stay where they are: the other nurse is there at that minute.
        for (std::size_t j = 0; j < p_.jobs.size(); ++j)
            if (plan.placements[j].secondDuty >= 0)
                pins_[j] = plan.placements[j].start;
        // So do two that follow one another by minutes: neither may slip away from the other.
        for (const Follow &follow : p_.follows)
            if (follow.unit == GapUnit::Minute)
                for (const std::int32_t j : {follow.first, follow.second})
                    pins_[at(j)] = plan.placements[at(j)].start;
        before_ = plan.placements[at(job)];
        pins_[at(job)] = -1;
        plan_.placements[at(job)] = {};
        routes_ = routesOf(p_, plan_);
    }

    WeekPlan moved(std::int32_t duty, Minute start) {
        for (const std::int32_t left : {before_.duty, before_.secondDuty})
            if (left >= 0)
                retimeLeft(left);
        if (duty < 0)
            return finished();
        if (p_.jobs[at(job_)].twoNurses)
            placeTwo(duty, start);
        else
            placeOne(duty, start);
        return finished();
    }

private:
    struct Choice {
        bool isFound = false;
        double cost = 0;
        std::vector<std::int32_t> jobs;
        std::vector<Minute> starts;
    };

    void write(std::int32_t duty, const std::vector<std::int32_t> &jobs, const std::vector<Minute> &starts) {
        routes_[at(duty)] = jobs;
        for (std::size_t i = 0; i < jobs.size(); ++i)
            if (jobs[i] != job_)
                plan_.placements[at(jobs[i])].start = starts[i];
    }
    void retime(std::int32_t duty) {
        std::vector<Minute> starts;
        RouteCost cost;
        if (timer_.time(duty, routes_[at(duty)], pins_, starts, cost))
            write(duty, routes_[at(duty)], starts);
    }
    // The round the job goes from. Whom it had pushed aside comes back to the time people were told, one
    // after the other as far as the rest leaves room: else a visit that was only tried there leaves calls
    // behind.
    void retimeLeft(std::int32_t duty) {
        retime(duty);
        const std::vector<std::int32_t> &jobs = routes_[at(duty)];
        std::vector<Minute> pins = pins_, starts, kept;
        RouteCost cost;
        for (const std::int32_t job : jobs) {
            if (pins[at(job)] >= 0 || !wasToldOf(job, duty))
                continue;
            pins[at(job)] = p_.jobs[at(job)].publishedStart;
            if (timer_.time(duty, jobs, pins, starts, cost))
                kept = starts;
            else
                pins[at(job)] = -1;
        }
        if (!kept.empty())
            write(duty, jobs, kept);
    }
    bool wasToldOf(std::int32_t job, std::int32_t duty) const {
        const Job &j = p_.jobs[at(job)];
        const Duty &d = p_.duties[at(duty)];
        return j.publishedStart >= 0 && standsWherePublished(j, d) &&
               (d.day > p_.nowDay || j.publishedStart >= p_.now);
    }
    std::vector<std::int32_t> withJob(std::int32_t duty, std::size_t position) const {
        std::vector<std::int32_t> jobs = routes_[at(duty)];
        jobs.insert(jobs.begin() + static_cast<std::ptrdiff_t>(position), job_);
        return jobs;
    }
    // The cheapest place in the order, with the job pinned where `start` says so.
    Choice best(std::int32_t duty, Minute start) {
        pins_[at(job_)] = start;
        Choice choice;
        std::vector<Minute> starts;
        RouteCost cost;
        for (std::size_t i = 0; i <= routes_[at(duty)].size(); ++i) {
            std::vector<std::int32_t> jobs = withJob(duty, i);
            if (!timer_.time(duty, jobs, pins_, starts, cost))
                continue;
            const double total = cost.cost + p_.weights.overtimeMinute * 0.01 * cost.paid;
            if (!choice.isFound || total < choice.cost)
                choice = {true, total, std::move(jobs), starts};
        }
        return choice;
    }
    // The least bad place: for showing what it would break.
    Choice leastBad(std::int32_t duty, Minute start) {
        pins_[at(job_)] = start;
        Choice choice;
        const std::size_t n = routes_[at(duty)].size();
        for (std::size_t i = 0; i <= n; ++i) {
            const std::vector<std::int32_t> jobs = withJob(duty, i);
            const std::vector<Minute> starts = timer_.timeLoosely(duty, jobs, pins_);
            WeekPlan trial = plan_;
            trial.placements[at(job_)] = {duty, -1, starts[i]};
            for (std::size_t k = 0; k < jobs.size(); ++k)
                trial.placements[at(jobs[k])].start = starts[k];
            const Evaluation e = evaluate(p_, trial);
            double badness = 0;
            for (const RuleBreak &b : e.broken)
                badness += 1000 + b.amount;
            if (!choice.isFound || badness < choice.cost)
                choice = {true, badness, jobs, starts};
        }
        return choice;
    }
    Minute startIn(const Choice &choice) const {
        const auto where = std::ranges::find(choice.jobs, job_) - choice.jobs.begin();
        return choice.starts[static_cast<std::size_t>(where)];
    }

    // Starts on this duty that keep to the visit it follows, or that follows it; none where nothing is tied.
    std::vector<Minute> tiedStarts(std::int32_t duty) const {
        std::vector<Minute> starts;
        for (const Follow &follow : p_.follows) {
            if (follow.unit != GapUnit::Minute || (follow.first != job_ && follow.second != job_))
                continue;
            const bool isFirst = follow.first == job_;
            const Placement &other = plan_.placements[at(isFirst ? follow.second : follow.first)];
            if (!other.isPlaced() || p_.duties[at(other.duty)].day != p_.duties[at(duty)].day)
                continue;
            const Minute from = isFirst ? other.start - follow.most : other.start + follow.least;
            const Minute to = isFirst ? other.start - follow.least : other.start + follow.most;
            for (Minute t = from; t < to; t += kGridMinutes)
                starts.push_back(t);
            starts.push_back(to);
            if (from <= before_.start && before_.start <= to)
                starts.push_back(before_.start);
        }
        std::erase_if(starts, [](Minute t) { return t < 0; });
        return starts;
    }
    // With the visit it follows where there is one; else, or where the start is given, the cheapest.
    Choice bestTied(std::int32_t duty, Minute start) {
        Choice choice;
        if (start < 0)
            for (const Minute t : tiedStarts(duty))
                if (Choice at = best(duty, t); at.isFound && (!choice.isFound || at.cost < choice.cost))
                    choice = std::move(at);
        return choice.isFound ? choice : best(duty, start);
    }

    void placeOne(std::int32_t duty, Minute start) {
        Choice choice = bestTied(duty, start);
        if (!choice.isFound)
            choice = leastBad(duty, start);
        plan_.placements[at(job_)] = {duty, -1, startIn(choice)};
        write(duty, choice.jobs, choice.starts);
    }

    std::vector<std::int32_t> secondsFor(std::int32_t duty) const {
        std::vector<std::int32_t> seconds;
        for (std::size_t d = 0; d < p_.duties.size(); ++d) {
            const auto other = static_cast<std::int32_t>(d);
            if (other != duty && p_.duties[d].day == p_.duties[at(duty)].day &&
                standingRules(p_, job_, other, Role::Second).empty() &&
                static_cast<int>(routes_[d].size()) < p_.duties[d].mostVisits)
                seconds.push_back(other);
        }
        return seconds;
    }

    void placeTwo(std::int32_t duty, Minute wanted) {
        std::vector<Minute> tries;
        if (wanted >= 0)
            tries.push_back(wanted);
        else
            for (Minute t = p_.duties[at(duty)].from; t < p_.duties[at(duty)].to; t += kGridMinutes)
                tries.push_back(t);
        Choice first, second;
        std::int32_t secondDuty = -1;
        double least = 0;
        const std::vector<std::int32_t> seconds = secondsFor(duty);
        for (const Minute t : tries) {
            const Choice a = best(duty, t);
            if (!a.isFound)
                continue;
            for (const std::int32_t other : seconds) {
                const Choice b = best(other, t);
                // The second nurse who came before comes again unless another is clearly better.
                const double total = a.cost + b.cost - (other == before_.secondDuty ? 60 : 0);
                if (b.isFound && (secondDuty < 0 || total < least)) {
                    first = a;
                    second = b;
                    secondDuty = other;
                    least = total;
                }
            }
        }
        if (secondDuty < 0)
            return placeOne(duty, wanted); // alone; the evaluation then says that the second nurse is missing
        plan_.placements[at(job_)] = {duty, secondDuty, startIn(first)};
        write(duty, first.jobs, first.starts);
        write(secondDuty, second.jobs, second.starts);
    }

    WeekPlan finished() {
        RiderMatcher(p_).assign(plan_.placements, plan_.riderJob);
        return std::move(plan_);
    }

    const WeekProblem &p_;
    DutyTimer timer_;
    std::int32_t job_;
    WeekPlan plan_;
    std::vector<Minute> pins_;
    Placement before_;
    std::vector<std::vector<std::int32_t>> routes_;
};

Minute travelOf(const Evaluation &e) {
    Minute sum = 0;
    for (const DutyTimes &duty : e.duties)
        sum += duty.travel;
    return sum;
}

MoveCheck checkOf(const WeekProblem &problem, const WeekPlan &before, WeekPlan after) {
    MoveCheck check;
    check.plan = std::move(after);
    const Evaluation was = evaluate(problem, before);
    const Evaluation is = evaluate(problem, check.plan);
    check.before = was.parts;
    check.after = is.parts;
    check.plan.cost = is.parts.total();
    check.travelAdded = travelOf(is) - travelOf(was);
    for (const RuleBreak &b : is.broken) {
        const bool wasThere = std::ranges::any_of(was.broken, [&](const RuleBreak &o) {
            return o.rule == b.rule && o.job == b.job && o.duty == b.duty && o.amount >= b.amount;
        });
        if (!wasThere)
            check.broken.push_back(b);
    }
    return check;
}

} // namespace

MoveCheck tryMove(const WeekProblem &problem, const WeekPlan &plan, std::int32_t job, std::int32_t duty,
                  Minute start) {
    MoveCheck check = checkOf(problem, plan, Mover(problem, plan, job).moved(duty, start));
    if (start >= 0 || duty < 0)
        return check;
    constexpr int kTries = 2; // behind another stop she may have farther to drive
    Minute soonest = soonestStart(problem, check.plan, job);
    const auto isTooSoon = [&] { return check.plan.placements[at(job)].start < soonest; };
    for (int tries = 0; tries < kTries && isTooSoon(); ++tries) {
        WeekProblem later = problem;
        std::vector<TimeWindow> &windows = later.jobs[at(job)].windows[at(problem.nowDay)];
        if (!keepNotBefore(windows, soonest, problem.clockEnd))
            windows = {{soonest, std::max(soonest, problem.clockEnd), true}};
        check = checkOf(problem, plan, Mover(later, plan, job).moved(duty, -1));
        soonest = std::max(soonest, soonestStart(problem, check.plan, job));
    }
    if (isTooSoon()) // it fits nowhere behind what the nurse is at
        check.broken.push_back({Rule::DutyHours, job, duty, soonest - check.plan.placements[at(job)].start});
    return check;
}

MoveCheck trySwap(const WeekProblem &problem, const WeekPlan &plan, std::int32_t one, std::int32_t other) {
    const auto routes = routesOf(problem, plan);
    WeekPlan swapped = plan;
    std::vector<std::pair<std::int32_t, std::int32_t>> moves; // job, duty to come
    for (const auto &[from, to] : {std::pair(one, other), std::pair(other, one)})
        for (const std::int32_t job : routes[at(from)]) {
            const Job &j = problem.jobs[at(job)];
            if (j.twoNurses || j.lockedDay >= 0 || j.lockedNurse >= 0 || j.lockedStart >= 0)
                continue;
            swapped = Mover(problem, swapped, job).moved(-1, -1);
            moves.emplace_back(job, to);
        }
    for (const auto &[job, duty] : moves)
        swapped = Mover(problem, swapped, job).moved(duty, -1);
    return checkOf(problem, plan, std::move(swapped));
}

} // namespace kitround::rounds

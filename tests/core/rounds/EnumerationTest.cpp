// Tiny problems, where every plan can be looked at: the search must find one as good as the best of all. The
// enumeration shares no code with the search or the clock: it tries every set of visits for every duty, every
// order, and every minute for every start.
#include "core/base/Index.h"
#include "core/base/Random.h"
#include "core/rounds/bound/LowerBound.h"
#include "core/rounds/search/Solver.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <map>

namespace kitround::rounds {
namespace {

constexpr double kInfinity = std::numeric_limits<double>::infinity();
constexpr Minute kFrom = 480;
constexpr Minute kTo = 660; // a short day, so that minutes can be counted one by one

WeekProblem tinyWeek(std::uint64_t seed) {
    Random random(seed);
    WeekProblem p;
    p.firstDay = Date::of(2026, 11, 22);
    p.days = static_cast<std::int32_t>(random.between(1, 3));
    const int patients = static_cast<int>(random.between(2, 4));
    const std::size_t places = static_cast<std::size_t>(2 + patients);
    p.places.resize(places);
    std::vector<std::pair<std::int64_t, std::int64_t>> xy;
    for (std::size_t i = 0; i < places; ++i)
        xy.emplace_back(random.between(0, 30), random.between(0, 30));
    p.travel.places = places;
    for (std::size_t a = 0; a < places; ++a)
        for (std::size_t b = 0; b < places; ++b) {
            const std::int64_t apart =
                std::abs(xy[a].first - xy[b].first) + std::abs(xy[a].second - xy[b].second);
            p.travel.minutes.edit().push_back(a == b ? 0 : static_cast<std::int32_t>(apart));
            p.travel.metres.edit().push_back(0);
        }
    for (std::int32_t n = 0; n < 2; ++n) {
        NurseInfo nurse;
        nurse.id = NurseId(n + 1);
        nurse.contractMinutes = static_cast<Minute>(random.between(100, 500));
        nurse.carSpaceMl = random.chance(0.7) ? 1000 : 0;
        p.nurses.push_back(nurse);
        for (std::int32_t d = 0; d < p.days; ++d) {
            Duty duty;
            duty.nurse = n;
            duty.day = d;
            duty.from = kFrom;
            duty.to = kTo;
            duty.startPlace = n;
            duty.endPlace = n;
            duty.mostVisits = 4;
            p.duties.push_back(duty);
        }
    }
    bool hasPair = false;
    for (int i = 0; i < patients && p.jobs.size() < 5; ++i) {
        Job job;
        // Some have two orders, and nobody likes two nurses on one day.
        const bool isSameHome = i > 0 && !p.jobs.empty() && random.chance(0.3);
        job.patient = isSameHome ? p.jobs.back().patient : PatientId(i + 1);
        job.place = isSameHome ? p.jobs.back().place : 2 + i;
        job.length = static_cast<Minute>(5 * random.between(4, 9));
        job.notes = 5;
        job.points = random.chance(0.5) ? 1 : 2;
        job.priority = static_cast<Priority>(random.below(4));
        job.windows.resize(at(p.days));
        job.allowedDays.assign(at(p.days), true);
        if (random.chance(0.2) && p.days > 1)
            job.allowedDays[random.below(at(p.days))] = false;
        if (random.chance(0.6))
            for (std::int32_t d = 0; d < p.days; ++d) {
                const auto from = static_cast<Minute>(random.between(kFrom, kTo - 60));
                job.windows[at(d)].push_back(
                    {from, from + static_cast<Minute>(random.between(10, 60)), true});
            }
        job.primaryNurse = random.chance(0.6) ? static_cast<std::int32_t>(random.below(2)) : -1;
        if (random.chance(0.15))
            job.barredNurses.push_back(static_cast<std::int32_t>(random.below(2)));
        const int visits = static_cast<int>(random.between(1, std::min<std::int64_t>(2, p.days)));
        if (!hasPair && visits == 1 && random.chance(0.25)) {
            job.twoNurses = hasPair = true;
            job.barredNurses.clear();
        }
        Series series;
        series.leastGap = static_cast<std::int32_t>(random.between(1, 2));
        series.mostGap = 2;
        if (random.chance(0.3))
            series.fixedDays.push_back(-1);
        job.series = static_cast<std::int32_t>(p.series.size());
        for (int k = 0; k < visits && p.jobs.size() < 5; ++k) {
            series.jobs.push_back(static_cast<std::int32_t>(p.jobs.size()));
            p.jobs.push_back(job);
        }
        p.series.push_back(series);
        if (random.chance(0.3)) {
            Rider rider;
            rider.patient = job.patient;
            rider.spaceMl = 100; // at most four riders: room for all in a car that takes any
            rider.latestDay = static_cast<std::int32_t>(random.below(at(p.days)));
            rider.courierPossible = random.chance(0.7);
            p.riders.push_back(rider);
        }
    }
    return p;
}

class Enumeration {
public:
    explicit Enumeration(const WeekProblem &problem) : p_(problem), sets_(problem.duties.size()) {}

    double least() {
        // The start of the one two-nurse visit is tried minute by minute around the rest.
        for (std::size_t j = 0; j < p_.jobs.size(); ++j)
            if (p_.jobs[j].twoNurses)
                pair_ = static_cast<std::int32_t>(j);
        choose(0);
        return best_;
    }

private:
    struct Way { // of making a round: what the clock costs and what the nurse is paid for
        double cost;
        Minute paid;
    };

    void choose(std::size_t job) {
        if (job == p_.jobs.size()) {
            score();
            return;
        }
        const Job &j = p_.jobs[job];
        for (std::size_t d = 0; d < p_.duties.size(); ++d) {
            const Duty &duty = p_.duties[d];
            if (!j.allowedDays[at(duty.day)] || isBarred(j, duty.nurse))
                continue;
            for (std::size_t e = 0; e < p_.duties.size(); ++e) {
                const bool isPair = e != d;
                if (isPair != j.twoNurses || (isPair && p_.duties[e].day != duty.day))
                    continue;
                placed_.push_back({static_cast<std::int32_t>(job), static_cast<std::int32_t>(d)});
                sets_[d] |= 1U << job;
                if (isPair)
                    sets_[e] |= 1U << job;
                if (spacingHolds())
                    choose(job + 1);
                sets_[d] &= ~(1U << job);
                sets_[e] &= ~(1U << job);
                placed_.pop_back();
            }
        }
        // Last, not placed at all; good plans found before cut this short.
        open_ += p_.weights.unplaced[std::size_t(j.priority)];
        if (open_ < best_)
            choose(job + 1);
        open_ -= p_.weights.unplaced[std::size_t(j.priority)];
    }
    static bool isBarred(const Job &job, std::int32_t nurse) {
        return std::ranges::find(job.barredNurses, nurse) != job.barredNurses.end();
    }
    std::vector<std::int32_t> daysOf(std::size_t series) const {
        std::vector<std::int32_t> days = p_.series[series].fixedDays;
        for (const auto &[job, duty] : placed_)
            if (p_.jobs[at(job)].series == static_cast<std::int32_t>(series))
                days.push_back(p_.duties[at(duty)].day);
        std::ranges::sort(days);
        return days;
    }
    bool spacingHolds() const {
        for (std::size_t s = 0; s < p_.series.size(); ++s) {
            const std::vector<std::int32_t> days = daysOf(s);
            for (std::size_t i = 1; i < days.size(); ++i)
                if (days[i] - days[i - 1] < p_.series[s].leastGap)
                    return false;
        }
        return true;
    }

    void score() {
        double sum = 0;
        std::array<double, 2> points{};
        std::array<double, 2> share{};
        for (std::size_t n = 0; n < 2; ++n)
            share[n] = static_cast<double>(p_.nurses[n].contractMinutes) /
                       (p_.nurses[0].contractMinutes + p_.nurses[1].contractMinutes);
        std::vector<std::int32_t> dutyOf(p_.jobs.size(), -1);
        for (const auto &[job, duty] : placed_)
            dutyOf[at(job)] = duty;
        for (std::size_t j = 0; j < p_.jobs.size(); ++j) {
            const Job &job = p_.jobs[j];
            if (dutyOf[j] < 0) {
                sum += p_.weights.unplaced[std::size_t(job.priority)];
                continue;
            }
            bool primaryComes = false;
            for (std::size_t d = 0; d < p_.duties.size(); ++d)
                if (sets_[d] >> j & 1U) {
                    points[at(p_.duties[d].nurse)] += job.points;
                    primaryComes = primaryComes || p_.duties[d].nurse == job.primaryNurse;
                }
            if (job.primaryNurse >= 0 && !primaryComes)
                sum += p_.weights.notPrimary;
        }
        for (std::size_t s = 0; s < p_.series.size(); ++s) {
            const std::vector<std::int32_t> days = daysOf(s);
            for (std::size_t i = 1; i < days.size(); ++i)
                sum += p_.weights.gapDay * std::max(0, days[i] - days[i - 1] - p_.series[s].mostGap);
        }
        for (std::size_t n = 0; n < 2; ++n)
            sum += p_.weights.uneven * std::abs(points[n] - share[n] * (points[0] + points[1]));
        sum += couriers(dutyOf) + secondNurses(dutyOf);
        if (sum >= best_ - 1e-9)
            return;
        const bool pairIsPlaced = pair_ >= 0 && dutyOf[at(pair_)] >= 0;
        for (Minute pin = pairIsPlaced ? kFrom : -1; pin <= (pairIsPlaced ? kTo : -1); ++pin)
            best_ = std::min(best_, sum + clock(pin));
    }

    double couriers(const std::vector<std::int32_t> &dutyOf) const {
        double sum = 0;
        std::vector<PatientId> byCourier;
        for (const Rider &rider : p_.riders) {
            bool isCarried = false;
            for (std::size_t j = 0; j < p_.jobs.size(); ++j)
                if (dutyOf[j] >= 0 && p_.jobs[j].patient == rider.patient) {
                    const Duty &duty = p_.duties[at(dutyOf[j])];
                    isCarried = isCarried || (duty.day >= rider.earliestDay && duty.day <= rider.latestDay &&
                                              p_.nurses[at(duty.nurse)].carSpaceMl > 0);
                }
            if (isCarried)
                continue;
            if (!rider.courierPossible)
                sum += p_.weights.undelivered;
            else if (std::ranges::find(byCourier, rider.patient) == byCourier.end())
                byCourier.push_back(rider.patient);
        }
        return sum + p_.weights.courierRun * static_cast<double>(byCourier.size());
    }

    double secondNurses(const std::vector<std::int32_t> &dutyOf) const {
        double sum = 0;
        for (std::size_t a = 0; a < p_.jobs.size(); ++a)
            for (std::size_t b = 0; b < a; ++b) {
                if (p_.jobs[a].patient != p_.jobs[b].patient || dutyOf[a] < 0 || dutyOf[b] < 0)
                    continue;
                bool isShared = false;
                for (const unsigned set : sets_)
                    isShared = isShared || ((set >> a & 1U) && (set >> b & 1U));
                const bool isOneDay = p_.duties[at(dutyOf[a])].day == p_.duties[at(dutyOf[b])].day;
                sum += isOneDay && !isShared ? p_.weights.secondNurse : 0;
            }
        return sum;
    }

    // Routes and overtime: the cheapest mix of ways to make each duty's round.
    double clock(Minute pin) {
        std::array<std::vector<Way>, 2> ofNurse{{{{0, 0}}, {{0, 0}}}};
        for (std::size_t d = 0; d < p_.duties.size(); ++d) {
            if (sets_[d] == 0)
                continue;
            const std::vector<Way> &ways = waysOf(d, sets_[d], pin);
            std::vector<Way> sum;
            for (const Way &a : ofNurse[at(p_.duties[d].nurse)])
                for (const Way &b : ways)
                    sum.push_back({a.cost + b.cost, a.paid + b.paid});
            ofNurse[at(p_.duties[d].nurse)] = sum;
            if (sum.empty())
                return kInfinity;
        }
        double total = 0;
        for (std::size_t n = 0; n < 2; ++n) {
            double least = kInfinity;
            for (const Way &way : ofNurse[n])
                least = std::min(least, way.cost + p_.weights.overtimeMinute *
                                                       std::max(0, way.paid - p_.nurses[n].contractMinutes));
            total += least;
        }
        return total;
    }

    const std::vector<Way> &waysOf(std::size_t duty, unsigned set, Minute pin) {
        const bool holdsPair = pair_ >= 0 && (set >> pair_ & 1U);
        const std::array<int, 3> key{static_cast<int>(duty), static_cast<int>(set), holdsPair ? pin : -1};
        if (const auto found = ways_.find(key); found != ways_.end())
            return found->second;
        std::vector<std::int32_t> order;
        for (std::size_t j = 0; j < p_.jobs.size(); ++j)
            if (set >> j & 1U)
                order.push_back(static_cast<std::int32_t>(j));
        std::vector<Way> ways;
        if (static_cast<int>(order.size()) <= p_.duties[duty].mostVisits)
            do
                addWay(p_.duties[duty], order, holdsPair ? pin : -1, ways);
            while (std::ranges::next_permutation(order).found);
        return ways_[key] = ways;
    }

    // Least waiting over all starts, minute by minute: waiting[t] with the last visit starting at t.
    void addWay(const Duty &duty, const std::vector<std::int32_t> &order, Minute pin,
                std::vector<Way> &ways) {
        const auto drive = [&](std::int32_t a, std::int32_t b) {
            return p_.travel.minutesBetween(at(a), at(b));
        };
        const auto mayStart = [&](std::int32_t j, Minute t) {
            if (j == pair_ && t != pin)
                return false;
            const auto &windows = p_.jobs[at(j)].windows[at(duty.day)];
            return windows.empty() || std::ranges::any_of(windows, [&](const TimeWindow &w) {
                       return w.from <= t && t <= w.to;
                   });
        };
        std::vector<Minute> waiting(at(kTo + 1), -1);
        Minute travel = drive(duty.startPlace, p_.jobs[at(order[0])].place);
        Minute direct = 0, notes = 0;
        for (Minute t = kFrom + travel; t <= kTo; ++t)
            if (mayStart(order[0], t))
                waiting[at(t)] = 0;
        for (std::size_t i = 0; i < order.size(); ++i) {
            const Job &job = p_.jobs[at(order[i])];
            direct += job.length;
            notes += job.notes;
            if (i + 1 == order.size())
                break;
            const Minute way = drive(job.place, p_.jobs[at(order[i + 1])].place);
            travel += way;
            std::vector<Minute> next(at(kTo + 1), -1);
            for (Minute t = kFrom; t <= kTo; ++t) {
                if (waiting[at(t)] < 0)
                    continue;
                for (Minute u = t + job.length + way; u <= kTo; ++u) {
                    const Minute waited = waiting[at(t)] + u - (t + job.length + way);
                    if (mayStart(order[i + 1], u) && (next[at(u)] < 0 || waited < next[at(u)]))
                        next[at(u)] = waited;
                }
            }
            waiting = next;
        }
        const Job &last = p_.jobs[at(order.back())];
        const Minute home = drive(last.place, duty.endPlace);
        travel += home;
        Minute least = -1;
        for (Minute t = kFrom; t + last.length + home <= kTo; ++t)
            if (waiting[at(t)] >= 0 && (least < 0 || waiting[at(t)] < least))
                least = waiting[at(t)];
        if (least < 0)
            return;
        ways.push_back({p_.weights.travelMinute * travel + p_.weights.waitMinute * least,
                        direct + notes + travel + least});
    }

    const WeekProblem &p_;
    std::vector<unsigned> sets_;
    std::vector<std::pair<std::int32_t, std::int32_t>> placed_;
    std::map<std::array<int, 3>, std::vector<Way>> ways_;
    std::int32_t pair_ = -1;
    double open_ = 0;
    double best_ = kInfinity;
};

bool pair(const WeekProblem &problem) {
    return std::ranges::any_of(problem.jobs, &Job::twoNurses);
}

TEST(EnumerationTest, TheSearchFindsTheBestOfAllPlansOnTinyProblems) {
    int pairs = 0;
    for (std::uint64_t seed = 1; seed <= 220; ++seed) {
        const WeekProblem problem = tinyWeek(seed);
        pairs += pair(problem) ? 1 : 0;
        const double least = Enumeration(problem).least();
        SolveOptions options;
        options.iterations = 8000;
        const auto report = solve(problem, options, {}, {});
        ASSERT_TRUE(report) << debugText(report.error());
        EXPECT_NEAR(report->plan.cost, least, 1e-6)
            << "seed " << seed << (pair(problem) ? " with" : " without") << " a two-nurse visit";
        // No plan comes below the bound: not the best of all, and so none.
        const auto bound = lowerBound(problem, 1.3 * least, {.rounds = 60, .seconds = 0}, {});
        ASSERT_TRUE(bound);
        EXPECT_LE(*bound, least + 1e-6) << "seed " << seed;
    }
    EXPECT_GT(pairs, 20); // the tiny problems do hold two-nurse visits
}

} // namespace
} // namespace kitround::rounds

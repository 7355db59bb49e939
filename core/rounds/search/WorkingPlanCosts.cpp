#include "core/base/Index.h"
#include "core/rounds/problem/Fit.h"
#include "core/rounds/problem/Routes.h"
#include "core/rounds/search/WorkingPlan.h"

#include <algorithm>
#include <unordered_map>

namespace kitround::rounds {
namespace {

// Nurses whom the cost and the rules can tell apart only by what their duties say.
bool areAlike(const NurseInfo &a, const NurseInfo &b) {
    return a.languages == b.languages && a.gender == b.gender && a.carSpaceMl == b.carSpaceMl;
}
// Of one shape, and open to the same visits.
bool areAlike(const Duty &a, const Duty &b) {
    return a.shape() == b.shape() && a.skills == b.skills && a.isOnCall == b.isOnCall && a.blocked.empty() &&
           b.blocked.empty();
}

std::vector<Minute> startsOf(const WeekPlan &plan, const std::vector<std::int32_t> &round) {
    std::vector<Minute> starts;
    for (const std::int32_t job : round)
        starts.push_back(plan.placements[at(job)].start);
    return starts;
}

} // namespace

WorkingPlan::WorkingPlan(const WeekProblem &problem, const Scope *scope)
    : p_(problem), timer_(problem), riders_(problem), homes_(problem), shares_(fairShares(problem)) {
    const std::size_t jobs = p_.jobs.size();
    const bool hasOvertime =
        p_.weights.overtimeMinute != 0 && !std::ranges::all_of(p_.nurses, &NurseInfo::overtimeExempt);
    timeCosts_ = p_.weights.waitMinute != 0 || hasOvertime;
    weekCosts_ = p_.weights.uneven != 0 || hasOvertime;
    hasSegments_ = timeCosts_ || !p_.follows.empty() || std::ranges::any_of(p_.jobs, &Job::twoNurses);
    if (!p_.links.empty() || p_.weights.worstSoft != 0)
        linked_ = std::make_unique<LinkedClock>(p_);
    placements_.resize(jobs);
    pins_.assign(jobs, -1);
    routes_.resize(p_.duties.size());
    isUsed_.assign(p_.duties.size(), 0);
    for (const Duty &duty : p_.duties)
        hoursOf_.push_back(hoursIndex(p_, duty.nurse, duty.day));
    paid_.assign(p_.nurses.size() * static_cast<std::size_t>(weeksOf(p_)), 0);
    points_.assign(p_.nurses.size(), 0);
    touchStamp_.assign(p_.duties.size(), 0);
    whereUnplaced_.assign(jobs, -1);
    for (std::size_t j = 0; j < jobs; ++j) {
        const auto job = static_cast<std::int32_t>(j);
        noteUnplaced(job, true);
        unplacedCost_ += unplacedCost(job);
    }
    openTo(scope);
    fillTables();
    findTwins();
    findFollows();
    for (const Series &series : p_.series) {
        std::vector<std::int32_t> days = series.fixedDays;
        std::ranges::sort(days);
        gapCost_ += p_.weights.gapDay * daysTooFar(series, days);
    }
    for (std::size_t d = 0; d < p_.duties.size(); ++d)
        describe(static_cast<std::int32_t>(d));
    mark();
}

void WorkingPlan::openTo(const Scope *scope) {
    const auto isIn = [&](std::size_t job) { return !scope || scope->jobs[job] != 0; };
    for (std::size_t j = 0; j < p_.jobs.size(); ++j)
        if (isIn(j))
            jobsInPlay_.push_back(static_cast<std::int32_t>(j));
    rowOf_.assign(p_.jobs.size(), jobsInPlay_.size());
    for (std::size_t row = 0; row < jobsInPlay_.size(); ++row)
        rowOf_[at(jobsInPlay_[row])] = row;
    if (scope)
        dutyInPlay_ = scope->duties;
    else
        dutyInPlay_.assign(p_.duties.size(), 1);
}

void WorkingPlan::fillTables() {
    fillTravelTo();
    for (std::size_t j = 0; j < p_.jobs.size(); ++j)
        for (std::int32_t day = 0; day < p_.days; ++day)
            segments_.push_back(timer_.segmentOf(static_cast<std::int32_t>(j), day, -1));
    allowed_.assign(tableSize(), 0);
    fit_.assign(tableSize(), 0);
    dutiesFor_.resize(p_.jobs.size());
    secondsFor_.resize(p_.jobs.size());
    for (const std::int32_t job : jobsInPlay_)
        fillRow(job);
    fillHomes();
}

void WorkingPlan::fillRow(std::int32_t job) {
    const Job &j = p_.jobs[at(job)];
    RouteCost cost;
    trial_.assign(1, job);
    for (std::size_t d = 0; d < p_.duties.size(); ++d) {
        const auto duty = static_cast<std::int32_t>(d);
        if (!isDutyInPlay(duty))
            continue;
        const bool isFirst = mayStand(p_, job, duty, Role::First);
        const bool isSecond = j.twoNurses && mayStand(p_, job, duty, Role::Second);
        if ((!isFirst && !isSecond) || p_.duties[d].mostVisits < 1 || j.load > p_.duties[d].mostLoad ||
            !timer_.time(duty, trial_, {}, starts_, cost))
            continue;
        if (isFirst) {
            allowed_[index(job, duty)] = 1;
            dutiesFor_[at(job)].push_back(duty);
            fit_[index(job, duty)] = fitCost(p_, job, duty, -1).total();
        }
        if (isSecond)
            secondsFor_[at(job)].push_back(duty);
    }
}

void WorkingPlan::fillHomes() {
    ridersOf_.resize(p_.jobs.size());
    homeOf_.resize(p_.jobs.size());
    std::unordered_map<PatientId, std::vector<std::int32_t>> riders, homes;
    for (std::size_t r = 0; r < p_.riders.size(); ++r)
        riders[p_.riders[r].patient].push_back(static_cast<std::int32_t>(r));
    for (std::size_t j = 0; j < p_.jobs.size(); ++j)
        homes[p_.jobs[j].patient].push_back(static_cast<std::int32_t>(j));
    for (const std::int32_t job : jobsInPlay_) {
        const auto found = riders.find(p_.jobs[at(job)].patient);
        if (found == riders.end())
            continue;
        ridersOf_[at(job)] = found->second;
        homeOf_[at(job)] = homes[found->first];
    }
}

// Rows of several places side by side, so that what is read lies side by side too.
void WorkingPlan::fillTravelTo() {
    constexpr std::size_t kAtOnce = 16;
    const std::size_t places = p_.travel.places;
    std::vector<std::size_t> wanted;
    std::vector<char> isWanted(places, 0);
    for (const std::int32_t job : jobsInPlay_)
        isWanted[at(p_.jobs[at(job)].place)] = 1;
    rowOfPlace_.assign(places, 0);
    for (std::size_t place = 0; place < places; ++place)
        if (isWanted[place] != 0) {
            rowOfPlace_[place] = wanted.size();
            wanted.push_back(place);
        }
    travelTo_.resize(wanted.size() * places);
    for (std::size_t first = 0; first < wanted.size(); first += kAtOnce)
        for (std::size_t from = 0; from < places; ++from)
            for (std::size_t row = first; row < std::min(wanted.size(), first + kAtOnce); ++row)
                travelTo_[row * places + from] = p_.travel.minutes[from * places + wanted[row]];
}

double WorkingPlan::fitNow(std::int32_t job) const {
    const Placement &where = placement(job);
    return where.secondDuty < 0 && allows(job, where.duty)
               ? fit(job, where.duty)
               : fitCost(p_, job, where.duty, where.secondDuty).total();
}

void WorkingPlan::stand(const WeekPlan &plan) {
    for (std::size_t j = 0; j < p_.jobs.size(); ++j) {
        const auto job = static_cast<std::int32_t>(j);
        Placement where = plan.placements[j];
        if (!where.isPlaced())
            continue;
        if (!p_.jobs[j].twoNurses && !pairOf(job))
            where.start = -1; // not pinned
        adoptPlacement(job, where);
    }
    const std::vector<std::vector<std::int32_t>> rounds = routesOf(p_, plan);
    for (std::size_t d = 0; d < rounds.size(); ++d)
        if (const auto duty = static_cast<std::int32_t>(d); !rounds[d].empty() && !setRoute(duty, rounds[d]))
            adoptRound(duty, rounds[d], startsOf(plan, rounds[d]));
    mark();
}

void WorkingPlan::findTwins() {
    twinBefore_.assign(p_.duties.size(), -1);
    twinNurseBefore_.assign(p_.nurses.size(), -1);
    dutiesOf_.resize(p_.nurses.size());
    for (std::size_t d = 0; d < p_.duties.size(); ++d)
        dutiesOf_[at(p_.duties[d].nurse)].push_back(static_cast<std::int32_t>(d));
    if (weekCosts_ || !p_.follows.empty()) // visits by two nurses tell one twin from the other
        return;
    std::vector<char> isNamed(p_.nurses.size(), 0);
    const auto name = [&](std::int32_t nurse) {
        if (nurse >= 0)
            isNamed[at(nurse)] = 1;
    };
    for (const Job &job : p_.jobs) {
        for (const std::int32_t nurse :
             {job.primaryNurse, job.lockedNurse, job.lockedSecondNurse, job.publishedNurse})
            name(nurse);
        std::ranges::for_each(job.knownNurses, name);
        std::ranges::for_each(job.barredNurses, name);
    }
    for (std::size_t n = 1; n < p_.nurses.size(); ++n)
        if (!isNamed[n] && !isNamed[n - 1] && areAlike(p_.nurses[n], p_.nurses[n - 1]) &&
            std::ranges::equal(dutiesOf_[n], dutiesOf_[n - 1], [&](std::int32_t a, std::int32_t b) {
                return areAlike(p_.duties[at(a)], p_.duties[at(b)]);
            }))
            twinNurseBefore_[n] = static_cast<std::int32_t>(n) - 1;
    if (std::ranges::any_of(p_.series, &Series::oneNurse))
        return;
    std::vector<std::int32_t> latest; // the last duty of each kind seen
    for (std::size_t d = 0; d < p_.duties.size(); ++d) {
        const Duty &duty = p_.duties[d];
        if (isNamed[at(duty.nurse)])
            continue;
        const auto twin = std::ranges::find_if(latest, [&](std::int32_t other) {
            const Duty &o = p_.duties[at(other)];
            return areAlike(o, duty) && areAlike(p_.nurses[at(o.nurse)], p_.nurses[at(duty.nurse)]);
        });
        if (twin == latest.end()) {
            latest.push_back(static_cast<std::int32_t>(d));
        } else {
            twinBefore_[d] = *twin;
            *twin = static_cast<std::int32_t>(d);
        }
    }
}

// A pair of which one can never be placed, or is for two nurses at once, is no pair to the search: the one
// that can be is placed alone, and what it breaks is told.
void WorkingPlan::findFollows() {
    followsOf_.resize(p_.jobs.size());
    pairOf_.assign(p_.jobs.size(), -1);
    for (std::size_t f = 0; f < p_.follows.size(); ++f) {
        const Follow &follow = p_.follows[f];
        const auto index = static_cast<std::int32_t>(f);
        const auto canBePlaced = [&](std::int32_t job) {
            return !p_.jobs[at(job)].twoNurses && !dutiesFor(job).empty();
        };
        const bool isPair =
            follow.unit == GapUnit::Minute && canBePlaced(follow.first) && canBePlaced(follow.second);
        for (const std::int32_t job : {follow.first, follow.second}) {
            if (isPair)
                pairOf_[at(job)] = index;
            else
                followsOf_[at(job)].push_back(index);
        }
    }
}

std::int32_t WorkingPlan::partnerOf(std::int32_t job) const {
    if (linked_)
        return linked_->partner(job);
    const Follow *pair = pairOf(job);
    return !pair ? -1 : pair->first == job ? pair->second : pair->first;
}

bool WorkingPlan::followsAllow(std::int32_t job, std::int32_t day) const {
    return std::ranges::all_of(followsOf_[at(job)], [&](std::int32_t f) {
        const Follow &follow = p_.follows[at(f)];
        const bool isFirst = follow.first == job;
        const std::int32_t other = isFirst ? follow.second : follow.first;
        if (!isPlaced(other))
            return true;
        const std::int32_t apart = isFirst ? dayOf(other) - day : day - dayOf(other);
        return follow.unit == GapUnit::Day ? follow.least <= apart && apart <= follow.most : apart == 0;
    });
}

double WorkingPlan::overtimeCost(std::size_t hours, Minute paid) const {
    const auto weeks = static_cast<std::size_t>(weeksOf(p_));
    return p_.weights.overtimeMinute * overtimeOf(p_.nurses[hours / weeks], hours % weeks, paid);
}

double WorkingPlan::overtimeDelta(std::int32_t duty, Minute added) const {
    const std::size_t hours = hoursOf_[at(duty)];
    return overtimeCost(hours, paid_[hours] + added) - overtimeCost(hours, paid_[hours]);
}

double WorkingPlan::unevenBase(double points, int times) const {
    double delta = 0;
    for (std::size_t n = 0; n < points_.size(); ++n)
        delta += unevenness(points_[n], allPoints_ + times * points, shares_[n]) -
                 unevenness(points_[n], allPoints_, shares_[n]);
    return p_.weights.uneven * delta;
}

double WorkingPlan::unevenPart(std::int32_t nurse, double points, int times) const {
    const std::size_t n = at(nurse);
    const double all = allPoints_ + times * points;
    return p_.weights.uneven *
           (unevenness(points_[n] + points, all, shares_[n]) - unevenness(points_[n], all, shares_[n]));
}

void WorkingPlan::daysWithout(std::int32_t job, std::vector<std::int32_t> &days) const {
    const Series &series = p_.series[at(p_.jobs[at(job)].series)];
    days = series.fixedDays;
    for (const std::int32_t other : series.jobs)
        if (other != job && isPlaced(other))
            days.push_back(dayOf(other));
}

bool WorkingPlan::seriesAllows(std::int32_t job, std::int32_t day) const {
    if (!followsAllow(job, day))
        return false;
    const std::int32_t series = p_.jobs[at(job)].series;
    if (series < 0)
        return true;
    daysWithout(job, days_);
    const std::int32_t least = leastGapOf(p_.series[at(series)]);
    if (std::ranges::any_of(days_, [&](std::int32_t other) { return std::abs(other - day) < least; }))
        return false;
    if (p_.series[at(series)].patterns.empty())
        return true;
    std::uint64_t days = UINT64_C(1) << day;
    for (const std::int32_t other : p_.series[at(series)].jobs)
        if (other != job && isPlaced(other))
            days |= UINT64_C(1) << dayOf(other);
    return fitsPattern(p_.series[at(series)], days);
}

double WorkingPlan::seriesCost(std::int32_t job, std::int32_t day) const {
    const std::int32_t series = p_.jobs[at(job)].series;
    if (series < 0)
        return 0;
    if (p_.weights.gapDay == 0)
        return 0;
    daysWithout(job, days_);
    if (day >= 0)
        days_.push_back(day);
    std::ranges::sort(days_);
    return p_.weights.gapDay * daysTooFar(p_.series[at(series)], days_);
}

double WorkingPlan::riderCost(std::int32_t job, std::int32_t dutyIndex) const {
    if (ridersOf_[at(job)].empty())
        return 0;
    double cost = 0;
    bool needsCourier = false;
    for (const std::int32_t r : ridersOf_[at(job)]) {
        const Rider &rider = p_.riders[at(r)];
        const auto carries = [&](std::int32_t d) {
            const Duty &duty = p_.duties[at(d)];
            return duty.day >= rider.earliestDay && duty.day <= rider.latestDay &&
                   p_.nurses[at(duty.nurse)].carSpaceMl >= rider.spaceMl;
        };
        const bool isCarried = std::ranges::any_of(homeOf_[at(job)], [&](std::int32_t k) {
            const std::int32_t d = k == job ? dutyIndex : placement(k).duty;
            return d >= 0 && mayRide(rider, p_.jobs[at(k)]) && carries(d);
        });
        if (isCarried)
            continue;
        if (rider.courierPossible)
            needsCourier = true;
        else
            cost += p_.weights.undelivered;
    }
    return cost + (needsCourier ? p_.weights.courierRun : 0);
}

double WorkingPlan::secondNurseCostOf(std::int32_t job, const Placement &place) const {
    double cost = 0;
    for (const std::int32_t other : homes_.besides(job))
        if (sendsSecondNurse(p_, place, placement(other)))
            cost += p_.weights.secondNurse;
    return cost;
}

double WorkingPlan::unplacedCost(std::int32_t job) const {
    return openShare_ * p_.weights.unplaced[static_cast<std::size_t>(p_.jobs[at(job)].priority)];
}

void WorkingPlan::setOpenShare(double share) {
    openShare_ = share;
    unplacedCost_ = 0;
    for (const std::int32_t job : unplaced_)
        unplacedCost_ += unplacedCost(job);
    mark();
}

bool WorkingPlan::isSpareNurse(std::int32_t nurse) const {
    const auto isFree = [&](std::int32_t n) {
        return std::ranges::all_of(dutiesOf_[at(n)], [&](std::int32_t d) { return route(d).jobs.empty(); });
    };
    const std::int32_t twin = twinNurseBefore_[at(nurse)];
    return twin >= 0 && isFree(twin) && isFree(nurse);
}

bool WorkingPlan::followsAllowNurse(std::int32_t job, std::int32_t nurse) const {
    const auto isHers = [&](std::int32_t duty) { return duty >= 0 && p_.duties[at(duty)].nurse == nurse; };
    return std::ranges::none_of(followsOf_[at(job)], [&](std::int32_t f) {
        const Follow &follow = p_.follows[at(f)];
        const Placement &other = placement(follow.first == job ? follow.second : follow.first);
        return follow.byAnother && (isHers(other.duty) || isHers(other.secondDuty));
    });
}

bool WorkingPlan::seriesAllowsNurse(std::int32_t job, std::int32_t nurse) const {
    if (!followsAllowNurse(job, nurse))
        return false;
    const std::int32_t series = p_.jobs[at(job)].series;
    return series < 0 || !p_.series[at(series)].oneNurse ||
           std::ranges::all_of(p_.series[at(series)].jobs, [&](std::int32_t other) {
               return other == job || !isPlaced(other) || p_.duties[at(placement(other).duty)].nurse == nurse;
           });
}

} // namespace kitround::rounds

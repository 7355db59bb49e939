#pragma once
// The plan under change: routes with their starts and time segments, and every part of the cost kept up to
// date. Changes since the last mark can be taken back. Each change of a route gives it a version never used
// before, so that whatever was computed for a version stays true for it.
//
// Two-nurse jobs stand in two routes with a pinned start, so that each route is timed alone. Where the
// problem has links, all rounds are timed together (LinkedClock) and the two visits of a link come and go
// together. Two visits that follow one another by minutes come and go together too, each pinned to its start;
// of those that follow by days each looks at the day of the other.
#include "core/rounds/problem/DutyTimer.h"
#include "core/rounds/problem/HomeVisits.h"
#include "core/rounds/problem/Riders.h"
#include "core/rounds/problem/Shares.h"
#include "core/rounds/search/LinkedClock.h"
#include "core/rounds/search/Scope.h"

#include <memory>
#include <span>

namespace kitround::rounds {

// Sums of doubles differ by less than this for the same plan.
inline constexpr double kHair = 1e-7;

// Between two neighbouring stops of a route: all that asking "does a visit fit here" reads, in one row.
struct Gap {
    std::int32_t before, after; // places
    Minute leg;                 // travel from one to the other
    Minute ready;               // earliest leave from `before`
    Minute due;                 // latest arrival at `after`
};

struct Route {
    std::vector<std::int32_t> jobs;
    std::vector<Gap> gaps;         // one more than jobs
    std::vector<Minute> starts;    // only where the clock is not plain; see isPlain
    std::vector<TimeSegment> head; // head[i]: from the start place through jobs[0..i)
    std::vector<TimeSegment> tail; // tail[i]: jobs[i..) and the end place; both only where time costs
    RouteCost cost;
    Minute travel = 0, direct = 0, notes = 0;
    double points = 0;
    std::int64_t load = 0;
    bool isPlain = true; // gaps and segments tell the whole truth, so that no start is chosen before plan()
    bool isOpen = false; // visits were taken out and the rest is not timed again yet
    std::uint64_t version = 0;
};

class WorkingPlan {
public:
    // Of a scope (not kept): what lies outside of it stays where it stands.
    explicit WorkingPlan(const WeekProblem &problem, const Scope *scope = nullptr);

    const WeekProblem &problem() const { return p_; }
    const Route &route(std::int32_t duty) const { return routes_[static_cast<std::size_t>(duty)]; }
    const Placement &placement(std::int32_t job) const { return placements_[static_cast<std::size_t>(job)]; }
    bool isPlaced(std::int32_t job) const { return placement(job).isPlaced(); }
    const std::vector<std::int32_t> &unplaced() const { return unplaced_; } // in no order
    std::span<const Minute> pins() const { return pins_; }
    const std::vector<Placement> &placements() const { return placements_; }
    std::int32_t dayOf(std::int32_t job) const;

    // False, and nothing changed, where the route has no starts for it.
    bool insert(std::int32_t job, std::int32_t duty, std::size_t position);
    bool insertPair(std::int32_t job, std::int32_t first, std::size_t firstPosition, std::int32_t second,
                    std::size_t secondPosition, Minute start);
    // The job and, where secondDuty >= 0, its partner by link. Precondition: hasLinks().
    bool insertLinked(std::int32_t job, std::int32_t duty, std::size_t position, std::int32_t secondDuty,
                      std::size_t secondPosition);
    // Two visits that follow one another by minutes, each at its start. Where both go into one round,
    // `secondPosition` counts without the first. Precondition: pairOf(first) is theirs.
    struct Spot {
        std::int32_t job, duty;
        std::size_t position;
        Minute start;
    };
    bool insertFollowing(const Spot &first, const Spot &second);
    void remove(std::int32_t job);
    // Takes several out before their rounds are timed again; settle() before anything else is asked. Where
    // travel does not obey the triangle inequality a visit more may have to go.
    void removeLater(std::int32_t job);
    void settle();
    // Starts from a plan that has starts; marked. Precondition: nothing is placed.
    void stand(const WeekPlan &plan);
    // Another plan of the same problem in place of this one: every placement, then every round, then
    // adopted().
    void adoptPlacement(std::int32_t job, const Placement &placement); // start: the pin of a two-nurse visit
    void adoptRound(std::int32_t duty, const std::vector<std::int32_t> &jobs,
                    const std::vector<Minute> &starts);
    void adopted();

    void mark();
    void rollBack();
    const std::vector<std::int32_t> &touched() const { return touched_; } // duties changed since the mark

    // From here on an open visit costs this share of its weight; the plan is marked.
    void setOpenShare(double share);
    // What the open visits cost less for it than by their full weight.
    double forgiven() const { return unplacedCost_ / openShare_ - unplacedCost_; }
    double cost(); // everything; riders matched anew where a visit moved

    // Parts a move needs to know before it is made.
    double overtimeDelta(std::int32_t duty, Minute added) const; // of the duty's nurse, in its week
    // Change of the unevenness when a job of so many points comes into the plan: base(points, times) once,
    // where `times` nurses take it, then the part of each of them.
    double unevenBase(double points, int times) const;
    double unevenPart(std::int32_t nurse, double points, int times) const;
    // Whether the job's series allows the day, and the change of its gap cost if it stood there (the job
    // itself looked away from).
    bool seriesAllows(std::int32_t job, std::int32_t day) const;
    bool seriesAllowsNurse(std::int32_t job, std::int32_t nurse) const; // as the only or first nurse
    bool followsAllowNurse(std::int32_t job, std::int32_t nurse) const; // as any of two
    // The visit follows another by days, or is followed so; the two above know of it.
    bool followsByDays(std::int32_t job) const { return !followsOf_[static_cast<std::size_t>(job)].empty(); }
    // Where it may stand depends on another visit or on two nurses: its place is not chosen by itself.
    bool isBound(std::int32_t job) const {
        return p_.jobs[static_cast<std::size_t>(job)].twoNurses || pairOf(job) || followsByDays(job);
    }
    // nullptr where the job comes alone.
    const Follow *pairOf(std::int32_t job) const {
        const std::int32_t pair = pairOf_[static_cast<std::size_t>(job)];
        return pair < 0 ? nullptr : &p_.follows[static_cast<std::size_t>(pair)];
    }
    double seriesCost(std::int32_t job,
                      std::int32_t day) const; // of the whole series; day < 0: without the job
    // Cost of the patient's deliveries if the job stood on that duty (-1: nowhere); room shared with other
    // patients is left to cost().
    double riderCost(std::int32_t job, std::int32_t duty) const;
    // Of the patient's other visits that day those by other nurses (HomeVisits.h), if the job stood on that
    // duty (-1: nowhere), and a second nurse on that.
    double secondNurseCost(std::int32_t job, std::int32_t duty, std::int32_t second = -1) const {
        return homes_.besides(job).empty() ? 0 : secondNurseCostOf(job, {duty, second, -1});
    }
    // Both together, of one nurse; nothing to ask for where nothing hangs on the patient's other visits.
    bool hangsOnHome(std::int32_t job) const {
        return !ridersOf_[static_cast<std::size_t>(job)].empty() || !homes_.besides(job).empty();
    }
    double homeCost(std::int32_t job, std::int32_t duty) const {
        return riderCost(job, duty) + secondNurseCost(job, duty);
    }
    double unplacedCost(std::int32_t job) const;
    // May be moved; without a place: may find one. In order of number.
    const std::vector<std::int32_t> &jobsInPlay() const { return jobsInPlay_; }
    bool isInPlay(std::int32_t job) const { return row(job) < jobsInPlay_.size(); }
    bool isDutyInPlay(std::int32_t duty) const { return dutyInPlay_[static_cast<std::size_t>(duty)] != 0; }
    // Tables by job in play and duty; one more row for all other jobs, to which no duty is open.
    std::size_t tableSize() const { return (jobsInPlay_.size() + 1) * p_.duties.size(); }
    std::size_t index(std::int32_t job, std::int32_t duty) const {
        return row(job) * p_.duties.size() + static_cast<std::size_t>(duty);
    }
    double fit(std::int32_t job, std::int32_t duty) const { return fit_[index(job, duty)]; } // one nurse
    bool allows(std::int32_t job,
                std::int32_t duty) const { // as the only or first nurse, whatever else is planned
        return allowed_[index(job, duty)] != 0;
    }
    const std::vector<std::int32_t> &dutiesFor(std::int32_t job) const {
        return dutiesFor_[static_cast<std::size_t>(job)];
    }
    const std::vector<std::int32_t> &secondsFor(std::int32_t job) const {
        return secondsFor_[static_cast<std::size_t>(job)];
    }
    bool hasRoom(std::int32_t duty, std::int32_t job) const;
    // Empty, and another empty duty before it is its twin: what fits here fits there for the same cost.
    bool isSpare(std::int32_t duty) const {
        const std::int32_t twin = twinBefore_[static_cast<std::size_t>(duty)];
        return twin >= 0 && !isUsed_[static_cast<std::size_t>(duty)] &&
               !isUsed_[static_cast<std::size_t>(twin)];
    }
    TimeSegment segment(std::int32_t job, std::int32_t day) const { // the visit alone; pinned where it is
        const Minute pin = pins_[static_cast<std::size_t>(job)];
        TimeSegment own = segments_[static_cast<std::size_t>(job) * static_cast<std::size_t>(p_.days) +
                                    static_cast<std::size_t>(day)];
        if (pin >= 0)
            own.early = own.late = pin;
        return own;
    }
    // Travel from every place to that of a job in play, for reading in a row.
    const Minute *travelTo(std::int32_t place) const {
        return travelTo_.data() + rowOfPlace_[static_cast<std::size_t>(place)] * p_.travel.places;
    }
    const Minute *travelFrom(std::int32_t place) const {
        return p_.travel.minutes.data() + static_cast<std::size_t>(place) * p_.travel.places;
    }
    // What of the cost the problem knows at all; the rest is not worth asking for.
    bool timeCosts() const { return timeCosts_; } // waiting or paid minutes
    bool weekCosts() const { return weekCosts_; } // overtime or evenness
    bool hasLinks() const { return linked_ != nullptr; }
    LinkedClock &linkedClock() { return *linked_; }
    const LinkedClock &linkedClock() const { return *linked_; }
    bool hasSegments() const { return hasSegments_; }
    // No visit all week, and a nurse before her with the same duties has none either.
    bool isSpareNurse(std::int32_t nurse) const;
    DutyTimer &timer() { return timer_; }

    WeekPlan plan();

private:
    std::size_t row(std::int32_t job) const { return rowOf_[static_cast<std::size_t>(job)]; }
    double fitNow(std::int32_t job) const; // of its place
    double secondNurseCostOf(std::int32_t job, const Placement &place) const;
    double overtimeCost(std::size_t hours, Minute paid) const;
    void openTo(const Scope *scope);
    void fillTables();
    void fillRow(std::int32_t job);
    void fillHomes();
    void fillTravelTo();
    void findTwins();
    bool fitsPlainly(std::int32_t job, std::int32_t duty, std::size_t position) const;
    bool setRoute(std::int32_t duty, const std::vector<std::int32_t> &jobs);
    void take(std::int32_t job, std::int32_t duty);
    void putLinked(std::int32_t job, std::int32_t duty, std::size_t position);
    void takeStartsFromLinked();
    void settle(std::int32_t duty);
    void describe(std::int32_t duty);
    void describeInserted(std::int32_t duty, std::size_t position);
    void describeSegments(std::int32_t duty);
    void joinSegments(Route &route, std::int32_t day, std::size_t from, std::size_t to) const;
    bool isOnTime(const Route &route) const;
    RouteCost plainCost(std::int32_t duty) const;
    void saveRoute(std::int32_t duty);
    void saveJob(std::int32_t job);
    void place(std::int32_t job, std::int32_t duty, std::int32_t second, Minute pin);
    void noteUnplaced(std::int32_t job, bool isUnplaced);
    void count(std::int32_t duty, double sign);
    void findFollows();
    std::int32_t partnerOf(std::int32_t job) const; // by link or by minutes; -1 = none
    bool followsAllow(std::int32_t job, std::int32_t day) const;
    void daysWithout(std::int32_t job, std::vector<std::int32_t> &days) const;

    const WeekProblem &p_;
    DutyTimer timer_;
    RiderMatcher riders_;
    HomeVisits homes_;
    std::unique_ptr<LinkedClock> linked_; // where the problem has links
    std::vector<double> shares_;
    std::vector<std::int32_t> jobsInPlay_;
    std::vector<std::size_t> rowOf_; // by job
    std::vector<char> dutyInPlay_;
    std::vector<char> allowed_;
    std::vector<double> fit_;
    std::vector<std::vector<std::int32_t>> dutiesFor_, secondsFor_;
    std::vector<std::vector<std::int32_t>> ridersOf_;  // by job: riders of its patient
    std::vector<std::vector<std::int32_t>> homeOf_;    // by job: jobs of the same patient
    std::vector<std::int32_t> twinBefore_;             // by duty, -1 = none
    std::vector<std::vector<std::int32_t>> followsOf_; // by job: its follows in days
    std::vector<std::int32_t> pairOf_;                 // by job: its follow in minutes, -1 = none
    std::vector<std::int32_t> twinNurseBefore_;        // by nurse
    std::vector<std::vector<std::int32_t>> dutiesOf_;  // by nurse
    std::vector<std::size_t> rowOfPlace_;              // in the next
    std::vector<Minute> travelTo_;                     // the table turned over
    std::vector<TimeSegment> segments_;                // by job and day, not pinned
    bool timeCosts_ = false, weekCosts_ = false, hasSegments_ = false;

    std::vector<Route> routes_;
    std::vector<char> isUsed_; // by duty: its round has visits (in one row, since it is asked most often)
    std::vector<Placement> placements_; // start is the pin of a two-nurse job only; see plan()
    std::vector<Minute> pins_;
    std::vector<std::int32_t> unplaced_;
    std::vector<std::int32_t> whereUnplaced_; // by job: its index in unplaced_
    std::vector<std::size_t> hoursOf_;        // by duty: its place in paid_
    std::vector<Minute> paid_;                // by nurse and week
    std::vector<double> points_;
    double allPoints_ = 0;
    double routeCost_ = 0, fitCost_ = 0, gapCost_ = 0, unplacedCost_ = 0, secondNurseCost_ = 0;
    double openShare_ = 1;
    std::uint64_t nextVersion_ = 1;
    std::vector<std::int32_t> open_; // duties to settle

    // since the mark
    struct SavedRoute {
        std::int32_t duty;
        Route route;
    };
    struct SavedJob {
        std::int32_t job;
        Placement placement;
        Minute pin;
    };
    std::vector<SavedRoute> savedRoutes_;
    std::size_t savedRouteCount_ = 0; // the rest of savedRoutes_ is kept for its storage
    std::vector<SavedJob> savedJobs_;
    std::vector<std::int32_t> touched_;
    std::vector<std::uint32_t> touchStamp_;
    std::uint32_t stamp_ = 1;
    std::vector<Minute> savedPaid_;
    std::vector<double> savedPoints_;
    double savedSums_[6] = {};

    mutable std::vector<std::int32_t> days_; // scratch
    std::vector<Minute> starts_;
    std::vector<std::int32_t> trial_, trialB_, trialC_;
    std::vector<std::int32_t> riderJob_;
};

} // namespace kitround::rounds

#pragma once
// The plan of a week, or of several planned together, as one value: due visits, the problem, the plan in hand
// and its evaluation. The calendar edits a draft of it; the headless program prints it.
#include "core/desk/Desk.h"
#include "core/desk/Table.h"
#include "core/rounds/bound/LowerBound.h"
#include "core/rounds/explain/Explain.h"
#include "core/rounds/problem/WeekBuilder.h"
#include "core/rounds/search/Solver.h"
#include "core/supply/Refills.h"

#include <QString>

namespace kitround::desk {

struct WeekPicture {
    AgencyPtr agency;
    DateRange week;                    // whole weeks of the agency
    std::vector<rounds::DueVisit> due; // index = job
    std::vector<rounds::RiderWish> riderWishes;
    rounds::WeekProblem problem;
    rounds::WeekPlan plan; // as stored, or as solved
    rounds::Evaluation evaluation;
    std::vector<rounds::RuleBreak> broken; // hard rules, less what has begun breaks (rounds/search/Begun)
    std::int64_t seed = 1;
};
using WeekPicturePtr = std::shared_ptr<const WeekPicture>;

constexpr int kMostWeeks = 4; // planned together
// The week that holds the day, and as many after it as make `weeks` (1 to kMostWeeks). Riders come from the
// refills (and promised deliveries) of the stock picture; may be nullptr. OutOfRange "weeks" where the agency
// is too large for so many at once.
Result<WeekPicturePtr> openWeek(AgencyPtr agency, Date anyDay,
                                const std::vector<supply::RefillProposal> *refills, int weeks = 1);
int weeksIn(const WeekPicture &week);
DateRange weekHolding(const WeekPicture &week, Date day); // Precondition: the picture holds the day.
// One week of a picture of several, with its visits where they stand there.
Result<WeekPicturePtr> weekAlone(const WeekPicture &weeks, DateRange one);
// Hard rules the plan breaks, and visits of today that start before anybody can be there (problem/FromNow).
std::size_t planFaults(const WeekPicture &week);
// Nothing is gained by it: no fewer faults, and no fewer weighted minutes that anybody would see.
bool isNoBetter(const WeekPicture &planned, const WeekPicture &before);
// Never worse than the plan in hand, where that has no more faults. What has begun stays, and nothing comes
// before now.
Result<WeekPicturePtr> planWeek(const WeekPicture &week, const rounds::SolveOptions &options,
                                std::stop_token stop, const ProgressSink &progress);
// What no plan for these visits can come below, whatever is locked; nothing where it can't be told.
// `planCost`: of any plan that breaks no rule; the nearer to the best, the sooner the answer is good.
std::optional<double> leastCost(const WeekPicture &week, double planCost, const rounds::BoundOptions &options,
                                std::stop_token stop);
WeekPicturePtr withPlan(const WeekPicture &week, rounds::WeekPlan plan); // evaluated
// The same visits at other places; what is carried goes with the visits that stand then.
WeekPicturePtr withPlacements(const WeekPicture &week, std::vector<rounds::Placement> placements);
// Start of the week that is planned by default: next week of the agency's week start.
Date nextWeek(const Agency &agency);
std::vector<Visit> visitsOf(const WeekPicture &week);                       // for Desk::acceptPlan
Result<std::vector<Desk::PlanRecord>> planRecords(const WeekPicture &week); // for Desk::acceptPlans, by week
// Locks a job where it stands in the plan (day, nurse, time as asked), in a new picture. What is not asked
// for is unlocked; a job that is not placed only loses locks, and one that has begun stays as it is.
struct Locks {
    bool day = false, nurse = false, time = false;
};
WeekPicturePtr withLocks(const WeekPicture &week, std::int32_t job, Locks locks);

// Placed jobs by day, nurse's name, start.
struct PlacedJob {
    std::int32_t job = -1;
    std::int32_t duty = -1;
    rounds::Minute start = 0, end = 0, travel = 0;
};
std::vector<PlacedJob> placedJobs(const WeekPicture &week);
std::vector<std::int32_t> unplacedJobs(const WeekPicture &week); // most urgent first
// A draft or published plan of this week is in the file; a few visits locked ahead of planning are none.
bool hasStoredPlan(const WeekPicture &week);
// The week's newest plan on record is published: no draft was saved since.
bool isPlanPublished(const Agency &agency, Date weekStart);
// "published, version 3, 10:42"; where the plan in hand is a draft, on record or `isChanged` since, which
// version people go by meanwhile. Empty where none was published.
QString publishedText(const Agency &agency, Date weekStart, bool isChanged);

Table weekTable(const WeekPicture &week); // by day, nurse, start
Table unplacedTable(const WeekPicture &week);
Table costTable(const WeekPicture &week);
Table brokenRulesTable(const WeekPicture &week); // empty for a plan that may be published

} // namespace kitround::desk

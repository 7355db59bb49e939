#include "tests/bench/WeekBench.h"

#include "core/base/Random.h"
#include "core/records/Settings.h"
#include "core/rounds/bound/LowerBound.h"
#include "core/rounds/repair/Repair.h"
#include "core/rounds/search/Solver.h"
#include "tests/bench/Measure.h"
#include "tests/bench/WorkLimit.h"

#include <QJsonArray>
#include <QJsonDocument>
#include <QJsonObject>

#include <algorithm>
#include <cmath>
#include <numeric>

namespace kitround::bench {
namespace {

constexpr double kDegreesAKilometre = 1.0 / 111.195;
constexpr std::int32_t kDays = 7;

class Maker {
public:
    explicit Maker(const WeekWish &wish) : wish_(wish), random_(wish.seed) {
        // About three visits to the square kilometre and week, as in a town that grows with its agency.
        side_ = 0.6 * std::sqrt(static_cast<double>(wish.visits));
    }

    rounds::WeekProblem make() {
        const AgencySettings settings;
        p_.firstDay = Date::of(2026, 11, 22);
        p_.days = kDays;
        p_.lead = static_cast<rounds::Minute>(settings[SettingKey::SoonestVisitMinutes]);
        for (int n = 0; n < wish_.nurses; ++n)
            addNurse(n);
        while (static_cast<int>(p_.jobs.size()) < wish_.visits)
            addPatient();
        for (int r = 0; r < wish_.riders && !p_.jobs.empty(); ++r)
            addRider();
        p_.travel = travelTable(p_.places, settings);
        return std::move(p_);
    }

private:
    std::int32_t addPlace() {
        rounds::TravelPlace place; // open ocean: no real town stands there
        place.point = GeoPoint{38.0 + random_.uniform() * side_ * kDegreesAKilometre,
                               -60.0 + random_.uniform() * side_ * kDegreesAKilometre / 0.788};
        p_.places.push_back(place);
        return static_cast<std::int32_t>(p_.places.size()) - 1;
    }

    void addNurse(int n) {
        rounds::NurseInfo nurse;
        nurse.id = NurseId(n + 1);
        nurse.carSpaceMl = 200'000;
        nurse.contractMinutes = 2400;
        nurse.skills = SkillSet{Skill::DrainChest, Skill::DrainAbdomen, Skill::SiteCare, Skill::Teach};
        if (n % 3 != 2)
            nurse.skills.insert(Skill::Assess);
        p_.nurses.push_back(nurse);
        const std::int32_t home = addPlace();
        const bool atWeekend = n % 7 == 6; // Saturday to Tuesday and Friday; days run from Sunday
        for (std::int32_t day = 0; day < kDays; ++day) {
            const bool works = atWeekend ? day != 3 && day != 4 : day >= 1 && day <= 5;
            if (!works)
                continue;
            rounds::Duty duty;
            duty.nurse = n;
            duty.day = day;
            duty.from = 480;
            duty.to = 990;
            duty.breakLength = 30;
            duty.breakFrom = 690;
            duty.breakTo = 810;
            duty.startPlace = duty.endPlace = home;
            duty.mostVisits = 7;
            duty.skills = nurse.skills;
            p_.duties.push_back(duty);
        }
    }

    std::int32_t anyNurse() {
        return static_cast<std::int32_t>(
            random_.below(static_cast<std::uint64_t>(std::max(1, wish_.nurses))));
    }

    // A patient's own nurse is one of the three who live nearest, as agencies divide a town.
    std::int32_t nearNurse(std::int32_t place) {
        const auto far = [&](std::int32_t nurse) {
            const GeoPoint a = *p_.places[static_cast<std::size_t>(nurse)].point; // nurses' homes come first
            const GeoPoint b = *p_.places[static_cast<std::size_t>(place)].point;
            return rounds::greatCircleMetres(a, b);
        };
        std::vector<std::int32_t> nurses(p_.nurses.size());
        std::iota(nurses.begin(), nurses.end(), 0);
        const auto near = std::min<std::size_t>(3, nurses.size());
        std::ranges::stable_sort(nurses, {}, far);
        return nurses[random_.below(near)];
    }

    void addPatient() {
        rounds::Job job;
        job.patient = PatientId(++patients_);
        job.place = addPlace();
        const int visits = static_cast<int>(random_.between(1, 3));
        job.needs = random_.chance(0.15) ? SkillSet{Skill::Assess} : SkillSet{Skill::DrainChest};
        job.kind = VisitKind::Routine;
        job.length = static_cast<rounds::Minute>(5 * random_.between(6, 15));
        job.notes = 15;
        job.priority = static_cast<rounds::Priority>(random_.below(4));
        job.points = random_.chance(0.2) ? 1.5 : 1;
        job.allowedDays.assign(kDays, true);
        job.allowedDays[0] = job.allowedDays[6] = random_.chance(0.3);
        job.windows.resize(kDays);
        if (random_.chance(0.3)) {
            const auto from = static_cast<rounds::Minute>(30 * random_.between(16, 26));
            for (auto &windows : job.windows)
                windows.push_back({from, from + 150, true});
        } else if (random_.chance(0.15)) {
            for (auto &windows : job.windows)
                windows.push_back({540, 660, false});
        }
        job.twoNurses = visits == 1 && random_.chance(0.03);
        job.primaryNurse = !p_.nurses.empty() && random_.chance(0.8) ? nearNurse(job.place) : -1;
        if (!p_.nurses.empty() && random_.chance(0.05))
            job.barredNurses.push_back(anyNurse());
        if (job.primaryNurse < 0 && !p_.nurses.empty())
            job.knownNurses.push_back(nearNurse(job.place));
        if (!job.barredNurses.empty() && job.barredNurses[0] == job.primaryNurse)
            job.barredNurses.clear();
        rounds::Series series;
        series.leastGap = visits > 2 ? 1 : 2;
        series.mostGap = visits > 1 ? 4 : 10;
        job.series = static_cast<std::int32_t>(p_.series.size());
        for (int k = 0; k < visits && static_cast<int>(p_.jobs.size()) < wish_.visits; ++k) {
            series.jobs.push_back(static_cast<std::int32_t>(p_.jobs.size()));
            p_.jobs.push_back(job);
        }
        p_.series.push_back(std::move(series));
    }

    void addRider() {
        rounds::Rider rider;
        rider.patient = p_.jobs[random_.below(p_.jobs.size())].patient;
        rider.spaceMl = 5000 * random_.between(2, 12);
        rider.latestDay = static_cast<std::int32_t>(random_.between(1, 6));
        rider.courierPossible = random_.chance(0.95);
        p_.riders.push_back(rider);
    }

    const WeekWish &wish_;
    Random random_;
    rounds::WeekProblem p_;
    double side_ = 10; // kilometres
    std::int64_t patients_ = 0;
};

struct AfterPlanning {
    double repairSeconds = 0; // one nurse calls out on a Tuesday morning
    std::size_t moved = 0;    // visits that then stand elsewhere
    double moveCheckMs = 0;   // mean time to price one visit on one other duty, as a drag does
};

// The plan is published, and its week runs: what stands before now has begun.
rounds::WeekProblem asTold(rounds::WeekProblem week, const rounds::WeekPlan &plan, std::int32_t today,
                           rounds::Minute now) {
    week.nowDay = today;
    week.now = now;
    for (std::size_t j = 0; j < week.jobs.size(); ++j) {
        const rounds::Placement &placement = plan.placements[j];
        if (!placement.isPlaced())
            continue;
        const rounds::Duty &duty = week.duties[static_cast<std::size_t>(placement.duty)];
        week.jobs[j].publishedNurse = duty.nurse;
        week.jobs[j].publishedSecondNurse =
            placement.secondDuty < 0 ? -1 : week.duties[static_cast<std::size_t>(placement.secondDuty)].nurse;
        week.jobs[j].publishedDay = duty.day;
        week.jobs[j].publishedStart = placement.start;
    }
    return week;
}

Result<AfterPlanning> afterPlanning(const rounds::WeekProblem &week, const rounds::WeekPlan &plan) {
    constexpr std::int32_t kDay = 2;
    constexpr rounds::Minute kNow = 7 * 60;
    constexpr int kChecks = 50;
    AfterPlanning after;
    std::size_t busiest = 0;
    std::vector<int> visits(week.duties.size(), 0);
    for (const rounds::Placement &p : plan.placements)
        if (p.isPlaced() && week.duties[static_cast<std::size_t>(p.duty)].day == kDay)
            ++visits[static_cast<std::size_t>(p.duty)];
    busiest = static_cast<std::size_t>(std::ranges::max_element(visits) - visits.begin());
    if (visits.empty() || visits[busiest] == 0)
        return after;
    const double start = processorSeconds();
    const rounds::WeekProblem told = asTold(week, plan, kDay, kNow);
    const rounds::WeekProblem without = rounds::withNurseAway(told, week.duties[busiest].nurse, kDay, 0);
    rounds::RepairOptions options;
    options.today = kDay;
    options.now = kNow;
    const auto repaired = rounds::repair(without, plan, options);
    if (!repaired)
        return repaired.error();
    after.repairSeconds = processorSeconds() - start;
    after.moved = repaired->moved.size();
    Random random(1);
    const double before = processorSeconds();
    for (int i = 0; i < kChecks; ++i)
        rounds::tryMove(told, plan, static_cast<std::int32_t>(random.below(week.jobs.size())),
                        static_cast<std::int32_t>(random.below(week.duties.size())), -1);
    after.moveCheckMs = 1000 * (processorSeconds() - before) / kChecks;
    return after;
}

} // namespace

rounds::WeekProblem agencyWeek(const WeekWish &wish) {
    return Maker(wish).make();
}

Result<std::string> benchWeek(const WeekWish &wish) {
    const rounds::WeekProblem week = agencyWeek(wish);
    const double before = processorSeconds();
    const auto report =
        rounds::solve(week, workLimit(wish.seed, wish.iterations, wish.seconds, wish.threads), {}, {});
    if (!report)
        return report.error();
    const double cpu = processorSeconds() - before;
    const rounds::Evaluation e = rounds::evaluate(week, report->plan);
    const auto unplaced =
        std::ranges::count_if(report->plan.placements, [](const auto &p) { return !p.isPlaced(); });
    const auto after = afterPlanning(week, report->plan);
    if (!after)
        return after.error();
    const double peak = static_cast<double>(peakMemoryKib()) / 1024;
    std::optional<double> bound;
    if (wish.boundSeconds > 0)
        bound =
            rounds::lowerBound(week, report->plan.cost, {.rounds = 1000, .seconds = wish.boundSeconds}, {});
    if (!wish.asJson)
        return "cost " + std::to_string(report->plan.cost) + ", unplaced " + std::to_string(unplaced) +
               ", first plan after " + std::to_string(report->firstPlanSeconds) + " s at " +
               std::to_string(report->trace.front().second) + ", iterations " +
               std::to_string(report->iterations) + ", seconds " + std::to_string(report->seconds) +
               ", processor seconds " + std::to_string(cpu) + ", peak MiB " + std::to_string(peak) +
               ", rules broken " + std::to_string(e.broken.size()) + ", repaired in " +
               std::to_string(after->repairSeconds) + " s with " + std::to_string(after->moved) +
               " moved, a move priced in " + std::to_string(after->moveCheckMs) + " ms" +
               (bound ? ", no plan below " + std::to_string(*bound) : std::string()) + "\n";
    QJsonObject json;
    json[QStringLiteral("verb")] = QStringLiteral("week");
    json[QStringLiteral("visits")] = wish.visits;
    json[QStringLiteral("nurses")] = wish.nurses;
    json[QStringLiteral("riders")] = wish.riders;
    json[QStringLiteral("seed")] = static_cast<double>(wish.seed);
    json[QStringLiteral("cost")] = report->plan.cost;
    json[QStringLiteral("unplaced")] = static_cast<double>(unplaced);
    json[QStringLiteral("rules_broken")] = static_cast<double>(e.broken.size());
    json[QStringLiteral("first_plan_seconds")] = report->firstPlanSeconds;
    json[QStringLiteral("seconds")] = report->seconds;
    json[QStringLiteral("cpu_seconds")] = cpu;
    json[QStringLiteral("iterations")] = static_cast<double>(report->iterations);
    json[QStringLiteral("peak_mib")] = peak;
    json[QStringLiteral("repair_seconds")] = after->repairSeconds;
    json[QStringLiteral("repair_moved")] = static_cast<double>(after->moved);
    json[QStringLiteral("move_check_ms")] = after->moveCheckMs;
    if (bound)
        json[QStringLiteral("lower_bound")] = *bound;
    QJsonArray trace;
    for (const auto &[seconds, cost] : report->trace)
        trace.append(QJsonArray{seconds, cost});
    json[QStringLiteral("trace")] = trace;
    return QJsonDocument(json).toJson(QJsonDocument::Compact).toStdString() + "\n";
}

} // namespace kitround::bench

// The consistent vehicle routing problem in the text form of Groer, Golden and Wasil (2009): customers with a
// demand a day (-1 = none), a longest route of travel and service. One driver a customer on all his days.
// Drivers leave at 0 and do not wait.
#include "tests/bench/routes/OpenInstance.h"
#include "tests/bench/routes/PlainWeek.h"
#include "tests/bench/routes/TextFile.h"

#include <algorithm>
#include <cmath>
#include <map>

namespace kitround::bench {
namespace {

struct Row {
    int number = 0;
    double x = 0, y = 0;
    std::vector<double> demand, service; // by day; demand < 0: not that day
};
double apart(const Row &a, const Row &b) {
    return std::hypot(a.x - b.x, a.y - b.y);
}

class Convrp final : public OpenInstance {
public:
    std::size_t days = 0;
    double capacity = 0, longest = 0;
    std::vector<Row> rows; // 0: the depot

    bool isPeriodic() const override { return true; }

    rounds::WeekProblem week() const override {
        double end = 0;
        for (const Row &row : rows) {
            end += 2 * apart(rows[0], row);
            for (const double service : row.service)
                end += service;
        }
        end = std::min(end, longest);
        const double grain = grainFor(end);
        rounds::WeekProblem week =
            plainWeek(static_cast<std::int32_t>(days), rows.size(), grain, end,
                      [&](std::size_t a, std::size_t b) { return apart(rows[a], rows[b]); });
        for (std::size_t v = 0; v < drivers(); ++v)
            addVehicle(week, 0, std::vector<rounds::Minute>(days, ticksDown(end, grain)),
                       std::vector<std::int32_t>(days, static_cast<std::int32_t>(capacity)));
        for (std::size_t i = 1; i < rows.size(); ++i) {
            rounds::Series series;
            series.mostGap = 10000;
            series.oneNurse = true;
            for (std::size_t day = 0; day < days; ++day) {
                if (rows[i].demand[day] < 0)
                    continue;
                rounds::Job job = plainJob(week, i, ticksUp(rows[i].service[day], grain),
                                           static_cast<std::int32_t>(std::ceil(rows[i].demand[day])));
                job.allowedDays.assign(days, false);
                job.allowedDays[day] = true;
                job.series = static_cast<std::int32_t>(week.series.size());
                series.jobs.push_back(static_cast<std::int32_t>(week.jobs.size()));
                week.jobs.push_back(std::move(job));
            }
            if (!series.jobs.empty())
                week.series.push_back(std::move(series));
        }
        return week;
    }

    // On every day the same driver at the same place of the list, with an empty route where idle.
    RoutePlan routesOf(const rounds::WeekProblem &week, const rounds::WeekPlan &plan) const override {
        std::map<std::pair<std::int32_t, std::int32_t>, std::vector<std::pair<rounds::Minute, int>>> stops;
        std::map<std::int32_t, std::size_t> driverAt;
        for (std::size_t j = 0; j < week.jobs.size(); ++j) {
            if (!plan.placements[j].isPlaced())
                continue;
            const rounds::Duty &duty = week.duties[static_cast<std::size_t>(plan.placements[j].duty)];
            driverAt.try_emplace(duty.nurse, driverAt.size());
            stops[{duty.day, duty.nurse}].emplace_back(
                plan.placements[j].start, rows[static_cast<std::size_t>(week.jobs[j].place)].number);
        }
        RoutePlan routes(days, DayRoutes(driverAt.size()));
        for (auto &[key, list] : stops) {
            std::ranges::stable_sort(list, {}, &std::pair<rounds::Minute, int>::first);
            for (const auto &[start, number] : list)
                routes[static_cast<std::size_t>(key.first)][driverAt[key.second]].push_back(number);
        }
        return routes;
    }

    Verdict check(const RoutePlan &plan) const override {
        Verdict verdict;
        std::map<int, std::size_t> driverOf;
        if (plan.size() != days)
            verdict.broken("not one list of routes a day");
        for (std::size_t day = 0; day < std::min(days, plan.size()); ++day) {
            std::vector<int> visits(rows.size(), 0);
            int used = 0;
            for (std::size_t driver = 0; driver < plan[day].size(); ++driver) {
                used += plan[day][driver].empty() ? 0 : 1;
                checkRoute(plan[day][driver], day, driver, visits, driverOf, verdict);
            }
            verdict.vehicles = std::max(verdict.vehicles, used);
            for (std::size_t i = 1; i < rows.size(); ++i)
                if (visits[i] != (rows[i].demand[day] < 0 ? 0 : 1))
                    verdict.broken("customer " + std::to_string(rows[i].number) + " on day " +
                                   std::to_string(day + 1));
        }
        return verdict;
    }

private:
    static constexpr double kTolerance = 1e-6;

    std::size_t drivers() const {
        double most = 0;
        for (std::size_t day = 0; day < days; ++day) {
            double sum = 0;
            for (std::size_t i = 1; i < rows.size(); ++i)
                sum += std::max(0.0, rows[i].demand[day]);
            most = std::max(most, sum);
        }
        return std::min(rows.size() - 1, 3 * static_cast<std::size_t>(std::ceil(most / capacity)) + 10);
    }

    void checkRoute(const OneRoute &route, std::size_t day, std::size_t driver, std::vector<int> &visits,
                    std::map<int, std::size_t> &driverOf, Verdict &verdict) const {
        if (route.empty())
            return;
        double load = 0, busy = 0;
        const Row *here = &rows[0];
        for (const int number : route) {
            const auto found = std::ranges::find(rows.begin() + 1, rows.end(), number, &Row::number);
            if (found == rows.end()) {
                verdict.broken("no customer " + std::to_string(number));
                continue;
            }
            ++visits[static_cast<std::size_t>(found - rows.begin())];
            const auto [known, isNew] = driverOf.try_emplace(number, driver);
            if (!isNew && known->second != driver)
                verdict.broken("customer " + std::to_string(number) + " has two drivers");
            verdict.cost += apart(*here, *found);
            busy += apart(*here, *found) + found->service[day];
            load += std::max(0.0, found->demand[day]);
            here = &*found;
        }
        verdict.cost += apart(*here, rows[0]);
        busy += apart(*here, rows[0]);
        if (load > capacity + kTolerance)
            verdict.broken("a route carries too much");
        if (busy > longest + kTolerance)
            verdict.broken("a route is too long");
    }
};

} // namespace

Result<std::unique_ptr<OpenInstance>> readConvrp(const std::string &path) {
    auto file = TextFile::open(path);
    if (!file)
        return file.error();
    auto instance = std::make_unique<Convrp>();
    std::map<int, Row> byNumber;
    Row depot;
    std::string section;
    const auto valueOf = [](const std::string &text) { return std::stod(text.substr(text.find(':') + 1)); };
    for (const TextFile::Line &line : file->lines()) {
        const std::vector<double> &n = line.numbers;
        if (!line.isNumbers) {
            section = line.text;
            if (section.starts_with("NUM_DAYS"))
                instance->days = static_cast<std::size_t>(valueOf(section));
            else if (section.starts_with("CAPACITY"))
                instance->capacity = valueOf(section);
            else if (section.starts_with("DISTANCE"))
                instance->longest = valueOf(section);
        } else if (section.starts_with("NODE_COORD_SECTION") && n.size() >= 3) {
            byNumber[static_cast<int>(n[0])] = {static_cast<int>(n[0]), n[1], n[2], {}, {}};
        } else if (section.starts_with("DEMAND_SECTION") && n.size() > instance->days) {
            byNumber[static_cast<int>(n[0])].demand.assign(n.begin() + 1, n.end());
        } else if (section.starts_with("SVC_TIME_SECTION") && n.size() > instance->days) {
            byNumber[static_cast<int>(n[0])].service.assign(n.begin() + 1, n.end());
        } else if (section.starts_with("DEPOT_SECTION") && n.size() >= 2) {
            depot.x = n[0];
            depot.y = n[1];
        }
    }
    if (instance->days < 1 || instance->days > 62 || instance->capacity <= 0 || byNumber.empty())
        return file->bad({}, "days, capacity and customers");
    instance->rows.push_back(depot);
    for (auto &[number, row] : byNumber) {
        if (row.demand.size() < instance->days || row.service.size() < instance->days)
            return file->bad({}, "demand and service of customer " + std::to_string(number));
        instance->rows.push_back(std::move(row));
    }
    return std::unique_ptr<OpenInstance>(std::move(instance));
}

} // namespace kitround::bench

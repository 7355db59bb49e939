// The periodic vehicle routing problem in the text form of Cordeau, Gendreau and Laporte (1997): "type m n
// t", t lines "longest route, capacity" (0 = no limit), then the depot and the customers: number, x, y,
// service, demand a visit, visits, number of patterns, the patterns (first day = highest bit) and, for type 5
// (Cordeau, Laporte and Mercier 2001), the time window.
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
    double x = 0, y = 0, service = 0, demand = 0;
    int visits = 0;
    std::vector<unsigned> patterns; // as in the file
    double ready = 0, due = 0;      // due 0: no window
};
double apart(const Row &a, const Row &b) {
    return std::hypot(a.x - b.x, a.y - b.y);
}

class Pvrp final : public OpenInstance {
public:
    int vehicles = 0, days = 0;
    std::vector<double> longest, capacity; // by day; 0 = no limit
    std::vector<Row> rows;

    bool isPeriodic() const override { return true; }

    rounds::WeekProblem week() const override {
        const double end = clockEnd();
        const double grain = grainFor(end);
        rounds::WeekProblem week =
            plainWeek(days, rows.size(), grain, end,
                      [&](std::size_t a, std::size_t b) { return apart(rows[a], rows[b]); });
        std::vector<rounds::Minute> to;
        std::vector<std::int32_t> load;
        for (std::size_t day = 0; day < longest.size(); ++day) {
            to.push_back(ticksDown(longest[day] > 0 ? std::min(longest[day], end) : end, grain));
            load.push_back(capacity[day] > 0 ? static_cast<std::int32_t>(capacity[day]) : 1 << 30);
        }
        for (int v = 0; v < vehicles; ++v)
            addVehicle(week, 0, to, load);
        for (std::size_t i = 1; i < rows.size(); ++i)
            addCustomer(week, i, grain);
        return week;
    }

    RoutePlan routesOf(const rounds::WeekProblem &week, const rounds::WeekPlan &plan) const override {
        std::map<std::int32_t, std::vector<std::pair<rounds::Minute, int>>> byDuty;
        for (std::size_t j = 0; j < week.jobs.size(); ++j)
            if (plan.placements[j].isPlaced())
                byDuty[plan.placements[j].duty].emplace_back(
                    plan.placements[j].start, rows[static_cast<std::size_t>(week.jobs[j].place)].number);
        RoutePlan routes(static_cast<std::size_t>(days));
        for (auto &[duty, stops] : byDuty) {
            std::ranges::stable_sort(stops, {}, &std::pair<rounds::Minute, int>::first);
            OneRoute route;
            for (const auto &[start, number] : stops)
                route.push_back(number);
            routes[static_cast<std::size_t>(week.duties[static_cast<std::size_t>(duty)].day)].push_back(
                route);
        }
        return routes;
    }

    Verdict check(const RoutePlan &plan) const override {
        Verdict verdict;
        std::map<int, const Row *> byNumber;
        std::map<int, unsigned> daysOf;
        for (std::size_t i = 1; i < rows.size(); ++i)
            byNumber[rows[i].number] = &rows[i];
        if (plan.size() != static_cast<std::size_t>(days))
            verdict.broken("not one list of routes a day");
        for (std::size_t day = 0; day < std::min(plan.size(), longest.size()); ++day) {
            int used = 0;
            for (const OneRoute &route : plan[day])
                if (!route.empty()) {
                    ++used;
                    checkRoute(route, day, byNumber, daysOf, verdict);
                }
            verdict.vehicles = std::max(verdict.vehicles, used);
        }
        if (verdict.vehicles > vehicles)
            verdict.broken("more vehicles than there are");
        for (const auto &[number, row] : byNumber)
            if (row->visits > 0 && std::ranges::find(row->patterns, daysOf[number]) == row->patterns.end())
                verdict.broken("the days of customer " + std::to_string(number) + " are no pattern of his");
        return verdict;
    }

private:
    static constexpr double kTolerance = 1e-6;

    // What no sensible route is longer than: the limits, or all ways out and back in one.
    double clockEnd() const {
        double end = 0;
        if (std::ranges::all_of(longest, [](double limit) { return limit > 0; }))
            end = std::ranges::max(longest);
        else
            for (const Row &row : rows)
                end += 2 * apart(rows[0], row) + row.service;
        if (rows[0].due > 0)
            end = std::min(end, rows[0].due);
        return end;
    }

    void addCustomer(rounds::WeekProblem &week, std::size_t i, double grain) const {
        const Row &row = rows[i];
        rounds::Series series;
        series.mostGap = 10000;
        std::uint64_t any = 0;
        for (const unsigned pattern : row.patterns) {
            std::uint64_t mask = 0;
            for (int day = 0; day < days; ++day)
                if (pattern >> (days - 1 - day) & 1U)
                    mask |= UINT64_C(1) << day;
            series.patterns.push_back(mask);
            any |= mask;
        }
        for (int k = 0; k < row.visits; ++k) {
            rounds::Job job = plainJob(week, i, ticksUp(row.service, grain),
                                       static_cast<std::int32_t>(std::ceil(row.demand)));
            for (int day = 0; day < days; ++day)
                job.allowedDays[static_cast<std::size_t>(day)] = (any >> day & 1U) != 0;
            if (row.due > 0)
                for (auto &windows : job.windows)
                    windows.push_back({ticksUp(row.ready, grain), ticksDown(row.due, grain), true});
            job.series = static_cast<std::int32_t>(week.series.size());
            series.jobs.push_back(static_cast<std::int32_t>(week.jobs.size()));
            week.jobs.push_back(std::move(job));
        }
        if (row.visits > 0)
            week.series.push_back(std::move(series));
    }

    void checkRoute(const OneRoute &route, std::size_t day, const std::map<int, const Row *> &byNumber,
                    std::map<int, unsigned> &daysOf, Verdict &verdict) const {
        double load = 0, busy = 0, clock = rows[0].ready;
        const Row *here = &rows[0];
        const auto go = [&](const Row &next) {
            verdict.cost += apart(*here, next);
            busy += apart(*here, next) + next.service;
            clock = std::max(clock + apart(*here, next), next.ready);
            if (next.due > 0 && clock > next.due + kTolerance)
                verdict.broken("customer " + std::to_string(next.number) + " is late");
            clock += next.service;
            load += next.demand;
            here = &next;
        };
        for (const int number : route) {
            const auto found = byNumber.find(number);
            if (found == byNumber.end()) {
                verdict.broken("no customer " + std::to_string(number));
                continue;
            }
            const unsigned bit = 1U << (days - 1 - static_cast<int>(day));
            if (daysOf[number] & bit)
                verdict.broken("customer " + std::to_string(number) + " twice on a day");
            daysOf[number] |= bit;
            go(*found->second);
        }
        go(rows[0]);
        if (capacity[day] > 0 && load > capacity[day] + kTolerance)
            verdict.broken("a route carries too much");
        if (longest[day] > 0 && busy > longest[day] + kTolerance)
            verdict.broken("a route is too long");
    }
};

} // namespace

Result<std::unique_ptr<OpenInstance>> readPvrp(const std::string &path) {
    auto file = TextFile::open(path);
    if (!file)
        return file.error();
    auto instance = std::make_unique<Pvrp>();
    const auto &lines = file->lines();
    if (lines.empty() || lines[0].numbers.size() < 4)
        return file->bad({}, "type m n t");
    const int type = static_cast<int>(lines[0].numbers[0]);
    if (type != 1 && type != 5)
        return file->bad(lines[0], "type 1 or 5");
    instance->vehicles = static_cast<int>(lines[0].numbers[1]);
    instance->days = static_cast<int>(lines[0].numbers[3]);
    const auto days = static_cast<std::size_t>(instance->days);
    if (instance->days < 1 || instance->days > 31 || lines.size() < days + 3)
        return file->bad(lines[0], "1 to 31 days, their limits, a depot and customers");
    for (std::size_t i = 1; i < lines.size(); ++i) {
        const std::vector<double> &n = lines[i].numbers;
        if (i <= days) {
            if (n.size() < 2)
                return file->bad(lines[i], "longest route and capacity");
            instance->longest.push_back(n[0]);
            instance->capacity.push_back(n[1]);
            continue;
        }
        if (n.size() < 5)
            return file->bad(lines[i], "number, x, y, service, demand");
        Row row{static_cast<int>(n[0]), n[1], n[2], n[3], n[4], 0, {}, 0, 0};
        row.visits = n.size() > 5 ? static_cast<int>(n[5]) : 0;
        const auto patterns = n.size() > 6 ? static_cast<std::size_t>(n[6]) : 0;
        if (n.size() < 7 + patterns && patterns > 0)
            return file->bad(lines[i], "its patterns");
        for (std::size_t k = 0; k < patterns; ++k)
            row.patterns.push_back(static_cast<unsigned>(n[7 + k]));
        if (type == 5 && n.size() >= 9 + patterns) {
            row.ready = n[7 + patterns];
            row.due = n[8 + patterns];
        }
        if (instance->rows.empty())
            row.visits = 0;
        instance->rows.push_back(std::move(row));
    }
    return std::unique_ptr<OpenInstance>(std::move(instance));
}

} // namespace kitround::bench

// The vehicle routing problem with time windows in the text form of Solomon (1987) and Gehring and Homberger
// (1999): name, VEHICLE (number, capacity), CUSTOMER (number, x, y, demand, ready, due, service), row 0 the
// depot.
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
    double x = 0, y = 0, demand = 0, ready = 0, due = 0, service = 0;
};

class Vrptw final : public OpenInstance {
public:
    int vehicles = 0;
    double capacity = 0;
    std::vector<Row> rows;
    Distance distance = Distance::Exact;

    rounds::WeekProblem week() const override {
        const double grain = distance == Distance::Tenth ? 10 : grainFor(rows[0].due);
        rounds::WeekProblem week =
            plainWeek(1, rows.size(), grain, rows[0].due,
                      [&](std::size_t a, std::size_t b) { return apart(rows[a], rows[b]); });
        for (int v = 0; v < vehicles; ++v)
            addVehicle(week, ticksUp(rows[0].ready, grain), {ticksDown(rows[0].due, grain)},
                       {static_cast<std::int32_t>(capacity)});
        for (std::size_t i = 1; i < rows.size(); ++i) {
            rounds::Job job = plainJob(week, i, ticksUp(rows[i].service, grain),
                                       static_cast<std::int32_t>(std::ceil(rows[i].demand)));
            job.windows[0].push_back({ticksUp(rows[i].ready, grain), ticksDown(rows[i].due, grain), true});
            week.jobs.push_back(std::move(job));
        }
        return week;
    }

    RoutePlan routesOf(const rounds::WeekProblem &week, const rounds::WeekPlan &plan) const override {
        std::map<std::int32_t, std::vector<std::pair<rounds::Minute, int>>> byDuty;
        for (std::size_t j = 0; j < week.jobs.size(); ++j)
            if (plan.placements[j].isPlaced())
                byDuty[plan.placements[j].duty].emplace_back(plan.placements[j].start, rows[j + 1].number);
        RoutePlan routes(1);
        for (auto &[duty, stops] : byDuty) {
            std::ranges::stable_sort(stops, {}, &std::pair<rounds::Minute, int>::first);
            OneRoute route;
            for (const auto &[start, number] : stops)
                route.push_back(number);
            routes[0].push_back(route);
        }
        return routes;
    }

    Verdict check(const RoutePlan &plan) const override {
        Verdict verdict;
        std::map<int, const Row *> byNumber;
        std::map<int, int> visits;
        for (std::size_t i = 1; i < rows.size(); ++i)
            byNumber[rows[i].number] = &rows[i];
        for (const OneRoute &route : plan.at(0)) {
            if (route.empty())
                continue;
            ++verdict.vehicles;
            double load = 0;
            double clock = rows[0].ready;
            const Row *here = &rows[0];
            for (const int number : route) {
                const auto found = byNumber.find(number);
                if (found == byNumber.end()) {
                    verdict.broken("no customer " + std::to_string(number));
                    continue;
                }
                const Row *next = found->second;
                ++visits[number];
                verdict.cost += apart(*here, *next);
                clock = std::max(clock + apart(*here, *next), next->ready);
                if (clock > next->due + kTolerance)
                    verdict.broken("customer " + std::to_string(number) + " is late");
                clock += next->service;
                load += next->demand;
                here = next;
            }
            verdict.cost += apart(*here, rows[0]);
            if (clock + apart(*here, rows[0]) > rows[0].due + kTolerance)
                verdict.broken("a route is back late");
            if (load > capacity + kTolerance)
                verdict.broken("a route carries too much");
        }
        for (const auto &[number, row] : byNumber)
            if (visits[number] != 1)
                verdict.broken("customer " + std::to_string(number) + " is visited " +
                               std::to_string(visits[number]) + " times");
        if (verdict.vehicles > vehicles)
            verdict.broken("more vehicles than there are");
        return verdict;
    }

private:
    static constexpr double kTolerance = 1e-6;
    double apart(const Row &a, const Row &b) const {
        const double exact = std::hypot(a.x - b.x, a.y - b.y);
        // 1e-9: the root of a perfect square times a hundred must not fall below it.
        return distance == Distance::Tenth ? std::floor(exact * 10 + 1e-9) / 10 : exact;
    }
};

} // namespace

Result<std::unique_ptr<OpenInstance>> readVrptw(const std::string &path, Distance distance) {
    auto file = TextFile::open(path);
    if (!file)
        return file.error();
    auto instance = std::make_unique<Vrptw>();
    instance->distance = distance;
    bool inVehicles = false, inCustomers = false;
    for (const TextFile::Line &line : file->lines()) {
        if (line.text.starts_with("VEHICLE"))
            inVehicles = true;
        else if (line.text.starts_with("CUST"))
            inCustomers = true;
        const std::vector<double> &n = line.numbers;
        if (!line.isNumbers)
            continue;
        if (inCustomers) {
            if (n.size() < 7)
                return file->bad(line, "seven numbers a customer");
            instance->rows.push_back({static_cast<int>(n[0]), n[1], n[2], n[3], n[4], n[5], n[6]});
        } else if (inVehicles) {
            if (n.size() < 2)
                return file->bad(line, "number and capacity");
            instance->vehicles = static_cast<int>(n[0]);
            instance->capacity = n[1];
        }
    }
    if (instance->vehicles < 1 || instance->rows.size() < 2)
        return file->bad({}, "vehicles and customers");
    return std::unique_ptr<OpenInstance>(std::move(instance));
}

} // namespace kitround::bench

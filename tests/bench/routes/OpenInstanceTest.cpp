// Tiny instances of every format, written, read, planned, and held against every plan there is; the judge of
// the instance, which shares nothing with the planner, prices both sides.
#include "tests/bench/routes/OpenInstance.h"
#include "core/base/Random.h"
#include "core/rounds/search/Solver.h"

#include <QTemporaryDir>

#include <gtest/gtest.h>

#include <cmath>
#include <fstream>
#include <functional>
#include <limits>
#include <sstream>

namespace kitround::bench {
namespace {

constexpr double kInfinity = std::numeric_limits<double>::infinity();

class OpenInstanceTest : public ::testing::Test {
protected:
    std::string write(const std::string &text) {
        const std::string path = folder_.filePath(QStringLiteral("instance")).toStdString();
        std::ofstream(path) << text;
        return path;
    }
    // Cost of the planner's routes, infinity where the judge refuses them.
    static double planned(const OpenInstance &instance) {
        const rounds::WeekProblem week = instance.week();
        rounds::SolveOptions options;
        options.iterations = 3000;
        const auto report = rounds::solve(week, options, {}, {});
        EXPECT_TRUE(report) << debugText(report.error());
        if (!report)
            return kInfinity;
        EXPECT_TRUE(rounds::evaluate(week, report->plan).broken.empty());
        const Verdict verdict = instance.check(instance.routesOf(week, report->plan));
        return verdict.isFeasible ? verdict.cost : kInfinity;
    }
    QTemporaryDir folder_;
};

// Every way to put the numbers, from `next` on, into the routes, in any order.
void everyWay(DayRoutes &routes, const std::vector<int> &numbers, std::size_t next,
              const std::function<void()> &tell) {
    if (next == numbers.size()) {
        tell();
        return;
    }
    for (OneRoute &route : routes)
        for (std::size_t i = 0; i <= route.size(); ++i) {
            route.insert(route.begin() + static_cast<std::ptrdiff_t>(i), numbers[next]);
            everyWay(routes, numbers, next + 1, tell);
            route.erase(route.begin() + static_cast<std::ptrdiff_t>(i));
        }
}

double leastOneDay(const OpenInstance &instance, const std::vector<int> &numbers, std::size_t routes) {
    double least = kInfinity;
    RoutePlan plan(1, DayRoutes(routes));
    everyWay(plan[0], numbers, 0, [&] {
        const Verdict verdict = instance.check(plan);
        if (verdict.isFeasible)
            least = std::min(least, verdict.cost);
    });
    return least;
}

// Whether there is a plan at all; the planner's is then the best, and else it has none either.
bool isTheLeast(double found, double least, std::uint64_t seed) {
    if (std::isinf(least))
        EXPECT_TRUE(std::isinf(found)) << seed;
    else
        EXPECT_NEAR(found, least, 1e-6) << seed;
    return !std::isinf(least);
}

TEST_F(OpenInstanceTest, TimeWindowsAgainstEveryPlan) {
    int feasible = 0;
    for (std::uint64_t seed = 1; seed <= 40; ++seed) {
        Random random(seed);
        std::ostringstream text;
        text << "TINY\n\nVEHICLE\nNUMBER CAPACITY\n 2 30\n\nCUSTOMER\nCUST NO. XCOORD. YCOORD. DEMAND READY "
                "TIME DUE "
                "DATE SERVICE TIME\n\n0 10 10 0 0 120 0\n";
        std::vector<int> numbers;
        for (int i = 1; i <= 5; ++i) {
            const auto ready = random.between(0, 60);
            text << i << ' ' << random.between(0, 20) << ' ' << random.between(0, 20) << ' '
                 << random.between(3, 11) << ' ' << ready << ' ' << ready + random.between(10, 50) << " 5\n";
            numbers.push_back(i);
        }
        const Distance distance = seed % 2 == 0 ? Distance::Exact : Distance::Tenth;
        const auto instance = readVrptw(write(text.str()), distance);
        ASSERT_TRUE(instance);
        const double least = leastOneDay(**instance, numbers, 2);
        const double found = planned(**instance);
        feasible += isTheLeast(found, least, seed) ? 1 : 0;
    }
    EXPECT_GT(feasible, 15);
}

TEST_F(OpenInstanceTest, PeriodsAgainstEveryPlan) {
    int feasible = 0;
    for (std::uint64_t seed = 1; seed <= 25; ++seed) {
        Random random(seed);
        std::ostringstream text;
        text << "1 2 3 2\n80 20\n80 20\n0 10 10 0 0 0 0\n";
        std::vector<std::vector<unsigned>> patterns;
        for (int i = 1; i <= 3; ++i) {
            const bool twice = random.chance(0.4);
            patterns.push_back(twice ? std::vector<unsigned>{3} : std::vector<unsigned>{1, 2});
            text << i << ' ' << random.between(0, 20) << ' ' << random.between(0, 20) << ' '
                 << random.between(1, 6) << ' ' << random.between(4, 12)
                 << (twice ? " 2 1 3\n" : " 1 2 1 2\n");
        }
        const auto instance = readPvrp(write(text.str()));
        ASSERT_TRUE(instance);
        double least = kInfinity;
        for (unsigned choice = 0; choice < 8; ++choice) {
            std::vector<std::vector<int>> ofDay(2);
            for (std::size_t i = 0; i < 3; ++i) {
                const unsigned pattern = patterns[i][(choice >> i & 1U) % patterns[i].size()];
                for (std::size_t day = 0; day < 2; ++day)
                    if (pattern >> (1 - day) & 1U) // first day = highest bit
                        ofDay[day].push_back(static_cast<int>(i) + 1);
            }
            RoutePlan plan(2, DayRoutes(2));
            everyWay(plan[0], ofDay[0], 0, [&] {
                everyWay(plan[1], ofDay[1], 0, [&] {
                    const Verdict verdict = (*instance)->check(plan);
                    if (verdict.isFeasible)
                        least = std::min(least, verdict.cost);
                });
            });
        }
        const double found = planned(**instance);
        feasible += isTheLeast(found, least, seed) ? 1 : 0;
    }
    EXPECT_GT(feasible, 10);
}

TEST_F(OpenInstanceTest, OneDriverAgainstEveryPlan) {
    for (std::uint64_t seed = 1; seed <= 25; ++seed) {
        Random random(seed);
        std::ostringstream nodes, demands, services;
        std::vector<std::vector<int>> ofDay(2);
        for (int i = 1; i <= 3; ++i) {
            nodes << i << ' ' << random.between(0, 20) << ' ' << random.between(0, 20) << '\n';
            demands << i;
            services << i;
            for (std::size_t day = 0; day < 2; ++day) {
                const bool wants = random.chance(0.7);
                if (wants)
                    ofDay[day].push_back(i);
                demands << ' ' << (wants ? random.between(3, 8) : -1);
                services << " 1";
            }
            demands << '\n';
            services << '\n';
        }
        const auto instance =
            readConvrp(write("NAME: TINY\nNUM_DAYS: 2\nCAPACITY: 14\nDISTANCE: 90\n"
                             "NODE_COORD_SECTION\n" +
                             nodes.str() + "DEMAND_SECTION\n" + demands.str() + "SVC_TIME_SECTION\n" +
                             services.str() + "DEPOT_SECTION\n10 10\n-1\nEOF\n"));
        ASSERT_TRUE(instance);
        double least = kInfinity;
        RoutePlan plan(2, DayRoutes(3));
        everyWay(plan[0], ofDay[0], 0, [&] {
            everyWay(plan[1], ofDay[1], 0, [&] {
                const Verdict verdict = (*instance)->check(plan);
                if (verdict.isFeasible)
                    least = std::min(least, verdict.cost);
            });
        });
        ASSERT_FALSE(std::isinf(least));
        EXPECT_NEAR(planned(**instance), least, 1e-6) << seed;
    }
}

// Patients 1 and 2 need two caregivers, at once and one after the other.
TEST_F(OpenInstanceTest, LinkedServicesAgainstEveryPlan) {
    for (std::uint64_t seed = 1; seed <= 30; ++seed) {
        Random random(seed);
        std::ostringstream text;
        std::vector<std::pair<std::int64_t, std::int64_t>> xy{{10, 10}};
        text << R"({"services":[{"id":"s1","default_duration":5},{"id":"s2","default_duration":7}],)"
             << R"("caregivers":[{"id":"c1","abilities":["s1"]},{"id":"c2","abilities":["s2"]},)"
             << R"({"id":"c3","abilities":["s1"]}],"patients":[)";
        for (int i = 1; i <= 3; ++i) {
            const auto ready = random.between(0, 50);
            xy.emplace_back(random.between(0, 30), random.between(0, 30));
            text << (i > 1 ? "," : "") << R"({"id":"p)" << i << R"(","time_window":[)" << ready << ','
                 << ready + random.between(5, 30)
                 << R"(],"required_caregivers":[{"service":"s1","duration":5})";
            if (i < 3)
                text << R"(,{"service":"s2","duration":7})";
            text << ']';
            if (i == 1)
                text << R"(,"synchronization":{"type":"simultaneous"})";
            if (i == 2)
                text << R"(,"synchronization":{"type":"sequential","distance":[)" << random.between(2, 8)
                     << ',' << random.between(9, 15) << "]}";
            text << '}';
        }
        text << R"(],"distances":[)";
        for (std::size_t a = 0; a < xy.size(); ++a) {
            text << (a > 0 ? ",[" : "[");
            for (std::size_t b = 0; b < xy.size(); ++b)
                text << (b > 0 ? "," : "")
                     << std::abs(xy[a].first - xy[b].first) + std::abs(xy[a].second - xy[b].second);
            text << ']';
        }
        text << "]}";
        const auto instance = readHhcrsp(write(text.str()));
        ASSERT_TRUE(instance);
        const double least = leastOneDay(**instance, {1, 1, 2, 2, 3}, 3);
        ASSERT_FALSE(std::isinf(least));
        EXPECT_NEAR(planned(**instance), least, 1e-2) << seed; // starts are in thousandths
    }
}

TEST_F(OpenInstanceTest, TheJudgeRefusesWhatBreaksARule) {
    const auto instance = readVrptw(write("TINY\nVEHICLE\nNUMBER CAPACITY\n2 10\nCUSTOMER\nCUST NO. ...\n"
                                          "0 0 0 0 0 100 0\n1 3 4 6 0 10 0\n2 6 8 6 0 90 0\n"),
                                    Distance::Exact);
    ASSERT_TRUE(instance);
    EXPECT_TRUE((*instance)->check({{{1}, {2}}}).isFeasible);
    EXPECT_NEAR((*instance)->check({{{1}, {2}}}).cost, 30, 1e-9); // 5 and back, 10 and back
    EXPECT_FALSE((*instance)->check({{{1, 2}}}).isFeasible);      // twelve on board
    EXPECT_FALSE((*instance)->check({{{2}}}).isFeasible);         // one left out
    EXPECT_FALSE((*instance)->check({{{1}, {2}, {2}}}).isFeasible);
    EXPECT_FALSE((*instance)->check({{{1}, {3}}}).isFeasible);
    EXPECT_FALSE(readVrptw("nowhere/at/all", Distance::Exact));
    EXPECT_FALSE(readPvrp(write("2 1 1 1\n0 10\n0 0 0 0 0 0 0\n"))); // many depots are another problem
    EXPECT_FALSE(readHhcrsp(write("{}")));
    EXPECT_FALSE(readConvrp(write("NAME: empty\n")));
}

} // namespace
} // namespace kitround::bench

#pragma once
// An open research instance: read from its file, turned into the planner's own week, and judged. The judge
// (`check`) works on the file's numbers and the list of customers alone; it shares no code with the planner.
#include "core/base/Result.h"
#include "core/rounds/problem/WeekProblem.h"

#include <memory>
#include <string>
#include <vector>

namespace kitround::bench {

enum class Distance : std::uint8_t { Exact, Tenth }; // Tenth: every distance cut to one decimal

// A route lists customer numbers as in the file, the depot left out.
using OneRoute = std::vector<int>;
using DayRoutes = std::vector<OneRoute>;
using RoutePlan = std::vector<DayRoutes>; // by day

struct Verdict {
    bool isFeasible = true;
    std::string fault; // the first rule found broken
    double cost = 0;
    int vehicles = 0; // most on one day
    void broken(const std::string &what) {
        if (isFeasible)
            fault = what;
        isFeasible = false;
    }
};

class OpenInstance {
public:
    virtual ~OpenInstance() = default;
    virtual rounds::WeekProblem week() const = 0;
    virtual RoutePlan routesOf(const rounds::WeekProblem &week, const rounds::WeekPlan &plan) const = 0;
    virtual Verdict check(const RoutePlan &routes) const = 0;
    virtual bool isPeriodic() const { return false; }
};

Result<std::unique_ptr<OpenInstance>> readVrptw(const std::string &path, Distance distance);
Result<std::unique_ptr<OpenInstance>> readPvrp(const std::string &path);
Result<std::unique_ptr<OpenInstance>> readHhcrsp(const std::string &path);
Result<std::unique_ptr<OpenInstance>> readConvrp(const std::string &path);

} // namespace kitround::bench

#include "tests/bench/RidingBench.h"

#include "core/desk/views/StockView.h"
#include "core/desk/views/WeekView.h"
#include "core/rounds/problem/Riders.h"
#include "sample-db/SampleAgency.h"
#include "tests/bench/ManyPatients.h"

#include <QTemporaryDir>

#include <array>
#include <cstdio>
#include <set>
#include <vector>

namespace kitround::bench {
namespace {

struct Way {
    const char *name = "";
    std::size_t courierRuns = 0;
    int unplaced = 0;
    double cost = 0;
};
struct Agency {
    std::string name;
    std::size_t riders = 0;
    std::array<Way, 3> ways;
};

// Patients whose goods a courier brings: one run each.
std::size_t courierRuns(const rounds::WeekProblem &problem, const std::vector<std::int32_t> &riderJob) {
    std::set<PatientId> patients;
    for (std::size_t r = 0; r < problem.riders.size(); ++r)
        if (riderJob[r] < 0 && problem.riders[r].courierPossible)
            patients.insert(problem.riders[r].patient);
    return patients.size();
}

Way wayOf(const char *name, const rounds::WeekProblem &problem, const rounds::WeekPlan &plan) {
    Way way{name, courierRuns(problem, plan.riderJob), 0, rounds::evaluate(problem, plan).parts.total()};
    for (const rounds::Placement &p : plan.placements)
        way.unplaced += p.isPlaced() ? 0 : 1;
    return way;
}

Result<Agency> compare(const std::string &name, const desk::WeekPicture &week, std::int64_t iterations) {
    rounds::SolveOptions options;
    options.iterations = iterations;
    auto together = rounds::solve(week.problem, options, {}, {});
    if (!together)
        return together.error();
    rounds::WeekProblem visitsOnly = week.problem;
    visitsOnly.riders.clear();
    auto visits = rounds::solve(visitsOnly, options, {}, {});
    if (!visits)
        return visits.error();
    rounds::WeekPlan after = visits->plan;
    after.riderJob.assign(week.problem.riders.size(), -1);
    rounds::WeekPlan none = after;
    rounds::RiderMatcher(week.problem).assign(after.placements, after.riderJob);
    return Agency{name,
                  week.problem.riders.size(),
                  {wayOf("together", week.problem, together->plan),
                   wayOf("one_after_the_other", week.problem, after),
                   wayOf("all_by_courier", week.problem, none)}};
}

Result<desk::WeekPicturePtr> openedWeek(const std::string &path) {
    const auto agency = desk::loadAgency(path, std::nullopt, SystemClock(), {}, {});
    if (!agency)
        return agency.error();
    const auto stock = desk::computeStock(*agency, {}, {});
    if (!stock)
        return stock.error();
    return desk::openWeek(*agency, desk::nextWeek(**agency), &(*stock)->refills);
}

std::string asText(const std::vector<Agency> &agencies) {
    std::string text = "agency        riders  way                   courier runs  unplaced       cost\n";
    char line[160];
    for (const Agency &a : agencies)
        for (const Way &w : a.ways) {
            std::snprintf(line, sizeof line, "%-12s  %6zu  %-20s  %12zu  %8d  %9.0f\n", a.name.c_str(),
                          a.riders, w.name, w.courierRuns, w.unplaced, w.cost);
            text += line;
        }
    return text;
}

std::string asJson(const std::vector<Agency> &agencies) {
    std::string text = "{\"agencies\": [";
    char part[240];
    for (std::size_t i = 0; i < agencies.size(); ++i) {
        std::snprintf(part, sizeof part, "%s{\"name\": \"%s\", \"riders\": %zu, \"ways\": [",
                      i > 0 ? ", " : "", agencies[i].name.c_str(), agencies[i].riders);
        text += part;
        for (std::size_t k = 0; k < agencies[i].ways.size(); ++k) {
            const Way &w = agencies[i].ways[k];
            std::snprintf(part, sizeof part,
                          "%s{\"name\": \"%s\", \"courier_runs\": %zu, \"unplaced\": %d, \"cost\": %.1f}",
                          k > 0 ? ", " : "", w.name, w.courierRuns, w.unplaced, w.cost);
            text += part;
        }
        text += "]}";
    }
    return text + "]}\n";
}

} // namespace

Result<std::string> benchRiding(const RidingWish &wish) {
    const QTemporaryDir folder;
    std::vector<Agency> agencies;
    for (std::uint64_t i = 0; i < 4; ++i) {
        const std::string name = i == 0 ? "sample" : "seed " + std::to_string(wish.seed + i - 1);
        const std::string path = folder.filePath(QStringLiteral("%1.kitround").arg(i)).toStdString();
        ManyPatients made;
        made.patients = wish.patients;
        made.seed = wish.seed + i - 1;
        const auto built =
            i == 0 ? sample::buildSampleAgency(path, std::nullopt, {}) : makeManyPatients(path, made, {});
        if (!built)
            return built.error();
        const auto week = openedWeek(path);
        if (!week)
            return week.error();
        auto agency = compare(name, **week, wish.iterations);
        if (!agency)
            return agency.error();
        agencies.push_back(*std::move(agency));
    }
    return wish.asJson ? asJson(agencies) : asText(agencies);
}

} // namespace kitround::bench

#include "tests/bench/routes/RoutesBench.h"

#include "core/rounds/search/Solver.h"
#include "tests/bench/Measure.h"
#include "tests/bench/WorkLimit.h"

#include <QFile>
#include <QJsonArray>
#include <QJsonDocument>
#include <QJsonObject>

namespace kitround::bench {
namespace {

Result<std::unique_ptr<OpenInstance>> read(const RoutesWish &wish) {
    if (wish.format == "solomon" || wish.format == "gehring-homberger")
        return readVrptw(wish.instance, wish.distance);
    if (wish.format == "pvrp")
        return readPvrp(wish.instance);
    if (wish.format == "hhcrsp")
        return readHhcrsp(wish.instance);
    if (wish.format == "convrp")
        return readConvrp(wish.instance);
    Problem problem;
    problem.code = ProblemCode::OutOfRange;
    problem.field = "format";
    problem.args = {wish.format};
    return problem;
}

QJsonArray asJson(const DayRoutes &routes) {
    QJsonArray all;
    for (const OneRoute &route : routes) {
        QJsonArray one;
        for (const int number : route)
            one.append(number);
        all.append(one);
    }
    return all;
}
QJsonArray asJson(const RoutePlan &routes, bool isPeriodic) {
    if (!isPeriodic)
        return asJson(routes.at(0));
    QJsonArray days;
    for (const DayRoutes &day : routes)
        days.append(asJson(day));
    return days;
}

DayRoutes dayOf(const QJsonArray &array) {
    DayRoutes day;
    for (const QJsonValue &route : array) {
        day.emplace_back();
        for (const QJsonValue &number : route.toArray())
            day.back().push_back(number.toInt());
    }
    return day;
}

Result<RoutePlan> storedRoutes(const std::string &path, bool isPeriodic) {
    QFile file(QString::fromStdString(path));
    if (!file.open(QIODevice::ReadOnly))
        return Problem{ProblemCode::Missing, path, {}, 0, 0, {}};
    const QJsonArray routes =
        QJsonDocument::fromJson(file.readAll()).object().value(QStringLiteral("routes")).toArray();
    RoutePlan plan;
    if (!isPeriodic)
        plan.push_back(dayOf(routes));
    else
        for (const QJsonValue &day : routes)
            plan.push_back(dayOf(day.toArray()));
    return plan;
}

std::string told(const Verdict &verdict, const RoutePlan &routes, bool isPeriodic, const RoutesWish &wish,
                 const rounds::SolveReport &report, double cpu) {
    if (!wish.asJson) {
        std::string text = "cost " + std::to_string(verdict.cost) + ", vehicles " +
                           std::to_string(verdict.vehicles) + ", iterations " +
                           std::to_string(report.iterations) + ", seconds " + std::to_string(report.seconds) +
                           ", processor seconds " + std::to_string(cpu);
        return text + (verdict.isFeasible ? ", feasible\n" : ", NOT FEASIBLE: " + verdict.fault + "\n");
    }
    QJsonObject json;
    json[QStringLiteral("verb")] = QStringLiteral("routes");
    json[QStringLiteral("format")] = QString::fromStdString(wish.format);
    json[QStringLiteral("instance")] = QString::fromStdString(wish.instance);
    json[QStringLiteral("seed")] = static_cast<double>(wish.seed);
    json[QStringLiteral("cost")] = verdict.cost;
    json[QStringLiteral("vehicles")] = verdict.vehicles;
    json[QStringLiteral("feasible")] = verdict.isFeasible;
    if (!verdict.isFeasible)
        json[QStringLiteral("fault")] = QString::fromStdString(verdict.fault);
    json[QStringLiteral("routes")] = asJson(routes, isPeriodic);
    json[QStringLiteral("iterations")] = static_cast<double>(report.iterations);
    json[QStringLiteral("seconds")] = report.seconds;
    json[QStringLiteral("cpu_seconds")] = cpu;
    json[QStringLiteral("first_plan_seconds")] = report.firstPlanSeconds;
    return QJsonDocument(json).toJson(QJsonDocument::Compact).toStdString() + "\n";
}

} // namespace

Result<std::string> benchRoutes(const RoutesWish &wish) {
    auto instance = read(wish);
    if (!instance)
        return instance.error();
    const OpenInstance &one = **instance;
    if (!wish.routes.empty()) {
        auto routes = storedRoutes(wish.routes, one.isPeriodic());
        if (!routes)
            return routes.error();
        return told(one.check(*routes), *routes, one.isPeriodic(), wish, {}, 0);
    }
    const rounds::WeekProblem week = one.week();
    const double before = processorSeconds();
    const auto report =
        rounds::solve(week, workLimit(wish.seed, wish.iterations, wish.seconds, wish.threads), {}, {});
    if (!report)
        return report.error();
    const RoutePlan routes = one.routesOf(week, report->plan);
    return told(one.check(routes), routes, one.isPeriodic(), wish, *report, processorSeconds() - before);
}

} // namespace kitround::bench

// Home health care routing and scheduling: Mankowska, Meisel and Bierwirth (2014), in the JSON form of
// Ceschia, Di Gaspero, Rosati and Schaerf (2024). Cost = (travel + sum of tardiness + largest tardiness) / 3;
// a patient may need two services by two caregivers, at once or one a given time after the other.
#include "tests/bench/routes/OpenInstance.h"
#include "tests/bench/routes/PlainWeek.h"

#include <QFile>
#include <QJsonArray>
#include <QJsonDocument>
#include <QJsonObject>

#include <algorithm>
#include <cmath>
#include <map>

namespace kitround::bench {
namespace {

struct Service {
    int kind = 0;
    double length = 0;
};
struct Patient {
    double ready = 0, due = 0;
    std::vector<Service> services; // one or two
    double least = 0, most = 0;    // start of the second less start of the first
};
struct Caregiver {
    unsigned abilities = 0; // bit = service
};

class Hhcrsp final : public OpenInstance {
public:
    std::vector<Patient> patients;
    std::vector<Caregiver> caregivers;
    std::vector<std::vector<double>> distances;

    rounds::WeekProblem week() const override {
        const double end = clockEnd();
        const double grain = std::min(1000.0, grainFor(end));
        rounds::WeekProblem week = plainWeek(1, distances.size(), grain, end,
                                             [&](std::size_t a, std::size_t b) { return distances[a][b]; });
        week.weights.travelMinute = week.weights.softWindowMinute = week.weights.worstSoft = 1.0 / 3 / grain;
        week.weights.unplaced.fill(end);
        for (const Caregiver &caregiver : caregivers) {
            addVehicle(week, 0, {week.clockEnd}, {0});
            week.duties.back().skills = SkillSet::fromBits(caregiver.abilities);
        }
        for (std::size_t i = 0; i < patients.size(); ++i) {
            const Patient &patient = patients[i];
            for (const Service &service : patient.services) {
                rounds::Job job = plainJob(week, i + 1, ticksUp(service.length, grain), 0);
                job.needs = SkillSet::fromBits(1U << service.kind);
                job.windows[0].push_back({ticksUp(patient.ready, grain), week.clockEnd, true});
                job.windows[0].push_back(
                    {ticksUp(patient.ready, grain), ticksDown(patient.due, grain), false});
                week.jobs.push_back(std::move(job));
            }
            const auto last = static_cast<std::int32_t>(week.jobs.size()) - 1;
            if (patient.services.size() == 2)
                week.links.push_back(
                    {last - 1, last, ticksUp(patient.least, grain), ticksDown(patient.most, grain)});
        }
        return week;
    }

    // By caregiver, in the file's order.
    RoutePlan routesOf(const rounds::WeekProblem &week, const rounds::WeekPlan &plan) const override {
        std::vector<std::vector<std::pair<rounds::Minute, int>>> stops(caregivers.size());
        for (std::size_t j = 0; j < week.jobs.size(); ++j)
            if (plan.placements[j].isPlaced())
                stops[static_cast<std::size_t>(plan.placements[j].duty)].emplace_back(
                    plan.placements[j].start, week.jobs[j].place);
        RoutePlan routes(1, DayRoutes(caregivers.size()));
        for (std::size_t c = 0; c < stops.size(); ++c) {
            std::ranges::stable_sort(stops[c], {}, &std::pair<rounds::Minute, int>::first);
            for (const auto &[start, number] : stops[c])
                routes[0][c].push_back(number);
        }
        return routes;
    }

    // Starts follow from the routes: as early as all rules allow, by repeated passes until nothing moves.
    Verdict check(const RoutePlan &plan) const override;

private:
    struct Stop {
        std::size_t patient = 0;
        std::size_t service = 0;
        double start = 0;
    };
    double clockEnd() const {
        double latest = 0, work = 0;
        for (std::size_t i = 0; i < patients.size(); ++i) {
            latest = std::max(latest, patients[i].due);
            for (const Service &service : patients[i].services)
                work += service.length + patients[i].most;
        }
        return 2 * latest + work + std::ranges::max(distances[0]) * 2;
    }
    bool assignServices(std::vector<std::vector<Stop>> &routes, const DayRoutes &day, Verdict &verdict) const;
};

// Which service a caregiver does follows from what she can; where both could do either, the first listed does
// the first. (The sets of abilities of these instances leave no such choice.)
bool Hhcrsp::assignServices(std::vector<std::vector<Stop>> &routes, const DayRoutes &day,
                            Verdict &verdict) const {
    std::map<std::size_t, std::vector<std::size_t>> visitors;
    for (std::size_t c = 0; c < day.size(); ++c)
        for (const int number : day[c]) {
            if (number < 1 || static_cast<std::size_t>(number) > patients.size()) {
                verdict.broken("no patient " + std::to_string(number));
                return false;
            }
            visitors[static_cast<std::size_t>(number) - 1].push_back(c);
        }
    std::map<std::pair<std::size_t, std::size_t>, std::size_t> serviceOf; // caregiver, patient
    for (std::size_t p = 0; p < patients.size(); ++p) {
        const std::vector<Service> &services = patients[p].services;
        std::vector<std::size_t> who = visitors[p];
        if (who.size() != services.size()) {
            verdict.broken("patient " + std::to_string(p + 1) + " is visited " + std::to_string(who.size()) +
                           " times");
            return false;
        }
        const auto can = [&](std::size_t visitor, std::size_t service) {
            return (caregivers[visitor].abilities >> services[service].kind & 1U) != 0;
        };
        if (who.size() == 2 && !(can(who[0], 0) && can(who[1], 1)))
            std::swap(who[0], who[1]);
        if (who.size() == 2 && who[0] == who[1]) {
            verdict.broken("patient " + std::to_string(p + 1) + " needs two caregivers");
            return false;
        }
        for (std::size_t s = 0; s < who.size(); ++s) {
            if (!can(who[s], s))
                verdict.broken("patient " + std::to_string(p + 1) + " has a caregiver who cannot");
            serviceOf[{who[s], p}] = s;
        }
    }
    for (std::size_t c = 0; c < day.size(); ++c)
        for (const int number : day[c]) {
            const std::size_t p = static_cast<std::size_t>(number) - 1;
            routes[c].push_back({p, serviceOf[{c, p}], patients[p].ready});
        }
    return true;
}

Verdict Hhcrsp::check(const RoutePlan &plan) const {
    Verdict verdict;
    std::vector<std::vector<Stop>> routes(caregivers.size());
    if (plan.size() != 1 || plan[0].size() > caregivers.size()) {
        verdict.broken("not one list of a route a caregiver");
        return verdict;
    }
    if (!assignServices(routes, plan[0], verdict))
        return verdict;
    std::map<std::pair<std::size_t, std::size_t>, Stop *> stopOf; // patient, service
    for (auto &route : routes)
        for (Stop &stop : route)
            stopOf[{stop.patient, stop.service}] = &stop;
    const auto lift = [](double &start, double least) {
        if (least <= start + 1e-9)
            return false;
        start = least;
        return true;
    };
    bool moved = true;
    std::size_t passes = 0;
    for (; moved && passes < 4 * stopOf.size() + 4; ++passes) {
        moved = false;
        for (auto &route : routes) {
            double ready = 0;
            std::size_t here = 0;
            for (Stop &stop : route) {
                moved = lift(stop.start, ready + distances[here][stop.patient + 1]) || moved;
                ready = stop.start + patients[stop.patient].services[stop.service].length;
                here = stop.patient + 1;
            }
        }
        for (std::size_t p = 0; p < patients.size(); ++p) {
            if (patients[p].services.size() != 2)
                continue;
            Stop &first = *stopOf[{p, 0}];
            Stop &second = *stopOf[{p, 1}];
            moved = lift(second.start, first.start + patients[p].least) || moved;
            moved = lift(first.start, second.start - patients[p].most) || moved;
        }
    }
    if (moved) {
        verdict.broken("no starts keep the services together");
        return verdict;
    }
    double travel = 0, late = 0, worst = 0;
    for (const auto &route : routes) {
        std::size_t here = 0;
        verdict.vehicles += route.empty() ? 0 : 1;
        for (const Stop &stop : route) {
            travel += distances[here][stop.patient + 1];
            here = stop.patient + 1;
            const double off = std::max(0.0, stop.start - patients[stop.patient].due);
            late += off;
            worst = std::max(worst, off);
        }
        travel += distances[here][0];
    }
    verdict.cost = (travel + late + worst) / 3;
    return verdict;
}

Problem badFile(const std::string &path, const std::string &wanted) {
    Problem problem;
    problem.code = ProblemCode::OutOfRange;
    problem.field = path;
    problem.args = {wanted};
    return problem;
}

} // namespace

Result<std::unique_ptr<OpenInstance>> readHhcrsp(const std::string &path) {
    QFile file(QString::fromStdString(path));
    if (!file.open(QIODevice::ReadOnly))
        return badFile(path, "a file that can be read");
    const QJsonObject root = QJsonDocument::fromJson(file.readAll()).object();
    auto instance = std::make_unique<Hhcrsp>();
    std::map<QString, std::pair<int, double>> kinds; // service: number, usual length
    for (const QJsonValue &value : root[QStringLiteral("services")].toArray()) {
        const int kind = static_cast<int>(kinds.size());
        kinds[value[QStringLiteral("id")].toString()] = {
            kind, value[QStringLiteral("default_duration")].toDouble()};
    }
    if (kinds.empty() || kinds.size() > 31)
        return badFile(path, "1 to 31 services");
    for (const QJsonValue &value : root[QStringLiteral("caregivers")].toArray()) {
        Caregiver caregiver;
        for (const QJsonValue &ability : value[QStringLiteral("abilities")].toArray())
            caregiver.abilities |= 1U << kinds[ability.toString()].first;
        instance->caregivers.push_back(caregiver);
    }
    for (const QJsonValue &value : root[QStringLiteral("patients")].toArray()) {
        Patient patient;
        const QJsonArray window = value[QStringLiteral("time_window")].toArray();
        patient.ready = window.at(0).toDouble();
        patient.due = window.at(1).toDouble();
        for (const QJsonValue &wanted : value[QStringLiteral("required_caregivers")].toArray()) {
            const auto &[kind, usual] = kinds[wanted[QStringLiteral("service")].toString()];
            patient.services.push_back({kind, wanted[QStringLiteral("duration")].toDouble(usual)});
        }
        const QJsonValue together = value[QStringLiteral("synchronization")];
        if (together[QStringLiteral("type")].toString() == QStringLiteral("sequential")) {
            const QJsonArray apart = together[QStringLiteral("distance")].toArray();
            patient.least = apart.at(0).toDouble();
            patient.most = apart.at(1).toDouble();
        }
        if (patient.services.empty() || patient.services.size() > 2)
            return badFile(path, "one or two services a patient");
        instance->patients.push_back(std::move(patient));
    }
    for (const QJsonValue &row : root[QStringLiteral("distances")].toArray()) {
        instance->distances.emplace_back();
        for (const QJsonValue &distance : row.toArray())
            instance->distances.back().push_back(distance.toDouble());
    }
    const std::size_t places = instance->patients.size() + 1;
    const bool isSquare =
        instance->distances.size() == places &&
        std::ranges::all_of(instance->distances, [&](const auto &row) { return row.size() == places; });
    if (instance->caregivers.empty() || instance->patients.empty() || !isSquare)
        return badFile(path, "patients, caregivers and a square of distances");
    return std::unique_ptr<OpenInstance>(std::move(instance));
}

} // namespace kitround::bench

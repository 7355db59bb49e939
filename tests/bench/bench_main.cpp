#include "tests/bench/AgencyBench.h"
#include "tests/bench/Calibration.h"
#include "tests/bench/ForecastBench.h"
#include "tests/bench/RidingBench.h"
#include "tests/bench/WeekBench.h"
#include "tests/bench/YearBench.h"
#include "tests/bench/routes/RoutesBench.h"

#include <QCommandLineParser>
#include <QCoreApplication>

#include <cstdio>

namespace {

using namespace kitround;

struct Wish {
    bench::ManyPatients agency;
    std::int64_t iterations = 2000;
    bool asJson = false;
    std::string out;
    std::optional<std::string> world;
    bench::RoutesWish routes;
    bench::WeekWish week;
};

int finish(const Result<std::string> &report) {
    if (report) {
        std::fputs(report->c_str(), stdout);
        return 0;
    }
    std::fprintf(stderr, "error: %s\n", debugText(report.error()).c_str());
    return 1;
}

Result<std::string> agency(const Wish &wish) {
    return bench::benchAgency({wish.agency, wish.iterations, wish.asJson, false});
}

Result<std::string> sample(const Wish &wish) {
    return bench::benchAgency({wish.agency, wish.iterations, wish.asJson, true});
}

Result<std::string> make(const Wish &wish) {
    if (wish.out.empty())
        return Problem{ProblemCode::Missing, "out", {}, 0, 0, {}};
    if (auto made = bench::makeManyPatients(wish.out, wish.agency, {}); !made)
        return made.error();
    return "made " + wish.out + "\n";
}

Result<std::string> calibration(const Wish &wish) {
    return bench::benchCalibration({wish.agency.patients, wish.agency.seed, wish.world, wish.asJson});
}

Result<std::string> forecastAgency(const Wish &wish) {
    return bench::benchForecast({wish.agency.patients, wish.agency.seed, wish.asJson});
}

Result<std::string> routes(const Wish &wish) {
    if (wish.routes.instance.empty())
        return Problem{ProblemCode::Missing, "instance", {}, 0, 0, {}};
    return bench::benchRoutes(wish.routes);
}

Result<std::string> week(const Wish &wish) {
    return bench::benchWeek(wish.week);
}

Result<std::string> year(const Wish &wish) {
    return bench::benchYear({wish.agency.patients, wish.agency.seed, wish.asJson});
}

Result<std::string> riding(const Wish &wish) {
    return bench::benchRiding({wish.agency.patients, wish.agency.seed, wish.iterations, wish.asJson});
}

// One line a verb.
struct Verb {
    const char *name;
    Result<std::string> (*run)(const Wish &);
};
constexpr Verb kVerbs[] = {{"agency", agency},
                           {"sample", sample},
                           {"make", make},
                           {"calibration", calibration},
                           {"forecast", forecastAgency},
                           {"year", year},
                           {"routes", routes},
                           {"week", week},
                           {"riding", riding}};

} // namespace

int main(int argc, char **argv) {
    QCoreApplication app(argc, argv);
    QCommandLineParser parser;
    parser.setApplicationDescription(QStringLiteral(
        "Measures Kitround on made-up agencies and on open instances. Verbs: agency, sample, make, "
        "calibration, forecast, year, routes, week, riding."));
    parser.addHelpOption();
    const QCommandLineOption patients(QStringLiteral("patients"), QStringLiteral("How many."),
                                      QStringLiteral("n"), QStringLiteral("5000"));
    const QCommandLineOption seed(QStringLiteral("seed"), QStringLiteral("Of the made-up agency."),
                                  QStringLiteral("s"), QStringLiteral("1"));
    const QCommandLineOption iterations(QStringLiteral("iterations"), QStringLiteral("Of the planner."),
                                        QStringLiteral("n"), QStringLiteral("2000"));
    const QCommandLineOption json(QStringLiteral("json"), QStringLiteral("Print JSON."));
    const QCommandLineOption out(QStringLiteral("out"), QStringLiteral("make: the file to write."),
                                 QStringLiteral("file"));
    const QCommandLineOption world(QStringLiteral("world"), QStringLiteral("calibration: only this one."),
                                   QStringLiteral("name"));
    const QCommandLineOption visits(QStringLiteral("visits"), QStringLiteral("week: how many."),
                                    QStringLiteral("n"), QStringLiteral("600"));
    const QCommandLineOption nurses(QStringLiteral("nurses"), QStringLiteral("week: how many."),
                                    QStringLiteral("n"), QStringLiteral("30"));
    const QCommandLineOption riders(QStringLiteral("riders"),
                                    QStringLiteral("week: deliveries that may ride with a visit."),
                                    QStringLiteral("n"), QStringLiteral("120"));
    const QCommandLineOption format(
        QStringLiteral("format"),
        QStringLiteral("routes: solomon, gehring-homberger, pvrp, hhcrsp or convrp."),
        QStringLiteral("name"));
    const QCommandLineOption instance(QStringLiteral("instance"), QStringLiteral("routes: the file."),
                                      QStringLiteral("file"));
    const QCommandLineOption check(
        QStringLiteral("check"), QStringLiteral("routes: judge the routes of this JSON; nothing is planned."),
        QStringLiteral("file"));
    const QCommandLineOption seconds(QStringLiteral("seconds"),
                                     QStringLiteral("Of the planner; 0 = no limit."), QStringLiteral("n"),
                                     QStringLiteral("10"));
    const QCommandLineOption threads(QStringLiteral("threads"), QStringLiteral("Of the planner."),
                                     QStringLiteral("n"), QStringLiteral("1"));
    const QCommandLineOption distance(
        QStringLiteral("distance"),
        QStringLiteral("routes: tenth (each distance cut to one decimal) or exact; time windows only."),
        QStringLiteral("kind"), QStringLiteral("tenth"));
    const QCommandLineOption bound(QStringLiteral("bound"),
                                   QStringLiteral("week: seconds for a cost no plan comes below; 0 = none."),
                                   QStringLiteral("n"), QStringLiteral("0"));
    parser.addOptions({bound, patients, seed, iterations, json, out, world, visits, nurses, riders, format,
                       instance, check, seconds, threads, distance});
    parser.addPositionalArgument(QStringLiteral("verb"), QStringLiteral("one of the verbs above"));
    parser.process(app);

    Wish wish;
    wish.agency.patients = parser.value(patients).toInt();
    wish.agency.seed = parser.value(seed).toULongLong();
    wish.iterations = parser.value(iterations).toLongLong();
    wish.asJson = parser.isSet(json);
    wish.out = parser.value(out).toStdString();
    if (parser.isSet(world))
        wish.world = parser.value(world).toStdString();
    wish.routes.format = parser.value(format).toStdString();
    wish.routes.instance = parser.value(instance).toStdString();
    wish.routes.routes = parser.value(check).toStdString();
    wish.routes.seconds = parser.value(seconds).toDouble();
    const bool isCounted = parser.isSet(iterations) || wish.routes.seconds <= 0; // some limit there must be
    wish.routes.iterations = isCounted ? wish.iterations : 0;
    wish.routes.seed = wish.agency.seed;
    wish.routes.threads = parser.value(threads).toInt();
    wish.routes.distance =
        parser.value(distance) == QStringLiteral("exact") ? bench::Distance::Exact : bench::Distance::Tenth;
    wish.routes.asJson = wish.asJson;
    wish.week = {parser.value(visits).toInt(),
                 parser.value(nurses).toInt(),
                 parser.value(riders).toInt(),
                 wish.routes.seed,
                 wish.routes.seconds,
                 wish.routes.iterations,
                 wish.routes.threads,
                 parser.value(bound).toDouble(),
                 wish.asJson};
    const QStringList words = parser.positionalArguments();
    for (const Verb &verb : kVerbs)
        if (words.size() == 1 && words.front() == QLatin1String(verb.name) && wish.agency.patients > 0)
            return finish(verb.run(wish));
    std::fputs(qPrintable(parser.helpText()), stderr);
    return 2;
}

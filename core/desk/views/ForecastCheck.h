#pragma once
// How good has the forecast been on this agency's own log: past days forecast anew, held against what came,
// beside simple forecasts from the same log (core/forecast/backtest). Takes seconds: for the background.
#include "core/desk/Desk.h"
#include "core/desk/Table.h"

#include <QString>
#include <QStringList>

namespace kitround::desk {

struct ForecastCheck {
    std::int64_t cases = 0; // home, item and length of time, each once; 0: nothing to compare yet
    int origins = 0;        // past days looked from
    std::optional<Date> first, last;
    struct Coverage {
        int promised = 0; // per cent
        double share = 0; // that came inside
    };
    std::vector<Coverage> coverage; // 50, 80, 90
    struct Method {
        QString name;
        double loss = 0; // mean pinball loss, units a week: lower is better
        double bias = 0; // forecast less actual, units a week; none for a method that gives no mean
        bool isOurs = false;
    };
    std::vector<Method> methods; // ours, the plain rule, the best of the simple ones
    struct Kind {                // of use, by how often and how unlike (core/forecast/backtest/UsePattern.h)
        QString name;
        std::int64_t cases = 0;
        double loss = 0; // of this forecast
        QString best;    // of the simple ones
        double bestLoss = 0;
    };
    std::vector<Kind> kinds; // those with cases
    struct InService {       // catheters that long in service
        int days = 0;
        std::int64_t atRisk = 0; // seen on that day
        double seen = 0;         // share still in service, the product-limit curve of the agency itself
        double error = 0;        // its standard error
        double forecast = 0;     // the same by the outlook that forecasts use
    };
    std::vector<InService> inService; // 4, 8, 12, 26 weeks; those nobody has reached yet are left out
    QString exits; // exits over days in service, beside the published rates; empty without days
    QStringList notes;
};
// Problem Cancelled when stopped.
Result<ForecastCheck> checkForecast(const Agency &agency, std::stop_token stop, const ProgressSink &progress);
// The same for the headless program: coverage, methods, kinds of use, time in service.
std::vector<Table> forecastCheckTables(const ForecastCheck &check);

} // namespace kitround::desk

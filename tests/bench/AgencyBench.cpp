#include "tests/bench/AgencyBench.h"

#include "core/desk/views/CaseloadView.h"
#include "core/desk/views/StockView.h"
#include "core/desk/views/WeekView.h"
#include "core/forecast/HomeForecast.h"
#include "sample-db/SampleAgency.h"
#include "tests/bench/Measure.h"

#include <QTemporaryDir>

#include <algorithm>
#include <cmath>

namespace kitround::bench {
namespace {

// Stages after a failure are left out; the first problem is the answer.
class Run {
public:
    explicit Run(const AgencyBench &wish) : wish_(wish) {}

    Result<std::string> all() {
        const std::string path = folder_.filePath(QStringLiteral("agency.kitround")).toStdString();
        stage("build", [&] { return build(path); });
        stage("open", [&] { return open(path); });
        stage("forecast", [&] { return forecastHomes(); });
        stage("stock", [&] { return stock(); });
        stage("open_week", [&] { return openWeek(); });
        stage("plan_week", [&] { return planWeek(); });
        stage("load_review", [&] { return review(); });
        if (problem_)
            return *problem_;
        return wish_.asJson ? stages_.asJson("agency", wish_.agency.patients, wish_.agency.seed)
                            : stages_.asText();
    }

private:
    template <class Work>
    void stage(const char *name, Work work) {
        if (!problem_)
            stages_.run(name, work);
    }
    template <class T, class Text>
    std::string ifDone(const Result<T> &result, Text text) {
        if (result)
            return text;
        problem_ = result.error();
        return "failed";
    }

    std::string build(const std::string &path) {
        return ifDone(wish_.isSample ? sample::buildSampleAgency(path, std::nullopt, {})
                                     : makeManyPatients(path, wish_.agency, {}),
                      "written");
    }
    std::string open(const std::string &path) {
        auto agency = desk::loadAgency(path, std::nullopt, SystemClock(), {}, {});
        if (!agency)
            return ifDone(agency, "");
        agency_ = *agency;
        const Snapshot &s = agency_->snapshot();
        return std::to_string(s.drainEntries.size()) + " entries, " + std::to_string(s.visits.size()) +
               " visits";
    }
    std::string forecastHomes() {
        const auto homes = forecast::forecastAll(agency_->index(), {Days::of(84), false}, {}, {});
        return ifDone(homes, homes ? std::to_string(homes->size()) + " lines" : "");
    }
    std::string stock() { // a forecast of its own, refills, reorders, expiring lots
        auto picture = desk::computeStock(agency_, {}, {});
        if (!picture)
            return ifDone(picture, "");
        stock_ = *picture;
        return std::to_string(stock_->refills.size()) + " refills, " +
               std::to_string(stock_->reorders.size()) + " suppliers";
    }
    std::string openWeek() {
        auto week = desk::openWeek(agency_, desk::nextWeek(*agency_), &stock_->refills);
        if (!week)
            return ifDone(week, "");
        week_ = *week;
        return std::to_string(week_->due.size()) + " visits due, " +
               std::to_string(week_->problem.duties.size()) + " duties";
    }
    std::string planWeek() {
        rounds::SolveOptions options;
        options.iterations = wish_.iterations;
        auto week = desk::planWeek(*week_, options, {}, {});
        if (!week)
            return ifDone(week, "");
        week_ = *week;
        const auto open =
            std::ranges::count_if(week_->plan.placements, [](const auto &p) { return !p.isPlaced(); });
        return std::to_string(open) + " not placed, " + std::to_string(week_->evaluation.broken.size()) +
               " rules broken, cost " + std::to_string(std::llround(week_->plan.cost));
    }
    std::string review() { return std::to_string(desk::loadReview(*week_).nurses.size()) + " nurses"; }

    const AgencyBench &wish_;
    QTemporaryDir folder_;
    Stages stages_;
    std::optional<Problem> problem_;
    desk::AgencyPtr agency_;
    desk::StockPicturePtr stock_;
    desk::WeekPicturePtr week_;
};

} // namespace

Result<std::string> benchAgency(const AgencyBench &wish) {
    return Run(wish).all();
}

} // namespace kitround::bench

#pragma once
// The forecast of one item at one home: its use by day and week, and when it runs out. Under one order the
// sessions counted for the home become units here; where the order changes within the horizon the recursion
// runs over the item's units themselves.
#include "core/forecast/DayKernels.h"
#include "core/forecast/SessionCounts.h"
#include "core/forecast/StockOutlook.h"
#include "core/forecast/UnitsTable.h"
#include "core/forecast/UnrecordedUse.h"

#include <vector>

namespace kitround::forecast {

// Buffers that live on from home to home.
struct ForecastBuffers {
    HomeQuestion home;
    UseRecursion recursion;
    SessionCounts counts;
    UnitsTable sessionUnits;
    RowTable units;                      // one row for each row of counts that was asked for
    std::vector<std::ptrdiff_t> unitRow; // by row of counts; -1: not yet
    std::vector<double> left, total;
    std::vector<double> above, beyond; // by number of sessions: alone, and with the unrecorded ones
    std::vector<double> unrecorded, withUnrecorded; // chances by number of sessions
    std::vector<double> chanceDry;                  // by day of the horizon
    std::vector<PlainSession> plainSessions;
    std::shared_ptr<std::pmr::memory_resource> results; // where the days and weeks of a forecast lie; heap
};

class ItemForecaster {
public:
    // `buffers.counts` is built for the home where the home has one order.
    ItemForecaster(const HomeQuestion &home, const ForecastOptions &options, ForecastBuffers &buffers)
        : home_(home), options_(options), b_(buffers), horizon_(home.timeline.horizon()) {}

    ItemForecast run(const ItemUse &use);

private:
    Date ledgerSince(const ItemForecast &f) const;
    std::size_t silentSince(const ItemForecast &f) const;
    void knowUnrecorded(const ItemForecast &f);
    void startSilent(std::span<const JointPoint> points, const DayKernels &kernels, std::size_t silentFrom,
                     ItemId item);
    void convert(const ItemUse &use, std::size_t silentFrom, ItemForecast &f);
    void knowAbove(std::size_t end);
    double chanceBeyond(std::size_t countsRow, std::int64_t stock);
    RowTable::Row unitsOf(std::size_t countsRow);
    void cumulate(ItemForecast &f);
    void sumWeeks(ItemForecast &f);
    void runDry(std::size_t silentFrom, ItemForecast &f);
    bool canRunDryBeforeAnArrival() const;
    void recur(std::size_t silentFrom, ItemForecast &f);
    void firstPassage(std::size_t silentFrom, ItemForecast &f);
    void nightAfter(std::size_t day);
    void keepDay(std::size_t d, std::span<const double> total, ItemForecast &f) const;
    void runDown(ItemForecast &f) const;
    void plain(std::size_t silentFrom, ItemForecast &f) const;
    double leaves(std::size_t d) const; // the chance overnight after day d, of those in service

    const HomeQuestion &home_;
    const ForecastOptions &options_;
    ForecastBuffers &b_;
    std::size_t horizon_;
    StockOutlook stock_;
    std::int64_t beyondStock_ = -1; // that b_.above and b_.beyond are made for
};

} // namespace kitround::forecast

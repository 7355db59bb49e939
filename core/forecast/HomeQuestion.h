#pragma once
// Everything of one catheter that the forecasts of its items share: its days, what has been learned of it,
// and the points that its beliefs are cut into where the recursion needs points.
#include "core/forecast/AgencyFigures.h"
#include "core/forecast/HomeForecast.h"
#include "core/forecast/LogReading.h"
#include "core/forecast/Timeline.h"
#include "core/forecast/UseModel.h"

#include <utility>
#include <vector>

namespace kitround::forecast {

struct HabitPoint { // one point of the belief about how often the home drains
    double weight = 1;
    double adherence = 1;
    double perDay = 0; // as-needed
};

struct HomeQuestion {
    const SnapshotIndex *agency = nullptr;
    const Catheter *catheter = nullptr;
    LogReading log;
    Timeline timeline;
    UseModel model; // its items are in unitsByOrder
    // Chance to be in service still, by day of the horizon, at its start; one more for the day after.
    std::vector<double> staying;
    // One planned order throughout and no hold without an end: sessions done depend on the number of drains
    // offered and of days alone.
    bool isExchangeable = false;
    bool isAsNeeded = false; // one as-needed order throughout and no hold without an end
    int weeklyMost = 0;      // of an as-needed order with a maximum a week; 0: no such order
    // The first is the order the forecast starts from.
    std::vector<std::pair<const DrainOrder *, std::vector<ItemUse>>> unitsByOrder;

    std::size_t layers() const { return static_cast<std::size_t>(weeklyMost) + 1; }
    const DayPlan &day(std::size_t index) const { return timeline.days[index]; }
    // nullptr where the order does not use the item.
    const ItemUse *unitsOf(const DrainOrder *order, ItemId item) const;
    // The order and its units are the same on all days.
    bool hasOneOrder() const { return unitsByOrder.size() == 1; }
    // Sessions done in the agency's week up to and with a day, which a weekly maximum counts.
    std::size_t layerOn(std::size_t day) const;
};
// The belief about habits, cut into points where the recursion needs them.
std::vector<HabitPoint> habitsOf(const HomeQuestion &home);
// Into a question whose memory is kept from home to home; false where there is no order, or nobody in
// service.
bool readQuestion(const SnapshotIndex &agency, const Catheter &catheter, const ForecastOptions &options,
                  const AgencyFigures &figures, HomeQuestion &to);

} // namespace kitround::forecast

#pragma once
// Daily use of every home and item as the log tells it: what simple forecasts and a backtest read. A session
// whose items were not written down counts as one kit and the extra bottles its volume asks for.
#include "core/records/Snapshot.h"

#include <optional>
#include <span>
#include <vector>

namespace kitround::forecast {

enum class ItemRole : std::uint8_t { Kit, ExtraBottle };
inline constexpr std::size_t kRoleCount = 2;

struct HomeUse {
    CatheterId catheter;
    ItemId item;
    ItemRole role = ItemRole::Kit;
    Date from;                     // first day of `daily`: in service and inside the loaded log
    std::optional<Date> leftOn;    // first day out of service
    std::optional<Date> lastEntry; // of the catheter
    std::vector<double> daily;     // to the day before the as-of date, zeros after leaving
    std::vector<double> sessions;  // done sessions of the catheter by day, likewise

    bool isInServiceOn(Date on) const { return from <= on && (!leftOn || on < *leftOn); }
    // Units over `days` days from `on`. Precondition: inside `daily`.
    double usedBetween(Date on, std::int64_t days) const;
};

// Items of the order in force, else of the latest: one line for its kit, one for its extra bottle. Homes by
// catheter. Homes without an order, or that never drained in the loaded log's time, are left out.
std::vector<HomeUse> usesOf(const SnapshotIndex &agency);

} // namespace kitround::forecast

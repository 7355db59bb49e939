#include "core/forecast/AwayNeed.h"

#include "core/forecast/HomeAlone.h"
#include "core/safety/ExpiredStock.h"
#include "core/safety/RecalledStock.h"

#include <algorithm>

namespace kitround::forecast {
namespace {

// The home as it will be on the first day away: without holds, and of its stock nothing is asked.
Snapshot homeOn(const SnapshotIndex &agency, PatientId id, Date on) {
    Snapshot home = homeAlone(agency, id);
    home.asOf = on;
    home.now = {on, Minutes::of(0)};
    home.holds.clear();
    home.homeCounts.clear();
    home.deliveries.clear();
    return home;
}

} // namespace

std::vector<AwayNeed> awayNeed(const SnapshotIndex &agency, PatientId patient, DateRange days,
                               std::int64_t servicePermille) {
    days.from = std::max(days.from, agency.snapshot().asOf);
    if (days.to <= days.from || days.length() > kLongestAway)
        return {};
    const Snapshot snapshot = homeOn(agency, patient, days.from);
    const SnapshotIndex home(snapshot);
    const AgencyFigures figures = learnFigures(agency);
    const auto last = static_cast<std::size_t>(days.length().count()) - 1;
    std::vector<AwayNeed> needs;
    for (const Catheter *catheter : home.cathetersOf(patient)) {
        if (!home.isInService(*catheter))
            continue;
        for (const ItemForecast &f : forecastHome(home, *catheter, {}, figures)) {
            AwayNeed need;
            need.catheter = catheter->id;
            need.item = f.item;
            need.mean = f.cumulated.at(last).mean();
            need.atLevel = f.cumulated.at(last).quantile(static_cast<double>(servicePermille) / 1000.0);
            need.plain = f.plain.cumulated.at(last);
            need.carry = Eaches::of(std::max(need.atLevel, need.plain));
            need.atHome = std::max(Eaches::of(0), agency.balance(Place::home(catheter->id), f.item) -
                                                      safety::notUsableAtHome(agency, catheter->id, f.item) -
                                                      safety::expiredAtHome(home, catheter->id, f.item));
            needs.push_back(need);
        }
    }
    return needs;
}

} // namespace kitround::forecast

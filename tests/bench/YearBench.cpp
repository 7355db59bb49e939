#include "tests/bench/YearBench.h"

#include "tests/bench/Measure.h"
#include "tests/bench/year/Policies.h"

#include <chrono>
#include <iomanip>
#include <sstream>

namespace kitround::bench {
namespace {

// Beside the presets of the settings run_out_target and refill_cycle: how much rarer dry homes become and for
// what stock, what a little more risk spares, and what a month's refill does at the same risk.
constexpr std::int64_t kStrictPermille = 2, kLeanPermille = 50, kMonth = 30;

} // namespace

Result<std::string> benchYear(const YearWish &asked) {
    const auto start = std::chrono::steady_clock::now();
    const Year year = makeYear(asked.patients, asked.seed);
    std::vector<YearOutcome> outcomes;
    const AgencySettings presets;
    const RefillWish preset{presets[SettingKey::RunOutTargetPermille], presets[SettingKey::RefillCycleDays]};
    for (const auto &[name, wish] :
         {std::pair("forecast_refills", preset),
          std::pair("forecast_refills_strict", RefillWish{kStrictPermille, preset.cycleDays}),
          std::pair("forecast_refills_lean", RefillWish{kLeanPermille, preset.cycleDays}),
          std::pair("forecast_refills_monthly", RefillWish{preset.targetPermille, kMonth})}) {
        const auto ours = forecastRefills(year, name, wish);
        if (!ours)
            return ours.error();
        outcomes.push_back(*ours);
    }
    outcomes.push_back(fixedRefills(year));
    outcomes.push_back(parLevels(year));
    const double seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
    std::ostringstream out;
    out << std::fixed << std::setprecision(4);
    if (!asked.asJson) {
        out << "policy                      dry homes  of  dry drains  waste  days held  orders  cost        "
               "storeroom: empty expired  orders  days\n";
        for (const YearOutcome &o : outcomes)
            out << std::left << std::setw(26) << o.name << std::right << std::setw(8) << o.dryHomes
                << std::setw(8) << o.homes << std::setw(8) << o.dryDrains << std::setw(10) << o.wasteShare()
                << std::setw(10) << o.daysHeld << std::setw(8) << o.orders << std::setw(14)
                << std::setprecision(0) << o.cost << std::setw(18) << o.storeroomEmptyDays << std::setw(9)
                << o.storeroomExpired << std::setw(8) << o.storeroomOrders << std::setw(6) << o.storeroomDays
                << std::setprecision(4) << "\n";
        out << seconds << " s, peak " << peakMemoryKib() / 1024 << " MiB\n";
        return out.str();
    }
    out << "{\"verb\": \"year\", \"patients\": " << asked.patients << ", \"seed\": " << asked.seed
        << ", \"seconds\": " << seconds << ", \"peak_mib\": " << static_cast<double>(peakMemoryKib()) / 1024.0
        << ", \"policies\": [";
    for (std::size_t i = 0; i < outcomes.size(); ++i) {
        const YearOutcome &o = outcomes[i];
        out << (i > 0 ? ",\n  " : "\n  ") << "{\"name\": \"" << o.name << "\", \"homes\": " << o.homes
            << ", \"dry_homes\": " << o.dryHomes << ", \"dry_drains\": " << o.dryDrains
            << ", \"waste_share\": " << o.wasteShare() << ", \"mean_days_held\": " << o.daysHeld
            << ", \"orders\": " << o.orders << ", \"cost\": " << o.cost
            << ", \"storeroom_empty_days\": " << o.storeroomEmptyDays
            << ", \"storeroom_expired\": " << o.storeroomExpired
            << ", \"storeroom_orders\": " << o.storeroomOrders
            << ", \"storeroom_days_held\": " << o.storeroomDays << "}";
    }
    out << "\n]}\n";
    return out.str();
}

} // namespace kitround::bench

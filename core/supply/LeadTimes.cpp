#include "core/supply/LeadTimes.h"

#include "core/supply/ObservedLeads.h"

#include <boost/math/distributions/gamma.hpp>

#include <algorithm>
#include <cmath>

namespace kitround::supply {
namespace {

std::vector<double> aroundMean(double mean) {
    const double below = std::floor(std::max(mean, 0.0));
    std::vector<double> chances(static_cast<std::size_t>(below) + 2, 0.0);
    const double rest = std::max(mean, 0.0) - below;
    chances[static_cast<std::size_t>(below)] = 1 - rest;
    chances[static_cast<std::size_t>(below) + 1] = rest;
    return chances;
}

// P(L <= x) for each half day up to the last day; what the library refuses is treated as no spread.
std::optional<std::vector<double>> gammaByDay(double mean, double spread) {
    try {
        const double shape = mean * mean / (spread * spread);
        const boost::math::gamma_distribution<double> gamma(shape, mean / shape);
        const auto last = static_cast<std::size_t>(std::ceil(mean + 4 * spread)) + 1;
        std::vector<double> chances(last + 1);
        double before = 0;
        for (std::size_t day = 0; day < last; ++day) {
            const double upTo = boost::math::cdf(gamma, static_cast<double>(day) + 0.5);
            chances[day] = upTo - before;
            before = upTo;
        }
        chances[last] = 1 - before; // the rare rest is as late as we look
        return chances;
    } catch (const std::exception &) {
        return std::nullopt;
    }
}

} // namespace

LeadTime leadTimeOf(const SnapshotIndex &agency, const Supplier &supplier) {
    const std::vector<double> days = observedLeadDays(agency, supplier.id);
    LeadTime lead;
    lead.n = static_cast<std::int64_t>(days.size());
    lead.isLearned = lead.n >= 2 && lead.n >= agency.snapshot().settings[SettingKey::OwnFigureLeastN];
    lead.meanDays = static_cast<double>(supplier.promisedLead.count());
    lead.spreadDays = static_cast<double>(supplier.promisedLeadSpread.count());
    if (lead.isLearned) {
        lead.meanDays = meanOf(days);
        lead.spreadDays = spreadOf(days);
    }
    return lead;
}

LeadTime usualLeadTime(const AgencySettings &settings) {
    LeadTime lead;
    lead.meanDays = static_cast<double>(settings[SettingKey::LeadDays]);
    lead.spreadDays = static_cast<double>(settings[SettingKey::LeadSpreadDays]);
    return lead;
}

std::vector<double> leadTimeChances(const LeadTime &lead) {
    constexpr double kNoSpread = 1e-6;
    if (lead.meanDays > 0 && lead.spreadDays > kNoSpread)
        if (auto chances = gammaByDay(lead.meanDays, lead.spreadDays))
            return *chances;
    return aroundMean(lead.meanDays);
}

double textbookSafetyStock(double perDay, double perDaySpread, double leadDays, double leadSpread, double z) {
    return z * std::sqrt(leadDays * perDaySpread * perDaySpread + perDay * perDay * leadSpread * leadSpread);
}

double textbookReorderPoint(double perDay, double perDaySpread, double leadDays, double leadSpread,
                            double z) {
    return perDay * leadDays + textbookSafetyStock(perDay, perDaySpread, leadDays, leadSpread, z);
}

double ruleOfThumbSafetyStock(double perDay, double leadDays) {
    return 3 * std::sqrt(perDay * leadDays);
}

} // namespace kitround::supply

#include "core/supply/UseReview.h"

#include "core/calendar/DrainCalendar.h"
#include "core/forecast/backtest/UseHistory.h"

#include <algorithm>
#include <cmath>
#include <tuple>

namespace kitround::supply {
namespace {

constexpr double kShare = 0.2;
constexpr double kLeastKits = 2;
constexpr std::int64_t kLeastDays = 14;

UseVerdict verdictOf(const UseLine &line) {
    const auto planned = static_cast<double>(line.planned);
    const double wide = std::max(kLeastKits, kShare * planned);
    if (line.used >= planned + wide)
        return UseVerdict::Over;
    return line.used <= planned - wide ? UseVerdict::Under : UseVerdict::AsOrdered;
}

} // namespace

std::vector<UseLine> useReview(const SnapshotIndex &agency, int weeks) {
    const Snapshot &s = agency.snapshot();
    std::vector<UseLine> lines;
    for (const forecast::HomeUse &use : forecast::usesOf(agency)) {
        const Catheter *catheter = agency.catheter(use.catheter);
        if (use.role != forecast::ItemRole::Kit || !catheter || !use.isInServiceOn(s.asOf))
            continue;
        const Date from = std::max(use.from, s.asOf.plusDays(-7 * std::int64_t{weeks}));
        const std::int64_t days = (s.asOf - from).count();
        if (days < kLeastDays)
            continue;
        UseLine line;
        line.patient = catheter->patient;
        line.catheter = use.catheter;
        line.item = use.item;
        line.planned = static_cast<std::int64_t>(calendar::plannedDrains(agency.ordersOf(use.catheter),
                                                                         agency.holdsOf(catheter->patient),
                                                                         {from, s.asOf}, s.settings.weekStart)
                                                     .size());
        if (line.planned == 0)
            continue;
        line.used = use.usedBetween(from, days);
        double logged = 0;
        for (std::int64_t d = (from - use.from).count(); d < (s.asOf - use.from).count(); ++d)
            logged += use.sessions[static_cast<std::size_t>(d)];
        line.logged = std::llround(logged);
        line.lastEntry = use.lastEntry;
        line.verdict = verdictOf(line);
        lines.push_back(line);
    }
    std::ranges::stable_sort(lines, [](const UseLine &a, const UseLine &b) {
        const auto key = [](const UseLine &l) {
            return std::tuple(l.verdict == UseVerdict::AsOrdered,
                              -std::abs(l.used - static_cast<double>(l.planned)), l.patient);
        };
        return key(a) < key(b);
    });
    return lines;
}

} // namespace kitround::supply

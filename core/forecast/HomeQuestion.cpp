#include "core/forecast/HomeQuestion.h"

#include "core/calendar/Weeks.h"
#include "core/forecast/Quadrature.h"

#include <algorithm>
#include <utility>

namespace kitround::forecast {
namespace {

// As many points as the spread of the belief over the days ahead asks for, beside the spread that a known
// parameter leaves: too few would show as bumps. Enough for exactness where the days are few.
int pointsFor(double ratioOfSpreads, double offers) {
    const int wished = ratioOfSpreads <= 1.0 ? 6 : ratioOfSpreads <= 3.0 ? 10 : 16;
    return std::clamp(static_cast<int>(offers / 2.0) + 1, 1, wished);
}

} // namespace

const ItemUse *HomeQuestion::unitsOf(const DrainOrder *order, ItemId item) const {
    for (const auto &[o, items] : unitsByOrder)
        if (o == order)
            for (const ItemUse &use : items)
                if (use.item == item)
                    return &use;
    return nullptr;
}

std::vector<HabitPoint> habitsOf(const HomeQuestion &home) {
    const UseModel &model = home.model;
    const Timeline &timeline = home.timeline;
    std::vector<HabitPoint> points;
    const BetaBelief &a = model.adherenceAhead;
    if (!model.asNeeded) {
        const auto offers = static_cast<double>(timeline.offersBetween(0, timeline.days.size()));
        for (const WeightedPoint &p : betaRule(a.a, a.b, pointsFor(offers / (a.a + a.b + 1.0), offers)))
            points.push_back({p.weight, p.at, 0});
        return points;
    }
    const RateBelief &rate = *model.asNeeded;
    const auto days = static_cast<double>(timeline.days.size());
    // The maximum of a day and a week cuts the spread, so few points do.
    constexpr int kMostForRates = 5;
    const int count = std::min(kMostForRates, pointsFor(days / rate.days, 2 * days));
    for (const WeightedPoint &p : gammaRule(rate.shape, rate.days, count))
        points.push_back({p.weight, a.mean(), p.at});
    return points;
}

std::size_t HomeQuestion::layerOn(std::size_t index) const {
    if (weeklyMost == 0)
        return 0;
    const Date on = day(index).on;
    const Date week = calendar::weekStartOf(on, agency->snapshot().settings.weekStart);
    return static_cast<std::size_t>(
        std::min(weeklyMost, doneBetween(agency->entriesOf(catheter->id), week, on.plusDays(1))));
}

bool readQuestion(const SnapshotIndex &agency, const Catheter &catheter, const ForecastOptions &options,
                  const AgencyFigures &figures, HomeQuestion &home) {
    const DrainOrder *order = orderToForecast(agency, catheter);
    if (!order || !agency.isInService(catheter))
        return false;
    const Snapshot &s = agency.snapshot();
    const HoldOutlook holds = holdOutlookOf(agency, catheter.patient);
    const DateRange range{learningRange(s).from, std::max(learningRange(s).to, s.asOf + options.horizon)};
    home.agency = &agency;
    home.catheter = &catheter;
    readLog(agency, catheter, HoldOutlook::pointers(holds.known), range, home.log);
    home.model = learnUse(agency, catheter, *order, home.log, figures.wander);
    readTimeline(agency, catheter, home.log, holds, options.horizon, home.timeline);
    figures.exits.staying(publishedExitPerDay(catheter, *order, s.settings),
                          s.asOf - catheter.insertedOn.value_or(order->start), options.horizon, home.staying);
    home.model.exitPerDay = 1.0 - home.staying[1];
    home.weeklyMost = 0;
    home.unitsByOrder.clear();
    home.unitsByOrder.emplace_back(order, std::exchange(home.model.items, {}));
    for (const DayPlan &day : home.timeline.days) {
        if (!day.order)
            continue;
        if (day.isAsNeeded() && day.order->pattern.mostPerWeek)
            home.weeklyMost = std::max(home.weeklyMost, *day.order->pattern.mostPerWeek);
        if (std::ranges::none_of(home.unitsByOrder, [&](const auto &u) { return u.first == day.order; }))
            home.unitsByOrder.emplace_back(day.order,
                                           unitsPerSession(agency, catheter, *day.order, figures.wander));
    }
    const bool isSteady = !holds.openFrom && home.hasOneOrder();
    home.isExchangeable = isSteady && !home.model.asNeeded;
    home.isAsNeeded = isSteady && home.model.asNeeded;
    return true;
}

} // namespace kitround::forecast

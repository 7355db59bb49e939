#include "core/supply/HomeLine.h"

#include "core/base/Require.h"

#include <algorithm>
#include <cmath>

namespace kitround::supply {
namespace {

constexpr std::int64_t kLateDays = 28;

std::int64_t stockOf(const forecast::ItemForecast &f) {
    const Eaches coming = f.inTransit + f.promised;
    if (f.knowledge == forecast::StockKnowledge::Unknown)
        return std::max<std::int64_t>(coming.count(), 0);
    return std::max<std::int64_t>((f.usable() - f.unloggedP50 + coming).count(), 0);
}

} // namespace

HomeLine::HomeLine(const forecast::ItemForecast &forecast, Date asOf)
    : forecast_(&forecast), asOf_(asOf), stock_(stockOf(forecast)) {
    KITROUND_REQUIRE(!forecast.cumulated.empty());
    for (const forecast::Pmf &use : forecast.cumulated)
        means_.push_back(use.mean());
    const std::int64_t late = std::min(kLateDays, horizon() - 1);
    if (late > 0)
        lateRate_ = (means_.back() - means_[static_cast<std::size_t>(horizon() - 1 - late)]) /
                    static_cast<double>(late);
    else
        lateRate_ = means_.back();
}

double HomeLine::meanUse(std::int64_t days) const {
    if (days <= 0)
        return 0;
    if (days <= horizon())
        return means_[static_cast<std::size_t>(days - 1)];
    return means_.back() + lateRate_ * static_cast<double>(days - horizon());
}

std::int64_t HomeLine::useQuantile(std::int64_t days, double p) const {
    if (days <= 0)
        return 0;
    if (days <= horizon())
        return forecast_->cumulated[static_cast<std::size_t>(days - 1)].quantile(p);
    const double beyond = lateRate_ * static_cast<double>(days - horizon());
    return forecast_->cumulated.back().quantile(p) + static_cast<std::int64_t>(std::ceil(beyond));
}

std::int64_t HomeLine::plainUse(std::int64_t days) const {
    const auto &plain = forecast_->plain.cumulated;
    if (days <= 0 || plain.empty())
        return 0;
    const auto known = static_cast<std::int64_t>(plain.size());
    if (days <= known)
        return plain[static_cast<std::size_t>(days - 1)];
    // The pattern repeats: the days beyond use what as many days at the end of the horizon do.
    const std::int64_t beyond = days - known;
    if (beyond >= known)
        return plain.back() +
               static_cast<std::int64_t>(std::ceil(plainPerDay() * static_cast<double>(beyond)));
    return plain.back() + plain.back() - plain[static_cast<std::size_t>(known - beyond - 1)];
}

bool HomeLine::hasPlainRule() const {
    return !forecast_->plain.cumulated.empty() && forecast_->plain.cumulated.back() > 0;
}

double HomeLine::meanPerDay() const {
    return means_.back() / static_cast<double>(horizon());
}

double HomeLine::plainPerDay() const {
    const auto &plain = forecast_->plain.cumulated;
    return plain.empty() ? 0 : static_cast<double>(plain.back()) / static_cast<double>(plain.size());
}

bool HomeLine::usesForecastsChance() const {
    return isKnown() && forecast_->promised.isZero() && forecast_->days.size() == forecast_->cumulated.size();
}

double HomeLine::chanceDry(std::int64_t days) const {
    if (days <= 0)
        return 0;
    if (usesForecastsChance() && days <= horizon())
        return forecast_->days[static_cast<std::size_t>(days - 1)].chanceDry;
    const std::int64_t last = std::min(days, horizon());
    const auto beyond = static_cast<std::int64_t>(std::ceil(lateRate_ * static_cast<double>(days - last)));
    return forecast_->cumulated[static_cast<std::size_t>(last - 1)].above(stock_ - beyond);
}

std::optional<Date> HomeLine::runOutFrom(double chance) const {
    if (!isKnown())
        return std::nullopt;
    std::int64_t safe = 0; // days over which the chance is not reached
    for (std::int64_t beyond = horizon() + 1; safe + 1 < beyond;) {
        const std::int64_t middle = (safe + beyond) / 2;
        (chanceDry(middle) < chance ? safe : beyond) = middle;
    }
    return safe == horizon() ? std::nullopt : std::optional(asOf_.plusDays(safe));
}

double HomeLine::chanceUsedUp(std::int64_t days) const {
    return days <= 0 ? 0 : forecast_->cumulated[static_cast<std::size_t>(days - 1)].above(stock_);
}

std::optional<Date> HomeLine::deliverBy(double target, std::int64_t firstDelivery) const {
    const bool isComing = forecast_->inTransit.count() + forecast_->promised.count() > 0;
    const bool isPastHelping = isComing && chanceDry(firstDelivery) > target &&
                               chanceUsedUp(std::min(firstDelivery + 7, horizon())) <= target;
    const auto chance = [&](std::int64_t days) {
        return isPastHelping ? chanceUsedUp(days) : chanceDry(days);
    };
    std::int64_t held = 0; // days over which the target holds
    for (std::int64_t beyond = horizon() + 1; held + 1 < beyond;) {
        const std::int64_t middle = (held + beyond) / 2;
        (chance(middle) <= target ? held : beyond) = middle;
    }
    if (held == horizon())
        return std::nullopt;
    return asOf_.plusDays(held);
}

std::optional<Date> HomeLine::supplyEnds() const {
    if (forecast_->promised.isZero() && forecast_->plain.supplyEnds)
        return forecast_->plain.supplyEnds;
    const auto dayBefore = [&](std::ptrdiff_t index) { return asOf_.plusDays(index - 1); };
    if (hasPlainRule()) {
        const auto &plain = forecast_->plain.cumulated;
        const auto first = std::ranges::upper_bound(plain, stock_);
        return first == plain.end() ? std::nullopt : std::optional(dayBefore(first - plain.begin()));
    }
    const auto &cumulated = forecast_->cumulated;
    const auto first = std::ranges::partition_point(
        cumulated, [&](const forecast::Pmf &use) { return use.above(stock_) <= 0.5; });
    return first == cumulated.end() ? std::nullopt : std::optional(dayBefore(first - cumulated.begin()));
}

double HomeLine::daysCovered(std::int64_t from, std::int64_t left) const {
    constexpr std::int64_t kLongest = 366;
    const auto useTo = [&](std::int64_t days) {
        return hasPlainRule() ? static_cast<double>(plainUse(days)) : meanUse(days);
    };
    const double before = useTo(from);
    std::int64_t days = 0;
    while (days < kLongest && useTo(from + days + 1) - before <= static_cast<double>(left))
        ++days;
    return static_cast<double>(days);
}

std::int64_t HomeLine::unitsFor(std::int64_t sessions) const {
    for (const forecast::ItemUse &use : forecast_->model.items)
        if (use.item == forecast_->item)
            return std::llround(static_cast<double>(sessions) * use.perSession.mean());
    return sessions;
}

} // namespace kitround::supply

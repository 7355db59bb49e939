#include "core/supply/Storeroom.h"

#include "core/supply/DeliveryDays.h"
#include "core/supply/RefillNeeds.h"

#include <algorithm>
#include <cmath>
#include <set>

namespace kitround::supply {
namespace {

constexpr std::int64_t kWeeks = 12;
constexpr std::int64_t kLeastLotDays = 7;
constexpr double kNobody = 1e-12; // a chance that moves no figure

double perDayOf(const HomeLine &line) {
    return line.hasPlainRule() ? line.plainPerDay() : line.meanPerDay();
}

std::int64_t lotOf(const HomeLine &line, const Item &item, std::int64_t days) {
    const auto use = std::max<std::int64_t>(1, std::llround(perDayOf(line) * static_cast<double>(days)));
    const std::int64_t pack = item.casePack.eachesPerCase.count();
    if (!item.sendWholeCases || pack <= 0)
        return use;
    return std::max<std::int64_t>(1, use / pack) * pack;
}

// A home is called the spare day before the last hand-over; over four weeks that start after today's cut-off
// no longer matters. A week where no courier runs: nurses' visits are about that far apart.
std::int64_t daysOfACall(const CourierCalendar &courier, Date today) {
    constexpr std::int64_t kFrom = 14, kLooked = 28;
    std::int64_t sum = 0;
    for (std::int64_t i = 0; i < kLooked; ++i) {
        const Date by = today.plusDays(kFrom + i);
        Date on = by;
        while (!courier.runsOn(on) && (by - on).count() < 7)
            on = on.plusDays(-1);
        sum += (by - courier.handOverFor(on)).count() + kSpareCallDays;
    }
    return (sum + kLooked / 2) / kLooked;
}

} // namespace

StoreroomModel::StoreroomModel(const SnapshotIndex &agency, std::span<const forecast::ItemForecast> forecasts)
    : agency_(agency) {
    const Snapshot &snapshot = agency.snapshot();
    const CourierCalendar courier(snapshot.settings, snapshot.now,
                                  Days::of(forecast::ForecastOptions{}.horizon.count()));
    callDays_ = daysOfACall(courier, snapshot.asOf);
    firstDelivery_ = courier.earliest() ? (*courier.earliest() - snapshot.asOf).count() : callDays_;
    std::set<CatheterId> seen;
    std::map<PatientId, std::vector<Line>> byPatient;
    for (const forecast::ItemForecast &forecast : forecasts) {
        seen.insert(forecast.catheter);
        const Catheter *catheter = agency.catheter(forecast.catheter);
        if (!catheter || !agency.isInService(*catheter) || forecast.cumulated.empty())
            continue;
        if (auto line = lineOf(forecast, *catheter))
            byPatient[catheter->patient].push_back(std::move(*line));
    }
    catheters_ = seen.size();
    for (auto &[id, lines] : byPatient)
        addHome(*agency.patient(id), std::move(lines));
}

// Nothing for what is never sent, so never asked of the storeroom.
std::optional<StoreroomModel::Line> StoreroomModel::lineOf(const forecast::ItemForecast &forecast,
                                                           const Catheter &catheter) const {
    const Item *item = agency_.item(forecast.item);
    const Patient *patient = agency_.patient(catheter.patient);
    if (!item || !patient || barOf(agency_, *item, *patient, catheter))
        return std::nullopt;
    const RefillTerms terms = refillTermsOf(agency_, *patient);
    Line line{HomeLine(forecast, agency_.snapshot().asOf)};
    line.asksBelow = line.line.useQuantile(callDays_, 1 - terms.target);
    line.lot = lotOf(line.line, *item, std::max(terms.cycle.count() - callDays_, kLeastLotDays));
    const auto by = line.line.isKnown() ? line.line.deliverBy(terms.target, firstDelivery_)
                                        : std::optional(agency_.snapshot().asOf);
    line.due = by ? (*by - agency_.snapshot().asOf).count() : line.line.horizon();
    return line;
}

void StoreroomModel::addHome(const Patient &patient, std::vector<Line> lines) {
    Home home;
    home.from = lines_.size();
    home.to = home.from + lines.size();
    const auto first = std::ranges::min_element(lines, {}, &Line::due);
    home.asksFirst = home.from + static_cast<std::size_t>(first - lines.begin());
    const RefillTerms terms = refillTermsOf(agency_, patient);
    const std::int64_t before = std::max(first->due, firstDelivery_);
    const std::int64_t toNext = before + terms.cycle.count();
    for (Line &line : lines) {
        const ItemId id = line.line.forecast().item;
        if (const auto need = refillNeedOf(line.line, *agency_.item(id), terms, agency_.snapshot().settings,
                                           before, toNext))
            line.first = refillQuantity(*need).quantity.count();
        line.home = homes_.size();
        linesOf_[id].push_back(lines_.size());
        if (line.line.hasPlainRule())
            ++likes_[id][line.line.plainPerDay()];
        else
            likes_[id];
        lines_.push_back(std::move(line));
    }
    homes_.push_back(std::move(home));
}

// What the home may use by the day and still not ask for a delivery. Below zero it asks at once.
std::int64_t StoreroomModel::spareOf(const Line &line, std::int64_t days) const {
    const HomeLine &home = line.line;
    const std::int64_t beyond =
        days > home.horizon() ? std::llround(home.meanUse(days) - home.meanUse(home.horizon())) : 0;
    const std::int64_t keeps = home.forecast().isOnHold
                                   ? std::llround(home.meanUse(days + callDays_) - home.meanUse(days))
                                   : line.asksBelow;
    return home.stock() - beyond - keeps;
}

// Chances of 0, 1, 2, ... deliveries within the days, of which there is at least one.
const std::vector<double> &StoreroomModel::deliveries(const Home &home, std::int64_t days) const {
    if (home.days != days) {
        home.deliveries = countDeliveries(home, days);
        home.days = days;
    }
    return home.deliveries;
}

std::vector<double> StoreroomModel::countDeliveries(const Home &home, std::int64_t days) const {
    double quiet = 1;
    for (std::size_t i = home.from; i < home.to; ++i) {
        const auto index = static_cast<std::size_t>(std::min(days, lines_[i].line.horizon()) - 1);
        quiet *= 1 - lines_[i].line.forecast().cumulated[index].above(spareOf(lines_[i], days));
    }
    std::vector<double> chances{quiet};
    if (quiet > 1 - kNobody)
        return chances;
    const Line &first = lines_[home.asksFirst];
    const std::int64_t spare = spareOf(first, days);
    const auto index = static_cast<std::size_t>(std::min(days, first.line.horizon()) - 1);
    const auto use = first.line.forecast().cumulated[index].values();
    double asked = 0;
    for (auto u = static_cast<std::size_t>(std::max<std::int64_t>(spare + 1, 0)); u < use.size(); ++u) {
        const std::int64_t open = static_cast<std::int64_t>(u) - spare;
        const auto count = static_cast<std::size_t>((open + first.lot - 1) / first.lot);
        chances.resize(std::max(chances.size(), count + 1), 0.0);
        chances[count] += use[u];
        asked += use[u];
    }
    if (asked < kNobody) // another line asks
        return {quiet, 1 - quiet};
    for (std::size_t n = 1; n < chances.size(); ++n)
        chances[n] *= (1 - quiet) / asked;
    return chances;
}

// Moments alone for large sums: most of the work, and no memory.
CountPart StoreroomModel::linePart(const Line &line, std::int64_t days, bool withChances) const {
    if (days <= 0)
        return certainPart(0);
    const std::vector<double> &counts = deliveries(homes_[line.home], days);
    std::vector<double> chances(1, 0.0);
    double first = 0, second = 0, third = 0; // raw moments
    for (std::size_t n = 0; n < counts.size(); ++n) {
        const std::int64_t sent = n == 0 ? 0 : line.first + static_cast<std::int64_t>(n - 1) * line.lot;
        const auto value = static_cast<double>(sent);
        first += counts[n] * value;
        second += counts[n] * value * value;
        third += counts[n] * value * value * value;
        if (withChances) {
            chances.resize(std::max(chances.size(), static_cast<std::size_t>(sent) + 1), 0.0);
            chances[static_cast<std::size_t>(sent)] += counts[n];
        }
    }
    CountPart part;
    part.mean = first;
    part.variance = std::max(0.0, second - first * first);
    part.thirdCentral = third - 3 * first * second + 2 * first * first * first;
    part.chances.clear();
    if (withChances)
        part.chances = std::move(chances);
    return part;
}

CountPart StoreroomModel::referralPart(const Likes &likes, std::int64_t days) const {
    const auto &settings = agency_.snapshot().settings;
    const double perDay = static_cast<double>(settings[SettingKey::ReferralsPerWeekHundredths]) / 700.0;
    if (perDay <= 0 || days <= 0 || likes.empty() || catheters_ == 0)
        return certainPart(0);
    const double each = 1 / (static_cast<double>(catheters_) * static_cast<double>(days));
    std::vector<double> size(1, 0.0);
    double sum = 0;
    for (const auto &[perDayEach, homes] : likes)
        for (std::int64_t arrival = 0; arrival < days; ++arrival) {
            const std::int64_t covered =
                std::max(settings[SettingKey::StarterDays], days - arrival + callDays_);
            const auto sent =
                static_cast<std::size_t>(std::ceil(perDayEach * static_cast<double>(covered) - 1e-9));
            size.resize(std::max(size.size(), sent + 1), 0.0);
            size[sent] += each * static_cast<double>(homes);
            sum += each * static_cast<double>(homes);
        }
    size[0] += std::max(0.0, 1 - sum); // referrals like those who use other items
    for (double &p : size)
        p /= std::max(sum, 1.0);
    return compoundPoisson(perDay * static_cast<double>(days), forecast::Pmf(std::move(size)));
}

std::vector<CountPart> StoreroomModel::parts(ItemId item, std::int64_t days, bool withChances) const {
    std::vector<CountPart> all;
    const auto found = linesOf_.find(item);
    if (found == linesOf_.end())
        return all;
    all.push_back(referralPart(likes_.at(item), days));
    for (const std::size_t line : found->second)
        all.push_back(linePart(lines_[line], days, withChances));
    return all;
}

ItemDemand StoreroomModel::demand(ItemId item, Days days) const {
    const std::int64_t length = std::max<std::int64_t>(days.count(), 0);
    std::vector<CountPart> all = parts(item, length, false);
    double variance = 0;
    for (const CountPart &part : all)
        variance += part.variance;
    if (variance <= kLargestExactSpread * kLargestExactSpread)
        all = parts(item, length, true);
    const CountTotal total = sumOf(all);
    ItemDemand demand;
    demand.item = item;
    demand.mean = total.mean;
    demand.variance = total.variance;
    demand.meanPerDay = days.count() > 0 ? total.mean / static_cast<double>(days.count()) : 0;
    demand.total = total.distribution;
    demand.days = days;
    demand.meanFromReferrals = all.empty() ? 0 : all.front().mean;
    demand.isExact = total.isExact;
    return demand;
}

double StoreroomModel::meanOver(ItemId item, Days days) const {
    double mean = 0;
    for (const CountPart &part : parts(item, std::max<std::int64_t>(days.count(), 0), false))
        mean += part.mean;
    return mean;
}

double StoreroomModel::meanFromReferrals(ItemId item, Days days) const {
    const auto found = likes_.find(item);
    return found == likes_.end() ? 0.0 : referralPart(found->second, days.count()).mean;
}

forecast::Pmf StoreroomModel::demandBetween(ItemId item, std::int64_t from, std::int64_t to,
                                            double ratio) const {
    const double mean = std::max(0.0, meanOver(item, Days::of(to)) - meanOver(item, Days::of(from)));
    return translatedGamma(mean, mean * ratio, 2 * mean * ratio * ratio);
}

std::vector<double> StoreroomModel::meanByWeek(ItemId item) const {
    std::vector<double> weeks;
    double before = 0;
    for (std::int64_t week = 1; week <= kWeeks; ++week) {
        const double upTo = meanOver(item, Days::of(7 * week));
        weeks.push_back(std::max(0.0, upTo - before));
        before = upTo;
    }
    return weeks;
}

std::vector<ItemId> StoreroomModel::items() const {
    std::vector<ItemId> ids;
    for (const auto &[id, lines] : linesOf_)
        ids.push_back(id);
    return ids;
}

ItemDemand storeroomDemand(const SnapshotIndex &agency, std::span<const forecast::ItemForecast> forecasts,
                           ItemId item, Days days) {
    const StoreroomModel model(agency, forecasts);
    ItemDemand demand = model.demand(item, days);
    demand.meanByWeek = model.meanByWeek(item);
    return demand;
}

} // namespace kitround::supply

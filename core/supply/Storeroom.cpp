#include "core/supply/Storeroom.h"

#include "core/supply/DeliveryDays.h"

#include <algorithm>
#include <cmath>
#include <set>

namespace kitround::supply {
namespace {

constexpr std::int64_t kWeeks = 12;
constexpr std::int64_t kLeastShipmentDays = 7;
constexpr double kMeanYearDays = 365;

double perDayOf(const HomeLine &line) {
    return line.hasPlainRule() ? line.plainPerDay() : line.meanPerDay();
}

std::int64_t shipmentOf(const HomeLine &line, const Item &item, std::int64_t days) {
    const auto use = std::max<std::int64_t>(1, std::llround(perDayOf(line) * static_cast<double>(days)));
    const std::int64_t pack = item.casePack.eachesPerCase.count();
    if (!item.sendWholeCases || pack <= 0)
        return use;
    return std::max<std::int64_t>(1, use / pack) * pack;
}

} // namespace

StoreroomModel::StoreroomModel(const SnapshotIndex &agency, std::span<const forecast::ItemForecast> forecasts)
    : agency_(agency) {
    const Snapshot &snapshot = agency.snapshot();
    const CourierCalendar courier(snapshot.settings, snapshot.now, Days::of(1));
    const std::int64_t courierDays =
        snapshot.settings[SettingKey::CourierLeadDays] + courier.longestGap().count();
    std::set<CatheterId> seen;
    for (const forecast::ItemForecast &forecast : forecasts) {
        seen.insert(forecast.catheter);
        const Catheter *catheter = agency.catheter(forecast.catheter);
        if (catheter && agency.isInService(*catheter) && !forecast.cumulated.empty())
            prepare(forecast, *catheter, courierDays);
    }
    catheters_ = seen.size();
}

void StoreroomModel::prepare(const forecast::ItemForecast &forecast, const Catheter &catheter,
                             std::int64_t courierDays) {
    const Item *item = agency_.item(forecast.item);
    const Patient *patient = agency_.patient(catheter.patient);
    if (!item || !patient || barOf(agency_, *item, *patient, catheter))
        return; // never sent, so never asked of the storeroom
    const Payer *payer = agency_.payer(patient->payer);
    const std::int64_t held = (payer ? *payer : Payer{}).mostDaysHeld.count();
    Home home{HomeLine(forecast, agency_.snapshot().asOf), 0, 1};
    const double perDay = perDayOf(home.line);
    const double spare =
        static_cast<double>(home.line.unitsFor(agency_.snapshot().settings[SettingKey::BufferSessions]));
    const double spareDays = perDay > 0 ? std::min(spare / perDay, kMeanYearDays) : 0;
    home.cover = std::min(courierDays + static_cast<std::int64_t>(std::ceil(spareDays)),
                          std::max<std::int64_t>(held / 2, 1));
    home.shipment = shipmentOf(home.line, *item, std::max(held - home.cover, kLeastShipmentDays));
    if (home.line.hasPlainRule())
        ++likes_[forecast.item][{home.line.plainPerDay(), home.cover}];
    else
        likes_[forecast.item];
    homes_[forecast.item].push_back(std::move(home));
}

// What the cover days need of who is still in service by then: a shipment leaves for them before anybody
// knows that they will go. Of who is on hold, and where no plain rule speaks, only what the forecast expects.
std::int64_t StoreroomModel::coverUse(const Home &home, std::int64_t days) const {
    const double expected = home.line.meanUse(days + home.cover) - home.line.meanUse(days);
    if (home.line.forecast().isOnHold || !home.line.hasPlainRule())
        return std::llround(expected);
    return std::max<std::int64_t>(std::llround(expected),
                                  home.line.plainUse(days + home.cover) - home.line.plainUse(days));
}

// Moments alone for large sums: most of the work, and no memory.
CountPart StoreroomModel::homePart(const Home &home, std::int64_t days, bool withChances) const {
    const std::int64_t index = std::min(days, home.line.horizon());
    if (index <= 0)
        return certainPart(0);
    const auto beyond = std::llround(home.line.meanUse(days) - home.line.meanUse(index));
    const std::int64_t stock = home.line.stock() - beyond - coverUse(home, days);
    const auto use = home.line.forecast().cumulated[static_cast<std::size_t>(index - 1)].values();
    std::vector<double> chances(1, 0.0);
    double first = 0, second = 0, third = 0; // raw moments
    const auto enough = static_cast<std::size_t>(
        std::clamp<std::int64_t>(stock + 1, 0, static_cast<std::int64_t>(use.size())));
    for (std::size_t u = withChances ? 0 : enough; u < use.size(); ++u) {
        const std::int64_t open = std::max<std::int64_t>(0, static_cast<std::int64_t>(u) - stock);
        const std::int64_t sent = (open + home.shipment - 1) / home.shipment * home.shipment;
        const auto value = static_cast<double>(sent);
        first += use[u] * value;
        second += use[u] * value * value;
        third += use[u] * value * value * value;
        if (withChances) {
            chances.resize(std::max(chances.size(), static_cast<std::size_t>(sent) + 1), 0.0);
            chances[static_cast<std::size_t>(sent)] += use[u];
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
    for (const auto &[like, homes] : likes)
        for (std::int64_t arrival = 0; arrival < days; ++arrival) {
            const std::int64_t covered =
                std::max(settings[SettingKey::StarterDays], days - arrival + like.second);
            const auto sent =
                static_cast<std::size_t>(std::ceil(like.first * static_cast<double>(covered) - 1e-9));
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
    const auto found = homes_.find(item);
    if (found == homes_.end())
        return all;
    all.push_back(referralPart(likes_.at(item), days));
    for (const Home &home : found->second)
        all.push_back(homePart(home, days, withChances));
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
    for (const auto &[id, homes] : homes_)
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

#include "core/supply/ExpiryList.h"

#include "core/safety/ExpiredStock.h"
#include "core/supply/CycleCounts.h"
#include "core/supply/ItemFit.h"
#include "core/supply/Outdates.h"
#include "core/supply/Storeroom.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <tuple>

namespace kitround::supply {
namespace {

int bandOf(Days left, const std::vector<int> &bands) {
    if (left.count() < 0)
        return 0;
    const auto found = std::ranges::find_if(bands, [&](int band) { return left.count() <= band; });
    return found == bands.end() ? bands.back() : *found;
}

class Listing {
public:
    Listing(const SnapshotIndex &agency, std::span<const forecast::ItemForecast> forecasts)
        : agency_(agency), today_(agency.snapshot().asOf), bands_(expiryBands(agency.snapshot().settings)),
          model_(agency, forecasts) {
        for (const forecast::ItemForecast &forecast : forecasts)
            homes_[forecast.item].emplace_back(forecast, today_);
    }

    std::vector<ExpiryLine> run() {
        collect();
        capHomes();
        expectStoreroom();
        expectHomes();
        for (ExpiryLine &line : lines_) {
            line.expectedUse =
                std::max(0.0, static_cast<double>(line.at.quantity.count()) - line.expectedWaste);
            line.wasteValue =
                Money::of(std::llround(line.expectedWaste * minorPerEach(agency_, line.at.item)));
            propose(line);
        }
        return std::move(lines_);
    }

private:
    using Group = std::map<std::pair<Place, ItemId>, std::vector<ExpiryLine *>>;

    std::int64_t daysTo(Date day) const { return std::max<std::int64_t>(0, (day - today_).count() + 1); }

    void collect() {
        for (const ExpiringLot &at : expiringLots(agency_, Days::of(bands_.back()))) {
            if (at.place.kind == PlaceKind::Transit)
                continue;
            const Lot &lot = *agency_.lot(at.lot);
            ExpiryLine line;
            line.at = at;
            line.at.quantity -= at.place.kind == PlaceKind::Car ? underWay(at) : Eaches{};
            line.band = bandOf(at.expiresOn - today_, bands_);
            line.state = lot.state;
            line.isPickedFirst = lot.isPickedFirst;
            if (line.at.quantity.count() > 0)
                lines_.push_back(line);
        }
        for (ExpiryLine &line : lines_)
            line.expectedWaste = static_cast<double>(line.at.quantity.count());
    }

    // Parcels in the car have a home already.
    Eaches underWay(const ExpiringLot &at) const {
        Eaches sum;
        for (const Delivery &delivery : agency_.snapshot().deliveries) {
            const bool isInCar =
                delivery.carriedBy && Place::car(*delivery.carriedBy) == at.place &&
                (delivery.status == DeliveryStatus::Picked || delivery.status == DeliveryStatus::InTransit);
            if (isInCar)
                for (const DeliveryLine &line : delivery.lines)
                    sum += line.lot == at.lot ? line.quantity : Eaches{};
        }
        return sum;
    }

    Group grouped(PlaceKind kind) {
        Group groups;
        for (ExpiryLine &line : lines_)
            if (line.at.place.kind == kind)
                groups[{line.at.place, line.at.item}].push_back(&line);
        return groups;
    }

    void capHomes() {
        for (auto &[key, lots] : grouped(PlaceKind::Home)) {
            const auto there = safety::datedLotsAtHome(agency_, CatheterId(key.first.ref), key.second);
            for (ExpiryLine *line : lots) {
                const auto left = std::ranges::find(there, line->at.lot, &safety::LotAtHome::lot);
                line->at.quantity = left == there.end() ? Eaches{} : left->left;
                line->expectedWaste = static_cast<double>(line->at.quantity.count());
            }
        }
        std::erase_if(lines_, [](const ExpiryLine &line) { return line.at.quantity.isZero(); });
    }

    // The last day on which the storeroom gives the lot out.
    Date lastGiven(const ExpiryLine &line) const {
        const Item *item = agency_.item(line.at.item);
        return line.isPickedFirst || !item ? line.at.expiresOn : line.at.expiresOn - item->leastLifeToHome;
    }

    void expectStoreroom() {
        for (auto &[key, lots] : grouped(PlaceKind::Storeroom)) {
            std::vector<ExpiryLine *> given;
            for (ExpiryLine *lot : lots)
                if (isUsable(agency_, lot->at.lot, today_) && lastGiven(*lot) >= today_)
                    given.push_back(lot);
            std::ranges::stable_sort(given, {}, [&](const ExpiryLine *l) { return lastGiven(*l); });
            if (given.empty())
                continue;
            const ItemDemand whole = model_.demand(key.second, Days::of(daysTo(lastGiven(*given.back()))));
            const double ratio = whole.mean > 0 ? whole.variance / whole.mean : 0;
            std::vector<AgeingLot> ageing;
            std::int64_t from = 0;
            for (const ExpiryLine *lot : given) {
                const std::int64_t to = daysTo(lastGiven(*lot));
                ageing.push_back({lot->at.quantity, model_.demandBetween(key.second, from, to, ratio)});
                from = to;
            }
            setWaste(given, ageing);
        }
    }

    void expectHomes() {
        for (auto &[key, lots] : grouped(PlaceKind::Home)) {
            const HomeLine *home = homeLine(CatheterId(key.first.ref), key.second);
            std::vector<ExpiryLine *> kept;
            for (ExpiryLine *lot : lots)
                if (home && isUsable(agency_, lot->at.lot, today_))
                    kept.push_back(lot);
            std::vector<AgeingLot> ageing;
            std::int64_t from = 0;
            for (const ExpiryLine *lot : kept) {
                const std::int64_t to = daysTo(lot->at.expiresOn);
                ageing.push_back({lot->at.quantity, useBetween(*home, from, to)});
                from = to;
            }
            setWaste(kept, ageing);
        }
    }

    // Exact from today within the forecast's horizon; else independent of what went before, with the mean of
    // those days and the spread of the horizon.
    static forecast::Pmf useBetween(const HomeLine &home, std::int64_t from, std::int64_t to) {
        if (to <= from || home.horizon() == 0)
            return {};
        const auto &cumulated = home.forecast().cumulated;
        if (from == 0 && to <= home.horizon())
            return cumulated[static_cast<std::size_t>(to) - 1];
        const double mean = std::max(0.0, home.meanUse(to) - home.meanUse(from));
        const double whole = cumulated.back().mean();
        const double ratio = whole > 0 ? cumulated.back().variance() / whole : 0;
        return translatedGamma(mean, mean * ratio, 2 * mean * ratio * ratio);
    }

    static void setWaste(const std::vector<ExpiryLine *> &lots, const std::vector<AgeingLot> &ageing) {
        const OutdateForecast outdates = expectedOutdates(ageing);
        for (std::size_t i = 0; i < lots.size(); ++i)
            lots[i]->expectedWaste = outdates.byLot[i];
    }

    const HomeLine *homeLine(CatheterId catheter, ItemId item) const {
        const auto found = homes_.find(item);
        if (found == homes_.end())
            return nullptr;
        const auto home = std::ranges::find_if(
            found->second, [&](const HomeLine &h) { return h.forecast().catheter == catheter; });
        return home == found->second.end() ? nullptr : &*home;
    }

    // Who would use most of the lot before its last day, beyond what the home has or is coming.
    void nameHome(ExpiryLine &line) const {
        const Item *item = agency_.item(line.at.item);
        const auto homes = homes_.find(line.at.item);
        if (!item || homes == homes_.end())
            return;
        const std::int64_t days = daysTo(line.at.expiresOn);
        for (const HomeLine &home : homes->second) {
            const Catheter *catheter = agency_.catheter(home.forecast().catheter);
            const Patient *patient = agency_.patient(home.forecast().patient);
            if (!catheter || !patient || home.forecast().isOnHold || !home.isKnown() ||
                barOf(agency_, *item, *patient, *catheter))
                continue;
            const auto more = Eaches::of(static_cast<std::int64_t>(std::floor(
                home.meanUse(days) - static_cast<double>(std::max<std::int64_t>(0, home.stock())))));
            const Eaches takes = std::min(more, line.at.quantity);
            if (takes.count() > 0 && takes > line.homeTakes) {
                line.home = patient->id;
                line.homeTakes = takes;
            }
        }
    }

    void propose(ExpiryLine &line) const {
        const Days left = line.at.expiresOn - today_;
        const bool isLost = line.expectedWaste >= kLeastWaste;
        const Days leastToReturn = Days::of(agency_.snapshot().settings[SettingKey::ReturnLeastLifeDays]);
        const auto goOrKeep = [&] {
            return left >= leastToReturn ? ExpiryMove::ReturnToSupplier : ExpiryMove::KeepToTheEnd;
        };
        if (left.count() < 0) {
            line.move = ExpiryMove::Discard;
        } else if (line.at.place.kind == PlaceKind::Home) {
            line.move = isLost ? ExpiryMove::SendLess : ExpiryMove::UseHere;
        } else if (line.state != LotState::Usable || line.at.place.kind == PlaceKind::Quarantine) {
            line.move = ExpiryMove::ReturnToSupplier;
        } else if (!isLost) {
            line.move = ExpiryMove::UseHere;
        } else {
            nameHome(line);
            if (line.at.place.kind == PlaceKind::Car)
                line.move = line.home ? ExpiryMove::SendHome
                            : model_.meanOver(line.at.item, Days::of(daysTo(lastGiven(line)))) >= kLeastWaste
                                ? ExpiryMove::BringBack
                                : goOrKeep();
            else
                line.move = line.home && !line.isPickedFirst ? ExpiryMove::PutFirst
                            : line.home                      ? ExpiryMove::SendHome
                                                             : goOrKeep();
        }
    }

    const SnapshotIndex &agency_;
    Date today_;
    std::vector<int> bands_;
    StoreroomModel model_;
    std::map<ItemId, std::vector<HomeLine>> homes_;
    std::vector<ExpiryLine> lines_;
};

} // namespace

std::vector<int> expiryBands(const AgencySettings &settings) {
    std::vector<int> bands;
    for (const SettingKey key : {SettingKey::ExpiryListDaysFirst, SettingKey::ExpiryListDaysSecond,
                                 SettingKey::ExpiryListDaysThird, SettingKey::ExpiryListDaysLast})
        bands.push_back(static_cast<int>(settings[key]));
    std::ranges::sort(bands);
    bands.erase(std::ranges::unique(bands).begin(), bands.end());
    return bands;
}

std::vector<ExpiryLine> expiryList(const SnapshotIndex &agency,
                                   std::span<const forecast::ItemForecast> forecasts) {
    return Listing(agency, forecasts).run();
}

} // namespace kitround::supply

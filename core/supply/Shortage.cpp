#include "core/supply/Shortage.h"

#include "core/supply/ItemFit.h"
#include "core/supply/LeadTimes.h"
#include "core/supply/Ledger.h"
#include "core/supply/OpenOrders.h"
#include "core/supply/OrderTerms.h"
#include "core/supply/Reorders.h"
#include "core/supply/Substitutes.h"

#include <algorithm>
#include <map>
#include <tuple>

namespace kitround::supply {
namespace {

constexpr double kSureEnough = 0.9;
constexpr Date kAfterAll = Date::of(9999, 12, 31);

// Who runs dry first is rung first, whatever the item; homes nobody knows of come last.
Date firstAtRisk(const Shortage &shortage) {
    const bool isKnown = !shortage.homes.empty() && shortage.homes.front().atRisk;
    return isKnown ? *shortage.homes.front().atRisk : kAfterAll;
}

class Board {
public:
    Board(const SnapshotIndex &agency, std::span<const forecast::ItemForecast> forecasts)
        : agency_(agency), forecasts_(forecasts), model_(agency, forecasts), positions_(positionsOf(agency)),
          open_(openLines(agency)), today_(agency.snapshot().asOf) {}

    std::vector<Shortage> list() {
        std::vector<Shortage> all;
        for (const ItemId id : model_.items())
            if (const Item *item = agency_.item(id); item && item->isActive)
                if (auto shortage = shortageOf(*item))
                    all.push_back(std::move(*shortage));
        std::ranges::stable_sort(all, [](const Shortage &a, const Shortage &b) {
            return std::tuple(firstAtRisk(a), -a.chanceShort) < std::tuple(firstAtRisk(b), -b.chanceShort);
        });
        for (Shortage &shortage : all)
            left_[shortage.item] = std::max(shortage.free, Eaches{});
        for (Shortage &shortage : all)
            shareOut(shortage);
        return all;
    }

private:
    std::optional<Shortage> shortageOf(const Item &item) {
        Shortage shortage;
        shortage.item = item.id;
        shortage.free = positions_[item.id].free();
        shortage.arrival = arrivalIfOrderedNow(item);
        const auto open = std::ranges::find(open_, item.id, &OpenLine::item); // by expected day
        if (open != open_.end() && open->expectedOn <= shortage.arrival) {
            shortage.arrival = open->expectedOn;
            shortage.arriving = open->quantity;
            shortage.isOrdered = true;
        }
        const Days days = std::max(shortage.arrival - today_, Days::of(1));
        shortage.chanceShort = std::min(1.0, model_.demand(item.id, days).total.above(shortage.free.count()));
        const double accepted =
            1 - static_cast<double>(servicePermilleOf(item, agency_.snapshot().settings)) / 1000.0;
        if (shortage.chanceShort <= accepted)
            return std::nullopt;
        addHomes(shortage);
        return shortage;
    }

    Date arrivalIfOrderedNow(const Item &item) const {
        const auto offers = offersFor(agency_, item.id);
        const Supplier *supplier = offers.empty() ? nullptr : agency_.supplier(offers.front()->supplier);
        if (!supplier)
            return today_.plusDays(agency_.snapshot().settings[SettingKey::LeadDays]);
        const Date arrival = arrivalIfSent(supplier, agency_.snapshot().now, leadTimeOf(agency_, *supplier));
        return isBackordered(*offers.front(), today_) ? std::max(arrival, *offers.front()->backorderedUntil)
                                                      : arrival;
    }

    void addHomes(Shortage &shortage) const {
        const Date until =
            shortage.arrival.plusDays(agency_.snapshot().settings[SettingKey::CourierLeadDays]);
        const auto last = static_cast<std::size_t>((until - today_).count());
        for (const forecast::ItemForecast &f : forecasts_) {
            if (f.item != shortage.item || f.isOnHold || f.cumulated.empty())
                continue;
            ShortageHome home;
            home.patient = f.patient;
            home.catheter = f.catheter;
            const bool isUnknown = f.knowledge == forecast::StockKnowledge::Unknown;
            if (!isUnknown && (!f.runOutP10 || *f.runOutP10 > until))
                continue;
            home.atRisk = isUnknown ? std::nullopt : f.runOutP10;
            home.onHand = std::max(f.usable(), Eaches{}) + f.inTransit + f.promised;
            const std::int64_t use =
                f.cumulated[std::min(last, f.cumulated.size() - 1)].quantile(kSureEnough);
            home.wanted = std::max(Eaches::of(use) - home.onHand, Eaches{});
            if (isUnknown || home.wanted.count() > 0) // else what is promised carries it over
                shortage.homes.push_back(home);
        }
        std::ranges::stable_sort(
            shortage.homes, [&](const ShortageHome &a, const ShortageHome &b) { return rank(a) < rank(b); });
    }
    std::tuple<bool, std::int64_t, EmergencyPriority, int, PatientId> rank(const ShortageHome &home) const {
        const Patient *patient = agency_.patient(home.patient);
        return {!home.atRisk, home.atRisk ? home.atRisk->dayNumber() : 0,
                patient ? emergencyPriorityOf(*patient) : EmergencyPriority::Third,
                patient ? -static_cast<int>(acuityOf(*patient)) : 0, home.patient};
    }

    void shareOut(Shortage &shortage) {
        for (ShortageHome &home : shortage.homes) {
            Eaches &left = left_[shortage.item];
            if (!home.atRisk) {
                home.step = ShortageStep::CountFirst;
            } else if (left >= home.wanted) {
                home.step = ShortageStep::Ration;
                home.quantity = home.wanted;
                left -= home.wanted;
            } else if (!substitute(shortage.item, home)) {
                home.step = ShortageStep::Ask;
                home.quantity = left; // a part, until somebody decides
                left = {};
            }
        }
    }

    bool substitute(ItemId itemId, ShortageHome &home) {
        const Item *item = agency_.item(itemId);
        const DrainOrder *order = agency_.orderInForce(home.catheter, today_);
        const Catheter *catheter = agency_.catheter(home.catheter);
        const Patient *patient = agency_.patient(home.patient);
        if (!item || !order || !order->allowsSubstitute || !catheter || !patient)
            return false;
        for (const Substitute &way : item->substitutes) {
            const Item *standIn = agency_.item(way.item);
            if (!standIn || !standIn->isActive || barOf(agency_, *standIn, *patient, *catheter))
                continue;
            Eaches &left =
                left_.try_emplace(way.item, std::max(positions_[way.item].free(), Eaches{})).first->second;
            const Eaches needed = Eaches::of(home.wanted.count() * way.per.count());
            if (left < needed)
                continue;
            left -= needed;
            home.step = ShortageStep::Substitute;
            home.substitute = way.item;
            home.needsRecord =
                standsInFor(agency_, home.catheter, way.item, today_).state != SubstitutionState::Recorded;
            home.quantity = needed;
            return true;
        }
        return false;
    }

    const SnapshotIndex &agency_;
    std::span<const forecast::ItemForecast> forecasts_;
    StoreroomModel model_;
    std::map<ItemId, Position> positions_;
    std::vector<OpenLine> open_;
    Date today_;
    std::map<ItemId, Eaches> left_; // free and not given to a home yet
};

} // namespace

std::vector<Shortage> shortages(const SnapshotIndex &agency,
                                std::span<const forecast::ItemForecast> forecasts) {
    return Board(agency, forecasts).list();
}

} // namespace kitround::supply

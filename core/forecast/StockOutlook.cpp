#include "core/forecast/StockOutlook.h"

#include "core/safety/ExpiredStock.h"
#include "core/safety/RecalledStock.h"

#include <algorithm>

namespace kitround::forecast {
namespace {

// While a substitution is in force, what stands in at the home counts as eaches of the ordered item: `per` of
// it make one, rounded down.
class StandIns {
public:
    StandIns(const SnapshotIndex &agency, CatheterId catheter, ItemId ordered) {
        const Substitution *s = agency.substitutionInForce(catheter, ordered, agency.snapshot().asOf);
        const Item *item = s ? agency.item(ordered) : nullptr;
        if (!item)
            return;
        for (const Substitute &way : item->substitutes)
            if (way.item == s->standIn) {
                item_ = way.item;
                per_ = way.per.count();
                const Eaches units = agency.balance(Place::home(catheter), way.item);
                atHome_ = covers(units);
                const Eaches kept = units - safety::notUsableAtHome(agency, catheter, way.item);
                recalled_ = atHome_ - covers(kept);
                expired_ = covers(kept) - covers(kept - safety::expiredAtHome(agency, catheter, way.item));
            }
    }
    bool isOne(ItemId item) const { return item_ == item; }
    Eaches covers(Eaches units) const { return Eaches::of(std::max<std::int64_t>(units.count(), 0) / per_); }
    Eaches atHome() const { return atHome_; }
    Eaches recalled() const { return recalled_; } // of those
    Eaches expired() const { return expired_; }   // of those, besides

private:
    std::optional<ItemId> item_;
    std::int64_t per_ = 1;
    Eaches atHome_, recalled_, expired_;
};

} // namespace

StockOutlook knowStock(const SnapshotIndex &agency, Days horizon, ItemForecast &f) {
    StockOutlook stock;
    const Date asOf = agency.snapshot().asOf;
    const StandIns standIns(agency, f.catheter, f.item);
    f.onHand = agency.balance(Place::home(f.catheter), f.item) + standIns.atHome();
    f.recalled = safety::notUsableAtHome(agency, f.catheter, f.item) + standIns.recalled();
    f.expired = safety::expiredAtHome(agency, f.catheter, f.item) + standIns.expired();
    std::vector<std::pair<Date, Eaches>> arrivals;
    bool isDelivered = !f.onHand.isNegative() && !f.onHand.isZero();
    for (const Delivery *delivery : agency.deliveriesOf(f.patient))
        for (const DeliveryLine &line : delivery->lines) {
            if (line.catheter != f.catheter || !(line.item == f.item || standIns.isOne(line.item)))
                continue;
            const Eaches quantity = line.item == f.item ? line.quantity : standIns.covers(line.quantity);
            switch (delivery->status) {
            case DeliveryStatus::Delivered: {
                if (line.arrived().isZero())
                    break;
                isDelivered = true;
                const Date on = delivery->deliveredAt ? delivery->deliveredAt->date : delivery->promisedFor;
                stock.firstDelivered = std::min(stock.firstDelivered.value_or(on), on);
                break;
            }
            case DeliveryStatus::Picked:
            case DeliveryStatus::InTransit:
                f.inTransit += quantity;
                arrivals.emplace_back(delivery->promisedFor < asOf ? asOf.plusDays(1) : delivery->promisedFor,
                                      quantity);
                break;
            case DeliveryStatus::Promised:
                f.promised += quantity;
                break;
            case DeliveryStatus::Cancelled:
                break;
            }
        }
    if (const HomeCount *count = agency.lastCount(f.catheter, f.item)) {
        f.knowledge = StockKnowledge::Counted;
        f.countedAt = count->at;
    } else if (isDelivered) {
        f.knowledge = StockKnowledge::DeliveredOnly;
    }
    std::int64_t atHand = std::max<std::int64_t>(f.usable().count(), 0);
    stock.onDay.reserve(static_cast<std::size_t>(horizon.count()));
    for (std::int64_t d = 0; d < horizon.count(); ++d) {
        for (const auto &[on, arriving] : arrivals)
            if (on == asOf.plusDays(d)) {
                atHand += arriving.count();
                stock.arrivesLater = stock.arrivesLater || d > 0;
            }
        stock.onDay.push_back(atHand);
    }
    return stock;
}

} // namespace kitround::forecast

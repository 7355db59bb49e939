#include "core/forecast/StockOutlook.h"

#include <algorithm>

namespace kitround::forecast {

StockOutlook knowStock(const SnapshotIndex &agency, Days horizon, ItemForecast &f) {
    StockOutlook stock;
    const Date asOf = agency.snapshot().asOf;
    f.onHand = agency.balance(Place::home(f.catheter), f.item);
    std::vector<std::pair<Date, Eaches>> arrivals;
    bool isDelivered = !f.onHand.isNegative() && !f.onHand.isZero();
    for (const Delivery *delivery : agency.deliveriesOf(f.patient))
        for (const DeliveryLine &line : delivery->lines) {
            if (line.catheter != f.catheter || line.item != f.item)
                continue;
            switch (delivery->status) {
            case DeliveryStatus::Delivered: {
                isDelivered = true;
                const Date on = delivery->deliveredAt ? delivery->deliveredAt->date : delivery->promisedFor;
                stock.firstDelivered = std::min(stock.firstDelivered.value_or(on), on);
                break;
            }
            case DeliveryStatus::Picked:
            case DeliveryStatus::InTransit:
                f.inTransit += line.quantity;
                arrivals.emplace_back(delivery->promisedFor < asOf ? asOf.plusDays(1) : delivery->promisedFor,
                                      line.quantity);
                break;
            case DeliveryStatus::Promised:
                f.promised += line.quantity;
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
    std::int64_t atHand = std::max<std::int64_t>(f.onHand.count(), 0);
    stock.onDay.reserve(static_cast<std::size_t>(horizon.count()));
    for (std::int64_t d = 0; d < horizon.count(); ++d) {
        for (const auto &[on, quantity] : arrivals)
            if (on == asOf.plusDays(d)) {
                atHand += quantity.count();
                stock.arrivesLater = stock.arrivesLater || d > 0;
            }
        stock.onDay.push_back(atHand);
    }
    return stock;
}

} // namespace kitround::forecast

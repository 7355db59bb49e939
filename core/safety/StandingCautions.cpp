#include "core/calendar/DrainCalendar.h"
#include "core/safety/Cautions.h"

#include <algorithm>
#include <map>
#include <set>
#include <tuple>

namespace kitround::safety {
namespace {

class StandingCheck {
public:
    explicit StandingCheck(const SnapshotIndex &agency) : agency_(agency), today_(agency.snapshot().asOf) {
        for (const CallItem &item : agency.snapshot().callItems)
            known_.insert(item.subject);
    }

    std::vector<CallItem> run() {
        for (const Catheter &catheter : agency_.snapshot().catheters) {
            checkRecalls(catheter);
            if (!agency_.isInService(catheter))
                continue;
            checkOrders(catheter);
            checkSilence(catheter);
        }
        std::ranges::stable_sort(items_, {},
                                 [](const CallItem &i) { return std::tie(i.urgency, i.patient, i.subject); });
        return std::move(items_);
    }

private:
    void raise(const Catheter &catheter, CautionKind kind, CautionUrgency urgency, std::string subject,
               std::vector<std::string> evidence) {
        if (!known_.insert(subject).second)
            return;
        CallItem item;
        item.patient = catheter.patient;
        item.catheter = catheter.id;
        item.kind = kind;
        item.urgency = urgency;
        item.subject = std::move(subject);
        item.raisedAt = agency_.snapshot().now;
        item.evidence = std::move(evidence);
        items_.push_back(std::move(item));
    }

    void checkRecalls(const Catheter &catheter) {
        std::map<LotId, Eaches> atHome;
        for (const StockBalance &balance : agency_.balancesAt(Place::home(catheter.id)))
            if (balance.lot)
                atHome[*balance.lot] += balance.quantity;
        for (const auto &[id, quantity] : atHome) {
            const Lot *lot = agency_.lot(id);
            if (!lot || lot->state != LotState::Recalled || quantity <= Eaches::of(0))
                continue;
            const Item *item = agency_.item(lot->item);
            raise(catheter, CautionKind::RecalledLotAtHome, CautionUrgency::Today,
                  "recall:" + std::to_string(id.value()) + ":" + std::to_string(catheter.id.value()),
                  {item ? item->name : std::string(), lot->number, std::to_string(quantity.count()),
                   lot->stateReason});
        }
    }

    void checkOrders(const Catheter &catheter) {
        bool hasOrder = false;
        std::optional<Date> lastEnd;
        for (const DrainOrder *order : agency_.ordersOf(catheter.id)) {
            if (order->end && *order->end <= today_) {
                lastEnd = std::max(lastEnd, order->end);
                continue;
            }
            hasOrder = true; // in force, or to come
            checkMaximum(catheter, *order);
        }
        if (hasOrder)
            return;
        const std::string lastDay = lastEnd ? lastEnd->plusDays(-1).toIso() : std::string();
        raise(catheter, CautionKind::NoOrder, CautionUrgency::Today,
              "no-order:" + std::to_string(catheter.id.value()) + ":" + (lastEnd ? lastDay : "none"),
              {lastDay});
    }
    void checkMaximum(const Catheter &catheter, const DrainOrder &order) {
        const std::string id = std::to_string(order.id.value());
        if (!order.mostPerSession)
            raise(catheter, CautionKind::NoMaximumOnOrder, CautionUrgency::Soon, "no-max:" + id,
                  {"session", order.start.toIso()});
        const DrainPattern &pattern = order.pattern;
        if (pattern.kind == DrainPatternKind::AsNeeded && !pattern.mostPerDay && !pattern.mostPerWeek)
            raise(catheter, CautionKind::NoMaximumOnOrder, CautionUrgency::Soon, "no-as-needed-max:" + id,
                  {"as-needed", order.start.toIso()});
    }

    void checkSilence(const Catheter &catheter) {
        const auto holds = agency_.holdsOf(catheter.patient);
        const DrainOrder *order = agency_.orderInForce(catheter.id, today_);
        if (!order || calendar::isOnHold(holds, today_))
            return;
        const std::optional<Days> gap = calendar::longestGap(order->pattern);
        if (!gap)
            return;
        const std::optional<Date> last = lastLogged(catheter);
        const Date firstDue = firstDueAfterStart(catheter, *order, holds, *gap);
        const Date due = last ? std::max(*last + *gap, firstDue) : firstDue;
        const Days beyond = Days::of(agency_.snapshot().settings[SettingKey::SilenceDaysBeyond]);
        if (today_ <= due + beyond)
            return;
        const std::string lastDay = last ? last->toIso() : std::string();
        const Date since = last.value_or(firstDue);
        raise(catheter, CautionKind::Silence, CautionUrgency::Soon,
              "silence:" + std::to_string(catheter.id.value()) + ":" + (last ? lastDay : "none"),
              {lastDay, std::to_string((today_ - since).count()),
               std::to_string((due + beyond - since).count())});
    }
    std::optional<Date> lastLogged(const Catheter &catheter) const {
        std::optional<Date> last;
        for (const DrainEntry &entry : agency_.entriesOf(catheter.id))
            if (!entry.isVoid && entry.at.date <= today_)
                last = std::max(last, std::optional(entry.at.date));
        return last;
    }
    // The first day on which the order in force asks for a drain after the last thing that stopped the clock.
    Date firstDueAfterStart(const Catheter &catheter, const DrainOrder &order,
                            std::span<const Hold *const> holds, Days gap) const {
        Date from = std::max(order.start, catheter.insertedOn.value_or(order.start));
        for (const Hold *hold : holds)
            if (hold->to && *hold->to <= today_)
                from = std::max(from, *hold->to);
        const Weekday weekStart = agency_.snapshot().settings.weekStart;
        for (Date day = from; day < from + gap; day = day.plusDays(1))
            if (calendar::isDrainDay(order.pattern, day, weekStart))
                return day;
        return from + gap;
    }

    const SnapshotIndex &agency_;
    Date today_;
    std::set<std::string> known_;
    std::vector<CallItem> items_;
};

} // namespace

std::vector<CallItem> standingCautions(const SnapshotIndex &agency) {
    return StandingCheck(agency).run();
}

} // namespace kitround::safety

#include "core/forecast/UseModel.h"

#include "core/forecast/ExitOutlook.h"
#include "core/forecast/Habits.h"
#include "core/forecast/UnitsLearning.h"

namespace kitround::forecast {

using enum SettingKey;

const DrainOrder *orderToForecast(const SnapshotIndex &agency, const Catheter &catheter) {
    const Date asOf = agency.snapshot().asOf;
    if (const DrainOrder *order = agency.orderInForce(catheter.id, asOf))
        return order;
    for (const DrainOrder *order : agency.ordersOf(catheter.id)) // by start
        if (order->start > asOf && (!order->end || order->start < *order->end))
            return order;
    return nullptr;
}

std::vector<ItemUse> unitsPerSession(const SnapshotIndex &agency, const Catheter &catheter,
                                     const DrainOrder &order, const CaseloadWander &wander) {
    const Snapshot &s = agency.snapshot();
    const Discount discount(s.asOf, s.settings[LogMemoryDays]);
    const Bottling bottling = bottlingOf(agency, order);
    return itemsFrom(bottling, readUnits(agency.entriesOf(catheter.id), bottling, s.settings, discount),
                     catheter.site, s.settings, wander.unitsTilt);
}

DateRange learningRange(const Snapshot &s) {
    return {Discount(s.asOf, s.settings[LogMemoryDays]).from(), s.asOf.plusDays(7)};
}

std::optional<UseModel> learnUse(const SnapshotIndex &agency, const Catheter &catheter) {
    const DrainOrder *order = orderToForecast(agency, catheter);
    if (!order)
        return std::nullopt;
    return learnUse(
        agency, catheter, *order,
        readLog(agency, catheter, agency.holdsOf(catheter.patient), learningRange(agency.snapshot())), {});
}

UseModel learnUse(const SnapshotIndex &agency, const Catheter &catheter, const DrainOrder &order,
                  const LogReading &reading, const CaseloadWander &wander) {
    const Snapshot &s = agency.snapshot();
    const Discount discount(s.asOf, s.settings[LogMemoryDays]);
    UseModel model;
    model.catheter = catheter.id;
    const Bottling bottling = bottlingOf(agency, order);
    const UnitsLog log = readUnits(agency.entriesOf(catheter.id), bottling, s.settings, discount);
    model.items = itemsFrom(bottling, log, catheter.site, s.settings, wander.unitsTilt);
    const UnloggedDrains unlogged =
        learnUnlogged(agency, catheter, order, model.items.front().perSession.mean(), reading, discount);
    model.doneUnlogged = unlogged.belief;
    model.adherence = learnAdherence(reading, s.settings, discount, unlogged);
    model.adherenceAhead = ahead(model.adherence, wander.steadySessions);
    model.beyondOrder = learnBeyondOrder(reading, discount, wander.beyondPerDay);
    model.extraPerDay = model.beyondOrder.a > 0 ? model.beyondOrder.mean() : 0;
    if (order.pattern.kind == DrainPatternKind::AsNeeded) {
        model.asNeeded = learnRate(agency, catheter, order, agency.holdsOf(catheter.patient), discount);
        model.asNeededPerDay = model.asNeeded->mean();
    }
    model.exitPerDay = publishedExitPerDay(catheter, order, s.settings);
    model.wasteShare = log.waste.mean();
    if (log.volume.weight > 0)
        model.meanVolumeMl = log.volume.sum / log.volume.weight;
    model.sessionsSeen = log.sessions;
    model.isFromDefaults = log.sessions <= 0;
    return model;
}

} // namespace kitround::forecast

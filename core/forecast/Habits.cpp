#include "core/forecast/Habits.h"

#include "core/calendar/DrainCalendar.h"
#include "core/forecast/CountedUse.h"

#include <algorithm>

namespace kitround::forecast {
namespace {

using enum SettingKey;

// As-needed order without a log: half the prescribed maximum, worth a week of log (assumed). Without a
// maximum the order is incomplete; two a week keeps the forecast from reading as "nothing needed" (assumed).
constexpr double kAsNeededPriorDays = 7;
constexpr double kAsNeededSharePrior = 0.5;
constexpr double kAsNeededPerDayWithoutMaximum = 2.0 / 7.0;
// Days of log without a drain beyond the order that one such drain is weighed against (assumed).
constexpr double kBeyondOrderPriorDays = 28;
// Where the caseload drains beyond its orders at least this often a day, any home may come to (assumed);
// worth so many drains: homes are unlike, so few.
constexpr double kCommonBeyondOrder = 0.012;
constexpr double kBeyondOrderPriorDrains = 0.5;
// Before counts tell: of planned drains without an entry, the share done all the same, and the drains that
// belief is worth (assumed).
constexpr double kUnloggedPrior = 0.3;
constexpr double kUnloggedPriorDrains = 3;

bool isInsideLog(const Slot &slot, const LogReading &log) {
    return log.firstEntry && slot.window.from >= *log.firstEntry &&
           slot.window.to <= log.lastEntry->plusDays(1);
}

} // namespace

UnloggedDrains learnUnlogged(const SnapshotIndex &agency, const Catheter &catheter, const DrainOrder &order,
                             double kitsPerSession, const LogReading &log, const Discount &discount) {
    double sessions = 0, silent = 0;
    for (const CountedInterval &i : countedIntervals(agency, catheter, order.kit)) {
        const double w = discount(i.to.date);
        double open = 0;
        for (const Slot &slot : log.slots)
            open +=
                slot.fate == SlotFate::NoEntry && i.from.date <= slot.drain.on && slot.drain.on < i.to.date
                    ? 1.0
                    : 0.0;
        if (open == 0)
            continue; // what such an interval lacks tells of counts and waste, not of drains
        const auto bare = static_cast<double>(i.bare);
        const double beyond = static_cast<double>(i.used - i.logged) / kitsPerSession - bare;
        sessions += w * beyond;
        silent += w * open;
    }
    const double drains = silent + kUnloggedPriorDrains;
    const double done = std::clamp(sessions + kUnloggedPrior * kUnloggedPriorDrains, 0.0, drains);
    return {{done, drains - done}, silent > 0};
}

BetaBelief learnAdherence(const LogReading &log, const AgencySettings &settings, const Discount &discount,
                          const UnloggedDrains &unlogged) {
    const double share = static_cast<double>(settings[AdherencePermille]) / 1000.0;
    const double weight = static_cast<double>(settings[AdherenceWeight]);
    BetaBelief belief{share * weight, (1.0 - share) * weight};
    for (const Slot &slot : log.slots) {
        const double w = discount(slot.drain.on);
        if (slot.fate == SlotFate::Done)
            belief = belief.after(w, 0);
        else if (slot.fate == SlotFate::NotDone)
            belief = belief.after(0, w);
        else if (isInsideLog(slot, log) && unlogged.isSeen)
            belief = belief.after(unlogged.belief.mean() * w, (1.0 - unlogged.belief.mean()) * w);
        else if (isInsideLog(slot, log))
            belief = belief.after(0, kMissedWithoutEntry * w);
    }
    return belief;
}

BetaBelief ahead(const BetaBelief &learned, double steady) {
    const double share = steady / (steady + learned.a + learned.b);
    return {learned.a * share, learned.b * share};
}

RateBelief learnRate(const SnapshotIndex &agency, const Catheter &catheter, const DrainOrder &order,
                     std::span<const Hold *const> holds, const Discount &discount) {
    const double most = calendar::drainsPerDay(order.pattern);
    const double perDay = most > 0 ? kAsNeededSharePrior * most : kAsNeededPerDayWithoutMaximum;
    RateBelief belief{perDay * kAsNeededPriorDays, kAsNeededPriorDays};
    const std::span<const DrainEntry> entries = agency.entriesOf(catheter.id);
    if (entries.empty())
        return belief;
    // Days on which a drain could have been written down: from the order's start to the last entry. After it
    // the log is silent, which says nothing.
    Date from = std::max({order.start, agency.snapshot().logFrom, discount.from()});
    for (Date day = from; day <= entries.back().at.date; ++day)
        if (agency.orderInForce(catheter.id, day) == &order && !calendar::isDrainingPaused(holds, day))
            belief = belief.after(0, discount(day));
    for (const DrainEntry &e : entries)
        if (isDone(e) && e.at.date >= from && agency.orderInForce(catheter.id, e.at.date) == &order)
            belief = belief.after(discount(e.at.date), 0);
    return belief;
}

BetaBelief learnBeyondOrder(const LogReading &log, const Discount &discount, double caseloadPerDay) {
    const bool isCommon = caseloadPerDay >= kCommonBeyondOrder;
    if (!isCommon && log.beyondOrder.size() < 2)
        return {0, 1};
    const double priorDrains = isCommon ? kBeyondOrderPriorDrains : 0;
    double drains = priorDrains, days = isCommon ? priorDrains / caseloadPerDay : kBeyondOrderPriorDays;
    for (const DrainEntry *e : log.beyondOrder)
        drains += discount(e->at.date);
    if (log.firstEntry)
        for (Date day = std::max(*log.firstEntry, discount.from()); day <= *log.lastEntry; ++day)
            days += discount(day);
    return {std::min(drains, days), std::max(days - drains, 0.0)};
}

} // namespace kitround::forecast

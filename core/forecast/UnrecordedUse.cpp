#include "core/forecast/UnrecordedUse.h"

#include "core/forecast/SessionCounts.h"

#include <algorithm>

namespace kitround::forecast {

UnrecordedSessions unrecordedSince(const HomeQuestion &home, ItemId item, Date from,
                                   std::optional<LocalTime> countedAt) {
    UnrecordedSessions found;
    const Date logEnds = home.day(0).on; // the silent days begin
    for (const Slot &slot : home.log.slots)
        if (slot.fate == SlotFate::NoEntry && slot.drain.on >= from && slot.window.to <= logEnds &&
            slot.drain.order && slot.drain.order->uses(item))
            ++found.possible;
    for (const DrainEntry &entry : home.agency->entriesOf(home.catheter->id)) {
        if (!isDone(entry) || !entry.supplies.empty() || entry.at.date > home.agency->snapshot().asOf ||
            (countedAt ? entry.at <= *countedAt : entry.at.date < from))
            continue;
        const DrainOrder *order = home.agency->orderInForce(home.catheter->id, entry.at.date);
        if (order && order->uses(item))
            ++found.certain;
    }
    return found;
}

void unrecordedRow(const UnrecordedSessions &sessions, const BetaBelief &doneUnlogged,
                   std::vector<double> &to) {
    RowTable rows;
    addBetaBinomialRows(doneUnlogged, sessions.possible, rows);
    const RowTable::Row possible = rows[sessions.possible];
    to.assign(sessions.certain + possible.end(), 0.0);
    std::ranges::copy(possible.p,
                      to.begin() + static_cast<std::ptrdiff_t>(sessions.certain + possible.least));
}

Pmf unitsOfSessions(std::span<const double> sessions, const Pmf &perSession) {
    std::vector<Pmf> sums{Pmf()};
    while (sums.size() < sessions.size())
        sums.push_back(sums.back().plus(perSession));
    return Pmf::mixture(sums, sessions);
}

} // namespace kitround::forecast

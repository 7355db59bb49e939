#pragma once
// What the ledger cannot know of the days that the log covers: drains that no entry stands for and that were
// done all the same, and entries that name no supplies. The shelf at home knows of them; a forecast that
// takes the ledger at its word finds homes empty that it thought well supplied.
#include "core/forecast/HomeQuestion.h"

#include <vector>

namespace kitround::forecast {

struct UnrecordedSessions {
    std::size_t certain = 0;  // done entries that name no supplies at all
    std::size_t possible = 0; // planned drains without an entry, whose days are over
};
// Under orders that use the item, from what the ledger starts from (a count: its very moment, else the day
// `from`): planned drains to the last day of the log, entries until today.
UnrecordedSessions unrecordedSince(const HomeQuestion &home, ItemId item, Date from,
                                   std::optional<LocalTime> countedAt);
// P(n such sessions), n = 0, 1, ..: those that are certain, and a Beta-binomial number of the possible ones
// (SessionCounts.h). `to` is overwritten.
void unrecordedRow(const UnrecordedSessions &sessions, const BetaBelief &doneUnlogged,
                   std::vector<double> &to);
// Units of so many sessions: sum over n of P(n) x perSession added up n times.
Pmf unitsOfSessions(std::span<const double> sessions, const Pmf &perSession);

} // namespace kitround::forecast

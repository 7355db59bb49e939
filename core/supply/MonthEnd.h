#pragma once
// The supply books of a month, made from the ledger: the sums of what moved and what stood at both ends. See
// records/MonthClose.h for what each figure means.
#include "core/records/Snapshot.h"

#include <span>
#include <vector>

namespace kitround::supply {

struct MonthQuestion {
    Date month;                            // its first day
    std::span<const MovementSum> flows;    // of the month's days
    std::span<const StockBalance> opening; // at the end of the day before
    std::span<const StockBalance> closing; // at the end of its last day
};
struct Untied { // the movements do not lead from the opening to what the ledger says
    ItemId item;
    Eaches books, ledger;
    friend bool operator==(const Untied &, const Untied &) = default;
};
struct MonthBooks {
    MonthClose close; // not stored; lines by item
    std::vector<Untied> untied;
};
// Items that stood, moved, or are used at a home. Movements within the agency's own stock change nothing;
// one back from the outside is taken off its own figure. Prices by MonthClose.h's PriceSource.
MonthBooks monthBooks(const SnapshotIndex &agency, const MonthQuestion &question);

// Days of the month on which patients were on service (from start of care to the day before the exit), days
// of holds taken out unless the home drained on.
std::int64_t patientDays(const SnapshotIndex &agency, Date month);

// The last price paid for the item on or before the day, by the order of the newest receipt; else today's
// best offer.
struct CasePrice {
    Money perCase;
    PackSize pack;
    PriceSource source = PriceSource::None;
};
CasePrice casePriceOn(const SnapshotIndex &agency, ItemId item, Date day);

// Eaches of the line in money, rounded to the minor unit.
Money valueOf(const MonthLine &line, Eaches eaches);
struct MonthTotals {
    Money opening, received, returned, issued, wasted, adjusted, closing, expired, expiredOnHand;
    std::int64_t homeUsed = 0, issuedEaches = 0, wastedEaches = 0; // wasted: with us and in homes
};
MonthTotals totalsOf(const MonthClose &close);
// (wasted with us and in homes, the expired among it) / issued to homes, of eaches; none where nothing was
// issued.
std::optional<double> spoilageOf(const MonthTotals &totals);
// Used in homes a patient-day; none where nobody was on service.
std::optional<double> usePerPatientDay(const MonthClose &close, Eaches used);

} // namespace kitround::supply

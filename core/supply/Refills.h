#pragma once
// When each home needs its next refill and how much: a call list with dates, never a shipment. Quantity
// covers the need to the usual next delivery (the first possible after the cycle) at the run-out target, in
// whole cases or eaches as the item says, within the payer's and the agency's days held, and not beyond what
// a tapering or leaving patient will use.
#include "core/forecast/HomeForecast.h"
#include "core/records/Snapshot.h"
#include "core/supply/DeliveryDays.h"
#include "core/supply/ItemFit.h"
#include "core/supply/RefillQuantity.h"

#include <optional>
#include <span>
#include <vector>

namespace kitround::supply {

// Overdue: no delivery possible from now on keeps the chance of a dry home at the target. CallToday: the last
// day to call is today or tomorrow (one unanswered call must not empty a home), or the stock is unknown.
// CallSoon: within the week after. Nobody is called before the payer's first day of contact.
enum class RefillUrgency : std::uint8_t { Overdue, CallToday, CallSoon, Later };

struct RefillLine {
    CatheterId catheter;
    ItemId item;
    Eaches onHand;
    Eaches recalled; // of those, at most: of a recalled lot, not counted on
    Eaches expired;  // of those, besides: past its last day, not counted on
    Eaches coming;   // in transit and promised
    Eaches quantity;
    Eaches exactNeed;               // before rounding and caps
    std::optional<Eaches> mostHeld; // the most the days held allow to be sent; of a stand-in nobody can say
    RefillLimit limitedBy = RefillLimit::None;
    double chanceDryBefore = 0;     // before the proposed delivery day, if delivered then
    double chanceDryIfNot = 0;      // before the next possible delivery after that, if nothing is sent
    double daysCovered = 0;         // from the delivery on, with what is left then: by the plain rule, or
    bool coversByMean = false;      // by the mean use where an as-needed order has no plain rule
    std::optional<Date> supplyEnds; // plain rule
    Date deliverFrom;               // the payer's first day for it
    bool stockIsUnknown = false;    // quantity as for an empty home: count first
    std::optional<ItemId> substituteFor; // this line stands in for that item
    bool needsRecord = false;            // and nobody has recorded it for that day: it will not be picked
    // Where a recorded substitution ends before the delivery after this one, the need is parted at that day.
    std::optional<Date> onlyUntil; // what stands in: for the drains before that day
    std::optional<Date> onlyFrom;  // what is ordered: for those from that day on
    std::optional<Date> nextOn;    // of the next possible delivery after this one, where there is any
};
// An item that is needed but may not go to this person: no line is proposed, a nurse or the prescriber
// decides.
struct BarredLine {
    CatheterId catheter;
    ItemId item;
    Bar why;
    friend bool operator==(const BarredLine &, const BarredLine &) = default;
};
struct RefillProposal {
    PatientId patient;
    RefillUrgency urgency = RefillUrgency::Later;
    std::optional<Date> supplyEnds;   // earliest of the lines, plain rule
    std::optional<Date> runOutP10;    // earliest of the lines, what is promised counted
    Date callFrom;                    // earliest contact the payer allows
    Date callBy;                      // latest contact that still makes the delivery
    Date deliverFrom;                 // earliest delivery the payer allows
    std::optional<DeliveryDay> first; // first possibility that the payer allows; none where none is known
    Date deliverBy;                   // so that the run-out target holds
    Date deliverOn;                   // proposed day: a courier day or a planned visit's day
    DeliveryWay way = DeliveryWay::Courier;
    std::optional<VisitId> withVisit;
    std::vector<RefillLine> lines;
    std::vector<BarredLine> barred;
    bool stockIsUnknown = false; // of a line at least: ask for a count first
    bool payerRuleBinds = false; // a day before deliverBy exists, but the payer's first day is later
    bool hasNoWay = false;       // no courier and no planned visit: deliverOn is only a wish
};
// One proposal a patient who needs one within the horizon of the forecasts; on hold, exited, and already
// promised need none (or less). A home whose first delivery has not come yet has none (see StartUps). By
// urgency, then deliverBy, then patient. Delivery: the latest possible day up to deliverBy; a planned visit
// at most a week before that goes first, since it costs no run. Where no day holds the target, the earliest
// possible one that the payer allows. Always callFrom <= callBy <= deliverOn and deliverFrom <= deliverOn;
// an empty home has no window to wait for. Next delivery after: the first courier day after the payer's most
// days held (30 where no payer is on record). Storeroom: deliveries that nothing ordered today could serve
// (within LeadDays) share out what is free and what arrives before, by urgency; what is missing comes as a
// substitute where the order allows, else the line is cut (StoreroomShort). While a substitution is in force,
// what stands in is sent for the drains before it goes back, without spare and in whole drains. What is
// ordered for those from then on goes with it only where no later day that the payer allows could bring it
// before; nothing stands in for that. Forecasts must have kept their cumulated distributions.
std::vector<RefillProposal> proposeRefills(const SnapshotIndex &agency,
                                           std::span<const forecast::ItemForecast> forecasts);

// A line of a promise that is more than was offered, and passes what the home may hold, what the storeroom
// has free by that day (StoreroomShare), or twice the offer (assumed): it needs a person's reason.
struct OverOffer {
    std::size_t line = 0; // of the delivery's
    ItemId item;
    Eaches wanted, offered;
    std::optional<Eaches> mostHeld; // where it passes that
    std::optional<Eaches> free;     // of all lines of the item together, where they pass that
};
std::vector<OverOffer> overOffer(const SnapshotIndex &agency, const RefillProposal &offer,
                                 const Delivery &wanted);

} // namespace kitround::supply

#pragma once
// When each home needs its next refill and how much: a call list with dates, never a shipment. Quantity covers
// the need to the next possible delivery at the run-out target, in whole cases or eaches as the item says, within
// the payer's and the agency's days held, and not beyond what a tapering or leaving patient will use.
#include "core/forecast/HomeForecast.h"
#include "core/records/Snapshot.h"

#include <optional>
#include <span>
#include <vector>

namespace kitround::supply {

enum class RefillUrgency : std::uint8_t { Overdue, CallToday, CallSoon, Later };
enum class RefillLimit : std::uint8_t { None, DaysHeld, CasePack, StoreroomShort, Expiry };

struct RefillLine {
    CatheterId catheter;
    ItemId item;
    Eaches onHand;
    Eaches quantity;
    Eaches exactNeed;       // before rounding and caps
    RefillLimit limitedBy = RefillLimit::None;
    double chanceDryBefore = 0; // before the proposed delivery day, if delivered then
    double chanceDryIfNot = 0;  // before the delivery after that, if nothing is sent
    double daysCovered = 0;     // by the plain rule, after delivery
    std::optional<ItemId> substituteFor; // this line stands in for that item
};
struct RefillProposal {
    PatientId patient;
    RefillUrgency urgency = RefillUrgency::Later;
    std::optional<Date> supplyEnds;   // earliest of the lines, plain rule
    std::optional<Date> runOutP10;    // earliest of the lines
    Date callFrom;                    // earliest contact the payer allows
    Date callBy;                      // latest contact that still makes the delivery
    Date deliverFrom;                 // earliest delivery the payer allows
    Date deliverBy;                   // so that the run-out target holds
    Date deliverOn;                   // proposed day: a courier day or a planned visit's day
    DeliveryWay way = DeliveryWay::Courier;
    std::optional<VisitId> withVisit;
    std::vector<RefillLine> lines;
    bool stockIsUnknown = false;      // ask for a count first
};
// One proposal a patient who needs one within the horizon of the forecasts; on hold, exited, and already
// promised need none (or less). By urgency, then deliverBy.
std::vector<RefillProposal> proposeRefills(const SnapshotIndex &agency,
                                           std::span<const forecast::ItemForecast> forecasts);

} // namespace kitround::supply

#pragma once
// What falls due, place by place: how much of each lot is expected to be used before its last day of use, how
// much of it is lost, and what to do. Proposals for a person. Stock of a home is the patient's and never goes
// to another home (common practice): only storeroom and car lots are ever proposed for a home.
//
// Storeroom: a lot is given out until `least life to homes` days before its last day (to its last day where
// somebody put it first), soonest first; demand is the storeroom's own (Storeroom.h). Home: the forecast use
// up to the last day, oldest first, of what is left of its lots (safety/ExpiredStock). Car and quarantine:
// nothing is planned from there, so nothing is expected to be used.
#include "core/supply/HomeLine.h"
#include "core/supply/Lots.h"

#include <optional>
#include <span>
#include <vector>

namespace kitround::supply {

// Days before the last day of use by which the list is cut, shortest first, none twice.
std::vector<int> expiryBands(const AgencySettings &settings);
// Less than half an each expected to be lost is no loss.
inline constexpr double kLeastWaste = 0.5;

// UseHere: it will be used where it stands, oldest first. SendLess: at a home, more than it will use: send
// less next time. PutFirst: give it out before the others. SendHome: a home named would use it in time, by a
// refill it says yes to. BringBack: from the car to the storeroom, which uses it. ReturnToSupplier: ask.
// KeepToTheEnd: nobody can use all of it; what is left is discarded after the last day. Discard: past its
// last day.
enum class ExpiryMove : std::uint8_t {
    UseHere,
    SendLess,
    PutFirst,
    SendHome,
    BringBack,
    ReturnToSupplier,
    KeepToTheEnd,
    Discard
};
struct ExpiryLine {
    ExpiringLot at;
    int band = 0; // least of expiryBands that holds the days left; 0: past its last day
    LotState state = LotState::Usable;
    bool isPickedFirst = false;
    double expectedUse = 0; // eaches, before the last day
    double expectedWaste = 0;
    Money wasteValue; // at today's best case price; nothing where nobody sells the item
    ExpiryMove move = ExpiryMove::UseHere;
    std::optional<PatientId> home; // PutFirst, SendHome: who would use most of it in time
    Eaches homeTakes;              // beyond what that home has
};
// Soonest first. Parcels under way are left out: they are for a home. Forecasts must have kept their
// cumulated distributions.
std::vector<ExpiryLine> expiryList(const SnapshotIndex &agency,
                                   std::span<const forecast::ItemForecast> forecasts);

} // namespace kitround::supply

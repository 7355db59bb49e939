#pragma once
// First deliveries: new catheters on service at whose home nothing was ever delivered, counted or drained.
// What the order asks for (never what is usual), for the days of the setting StarterDays from the first drain
// on, there before that drain.
#include "core/forecast/HomeForecast.h"
#include "core/supply/ItemFit.h"

#include <optional>
#include <span>
#include <vector>

namespace kitround::supply {

struct StartUpLine {
    ItemId item;
    Eaches quantity;        // the plain rule's use of the starter days, in whole cases where the item goes so
    std::optional<Bar> bar; // it may not go to this person
    std::vector<ItemId> wouldFit; // of a barred item: others of its kind and bottle size; the order decides
};
// NoOrder: nothing can be chosen. NoMaximum: as needed without a maximum a day or week; the quantity is the
// nurse's to say. BarredItem: a line does not fit. NoWay: no courier and no visit before the first drain.
enum class StartUpGap : std::uint8_t { NoOrder, NoMaximum, BarredItem, NoWay };
struct StartUp {
    PatientId patient;
    CatheterId catheter;
    std::vector<StartUpLine> lines;
    std::optional<Date> firstDrain; // by the order, holds looked at
    std::optional<Date> deliverOn;  // last day before the first drain, a visit's day before a courier's
    bool isLate = false;            // nothing comes before the first drain; the earliest day is proposed
    DeliveryWay way = DeliveryWay::Courier;
    std::optional<VisitId> visit;
    std::vector<StartUpGap> gaps;
};
// Nothing was ever delivered, counted or drained at the catheter's home; a promise alone is no delivery.
bool awaitsFirstDelivery(const SnapshotIndex &agency, const Catheter &catheter);
// The home has had to drain for more than a week already (catheter, care and an order are older): supplies
// came from somewhere, whatever is on record, as where an agency begins with this program. It is counted
// first.
bool isInUse(const SnapshotIndex &agency, const Catheter &catheter);
// Promised, packed or under way to that home.
bool isOnItsWay(const SnapshotIndex &agency, const Catheter &catheter);
// By first drain, those without an order last.
std::vector<StartUp> startUps(const SnapshotIndex &agency, std::span<const forecast::ItemForecast> forecasts);
// The delivery it makes, lines that fit with a quantity only.
Delivery deliveryFor(const StartUp &start);
// More of an item than the starter set has, or an item that is not in it: a reason is owed.
bool isMoreThanStarter(const StartUp &start, const Delivery &wanted);
// Not there before the first drain although it could be: a reason is owed.
bool comesAfterFirstDrain(const StartUp &start, const Delivery &wanted);

} // namespace kitround::supply

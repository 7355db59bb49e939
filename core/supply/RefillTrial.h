#pragma once
// A line of a proposed refill tried on another day or in another quantity: which rules that would break, by
// the rules that made the proposal (RefillNeeds, DeliveryDays, StoreroomShare). Nothing is promised by it.
#include "core/supply/DeliveryDays.h"
#include "core/supply/RefillNeeds.h"
#include "core/supply/Refills.h"
#include "core/supply/StoreroomShare.h"

namespace kitround::supply {

struct Shipment {
    Date on;
    Eaches quantity;
    friend bool operator==(const Shipment &, const Shipment &) = default;
};

// PayerTooEarly: before the first day the payer allows. OnHold, Holiday, TooSoon (for the courier) and
// NoDelivery: nothing can reach the home that day. TooLate: after the day that keeps the run-out target.
// DaysHeld: the home would hold more than it may. Storeroom, ShortDated: not that many are free by then, or
// not with life enough; only of deliveries that nothing ordered today could serve.
enum class TrialRule : std::uint8_t {
    PayerTooEarly,
    OnHold,
    Holiday,
    TooSoon,
    NoDelivery,
    TooLate,
    DaysHeld,
    Storeroom,
    ShortDated
};
struct TrialBreak {
    TrialRule rule = TrialRule::NoDelivery;
    std::optional<Date> date;   // the nearest that would do; none where none is known
    std::optional<Eaches> most; // of the rules of quantity
    friend bool operator==(const TrialBreak &, const TrialBreak &) = default;
};

class RefillTrial {
public:
    // Borrows all; the forecast is the line's and has kept its cumulated distributions.
    RefillTrial(const SnapshotIndex &agency, const RefillProposal &proposal, const RefillLine &line,
                const forecast::ItemForecast &forecast);

    // What stands in for the item, or goes before it in the same delivery, is not moved by a line alone; and
    // of an unknown stock nothing can be told.
    bool isMovable() const;
    Shipment proposed() const { return {proposal_.deliverOn, line_.quantity}; }
    Date lastDay() const; // of the forecast
    // Quantities go by the case where the item is sent so, else by the each, and always through the proposed
    // one; never below the smallest.
    Eaches stepped(Eaches quantity, std::int64_t steps) const;
    Eaches nearest(Eaches wanted) const;

    std::vector<TrialBreak> breaks(const Shipment &shipment) const;
    // Days covered from the delivery on, as the proposal counts them.
    double daysHeld(const Shipment &shipment) const;
    Days mostDaysHeld() const { return terms_.payer.mostDaysHeld; }
    // The delivery after that one.
    Date nextAfter(Date delivery) const;

private:
    std::int64_t pack() const;
    std::int64_t daysTo(Date on) const { return (on - agency_.snapshot().asOf).count(); }
    std::optional<TrialBreak> noWay(Date on) const;
    std::optional<TrialBreak> tooMuchHeld(const Shipment &shipment) const;
    std::optional<TrialBreak> notThere(const Shipment &shipment) const;

    const SnapshotIndex &agency_;
    const RefillProposal &proposal_;
    const RefillLine &line_;
    const Patient &patient_;
    const Item &item_;
    RefillTerms terms_;
    HomeLine home_;
    CourierCalendar courier_;
    StoreroomShare share_;
    std::vector<DeliveryDay> days_;
    std::optional<Date> earliest_; // by the payer
};

} // namespace kitround::supply

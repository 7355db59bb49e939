#pragma once
// A line of a proposed refill tried on another day or in another quantity: which rules that would break, by
// the rules that made the proposal (RefillNeeds, DeliveryDays, StoreroomShare). On another day the whole
// parcel comes, so its other lines are judged then as well. Nothing is promised by it.
#include "core/supply/DeliveryDays.h"
#include "core/supply/RefillNeeds.h"
#include "core/supply/Refills.h"
#include "core/supply/StoreroomShare.h"

#include <span>

namespace kitround::supply {

struct Shipment {
    Date on;
    Eaches quantity;
    friend bool operator==(const Shipment &, const Shipment &) = default;
};

// PayerTooEarly: before the first day the payer allows. ContactTooEarly: the home would have to be asked
// before the first day of contact the payer allows. OnHold, Holiday, TooSoon (for the courier) and
// NoDelivery: nothing can reach the home that day. TooLate: after the day that keeps the run-out target.
// DaysHeld: the home would hold more than it may. Taper: more than a home that uses less than was ordered
// will use until the delivery after. Storeroom, ShortDated: not that many are left by then of what the
// proposals served before do not have, or not with life enough; only of deliveries that nothing ordered today
// could serve.
enum class TrialRule : std::uint8_t {
    PayerTooEarly,
    ContactTooEarly,
    OnHold,
    Holiday,
    TooSoon,
    NoDelivery,
    TooLate,
    DaysHeld,
    Taper,
    Storeroom,
    ShortDated
};
struct TrialBreak {
    TrialRule rule = TrialRule::NoDelivery;
    std::optional<Date> date;   // the nearest that would do; none where none is known
    std::optional<Eaches> most; // of the rules of quantity
    // The rule is broken by that line of the proposal, which comes along; none: by the one that is tried.
    std::optional<std::size_t> otherLine = std::nullopt;
    friend bool operator==(const TrialBreak &, const TrialBreak &) = default;
};

class RefillTrial {
public:
    // Borrows all. `proposals`: in the order in which they were served; `proposal` is one of them, `line` one
    // of its lines. The forecasts of its lines are among those given, and have kept their cumulated
    // distributions.
    RefillTrial(const SnapshotIndex &agency, std::span<const RefillProposal> proposals,
                const RefillProposal &proposal, const RefillLine &line,
                std::span<const forecast::ItemForecast> forecasts);

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
    // What the lines of the parcel break on that day in these quantities, one a line of the proposal; each is
    // named as `otherLine`. As proposed nothing is questioned.
    std::vector<TrialBreak> lineBreaks(Date on, const std::vector<Eaches> &quantities) const;
    // Days covered from the delivery on, as the proposal counts them.
    double daysHeld(const Shipment &shipment) const;
    bool coversByMean() const { return !home().hasPlainRule(); }
    // The most that may be sent that day for the days a home may hold, beside the other lines of the parcel;
    // nothing where no use is known.
    std::optional<Eaches> mostHeld(const Shipment &shipment) const;
    Days mostDaysHeld() const { return terms_.payer.mostDaysHeld; }
    // The delivery after that one.
    Date nextAfter(Date delivery) const;

private:
    // A line of the parcel as the rules look at it.
    struct Part {
        const RefillLine *line = nullptr;
        std::optional<HomeLine> home; // of the item that was ordered; none where nothing is reckoned
        std::optional<Date> earliest; // by the payer
    };
    std::vector<Part> partsOf(std::span<const forecast::ItemForecast> forecasts) const;
    const HomeLine &home() const { return *parts_.at(own_).home; }
    std::int64_t pack() const;
    std::int64_t daysTo(Date on) const { return (on - agency_.snapshot().asOf).count(); }

    struct Parcel {
        Date on;
        std::vector<Eaches> quantities; // one a line
    };
    Parcel parcelOf(const Shipment &tried) const; // the other lines as proposed
    std::optional<TrialBreak> noWay(Date on) const;
    // What one of the parcel's lines breaks when it is so.
    std::vector<TrialBreak> breaksOf(std::size_t part, const Parcel &tried) const;
    // What a home may hold of a line, and what others like it bring; nothing where nobody can say.
    struct Room {
        RefillNeed need;
        Eaches others;
    };
    std::optional<Room> roomFor(std::size_t part, const Parcel &tried) const;
    std::vector<TrialBreak> tooMuch(std::size_t part, const Parcel &tried) const;
    std::optional<TrialBreak> notThere(std::size_t part, const Parcel &tried) const;
    // What the lines like this one that are not it bring; nothing where one of them was judged before it, and
    // its sum with it.
    template <class Like>
    std::optional<Eaches> besides(std::size_t part, const Parcel &tried, Like isLike) const;

    const SnapshotIndex &agency_;
    const RefillProposal &proposal_;
    const RefillLine &line_;
    const std::size_t own_; // of the proposal's lines
    const Patient &patient_;
    const Item &item_;
    RefillTerms terms_;
    std::vector<Part> parts_; // one a line
    CourierCalendar courier_;
    StoreroomShare share_;
    std::vector<DeliveryDay> days_;
};

} // namespace kitround::supply

#include "core/supply/RefillTrial.h"

#include <algorithm>
#include <cstdlib>

namespace kitround::supply {

RefillTrial::RefillTrial(const SnapshotIndex &agency, const RefillProposal &proposal, const RefillLine &line,
                         const forecast::ItemForecast &forecast)
    : agency_(agency), proposal_(proposal), line_(line), patient_(*agency.patient(proposal.patient)),
      item_(*agency.item(line.item)), terms_(refillTermsOf(agency, patient_)),
      home_(forecast, agency.snapshot().asOf),
      courier_(agency.snapshot().settings, agency.snapshot().now, Days::of(home_.horizon())), share_(agency),
      days_(deliveryDays(agency, patient_, courier_, lastDay().plusDays(14))),
      earliest_(earliestDelivery(home_, home_.isKnown() ? home_.supplyEnds() : std::nullopt, terms_,
                                 agency.snapshot().asOf)) {}

bool RefillTrial::isMovable() const {
    const auto isAnother = [&](const RefillLine &other) {
        return other.catheter == line_.catheter && &other != &line_ &&
               (other.item == line_.item || other.substituteFor == line_.item);
    };
    return home_.isKnown() && line_.quantity.count() > 0 && !line_.substituteFor &&
           std::ranges::none_of(proposal_.lines, isAnother);
}

Date RefillTrial::lastDay() const {
    return agency_.snapshot().asOf.plusDays(home_.horizon() - 1);
}

std::int64_t RefillTrial::pack() const {
    return item_.sendWholeCases ? std::max<std::int64_t>(item_.casePack.eachesPerCase.count(), 1) : 1;
}

Eaches RefillTrial::stepped(Eaches quantity, std::int64_t steps) const {
    std::int64_t at = quantity.count();
    const std::int64_t own = line_.quantity.count();
    for (; steps > 0; --steps) {
        const std::int64_t next = (at / pack() + 1) * pack();
        at = at < own && own < next ? own : next;
    }
    for (; steps < 0; ++steps) {
        const std::int64_t next = (at - 1) / pack() * pack();
        at = next < own && own < at ? own : next;
    }
    return Eaches::of(std::max(at, std::min(pack(), own)));
}

Eaches RefillTrial::nearest(Eaches wanted) const {
    const std::int64_t steps = (wanted.count() + pack() / 2) / pack();
    const Eaches whole = Eaches::of(std::max<std::int64_t>(steps, 1) * pack());
    const auto far = [&](Eaches quantity) { return std::abs((quantity - wanted).count()); };
    return far(line_.quantity) <= far(whole) ? line_.quantity : whole;
}

Date RefillTrial::nextAfter(Date delivery) const {
    return nextDeliveryAfter(delivery, patient_, terms_, courier_);
}

double RefillTrial::daysHeld(const Shipment &shipment) const {
    return daysCoveredBy(home_, daysTo(shipment.on), Eaches::of(home_.stock()), shipment.quantity);
}

std::vector<TrialBreak> RefillTrial::breaks(const Shipment &shipment) const {
    std::vector<TrialBreak> found;
    if (!earliest_ || shipment.on < *earliest_)
        found.push_back({TrialRule::PayerTooEarly, earliest_, std::nullopt});
    if (const auto none = noWay(shipment.on))
        found.push_back(*none);
    if (shipment.on > proposal_.deliverBy)
        found.push_back({TrialRule::TooLate, proposal_.deliverBy, std::nullopt});
    if (const auto held = tooMuchHeld(shipment))
        found.push_back(*held);
    if (const auto lacking = notThere(shipment))
        found.push_back(*lacking);
    return found;
}

std::optional<TrialBreak> RefillTrial::noWay(Date on) const {
    const auto next = std::ranges::find_if(days_, [&](const DeliveryDay &day) { return day.on >= on; });
    if (next != days_.end() && next->on == on)
        return std::nullopt;
    TrialBreak none;
    if (next != days_.end())
        none.date = next->on;
    if (agency_.holdOn(patient_.id, on))
        none.rule = TrialRule::OnHold;
    else if (isHoliday(agency_.snapshot().settings, on))
        none.rule = TrialRule::Holiday;
    else if (patient_.allowsCourier && courier_.runsOn(on))
        none.rule = TrialRule::TooSoon;
    return none;
}

// As the quantity rule has it for that day.
std::optional<TrialBreak> RefillTrial::tooMuchHeld(const Shipment &shipment) const {
    const RefillNeed need = refillNeedOn(home_, item_, terms_, agency_.snapshot().settings,
                                         daysTo(shipment.on), daysTo(nextAfter(shipment.on)));
    const auto most = mostByDaysHeld(need);
    if (!most || shipment.quantity <= *most)
        return std::nullopt;
    return TrialBreak{TrialRule::DaysHeld, std::nullopt, most};
}

// What other lines of the same delivery take is not free for this one.
std::optional<TrialBreak> RefillTrial::notThere(const Shipment &shipment) const {
    if (!share_.isSoon(shipment.on))
        return std::nullopt;
    Eaches others;
    for (const RefillLine &other : proposal_.lines)
        if (&other != &line_ && other.item == line_.item)
            others += other.quantity;
    const auto isBelow = [&](Eaches there) { return shipment.quantity + others > there; };
    const auto broken = [&](TrialRule rule, Eaches there) {
        return TrialBreak{rule, std::nullopt, std::max(there - others, Eaches{})};
    };
    if (const Eaches there = share_.available(line_.item, shipment.on); isBelow(there))
        return broken(TrialRule::Storeroom, there);
    if (const Eaches there = share_.longDated(line_.item, shipment.on); isBelow(there))
        return broken(TrialRule::ShortDated, there);
    return std::nullopt;
}

} // namespace kitround::supply

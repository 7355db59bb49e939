#include "core/supply/RefillTrial.h"

#include "core/base/Require.h"
#include "core/supply/PromisedDay.h"

#include <algorithm>
#include <cstdlib>
#include <iterator>

namespace kitround::supply {

RefillTrial::RefillTrial(const SnapshotIndex &agency, std::span<const RefillProposal> proposals,
                         const RefillProposal &proposal, const RefillLine &line,
                         std::span<const forecast::ItemForecast> forecasts)
    : agency_(agency), proposal_(proposal), line_(line),
      own_(static_cast<std::size_t>(&line - proposal.lines.data())),
      patient_(*agency.patient(proposal.patient)), item_(*agency.item(line.item)),
      terms_(refillTermsOf(agency, patient_)), parts_(partsOf(forecasts)),
      courier_(agency.snapshot().settings, agency.snapshot().now, Days::of(home().horizon())),
      share_(shareBefore(agency, proposals, proposal)),
      days_(deliveryDays(agency, patient_, courier_, lastDay().plusDays(14))) {}

std::vector<RefillTrial::Part> RefillTrial::partsOf(std::span<const forecast::ItemForecast> forecasts) const {
    const Date today = agency_.snapshot().asOf;
    std::vector<Part> parts;
    for (const RefillLine &line : proposal_.lines) {
        Part &part = parts.emplace_back(Part{&line, std::nullopt, today});
        const ItemId ordered = line.substituteFor.value_or(line.item);
        const auto found = std::ranges::find_if(forecasts, [&](const forecast::ItemForecast &f) {
            return f.catheter == line.catheter && f.item == ordered;
        });
        if (found == forecasts.end())
            continue;
        const HomeLine &home = part.home.emplace(*found, today);
        part.earliest =
            earliestDelivery(home, home.isKnown() ? home.supplyEnds() : std::nullopt, terms_, today);
    }
    KITROUND_REQUIRE(own_ < parts.size() && parts[own_].home);
    return parts;
}

bool RefillTrial::isMovable() const {
    const auto isAnother = [&](const RefillLine &other) {
        return other.catheter == line_.catheter && &other != &line_ &&
               (other.item == line_.item || other.substituteFor == line_.item);
    };
    return home().isKnown() && line_.quantity.count() > 0 && !line_.substituteFor &&
           std::ranges::none_of(proposal_.lines, isAnother);
}

Date RefillTrial::lastDay() const {
    return agency_.snapshot().asOf.plusDays(home().horizon() - 1);
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
    return daysCoveredBy(home(), daysTo(shipment.on), Eaches::of(home().stock()), shipment.quantity);
}

std::optional<Eaches> RefillTrial::mostHeld(const Shipment &shipment) const {
    const auto room = roomFor(own_, parcelOf(shipment));
    const auto most = room ? mostByDaysHeld(room->need) : std::nullopt;
    return most ? std::optional(std::max(*most - room->others, Eaches{})) : std::nullopt;
}

std::vector<TrialBreak> RefillTrial::breaks(const Shipment &shipment) const {
    const Parcel tried = parcelOf(shipment);
    std::vector<TrialBreak> found;
    if (const auto none = noWay(shipment.on))
        found.push_back(*none);
    if (shipment.on > proposal_.deliverBy)
        found.push_back({TrialRule::TooLate, proposal_.deliverBy, std::nullopt});
    const auto judge = [&](std::size_t part) {
        std::ranges::copy(breaksOf(part, tried), std::back_inserter(found));
    };
    judge(own_);
    if (shipment.on == proposal_.deliverOn)
        return found;
    for (std::size_t part = 0; part < parts_.size(); ++part)
        if (part != own_)
            judge(part);
    return found;
}

std::vector<TrialBreak> RefillTrial::lineBreaks(Date on, const std::vector<Eaches> &quantities) const {
    KITROUND_REQUIRE(quantities.size() == parts_.size());
    std::vector<TrialBreak> found;
    const auto judge = [&](std::size_t part) {
        const bool isAsProposed =
            on == proposal_.deliverOn && quantities[part] == parts_[part].line->quantity;
        if (isAsProposed || quantities[part].count() <= 0)
            return;
        for (TrialBreak &rule : breaksOf(part, {on, quantities})) {
            rule.otherLine = part;
            found.push_back(rule);
        }
    };
    judge(own_);
    for (std::size_t part = 0; part < parts_.size(); ++part)
        if (part != own_)
            judge(part);
    return found;
}

RefillTrial::Parcel RefillTrial::parcelOf(const Shipment &tried) const {
    Parcel parcel{tried.on, {}};
    for (const Part &part : parts_)
        parcel.quantities.push_back(part.line->quantity);
    parcel.quantities[own_] = tried.quantity;
    return parcel;
}

std::vector<TrialBreak> RefillTrial::breaksOf(std::size_t part, const Parcel &tried) const {
    std::vector<TrialBreak> found;
    const std::optional<Date> earliest = parts_[part].earliest;
    if (!earliest || tried.on < *earliest)
        found.push_back({TrialRule::PayerTooEarly, earliest, std::nullopt});
    std::ranges::copy(tooMuch(part, tried), std::back_inserter(found));
    if (const auto lacking = notThere(part, tried))
        found.push_back(*lacking);
    if (part != own_)
        for (TrialBreak &rule : found)
            rule.otherLine = part;
    return found;
}

std::optional<TrialBreak> RefillTrial::noWay(Date on) const {
    if (const auto none = noDeliveryOn(agency_, patient_, courier_, days_, on))
        return none;
    return askedTooEarly(days_, on, proposal_.callFrom);
}

template <class Like>
std::optional<Eaches> RefillTrial::besides(std::size_t part, const Parcel &tried, Like isLike) const {
    Eaches others;
    for (std::size_t other = 0; other < parts_.size(); ++other) {
        if (other == part || !isLike(*parts_[other].line))
            continue;
        if (part != own_ && (other == own_ || other < part))
            return std::nullopt;
        others += tried.quantities[other];
    }
    return others;
}

// As the quantity rule has it for that day. Of what stands in, and of an unknown stock, nobody can say.
std::optional<RefillTrial::Room> RefillTrial::roomFor(std::size_t part, const Parcel &tried) const {
    const RefillLine &line = *parts_[part].line;
    const std::optional<HomeLine> &home = parts_[part].home;
    const Item *item = agency_.item(line.item);
    if (!item || !home || !home->isKnown() || line.substituteFor)
        return std::nullopt;
    const auto others = besides(part, tried, [&](const RefillLine &other) {
        return other.catheter == line.catheter && other.item == line.item && !other.substituteFor;
    });
    if (!others)
        return std::nullopt;
    return Room{refillNeedOn(*home, *item, terms_, agency_.snapshot().settings, daysTo(tried.on),
                             daysTo(nextAfter(tried.on))),
                *others};
}

std::vector<TrialBreak> RefillTrial::tooMuch(std::size_t part, const Parcel &tried) const {
    const auto room = roomFor(part, tried);
    if (!room)
        return {};
    std::vector<TrialBreak> found;
    const auto check = [&](TrialRule rule, std::optional<Eaches> most) {
        if (most && tried.quantities[part] + room->others > *most)
            found.push_back({rule, std::nullopt, std::max(*most - room->others, Eaches{})});
    };
    check(TrialRule::DaysHeld, mostByDaysHeld(room->need));
    check(TrialRule::Taper, mostByTaper(room->need));
    return found;
}

// What other lines of the same delivery take is not free for this one.
std::optional<TrialBreak> RefillTrial::notThere(std::size_t part, const Parcel &tried) const {
    const ItemId item = parts_[part].line->item;
    const auto others = besides(part, tried, [&](const RefillLine &other) { return other.item == item; });
    if (!others || !share_.isSoon(tried.on))
        return std::nullopt;
    const Eaches wanted = tried.quantities[part] + *others;
    const auto broken = [&](TrialRule rule, Eaches there) {
        return TrialBreak{rule, std::nullopt, std::max(there - *others, Eaches{})};
    };
    if (const Eaches there = share_.available(item, tried.on); wanted > there)
        return broken(TrialRule::Storeroom, there);
    if (const Eaches there = share_.longDated(item, tried.on); wanted > there)
        return broken(TrialRule::ShortDated, there);
    return std::nullopt;
}

} // namespace kitround::supply

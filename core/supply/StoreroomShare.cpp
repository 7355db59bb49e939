#include "core/supply/StoreroomShare.h"

#include "core/safety/ExpiredStock.h"
#include "core/safety/RecalledStock.h"
#include "core/supply/OpenOrders.h"
#include "core/supply/Substitutes.h"

#include <algorithm>

namespace kitround::supply {
namespace {

// Volumes logged since the bottle in use was ordered would be better; the snapshot's log is near enough.
// Up to whole drains: where two are taught for one, an odd one is of no use.
Eaches substituteUnits(const SnapshotIndex &agency, CatheterId catheter, const Substitute &substitute,
                       const Item &standIn, Eaches missing) {
    if (!standIn.bottleVolume)
        return substitute.per * missing.count();
    const auto need = substitutionNeed(Sessions::of(missing.count()), loggedVolumes(agency, catheter),
                                       *standIn.bottleVolume, substitute.per);
    const std::int64_t per = substitute.per.count();
    return Eaches::of((need.bottles.count() + per - 1) / per * per);
}

} // namespace

StoreroomShare::StoreroomShare(const SnapshotIndex &agency)
    : agency_(agency), shelf_(agency, Place::storeroom()) {
    for (const Delivery *delivery : parcelsToPack(agency.snapshot())) {
        if (delivery->status != DeliveryStatus::Promised)
            continue;
        const PackedParcel parcel = packParcel(shelf_, *delivery, agency.snapshot().asOf);
        for (std::size_t i = 0; i < parcel.missing.size(); ++i)
            owed_[delivery->lines[i].item] += parcel.missing[i];
    }
}

template <class May>
Eaches StoreroomShare::unclaimed(ItemId item, Date on, May mayBeSent) const {
    const auto owed = owed_.find(item);
    Eaches there = arrivingBefore(agency_, item, on) - taken(item);
    there -= owed == owed_.end() ? Eaches{} : owed->second;
    for (const auto &[lot, quantity] : shelf_.left(item))
        there += mayBeSent(lot) ? quantity : Eaches{};
    return std::max(there, Eaches{});
}

Eaches StoreroomShare::available(ItemId item, Date on) const {
    return unclaimed(item, on, [&](LotId lot) { return !lot.isSet() || isUsable(agency_, lot, on); });
}

Eaches StoreroomShare::taken(ItemId item) const {
    const auto found = taken_.find(item);
    return found == taken_.end() ? Eaches{} : found->second;
}

Eaches StoreroomShare::take(ItemId item, Eaches wanted, Date on, Eaches per) {
    const std::int64_t most = std::min(wanted, available(item, on)).count();
    const Eaches given = Eaches::of(most - most % per.count());
    taken_[item] += given;
    return given;
}

bool StoreroomShare::isSoon(Date on) const {
    const Snapshot &agency = agency_.snapshot();
    return on < agency.asOf.plusDays(agency.settings[SettingKey::LeadDays]);
}

Eaches StoreroomShare::longDated(ItemId item, Date on) const {
    const Item *record = agency_.item(item);
    const Days leastLife = record ? record->leastLifeToHome : Days{};
    return unclaimed(item, on, [&](LotId lot) {
        return isUsable(agency_, lot, on) && !isShortDated(*agency_.lot(lot), on, leastLife);
    });
}

std::optional<RefillLine> StoreroomShare::substituteFor(const RefillLine &line, Eaches missing,
                                                        const RefillProposal &proposal) {
    const Item *item = agency_.item(line.item);
    const DrainOrder *order = agency_.orderInForce(line.catheter, proposal.deliverOn);
    const Catheter *catheter = agency_.catheter(line.catheter);
    const Patient *patient = agency_.patient(proposal.patient);
    if (!item || !order || !order->allowsSubstitute || !catheter || !patient)
        return std::nullopt;
    for (const Substitute &substitute : item->substitutes) {
        const Item *standIn = agency_.item(substitute.item);
        if (!standIn || !standIn->isActive || barOf(agency_, *standIn, *patient, *catheter))
            continue;
        const Eaches wanted = substituteUnits(agency_, line.catheter, substitute, *standIn, missing);
        const Eaches given = take(substitute.item, wanted, proposal.deliverOn, substitute.per);
        if (given.isZero())
            continue;
        RefillLine stand = line;
        stand.item = substitute.item;
        stand.onHand = agency_.balance(Place::home(line.catheter), substitute.item);
        stand.recalled = safety::notUsableAtHome(agency_, line.catheter, stand.item);
        stand.expired = safety::expiredAtHome(agency_, line.catheter, stand.item);
        stand.mostHeld.reset();
        stand.coming = {};
        stand.quantity = given;
        stand.exactNeed = wanted;
        stand.limitedBy = given < wanted ? RefillLimit::StoreroomShort : RefillLimit::None;
        stand.substituteFor = line.item;
        stand.needsRecord = standsInFor(agency_, line.catheter, stand.item, proposal.deliverOn).state !=
                            SubstitutionState::Recorded;
        return stand;
    }
    return std::nullopt;
}

// The order may have changed since it was recorded, and an allergy come to light.
bool StoreroomShare::mayStandIn(CatheterId id, const Item &standIn, const RefillProposal &proposal) const {
    const Catheter *catheter = agency_.catheter(id);
    const Patient *patient = agency_.patient(proposal.patient);
    return catheter && patient && !barOf(agency_, standIn, *patient, *catheter) &&
           standsInFor(agency_, id, standIn.id, proposal.deliverOn).state == SubstitutionState::Recorded;
}

// Until the day it goes back, the home gets what it was taught to use, also where the ordered size is there;
// only a shelf without any of it sends the ordered size again, sooner than nothing.
// Nothing stands in for what is meant for the time after.
std::optional<RefillLine> StoreroomShare::recordedSubstitute(const RefillLine &line,
                                                             const RefillProposal &proposal, bool soon) {
    const Substitution *record = agency_.substitutionInForce(line.catheter, line.item, proposal.deliverOn);
    const Item *item = record ? agency_.item(line.item) : nullptr;
    const Item *standIn = item ? agency_.item(record->standIn) : nullptr;
    if (!standIn || !mayStandIn(line.catheter, *standIn, proposal))
        return std::nullopt;
    const auto way = std::ranges::find(item->substitutes, record->standIn, &Substitute::item);
    if (way == item->substitutes.end())
        return std::nullopt;
    RefillLine stand = line;
    stand.item = record->standIn;
    stand.substituteFor = line.item;
    stand.onHand = agency_.balance(Place::home(line.catheter), stand.item);
    stand.recalled = safety::notUsableAtHome(agency_, line.catheter, stand.item);
    stand.expired = safety::expiredAtHome(agency_, line.catheter, stand.item);
    stand.mostHeld.reset();
    stand.exactNeed = substituteUnits(agency_, line.catheter, *way, *standIn, line.exactNeed);
    const Eaches wanted = substituteUnits(agency_, line.catheter, *way, *standIn, line.quantity);
    stand.quantity = soon ? take(stand.item, wanted, proposal.deliverOn, way->per) : wanted;
    if (stand.quantity < wanted)
        stand.limitedBy = RefillLimit::StoreroomShort;
    return stand;
}

void StoreroomShare::serve(RefillProposal &proposal) {
    const bool soon = isSoon(proposal.deliverOn);
    std::vector<RefillLine> served;
    for (RefillLine line : proposal.lines) {
        auto stand = line.onlyFrom ? std::nullopt : recordedSubstitute(line, proposal, soon);
        if (stand && stand->quantity.isZero() && available(line.item, proposal.deliverOn).count() > 0)
            stand.reset(); // what stands in is out, what is ordered is there
        if (stand) {
            served.push_back(*stand);
            continue;
        }
        line.onlyUntil.reset(); // what should stand in cannot: the ordered item goes
        if (!soon) {
            served.push_back(line);
            continue;
        }
        const Eaches wanted = line.quantity;
        const bool isInDate = wanted <= longDated(line.item, proposal.deliverOn);
        line.quantity = take(line.item, wanted, proposal.deliverOn);
        const Eaches missing = wanted - line.quantity;
        if (missing.count() > 0)
            line.limitedBy = RefillLimit::StoreroomShort;
        else if (!isInDate && line.limitedBy == RefillLimit::None)
            line.limitedBy = RefillLimit::Expiry;
        served.push_back(line);
        if (missing.count() > 0 && !line.onlyFrom)
            if (const auto other = substituteFor(line, missing, proposal))
                served.push_back(*other);
    }
    proposal.lines = std::move(served);
}

void StoreroomShare::takeServed(const RefillProposal &served) {
    if (!isSoon(served.deliverOn))
        return;
    for (const RefillLine &line : served.lines)
        taken_[line.item] += line.quantity;
}

StoreroomShare shareBefore(const SnapshotIndex &agency, std::span<const RefillProposal> served,
                           const RefillProposal &proposal) {
    StoreroomShare share(agency);
    for (const RefillProposal &before : served) {
        if (&before == &proposal)
            break;
        share.takeServed(before);
    }
    return share;
}

} // namespace kitround::supply

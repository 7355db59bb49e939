#include "core/supply/Lots.h"

#include <algorithm>
#include <map>
#include <tuple>

namespace kitround::supply {
namespace {

enum class GivingRank { PutFirst, LongDated, NoExpiry, NoLot, ShortDated };

struct Candidate {
    GivingRank rank = GivingRank::LongDated;
    Date expiresOn;
    LotId lot;
    Eaches there;
    bool isShortDated = false;
    auto order() const { return std::tuple(rank, expiresOn, lot); }
};

std::optional<Candidate> candidateOf(const SnapshotIndex &agency, LotId lot, Eaches there, Date on,
                                     Days leastLife) {
    if (there.count() <= 0)
        return std::nullopt;
    if (!lot.isSet())
        return Candidate{GivingRank::NoLot, {}, lot, there, false};
    if (!isUsable(agency, lot, on))
        return std::nullopt;
    const Lot &record = *agency.lot(lot);
    const bool isShort = isShortDated(record, on, leastLife);
    const GivingRank rank = record.isPickedFirst ? GivingRank::PutFirst
                            : !record.expiresOn  ? GivingRank::NoExpiry
                            : isShort            ? GivingRank::ShortDated
                                                 : GivingRank::LongDated;
    return Candidate{rank, record.expiresOn.value_or(Date()), lot, there, isShort};
}

} // namespace

bool isUsable(const SnapshotIndex &agency, LotId lot, Date on) {
    const Lot *record = agency.lot(lot);
    return record && record->state == LotState::Usable && (!record->expiresOn || on <= *record->expiresOn);
}

bool isShortDated(const Lot &lot, Date on, Days leastLife) {
    return lot.expiresOn && *lot.expiresOn - on < leastLife;
}

Date arrivalOf(const Delivery &delivery, Date today) {
    return delivery.deliveredAt ? delivery.deliveredAt->date : std::max(today, delivery.promisedFor);
}

std::vector<Pick> givable(const SnapshotIndex &agency, const std::map<LotId, Eaches> &there, Date on,
                          Days leastLife) {
    std::vector<Candidate> candidates;
    for (const auto &[lot, quantity] : there)
        if (auto candidate = candidateOf(agency, lot, quantity, on, leastLife))
            candidates.push_back(*candidate);
    std::ranges::stable_sort(candidates, {}, &Candidate::order);
    std::vector<Pick> lots;
    for (const Candidate &c : candidates)
        lots.push_back({c.lot, c.there, c.isShortDated});
    return lots;
}

std::vector<Pick> givable(const SnapshotIndex &agency, const Place &from, ItemId item, Date on,
                          Days leastLife) {
    std::map<LotId, Eaches> there;
    for (const StockBalance &row : agency.balancesAt(from))
        if (row.item == item)
            there[row.lot.value_or(LotId{})] += row.quantity;
    return givable(agency, there, on, leastLife);
}

PickResult firstOf(const std::vector<Pick> &lots, Eaches need) {
    PickResult result;
    result.missing = std::max(need, Eaches{});
    for (Pick pick : lots) {
        if (result.missing.isZero())
            break;
        pick.quantity = std::min(pick.quantity, result.missing);
        result.missing -= pick.quantity;
        result.picks.push_back(pick);
    }
    return result;
}

PickResult pickFirstExpiring(const SnapshotIndex &agency, const Place &from, ItemId item, Eaches need,
                             Date on, Days leastLife) {
    return firstOf(givable(agency, from, item, on, leastLife), need);
}

std::vector<ExpiringLot> expiringLots(const SnapshotIndex &agency, Days within) {
    const Date last = agency.snapshot().asOf + within;
    std::vector<ExpiringLot> rows;
    for (const StockBalance &row : agency.snapshot().balances) {
        const Lot *lot = row.lot ? agency.lot(*row.lot) : nullptr;
        if (lot && lot->expiresOn && *lot->expiresOn <= last && row.quantity.count() > 0)
            rows.push_back({lot->id, row.item, row.place, row.quantity, *lot->expiresOn});
    }
    std::ranges::stable_sort(
        rows, {}, [](const ExpiringLot &r) { return std::tuple(r.expiresOn, r.item, r.lot, r.place); });
    return rows;
}

} // namespace kitround::supply

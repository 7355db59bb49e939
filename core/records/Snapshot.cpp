#include "core/records/Snapshot.h"

#include <algorithm>
#include <string>

namespace kitround {
namespace {

template <class Map, class Vector>
auto find(const Map &map, const Vector &rows, typename Map::key_type id) -> const
    typename Vector::value_type * {
    const auto at = map.find(id);
    return at == map.end() ? nullptr : &rows[at->second];
}

template <class Map, class Vector>
void indexById(Map &map, const Vector &rows) {
    map.reserve(rows.size());
    for (std::size_t i = 0; i < rows.size(); ++i)
        map.emplace(rows[i].id, static_cast<std::uint32_t>(i));
}

template <class Lists, class Vector, class KeyOf>
void indexBy(Lists &lists, const Vector &rows, KeyOf keyOf) {
    for (const auto &row : rows)
        lists[keyOf(row)].push_back(&row);
}

template <class Lists>
auto listOf(const Lists &lists, typename Lists::key_type id)
    -> std::span<const typename Lists::mapped_type::value_type> {
    const auto at = lists.find(id);
    if (at == lists.end())
        return {};
    return at->second;
}

std::unordered_set<PatientId> namesakesAmong(const std::vector<Patient> &patients) {
    const auto shortName = [](const Patient &p) { return p.familyName + '\n' + p.givenName.substr(0, 1); };
    std::unordered_map<std::string, int> told;
    for (const Patient &patient : patients)
        ++told[shortName(patient)];
    std::unordered_set<PatientId> found;
    for (const Patient &patient : patients)
        if (told[shortName(patient)] > 1)
            found.insert(patient.id);
    return found;
}

} // namespace

SnapshotIndex::SnapshotIndex(const Snapshot &s) : snapshot_(&s) {
    indexById(patients_, s.patients);
    namesakes_ = namesakesAmong(s.patients);
    indexById(catheters_, s.catheters);
    indexById(items_, s.items);
    indexById(lots_, s.lots);
    indexById(suppliers_, s.suppliers);
    indexById(nurses_, s.nurses);
    indexById(payers_, s.payers);
    indexById(visits_, s.visits);
    indexById(deliveries_, s.deliveries);
    indexById(purchaseOrders_, s.purchaseOrders);
    for (const Plan &plan : s.plansInForce)
        for (const PlannedVisit &planned : plan.visits)
            inForce_[planned.visit] = &planned; // of two weeks' plans the one published later
    indexBy(cathetersOf_, s.catheters, [](const Catheter &c) { return c.patient; });
    indexBy(ordersOf_, s.drainOrders, [](const DrainOrder &o) { return o.catheter; });
    for (auto &[id, orders] : ordersOf_)
        std::ranges::stable_sort(orders, {}, [](const DrainOrder *o) { return o->start; });
    indexBy(substitutionsOf_, s.substitutions, [](const Substitution &t) { return t.catheter; });
    for (std::size_t i = 0; i < s.drainEntries.size();) {
        std::size_t end = i;
        while (end < s.drainEntries.size() && s.drainEntries[end].catheter == s.drainEntries[i].catheter)
            ++end;
        entriesOf_[s.drainEntries[i].catheter] = {static_cast<std::uint32_t>(i),
                                                  static_cast<std::uint32_t>(end)};
        i = end;
    }
    indexBy(countsOf_, s.homeCounts, [](const HomeCount &c) { return c.catheter; });
    for (auto &[id, counts] : countsOf_)
        std::ranges::stable_sort(counts, {}, [](const HomeCount *c) { return c->at; });
    indexBy(holdsOf_, s.holds, [](const Hold &h) { return h.patient; });
    for (auto &[id, holds] : holdsOf_)
        std::ranges::stable_sort(holds, {}, [](const Hold *h) { return h->from; });
    indexBy(deliveriesOf_, s.deliveries, [](const Delivery &d) { return d.patient; });
    indexBy(refillContactsOf_, s.refillContacts, [](const RefillContact &c) { return c.patient; });
    indexBy(visitOrdersOf_, s.visitOrders, [](const VisitOrder &o) { return o.patient; });
    indexBy(visitsOf_, s.visits, [](const Visit &v) { return v.patient; });
    byPlace_ = s.balances;
    std::ranges::stable_sort(byPlace_, {}, [](const StockBalance &b) { return std::pair(b.place, b.item); });
}

const Patient *SnapshotIndex::patient(PatientId id) const {
    return find(patients_, snapshot_->patients, id);
}
const Catheter *SnapshotIndex::catheter(CatheterId id) const {
    return find(catheters_, snapshot_->catheters, id);
}
const Item *SnapshotIndex::item(ItemId id) const {
    return find(items_, snapshot_->items, id);
}
const Lot *SnapshotIndex::lot(LotId id) const {
    return find(lots_, snapshot_->lots, id);
}
const Supplier *SnapshotIndex::supplier(SupplierId id) const {
    return find(suppliers_, snapshot_->suppliers, id);
}
const Nurse *SnapshotIndex::nurse(NurseId id) const {
    return find(nurses_, snapshot_->nurses, id);
}
const Delivery *SnapshotIndex::delivery(DeliveryId id) const {
    return find(deliveries_, snapshot_->deliveries, id);
}
const Payer *SnapshotIndex::payer(PayerId id) const {
    return find(payers_, snapshot_->payers, id);
}
const Visit *SnapshotIndex::visit(VisitId id) const {
    return find(visits_, snapshot_->visits, id);
}
const PurchaseOrder *SnapshotIndex::purchaseOrder(PurchaseOrderId id) const {
    return find(purchaseOrders_, snapshot_->purchaseOrders, id);
}
VisitPlace SnapshotIndex::toldPlace(const Visit &visit) const {
    if (visit.status == VisitStatus::Published)
        return plannedPlace(visit);
    const auto told = inForce_.find(visit.id);
    return told == inForce_.end() ? VisitPlace{} : plannedPlace(*told->second);
}

std::span<const Catheter *const> SnapshotIndex::cathetersOf(PatientId id) const {
    return listOf(cathetersOf_, id);
}
std::span<const DrainOrder *const> SnapshotIndex::ordersOf(CatheterId id) const {
    return listOf(ordersOf_, id);
}
std::span<const DrainEntry> SnapshotIndex::entriesOf(CatheterId id) const {
    const auto at = entriesOf_.find(id);
    if (at == entriesOf_.end())
        return {};
    return std::span(snapshot_->drainEntries).subspan(at->second.first, at->second.second - at->second.first);
}
std::span<const HomeCount *const> SnapshotIndex::countsOf(CatheterId id) const {
    return listOf(countsOf_, id);
}
std::span<const Hold *const> SnapshotIndex::holdsOf(PatientId id) const {
    return listOf(holdsOf_, id);
}
std::span<const Delivery *const> SnapshotIndex::deliveriesOf(PatientId id) const {
    return listOf(deliveriesOf_, id);
}
std::span<const RefillContact *const> SnapshotIndex::refillContactsOf(PatientId id) const {
    return listOf(refillContactsOf_, id);
}
std::span<const VisitOrder *const> SnapshotIndex::visitOrdersOf(PatientId id) const {
    return listOf(visitOrdersOf_, id);
}
std::span<const Visit *const> SnapshotIndex::visitsOf(PatientId id) const {
    return listOf(visitsOf_, id);
}

const DrainOrder *SnapshotIndex::orderInForce(CatheterId id, Date on) const {
    const DrainOrder *found = nullptr;
    for (const DrainOrder *order : ordersOf(id)) // by start, so the last that fits is the latest
        if (order->start <= on && (!order->end || on < *order->end))
            found = order;
    return found;
}

const Substitution *SnapshotIndex::substitutionInForce(CatheterId id, ItemId item, Date on) const {
    for (const Substitution *s : listOf(substitutionsOf_, id))
        if (isInForce(*s, on) && (!item.isSet() || s->item == item))
            return s;
    return nullptr;
}

Eaches SnapshotIndex::balance(const Place &place, ItemId item) const {
    Eaches sum;
    const auto key = std::pair(place, item);
    auto at = std::ranges::lower_bound(byPlace_, key, {},
                                       [](const StockBalance &b) { return std::pair(b.place, b.item); });
    for (; at != byPlace_.end() && at->place == place && at->item == item; ++at)
        sum += at->quantity;
    return sum;
}

std::span<const StockBalance> SnapshotIndex::balancesAt(const Place &place) const {
    const auto found = std::ranges::equal_range(byPlace_, place, {}, &StockBalance::place);
    return {found.begin(), found.end()};
}

const HomeCount *SnapshotIndex::lastCount(CatheterId id, ItemId item) const {
    const HomeCount *found = nullptr;
    for (const HomeCount *count : countsOf(id))
        if (count->item == item)
            found = count;
    return found;
}

const Hold *SnapshotIndex::holdOn(PatientId id, Date on) const {
    for (const Hold *hold : holdsOf(id))
        if (hold->from <= on && (!hold->to || on < *hold->to))
            return hold;
    return nullptr;
}

bool SnapshotIndex::isInService(const Catheter &catheter) const {
    const Patient *owner = patient(catheter.patient);
    return owner && isOnService(owner->status) && !catheter.removedAt;
}

} // namespace kitround

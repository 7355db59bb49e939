#include "core/supply/Recall.h"

#include <algorithm>
#include <map>
#include <tuple>

namespace kitround::supply {
namespace {

struct HomeSums {
    Eaches received;
    Eaches there;
    Eaches lost;
    Eaches onTheWay;
    std::map<DrainEntryId, Eaches> usedIn;
};

class Trace {
public:
    Trace(const SnapshotIndex &agency, LotId lot) : agency_(agency), lot_(lot) {}

    void follow(const StockMovement &m) {
        if (m.lot != lot_)
            return;
        leave(m);
        arrive(m);
    }

    // A drain the ledger does not know of still reached a person.
    void readLog() {
        for (const DrainEntry &entry : agency_.snapshot().drainEntries)
            for (const BottleUse &use : entry.supplies)
                if (use.lot == lot_ && !entry.isVoid)
                    homes_[entry.catheter].usedIn.try_emplace(entry.id, use.used + use.lost);
    }

    // Somebody at home will take the parcel in, so it is the home that is rung.
    void readParcels() {
        for (const Delivery &delivery : agency_.snapshot().deliveries)
            if (leftWithCarrier(delivery))
                for (const DeliveryLine &line : delivery.lines)
                    if (line.lot == lot_)
                        homes_[line.catheter].onTheWay += line.quantity;
    }

    LotTrace result() const {
        LotTrace trace{lot_, {}, {}};
        for (const auto &[place, stop] : stops_)
            trace.stops.push_back(stop);
        for (const auto &[catheter, sums] : homes_)
            if (RecallHome home = homeOf(catheter, sums); hadIt(home))
                trace.homes.push_back(std::move(home));
        std::ranges::stable_sort(trace.homes, {}, [](const RecallHome &h) {
            return std::tuple(-(h.there + h.onTheWay).count(), h.patient, h.catheter);
        });
        return trace;
    }

private:
    static CatheterId catheterAt(const Place &home) { return CatheterId(home.ref); }

    // Not where the lot was only written down by mistake, and put right.
    static bool hadIt(const RecallHome &home) {
        return !home.received.isZero() || !home.there.isZero() || !home.used.isZero() ||
               !home.onTheWay.isZero() || !home.drains.empty();
    }

    // The drain a piece was opened in, drained into or lost.
    static std::optional<DrainEntryId> entryAt(const Place &place) {
        const bool names =
            place.kind == PlaceKind::Used || (place.kind == PlaceKind::Wasted && place.ref != 0);
        return names ? std::optional(DrainEntryId(place.ref)) : std::nullopt;
    }

    LotStop &stopAt(const Place &place) {
        LotStop &stop = stops_[place];
        stop.place = place;
        return stop;
    }

    void leave(const StockMovement &m) {
        if (m.from.kind == PlaceKind::Home)
            leaveHome(m);
        else if (isInside(m.from.kind))
            leaveStop(m);
    }
    void leaveHome(const StockMovement &m) {
        HomeSums &home = homes_[catheterAt(m.from)];
        home.there -= m.quantity;
        if (const auto entry = entryAt(m.to))
            home.usedIn[*entry] += m.quantity;
        else if (m.to.kind == PlaceKind::Wasted)
            home.lost += m.quantity;
        else if (m.undoes)
            home.received -= m.quantity; // it never came here
    }
    void leaveStop(const StockMovement &m) {
        LotStop &stop = stopAt(m.from);
        stop.there -= m.quantity;
        if (m.undoes)
            stop.received -= m.quantity;
    }

    void arrive(const StockMovement &m) {
        if (m.to.kind == PlaceKind::Home)
            arriveHome(m);
        else if (isInside(m.to.kind))
            arriveStop(m);
    }
    void arriveHome(const StockMovement &m) {
        HomeSums &home = homes_[catheterAt(m.to)];
        home.there += m.quantity;
        if (const auto entry = entryAt(m.from))
            home.usedIn[*entry] -= m.quantity; // an entry struck out
        else if (m.from.kind == PlaceKind::Wasted)
            home.lost -= m.quantity;
        else if (!m.undoes)
            home.received += m.quantity;
    }
    void arriveStop(const StockMovement &m) {
        LotStop &stop = stopAt(m.to);
        stop.there += m.quantity;
        if (!m.undoes)
            stop.received += m.quantity;
    }

    RecallHome homeOf(CatheterId id, const HomeSums &sums) const {
        RecallHome home;
        home.catheter = id;
        home.received = sums.received;
        home.there = sums.there;
        home.used = sums.lost;
        home.onTheWay = sums.onTheWay;
        for (const auto &[entry, used] : sums.usedIn) {
            home.used += used;
            if (used.count() > 0)
                home.drains.push_back(entry);
        }
        if (const Catheter *catheter = agency_.catheter(id)) {
            home.patient = catheter->patient;
            home.isOnHold = agency_.holdOn(home.patient, agency_.snapshot().asOf) != nullptr;
            home.hasLeft = !agency_.isInService(*catheter);
        }
        return home;
    }

    const SnapshotIndex &agency_;
    LotId lot_;
    std::map<Place, LotStop> stops_;
    std::map<CatheterId, HomeSums> homes_;
};

constexpr std::size_t kShortestPrefix = 4;

} // namespace

bool leftWithCarrier(const Delivery &delivery) {
    const bool isInOurCar = delivery.way == DeliveryWay::WithVisit && delivery.carriedBy;
    return delivery.status == DeliveryStatus::InTransit && !isInOurCar;
}

LotTrace traceLot(const SnapshotIndex &agency, LotId lot, std::span<const StockMovement> movements) {
    Trace trace(agency, lot);
    for (const StockMovement &m : movements)
        trace.follow(m);
    trace.readLog();
    trace.readParcels();
    return trace.result();
}

std::vector<LotId> lotsMatching(const Snapshot &agency, ItemId item, std::string_view number) {
    const std::string wanted = asLotNumber(number);
    std::vector<LotId> found;
    if (wanted.empty())
        return found;
    for (const Lot &lot : agency.lots) {
        if (item.isSet() && lot.item != item)
            continue;
        const std::string has = asLotNumber(lot.number);
        if (has == wanted || (wanted.size() >= kShortestPrefix && has.starts_with(wanted)))
            found.push_back(lot.id);
    }
    return found;
}

} // namespace kitround::supply

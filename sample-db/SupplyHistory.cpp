#include "core/base/Random.h"
#include "core/calendar/DrainCalendar.h"
#include "core/supply/Ledger.h"
#include "sample-db/History.h"
#include "sample-db/StockBook.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

namespace kitround::sample {
namespace {

constexpr double kWasteShare = 0.025;
constexpr double kRefillAtDays = 9; // days of supply left when a home is called
constexpr double kRefillForDays = 26;
constexpr int kCountEveryDays = 28;

struct Home {
    HomePlan plan;
    const Catheter *catheter = nullptr;
    const Patient *patient = nullptr;
    std::vector<const DrainOrder *> orders; // by start
    std::vector<const Hold *> holds;
    std::map<ItemId, std::int64_t>
        reallyThere; // what a count would find; the ledger only knows what was logged
    std::optional<Date> stockedOn;
    std::optional<std::size_t> openDelivery; // index in Scenario::deliveries
    Random random{0};
};

LocalTime at(Date on, std::int64_t hour, std::int64_t minute = 0) {
    return {on, Minutes::of(hour * 60 + minute)};
}

class SupplyMaker {
public:
    SupplyMaker(Scenario &scenario, const HistoryPlan &plan)
        : s_(scenario), plan_(plan), firstDay_(scenario.today - plan.logBack), book_(scenario) {
        std::map<CatheterId, std::vector<const DrainOrder *>> orders;
        for (const DrainOrder &order : s_.drainOrders)
            orders[order.catheter].push_back(&order);
        std::map<PatientId, std::vector<const Hold *>> holds;
        for (const Hold &hold : s_.holds)
            holds[hold.patient].push_back(&hold);
        for (const HomePlan &home : plan.homes)
            addHome(home, orders[home.catheter], holds);
        for (const Visit &visit : s_.visits)
            if (visit.status == VisitStatus::Done)
                doneVisits_[{visit.patient, *visit.on}] = visit.id;
        for (const LogRow &row : plan.log)
            logRows_[{row.catheter, row.at.date}].push_back(&row);
        for (const Arrival &arrival : plan.arrivals)
            arrivals_[arrival.on].push_back(&arrival);
    }

    void make() {
        // The first arrivals stand before the log, so that the first homes can be stocked from them.
        for (Date day = firstDay_.plusDays(-7); day < s_.today; ++day) {
            receive(day);
            for (Home &home : homes_)
                handOver(home, day);
            for (Home &home : homes_) {
                stockAtStart(home, day);
                if (day >= firstDay_)
                    drain(home, day);
                countSometimes(home, day);
                refill(home, day);
            }
            withdraw(day);
            if (day == s_.today.plusDays(-2))
                fillCars(day);
        }
        for (const OpenDelivery &open : plan_.openDeliveries)
            addOpen(open);
    }

private:
    void addHome(const HomePlan &plan, const std::vector<const DrainOrder *> &orders,
                 const std::map<PatientId, std::vector<const Hold *>> &holds) {
        Home home;
        home.plan = plan;
        home.catheter = &s_.catheters[static_cast<std::size_t>(plan.catheter.value()) - 1];
        home.patient = &s_.patients[static_cast<std::size_t>(home.catheter->patient.value()) - 1];
        home.orders = orders;
        std::ranges::stable_sort(home.orders, {}, [](const DrainOrder *o) { return o->start; });
        if (const auto found = holds.find(home.patient->id); found != holds.end())
            home.holds = found->second;
        home.random = Random(plan_.seed * 1000003 + static_cast<std::uint64_t>(plan.catheter.value()));
        if (!home.orders.empty())
            homes_.push_back(std::move(home));
    }

    static const DrainOrder *orderOn(const Home &home, Date day) {
        const DrainOrder *found = nullptr;
        for (const DrainOrder *order : home.orders)
            if (order->start <= day && (!order->end || day < *order->end))
                found = order;
        return found;
    }
    static bool hasLeft(const Home &home, Date day) {
        const auto gone = [&](const std::optional<Instant> &when) {
            return when && *when < Instant::fromUnixSeconds((day.dayNumber() + 1) * 86400);
        };
        return gone(home.patient->exitedAt) || gone(home.catheter->removedAt);
    }
    const Item &itemOf(ItemId id) const { return s_.items[static_cast<std::size_t>(id.value()) - 1]; }

    void post(LocalTime when, ItemId item, std::optional<LotId> lot, Eaches quantity, Place from, Place to,
              MovementReason reason, std::optional<DeliveryId> delivery = {},
              std::optional<ReceiptId> receipt = {}) {
        StockMovement m;
        m.at = when;
        m.item = item;
        m.lot = lot;
        m.quantity = quantity;
        m.from = from;
        m.to = to;
        m.reason = reason;
        m.delivery = delivery;
        m.receipt = receipt;
        book_.post(m);
    }

    // ---- storeroom
    void receive(Date day) {
        const auto found = arrivals_.find(day);
        if (found == arrivals_.end())
            return;
        for (const Arrival *arrival : found->second) {
            Receipt receipt;
            receipt.order = arrival->order;
            receipt.supplier = arrival->supplier;
            receipt.at = at(day, 9, 30);
            receipt.packingSlip = "PS-" + std::to_string(s_.receipts.size() + 1);
            for (const ArrivalLine &line : arrival->lines)
                receipt.lines.push_back({line.item, line.lot, line.quantity, line.damaged});
            const ReceiptId id = added(s_.receipts, std::move(receipt)).id;
            for (const ArrivalLine &line : arrival->lines) {
                const Place from = Place::supplier(arrival->supplier);
                const Eaches good = line.quantity - line.damaged;
                if (!good.isZero())
                    post(at(day, 9, 30), line.item, line.lot, good, from, Place::storeroom(),
                         MovementReason::Receipt, {}, id);
                if (!line.damaged.isZero())
                    post(at(day, 9, 30), line.item, line.lot, line.damaged, from, Place::quarantine(),
                         MovementReason::Receipt, {}, id);
            }
        }
    }

    void withdraw(Date day) {
        for (const LotWithdrawal &w : plan_.withdrawals) {
            if (w.on != day)
                continue;
            withdrawn_.insert(w.lot);
            const ItemId item = s_.lots[static_cast<std::size_t>(w.lot.value()) - 1].item;
            const Eaches held = book_.at(Place::storeroom(), item, w.lot);
            if (held.count() > 0)
                post(at(day, 16), item, w.lot, held, Place::storeroom(), Place::quarantine(),
                     MovementReason::Quarantine);
        }
    }

    void fillCars(Date day) {
        for (const CarStock &car : plan_.cars)
            for (const auto &[lot, quantity] : book_.firstExpiring(car.item, car.quantity, day, withdrawn_))
                post(at(day, 7, 30), car.item, lot, quantity, Place::storeroom(), Place::car(car.nurse),
                     MovementReason::Issue);
    }

    // ---- refills
    void stockAtStart(Home &home, Date day) {
        if (home.stockedOn || home.plan.stockIsUnknown || hasLeft(home, day))
            return;
        const DrainOrder &order = *home.orders.front();
        const bool isNew = order.start > firstDay_;
        if (day != (isNew ? order.start.plusDays(-2) : firstDay_.plusDays(-5)))
            return;
        home.stockedOn = day;
        const double days = isNew ? static_cast<double>(s_.settings[SettingKey::StarterDays])
                                  : static_cast<double>(home.random.between(8, 30));
        agree(home, order, day, days);
    }

    static double perDay(const DrainOrder &order) {
        if (order.pattern.kind != DrainPatternKind::AsNeeded)
            return calendar::drainsPerDay(order.pattern);
        return 0.5 * static_cast<double>(order.pattern.mostPerWeek.value_or(4)) / 7.0;
    }

    void refill(Home &home, Date day) {
        if (!home.stockedOn || home.openDelivery || hasLeft(home, day) || isPaused(home, day))
            return;
        if (home.plan.noRefillFrom && day >= *home.plan.noRefillFrom)
            return;
        const DrainOrder *order = orderOn(home, day);
        if (!order || perDay(*order) <= 0)
            return;
        const Eaches held = book_.atPlace(Place::home(home.catheter->id), order->kit);
        if (static_cast<double>(held.count()) / perDay(*order) > kRefillAtDays)
            return;
        count(home, day, *order);
        agree(home, *order, day, kRefillForDays);
    }

    void agree(Home &home, const DrainOrder &order, Date day, double days) {
        const double sessions = perDay(order) * days;
        const double bottles = bottlesASession(home, order, day);
        std::vector<std::pair<ItemId, Eaches>> lines{
            {order.kit, Eaches::of(std::max<std::int64_t>(1, std::llround(sessions)))}};
        if (order.extraBottle && bottles > 1.05)
            lines.push_back(
                {*order.extraBottle, Eaches::of(std::llround(std::ceil(sessions * (bottles - 1))))});
        Delivery delivery;
        delivery.patient = home.patient->id;
        delivery.contact = contact(home, day);
        delivery.promisedFor = workday(day.plusDays(2));
        delivery.deliverBy = day.plusDays(7);
        const bool byVisit = home.patient->primaryNurse && home.catheter->id.value() % 4 == 0;
        if (byVisit) {
            delivery.way = DeliveryWay::WithVisit;
            delivery.carriedBy = home.patient->primaryNurse;
        }
        for (const auto &[item, quantity] : lines)
            delivery.lines.push_back({home.catheter->id, item, {}, quantity});
        home.openDelivery = s_.deliveries.size();
        added(s_.deliveries, std::move(delivery));
    }

    RefillContactId contact(Home &home, Date day) {
        RefillContact contact;
        contact.patient = home.patient->id;
        contact.at = at(day, 10, 15);
        contact.answeredBy = home.random.chance(0.7) ? "patient" : "caregiver";
        contact.answer = RefillAnswer::Confirmed;
        contact.reasonForNeed = "drains as ordered";
        return added(s_.refillContacts, std::move(contact)).id;
    }

    static Date workday(Date day) {
        while (!WeekdaySet::mondayToFriday().contains(day.weekday()))
            ++day;
        return day;
    }

    Place onTheWay(const Delivery &delivery) const {
        return delivery.way == DeliveryWay::WithVisit ? Place::car(*delivery.carriedBy)
                                                      : Place::transit(delivery.id);
    }

    // The day before it is promised it leaves the storeroom; on the day it arrives.
    void handOver(Home &home, Date day) {
        if (!home.openDelivery)
            return;
        Delivery &delivery = s_.deliveries[*home.openDelivery];
        if (delivery.status == DeliveryStatus::Promised && day >= delivery.promisedFor.plusDays(-1))
            pick(delivery, day);
        else if (delivery.status != DeliveryStatus::Promised && day >= delivery.promisedFor)
            arrive(home, delivery, day);
    }

    void pick(Delivery &delivery, Date day) {
        std::vector<DeliveryLine> picked;
        for (const DeliveryLine &line : delivery.lines)
            for (const auto &[lot, quantity] :
                 book_.firstExpiring(line.item, line.quantity, day, withdrawn_)) {
                picked.push_back({line.catheter, line.item, lot, quantity});
                post(at(day, 15), line.item, lot, quantity, Place::storeroom(), onTheWay(delivery),
                     MovementReason::Issue, delivery.id);
            }
        if (picked.empty())
            return; // nothing on the shelf: it stays promised
        delivery.lines = std::move(picked);
        if (delivery.way == DeliveryWay::WithVisit) {
            delivery.status = DeliveryStatus::Picked; // it leaves with the nurse
            return;
        }
        delivery.status = DeliveryStatus::InTransit;
        delivery.shippedAt = at(day, 15);
    }

    void arrive(Home &home, Delivery &delivery, Date day) {
        delivery.status = DeliveryStatus::Delivered;
        delivery.deliveredAt = at(day, 11);
        delivery.receivedBy = home.patient->givenName + " " + home.patient->familyName;
        delivery.receiverRelation = "patient";
        for (const DeliveryLine &line : delivery.lines) {
            post(at(day, 11), line.item, line.lot, line.quantity, onTheWay(delivery),
                 Place::home(line.catheter), MovementReason::Handover, delivery.id);
            home.reallyThere[line.item] += line.quantity.count();
        }
        home.openDelivery.reset();
    }

    // What stands open today is told line by line, not left to chance.
    void addOpen(const OpenDelivery &open) {
        const auto home =
            std::ranges::find(homes_, open.catheter, [](const Home &h) { return h.catheter->id; });
        KITROUND_REQUIRE(home != homes_.end());
        Delivery delivery;
        delivery.patient = home->patient->id;
        delivery.contact = contact(*home, open.agreedOn);
        delivery.way = open.way;
        delivery.carriedBy = open.carriedBy;
        delivery.promisedFor = open.promisedFor;
        delivery.deliverBy = open.promisedFor.plusDays(4);
        for (const auto &[item, quantity] : open.lines)
            delivery.lines.push_back({open.catheter, item, {}, quantity});
        Delivery &kept = added(s_.deliveries, std::move(delivery));
        if (open.isPicked)
            pick(kept, s_.today.plusDays(-1));
    }

    // ---- drains
    bool isPaused(const Home &home, Date day) const { return calendar::isDrainingPaused(home.holds, day); }

    double meanOn(const Home &home, Date day) const {
        const double weeks = static_cast<double>((day - s_.today).count()) / 7.0;
        const double mean = home.plan.meanMl * std::pow(1.0 + home.plan.trendPercent / 100.0, weeks);
        return home.plan.dropFrom && day >= *home.plan.dropFrom ? mean * home.plan.dropShare : mean;
    }
    std::int64_t kitMl(const DrainOrder &order) const {
        return itemOf(order.kit).bottleVolume.value_or(Millilitres::of(1000)).count();
    }
    double bottlesASession(const Home &home, const DrainOrder &order, Date day) const {
        return std::max(1.0, std::ceil(meanOn(home, day) / static_cast<double>(kitMl(order)) - 0.1));
    }

    bool isDrained(Home &home, const DrainOrder &order, Date day) {
        const bool planned = order.pattern.kind == DrainPatternKind::AsNeeded
                                 ? home.random.chance(perDay(order))
                                 : calendar::isDrainDay(order.pattern, day, s_.settings.weekStart);
        return home.random.chance(home.plan.adherence) && planned;
    }

    void drain(Home &home, Date day) {
        if (const auto rows = logRows_.find({home.catheter->id, day}); rows != logRows_.end()) {
            for (const LogRow *row : rows->second)
                log(home, entryOf(*row), orderOn(home, day));
            return;
        }
        const DrainOrder *order = orderOn(home, day);
        if (!order || hasLeft(home, day) || isPaused(home, day) || !isDrained(home, *order, day))
            return;
        DrainEntry entry;
        entry.catheter = home.catheter->id;
        entry.volume = volume(home, *order, day);
        entry.outcome = entry.volume->isZero() ? DrainOutcome::Dry : DrainOutcome::Drained;
        entry.at = at(day, home.random.between(8, 18), 5 * home.random.between(0, 11));
        entry.timeIsKnown = !home.random.chance(0.08);
        if (!entry.timeIsKnown)
            entry.at.minute = {};
        const bool isWritten =
            home.random.chance(home.plan.logShare) && !(home.plan.silentFrom && day >= *home.plan.silentFrom);
        if (const auto visit = doneVisits_.find({home.patient->id, day});
            visit != doneVisits_.end() && isWritten) {
            entry.source = EntrySource::Nurse;
            entry.visit = visit->second;
        }
        if (isWritten)
            log(home, std::move(entry), order);
        else
            take(home, usedBy(home, entry, *order));
    }

    Millilitres volume(Home &home, const DrainOrder &order, Date day) {
        // Product of uniforms around one: bounded, right-skewed enough, and the same on every machine.
        const double spread = home.plan.spreadPercent / 100.0;
        const double noise =
            1.0 +
            spread * (home.random.uniform() + home.random.uniform() + home.random.uniform() - 1.5) * 1.6;
        double ml = std::max(0.0, meanOn(home, day) * noise);
        if (order.mostPerSession)
            ml = std::min(ml, static_cast<double>(order.mostPerSession->count()));
        if (!order.extraBottle)
            ml = std::min(ml, static_cast<double>(kitMl(order)));
        return Millilitres::of(10 * std::llround(ml / 10));
    }

    static DrainEntry entryOf(const LogRow &row) {
        DrainEntry entry;
        entry.catheter = row.catheter;
        entry.at = row.at;
        entry.outcome = row.outcome;
        entry.volume = row.volume;
        entry.symptoms = row.symptoms;
        entry.source = row.source;
        entry.note = row.note;
        return entry;
    }

    struct Use {
        ItemId item;
        std::int64_t used = 0;
        std::int64_t lost = 0;
    };
    std::vector<Use> usedBy(Home &home, const DrainEntry &entry, const DrainOrder &order) {
        if (entry.outcome == DrainOutcome::NotDone)
            return {};
        const std::int64_t ml = entry.volume.value_or(Millilitres::of(kitMl(order))).count();
        const std::int64_t bottles = std::max<std::int64_t>(1, (ml + kitMl(order) - 1) / kitMl(order));
        Use kit{order.kit, 1, home.random.chance(kWasteShare) ? 1 : 0};
        if (!order.extraBottle) {
            kit.used = bottles;
            return {kit};
        }
        std::vector<Use> uses{kit};
        if (bottles > 1)
            uses.push_back({*order.extraBottle, bottles - 1, 0});
        return uses;
    }
    static void take(Home &home, const std::vector<Use> &uses) {
        for (const Use &use : uses)
            home.reallyThere[use.item] -= use.used + use.lost;
    }

    void log(Home &home, DrainEntry entry, const DrainOrder *order) {
        std::vector<Use> uses;
        if (order)
            uses = usedBy(home, entry, *order);
        take(home, uses);
        if (!home.plan.stockIsUnknown)
            for (const Use &use : uses)
                writeSupplies(home, entry, use);
        const DrainEntry &kept = added(s_.drainEntries, std::move(entry));
        for (const StockMovement &m : supply::movementsForEntry(kept))
            book_.post(m);
    }

    // From the lot that expires first at home; a lot is named for what it covers.
    void writeSupplies(const Home &home, DrainEntry &entry, Use use) const {
        for (const auto &[lot, there] : book_.lotsAt(Place::home(home.catheter->id), use.item)) {
            const std::int64_t used = std::min(use.used, there.count());
            const std::int64_t lost = std::min(use.lost, there.count() - used);
            if (used + lost <= 0)
                continue;
            entry.supplies.push_back({use.item, Eaches::of(used), Eaches::of(lost), lot});
            use.used -= used;
            use.lost -= lost;
        }
        if (use.used + use.lost > 0)
            entry.supplies.push_back({use.item, Eaches::of(use.used), Eaches::of(use.lost), {}});
    }

    // ---- counts
    void countSometimes(Home &home, Date day) {
        const auto turn =
            (day.dayNumber() - s_.today.dayNumber() + 5 * home.catheter->id.value()) % kCountEveryDays;
        const DrainOrder *order = orderOn(home, day);
        if (turn == 0 && home.stockedOn && order && !hasLeft(home, day) && !isPaused(home, day))
            count(home, day, *order);
    }

    void count(Home &home, Date day, const DrainOrder &order) {
        if (day < firstDay_)
            return;
        std::vector<ItemId> items{order.kit};
        if (order.extraBottle)
            items.push_back(*order.extraBottle);
        for (const ItemId item : items) {
            const LocalTime when = at(day, 19, 30);
            const Place place = Place::home(home.catheter->id);
            std::int64_t &there = home.reallyThere[item];
            there = std::max<std::int64_t>(there, 0);
            HomeCount count;
            count.catheter = home.catheter->id;
            count.item = item;
            count.at = when;
            count.counted = Eaches::of(there);
            count.source = EntrySource::Phone;
            added(s_.homeCounts, count);
            if (auto m =
                    supply::movementForCount(place, item, book_.atPlace(place, item), count.counted, when))
                book_.post(*m);
        }
    }

    Scenario &s_;
    const HistoryPlan &plan_;
    Date firstDay_;
    StockBook book_;
    std::vector<Home> homes_;
    std::map<std::pair<PatientId, Date>, VisitId> doneVisits_;
    std::map<std::pair<CatheterId, Date>, std::vector<const LogRow *>> logRows_;
    std::map<Date, std::vector<const Arrival *>> arrivals_;
    std::set<LotId> withdrawn_;
};

} // namespace

void addSupplyHistory(Scenario &scenario, const HistoryPlan &plan) {
    SupplyMaker(scenario, plan).make();
}

} // namespace kitround::sample

// The tool's own policy: each weekday the agency as it is on record is forecast and the refill list made;
// homes to be called today are counted, forecast again, and sent what the list then says.
#include "core/supply/Refills.h"
#include "core/supply/Reorders.h"
#include "tests/bench/year/Shelves.h"

#include <algorithm>
#include <cmath>
#include <iterator>

namespace kitround::bench {
namespace {

// What new homes take from the storeroom here (Shelves): two weeks, and three sessions of every other day.
constexpr std::int64_t kStarterSetDays = 20;
constexpr int kLogBack = 120; // days of log on record

class Office {
public:
    Office(const Year &year, const std::string &name, const RefillWish &wish)
        : year_(year), shelves_(year, name), wish_(wish), counts_(year.homes.size()) {}

    Result<YearOutcome> run() {
        for (int day = 0; day < kYearDays; ++day) {
            shelves_.morning(day);
            countTheNew(day);
            if (isWeekday(year_, day))
                if (auto done = review(day); !done)
                    return done.error();
            shelves_.drainAll(day);
        }
        return shelves_.outcome();
    }

private:
    struct Count {
        int day = 0;
        Pair seen{};
    };

    Date dateOf(int day) const { return year_.firstDay.plusDays(day); }

    // A home's stock is counted when it comes into service, or at the year's start.
    void countTheNew(int day) {
        for (std::size_t h = 0; h < year_.homes.size(); ++h)
            if (day == std::max(year_.homes[h].life.start, 0) && year_.homes[h].isInServiceOn(day))
                counts_[h].push_back({day, shelves_.of(h).stock});
    }

    Result<bool> review(int day) {
        Snapshot snapshot = recordsOf(day);
        std::vector<std::size_t> called;
        {
            const SnapshotIndex agency(snapshot);
            const auto forecasts = forecast::forecastAll(agency, {}, {}, {});
            if (!forecasts)
                return forecasts.error();
            if (day % kReviewEvery == 0)
                reorder(agency, *forecasts, day);
            for (const supply::RefillProposal &p : supply::proposeRefills(agency, *forecasts))
                if (isDue(p))
                    called.push_back(static_cast<std::size_t>(p.patient.value()) - 1);
        }
        if (called.empty())
            return true;
        for (const std::size_t h : called)
            counts_[h].push_back({day, shelves_.of(h).stock});
        snapshot = recordsOf(day);
        const SnapshotIndex agency(snapshot);
        const forecast::AgencyFigures figures = forecast::learnFigures(agency);
        std::ranges::sort(called);
        std::vector<forecast::ItemForecast> forecasts;
        for (const std::size_t h : called)
            std::ranges::move(
                forecast::forecastHome(agency, *agency.catheter(year_.homes[h].catheter), {}, figures),
                std::back_inserter(forecasts));
        for (const supply::RefillProposal &p : supply::proposeRefills(agency, forecasts))
            if (isDue(p)) // the count may have shown that there is time yet
                sendAsProposed(p, day);
        return true;
    }
    static bool isDue(const supply::RefillProposal &p) {
        return p.urgency == supply::RefillUrgency::Overdue || p.urgency == supply::RefillUrgency::CallToday;
    }
    void sendAsProposed(const supply::RefillProposal &p, int day) {
        const auto h = static_cast<std::size_t>(p.patient.value()) - 1;
        Pair units{};
        for (const supply::RefillLine &line : p.lines)
            units[line.item == year_.homes[h].items[0] ? 0 : 1] += static_cast<int>(line.quantity.count());
        const int arrives = static_cast<int>((p.deliverOn - year_.firstDay).count());
        shelves_.send(h, day, std::max(arrives, day + 1), units, false); // what is missing is proposed again
    }
    void reorder(const SnapshotIndex &agency, std::span<const forecast::ItemForecast> forecasts, int day) {
        ByItem cases{};
        for (const supply::SupplierReorder &order : supply::reorderList(agency, forecasts))
            for (const supply::ReorderLine &line : order.lines)
                cases[static_cast<std::size_t>(line.item.value()) - 1] += line.cases.count();
        shelves_.storeroom().order(day, cases);
    }

    // What is on record on the morning of a day.
    Snapshot recordsOf(int day) const {
        Snapshot s;
        s.asOf = dateOf(day);
        s.now = {s.asOf, Minutes::of(8 * 60)};
        s.logFrom = dateOf(day - kLogBack);
        s.settings.agencyName = "Simulated agency";
        s.settings.isInvented = true;
        s.settings.set(SettingKey::RunOutTargetPermille, wish_.targetPermille);
        s.settings.set(SettingKey::RefillCycleDays, wish_.cycleDays);
        s.settings.set(SettingKey::StarterDays, kStarterSetDays);
        s.settings.set(SettingKey::ReferralsPerWeekHundredths, std::llround(700 * year_.comingPerDay));
        Payer payer;
        payer.id = PayerId(1);
        payer.name = "Payer";
        payer.refillRuleApplies = false; // the other policies know no payer's window either
        s.payers.push_back(payer);
        for (std::int64_t i = 1; i <= 4; ++i) {
            Item item;
            item.id = ItemId(i);
            item.code = "ITEM-" + std::to_string(i);
            item.kind = i <= 2 ? ItemKind::Kit : ItemKind::Bottle;
            item.bottleVolume = Millilitres::of(i % 2 == 1 ? 500 : 1000);
            item.casePack = {Eaches::of(10)};
            s.items.push_back(item);
        }
        addStoreroom(s, day);
        for (std::size_t h = 0; h < year_.homes.size(); ++h)
            if (year_.homes[h].life.start <= day)
                addHome(s, h, day);
        return s;
    }
    // Lots, the supplier and its orders, with what the receipts tell of its lead time.
    void addStoreroom(Snapshot &s, int day) const {
        Supplier supplier;
        supplier.id = SupplierId(1);
        supplier.code = supplier.name = "S";
        supplier.promisedLead = Days::of(kPromisedLead);
        s.suppliers.push_back(supplier);
        for (std::int64_t i = 1; i <= 4; ++i) {
            SupplierItem offer;
            offer.id = SupplierItemId(i);
            offer.supplier = supplier.id;
            offer.item = ItemId(i);
            offer.pack = {Eaches::of(kCase)};
            offer.perCase = Money::of(2000 * kCase);
            s.supplierItems.push_back(offer);
        }
        for (const ShelfLot &on : shelves_.storeroom().lots()) {
            Lot lot;
            lot.id = LotId(static_cast<std::int64_t>(s.lots.size()) + 1);
            lot.item = ItemId(static_cast<std::int64_t>(on.item) + 1);
            lot.number = std::to_string(lot.id.value());
            lot.expiresOn = dateOf(on.lastDay);
            s.lots.push_back(lot);
            if (on.left > 0)
                s.balances.push_back({Place::storeroom(), lot.item, lot.id, Eaches::of(on.left)});
        }
        for (const SupplierOrder &order : shelves_.storeroom().orders()) {
            PurchaseOrder purchase;
            purchase.id = PurchaseOrderId(static_cast<std::int64_t>(s.purchaseOrders.size()) + 1);
            purchase.number = std::to_string(purchase.id.value());
            purchase.supplier = supplier.id;
            purchase.orderedOn = dateOf(order.orderedOn);
            purchase.expectedOn = dateOf(order.orderedOn + kPromisedLead);
            const bool isHere = order.arrivesOn <= day;
            purchase.status = isHere ? PurchaseStatus::Received : PurchaseStatus::Sent;
            Receipt receipt;
            receipt.id = ReceiptId(purchase.id.value());
            receipt.order = purchase.id;
            receipt.supplier = supplier.id;
            receipt.at = {dateOf(order.arrivesOn), Minutes::of(7 * 60)};
            for (std::size_t i = 0; i < kStoreItems; ++i) {
                if (order.cases[i] <= 0)
                    continue;
                const ItemId item(static_cast<std::int64_t>(i) + 1);
                const Eaches eaches = Eaches::of(order.cases[i] * kCase);
                PurchaseLine line;
                line.item = item;
                line.cases = Cases::of(order.cases[i]);
                line.pack = {Eaches::of(kCase)};
                line.received = isHere ? eaches : Eaches{};
                purchase.lines.push_back(line);
                receipt.lines.push_back({item, {}, eaches, {}});
            }
            if (isHere)
                s.receipts.push_back(receipt);
            s.purchaseOrders.push_back(purchase);
        }
    }
    void addHome(Snapshot &s, std::size_t h, int day) const {
        const YearHome &home = year_.homes[h];
        const HomeLife &life = home.life;
        const PatientId patient(home.catheter.value());
        const bool hasLeft = life.exit && *life.exit <= day;
        Patient p;
        p.id = patient;
        p.payer = PayerId(1);
        p.status = hasLeft ? CareStatus::Discharged : CareStatus::Active;
        p.startOfCare = dateOf(life.start);
        if (hasLeft)
            p.exitedAt = Instant::fromUnixSeconds(dateOf(*life.exit).dayNumber() * 86400);
        s.patients.push_back(p);
        Catheter c;
        c.id = home.catheter;
        c.patient = patient;
        c.site = life.site;
        c.insertedOn = dateOf(life.start);
        s.catheters.push_back(c);
        addOrders(s, home, day);
        if (hasLeft)
            return;
        for (const Stay &stay : life.stays) {
            if (stay.from >= day)
                continue;
            Hold hold;
            hold.id = HoldId(static_cast<std::int64_t>(s.holds.size()) + 1);
            hold.patient = patient;
            hold.from = dateOf(stay.from);
            if (stay.to <= day)
                hold.to = dateOf(stay.to);
            s.holds.push_back(hold);
        }
        for (const DrainEntry &entry : home.log)
            if (entry.at.date >= s.logFrom && entry.at.date < dateOf(day - home.daysBehind)) {
                s.drainEntries.push_back(entry);
                s.drainEntries.back().id = DrainEntryId(static_cast<std::int64_t>(s.drainEntries.size()));
            }
        addStock(s, h, day);
    }
    void addOrders(Snapshot &s, const YearHome &home, int day) const {
        for (std::size_t i = 0; i < home.life.orders.size(); ++i) {
            const OrderVersion &version = home.life.orders[i];
            if (version.from > day)
                continue;
            DrainOrder order;
            order.id = DrainOrderId(static_cast<std::int64_t>(s.drainOrders.size()) + 1);
            order.catheter = home.catheter;
            order.pattern = version.pattern;
            order.start = dateOf(version.from);
            if (i + 1 < home.life.orders.size() && home.life.orders[i + 1].from <= day)
                order.end = dateOf(home.life.orders[i + 1].from);
            order.mostPerSession = Millilitres::of(home.life.mostMl);
            order.kit = home.items[0];
            order.extraBottle = home.items[1];
            s.drainOrders.push_back(order);
        }
    }
    // The ledger: the last count, what came after it, less what the log has written down after it.
    void addStock(Snapshot &s, std::size_t h, int day) const {
        const YearHome &home = year_.homes[h];
        for (std::size_t i = 0; i < 2; ++i) {
            for (const Count &count : counts_[h]) {
                HomeCount row;
                row.id = HomeCountId(static_cast<std::int64_t>(s.homeCounts.size()) + 1);
                row.catheter = home.catheter;
                row.item = home.items[i];
                row.at = {dateOf(count.day), Minutes::of(7 * 60 + 30)};
                row.counted = Eaches::of(count.seen[i]);
                s.homeCounts.push_back(row);
            }
            std::int64_t ledger = counts_[h].empty() ? 0 : counts_[h].back().seen[i];
            const int since = counts_[h].empty() ? day : counts_[h].back().day;
            for (const Parcel &parcel : shelvesOf(h).parcels)
                ledger += parcel.arrivesOn > since && parcel.arrivesOn <= day ? parcel.units[i] : 0;
            for (const DrainEntry &entry : home.log)
                if (entry.at.date >= dateOf(since) && entry.at.date < dateOf(day - home.daysBehind))
                    for (const BottleUse &use : entry.supplies)
                        ledger -= use.item == home.items[i] ? (use.used + use.lost).count() : 0;
            if (ledger != 0)
                s.balances.push_back({Place::home(home.catheter), home.items[i], {}, Eaches::of(ledger)});
        }
        for (const Parcel &parcel : shelvesOf(h).parcels)
            addDelivery(s, home, parcel, day);
    }
    void addDelivery(Snapshot &s, const YearHome &home, const Parcel &parcel, int day) const {
        if (parcel.sentOn < day - kLogBack)
            return;
        Delivery d;
        d.id = DeliveryId(static_cast<std::int64_t>(s.deliveries.size()) + 1);
        d.patient = PatientId(home.catheter.value());
        d.promisedFor = dateOf(parcel.arrivesOn);
        d.status = parcel.arrivesOn <= day ? DeliveryStatus::Delivered : DeliveryStatus::InTransit;
        if (parcel.arrivesOn <= day)
            d.deliveredAt = LocalTime{d.promisedFor, Minutes::of(7 * 60)};
        for (std::size_t i = 0; i < 2; ++i)
            if (parcel.units[i] > 0)
                d.lines.push_back({home.catheter, home.items[i], {}, Eaches::of(parcel.units[i])});
        s.deliveries.push_back(std::move(d));
    }
    const Shelf &shelvesOf(std::size_t h) const { return shelves_.at(h); }

    const Year &year_;
    Shelves shelves_;
    RefillWish wish_;
    std::vector<std::vector<Count>> counts_;
};

} // namespace

Result<YearOutcome> forecastRefills(const Year &year, const std::string &name, const RefillWish &wish) {
    return Office(year, name, wish).run();
}

} // namespace kitround::bench

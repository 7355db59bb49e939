#include "core/forecast/HomeAlone.h"

#include "core/base/Require.h"

#include <algorithm>

namespace kitround::forecast {
namespace {

void copyLine(const SnapshotIndex &agency, const Catheter &catheter, Snapshot &home) {
    const Snapshot &all = agency.snapshot();
    home.catheters.push_back(catheter);
    for (const DrainOrder *order : agency.ordersOf(catheter.id))
        home.drainOrders.push_back(*order);
    const auto entries = agency.entriesOf(catheter.id);
    home.drainEntries.insert(home.drainEntries.end(), entries.begin(), entries.end());
    for (const HomeCount *count : agency.countsOf(catheter.id))
        home.homeCounts.push_back(*count);
    for (const StockBalance &balance : agency.balancesAt(Place::home(catheter.id))) {
        home.balances.push_back(balance);
        if (const Lot *lot = balance.lot ? agency.lot(*balance.lot) : nullptr)
            home.lots.push_back(*lot);
    }
    const auto isItsOwn = [&](const auto &record) { return record.catheter == catheter.id; };
    std::ranges::copy_if(all.recallOutcomes, std::back_inserter(home.recallOutcomes), isItsOwn);
    std::ranges::copy_if(all.substitutions, std::back_inserter(home.substitutions), isItsOwn);
}

// As the loader leaves them: by id, each once.
template <class Record>
void orderById(std::vector<Record> &records) {
    std::ranges::stable_sort(records, {}, &Record::id);
    const auto twice = std::ranges::unique(records, {}, &Record::id);
    records.erase(twice.begin(), twice.end());
}

} // namespace

Snapshot homeAlone(const SnapshotIndex &agency, PatientId id) {
    const Snapshot &all = agency.snapshot();
    Snapshot home;
    home.asOf = all.asOf;
    home.now = all.now;
    home.logFrom = all.logFrom;
    home.settings = all.settings;
    home.items = all.items;
    home.payers = all.payers;
    if (const Patient *patient = agency.patient(id))
        home.patients.push_back(*patient);
    for (const Hold *hold : agency.holdsOf(id))
        home.holds.push_back(*hold);
    for (const Delivery *delivery : agency.deliveriesOf(id))
        home.deliveries.push_back(*delivery);
    for (const Catheter *catheter : agency.cathetersOf(id))
        copyLine(agency, *catheter, home);
    orderById(home.drainOrders);
    orderById(home.holds);
    orderById(home.lots);
    orderById(home.recallOutcomes);
    orderById(home.substitutions);
    return home;
}

ItemForecast withParcel(const SnapshotIndex &agency, const AgencyFigures &figures, const ItemForecast &line,
                        const Parcel &parcel) {
    Snapshot home = homeAlone(agency, line.patient);
    for (Delivery &promised : home.deliveries)
        if (promised.status == DeliveryStatus::Promised)
            promised.status = DeliveryStatus::InTransit;
    Delivery delivery;
    delivery.patient = line.patient;
    delivery.status = DeliveryStatus::InTransit;
    delivery.promisedFor = parcel.on;
    delivery.lines.push_back({line.catheter, line.item, std::nullopt, parcel.units});
    home.deliveries.push_back(std::move(delivery));
    const SnapshotIndex index(home);
    const Catheter *catheter = index.catheter(line.catheter);
    KITROUND_REQUIRE(catheter != nullptr);
    const ForecastOptions options{Days::of(static_cast<std::int64_t>(line.days.size())), false};
    std::vector<ItemForecast> found = forecastHome(index, *catheter, options, figures);
    const auto same = std::ranges::find(found, line.item, &ItemForecast::item);
    KITROUND_REQUIRE(same != found.end());
    return std::move(*same);
}

} // namespace kitround::forecast

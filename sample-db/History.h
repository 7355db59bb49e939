#pragma once
// Past months that hang together: visits that were made, drains that used supplies, refills that were agreed,
// sent and received, orders that arrived lot by lot. Every stock movement has both its ends; nothing is made
// up twice. Deterministic: the same plan and seed give the same history.
#include "sample-db/Scenario.h"

#include <cstdint>
#include <optional>

namespace kitround::sample {

// How one home has been draining and keeping its log.
struct HomePlan {
    CatheterId catheter;
    double meanMl = 400;            // around today
    double trendPercent = 0;        // a week; negative tapers
    double spreadPercent = 20;      // of a session's volume
    double adherence = 0.93;        // planned drains that happen
    double logShare = 0.95;         // drains that are written down
    bool stockIsUnknown = false;    // never counted, nothing delivered by us
    std::optional<Date> silentFrom; // nothing is written down from here on
    std::optional<Date> dropFrom;   // volume falls at once to dropShare of itself
    double dropShare = 0.2;
    std::optional<Date> noRefillFrom;
};
// What is known exactly and takes the place of the made-up entry of that day.
struct LogRow {
    CatheterId catheter;
    LocalTime at;
    DrainOutcome outcome = DrainOutcome::Drained;
    std::optional<Millilitres> volume;
    std::vector<Symptom> symptoms;
    EntrySource source = EntrySource::HomeLog;
    std::string note;
};
struct ArrivalLine {
    ItemId item;
    LotId lot;
    Eaches quantity;
    Eaches damaged;
};
struct Arrival {
    Date on;
    std::optional<PurchaseOrderId> order; // none: what was there at the start
    SupplierId supplier;
    std::vector<ArrivalLine> lines;
};
struct OpenDelivery { // agreed and not yet there today
    CatheterId catheter;
    bool isPicked = false; // gone from the storeroom: in a parcel, or in the nurse's car
    DeliveryWay way = DeliveryWay::Courier;
    std::optional<NurseId> carriedBy;
    Date agreedOn;
    Date promisedFor;
    std::vector<std::pair<ItemId, Eaches>> lines;
};
struct LotWithdrawal { // recalled or set aside on a day: what the storeroom held goes to quarantine
    LotId lot;
    Date on;
};
struct CarStock {
    NurseId nurse;
    ItemId item;
    Eaches quantity;
};
struct HistoryPlan {
    std::uint64_t seed = 1;
    Days logBack = Days::of(91);
    int visitWeeksBack = 13;
    std::vector<HomePlan> homes;
    std::vector<LogRow> log;
    std::vector<Arrival> arrivals;
    std::vector<OpenDelivery> openDeliveries;
    std::vector<LotWithdrawal> withdrawals;
    std::vector<CarStock> cars;
};

// Visits of past weeks (Done, some Missed) and this week's published plan, from the visit orders and shifts.
void addVisits(Scenario &scenario, const HistoryPlan &plan);
// First visits and teaching visits of the patients whose care began in those weeks, all Done. After the rest:
// what stands keeps its days.
void addBeginnings(Scenario &scenario, const HistoryPlan &plan);
// Log, deliveries, receipts, counts and movements up to yesterday. Needs the visits.
void addSupplyHistory(Scenario &scenario, const HistoryPlan &plan);

} // namespace kitround::sample

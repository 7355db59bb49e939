#pragma once
// A whole agency in memory, written to a file in one go. Made by the sample's text or by a generator. Records
// refer to each other by the ids they will have: the n-th record of a vector has id n, which the writer
// checks.
#include "core/base/Progress.h"
#include "core/base/Result.h"
#include "core/records/Snapshot.h"
#include "core/records/Users.h"

#include <string>
#include <vector>

namespace kitround::sample {

struct Scenario {
    Date today;
    AgencySettings settings;
    std::vector<User> users; // at least one
    std::vector<Payer> payers;
    std::vector<Nurse> nurses;
    std::vector<ShiftPattern> shiftPatterns;
    std::vector<ExtraShift> extraShifts;
    std::vector<TimeOff> timeOff;
    std::vector<Patient> patients;
    std::vector<Catheter> catheters;
    std::vector<Authorisation> authorisations;
    std::vector<Hold> holds;
    std::vector<Item> items;
    std::vector<Lot> lots;
    std::vector<Supplier> suppliers;
    std::vector<SupplierItem> supplierItems;
    std::vector<DrainOrder> drainOrders;
    std::vector<VisitOrder> visitOrders;
    std::vector<Visit> visits;
    std::vector<Plan> plans;
    std::vector<DrainEntry> drainEntries;
    std::vector<HomeCount> homeCounts;
    std::vector<RefillContact> refillContacts;
    std::vector<Delivery> deliveries;
    std::vector<PurchaseOrder> purchaseOrders;
    std::vector<Receipt> receipts;
    std::vector<StockMovement> movements;
    std::vector<CallItem> callItems;
    std::vector<PhoneCall> phoneCalls;
    std::vector<Incident> incidents;
    std::vector<DecisionNote> decisionNotes;
    std::vector<CarPar> carPars;
};

// Adds the record with its id set; gives it back.
template <class Record>
Record &added(std::vector<Record> &records, Record record) {
    record.id = decltype(record.id)(static_cast<std::int64_t>(records.size()) + 1);
    return records.emplace_back(std::move(record));
}

// Problems: those of the store and of validation; UnknownRecord where an id is not the one promised. On any
// problem no file is left.
Result<void> writeScenario(const std::string &path, const Scenario &scenario, const ProgressSink &progress);

} // namespace kitround::sample

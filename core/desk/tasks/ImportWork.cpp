// A list from a spreadsheet goes in: all its rows in one transaction, or none.
#include "core/desk/tasks/DeskInner.h"
#include "core/desk/tasks/Movements.h"
#include "core/desk/views/ImportPreview.h"
#include "core/desk/views/ReceiveScan.h"

#include <algorithm>
#include <map>

namespace kitround::desk {
namespace {

// Saves the entries of a read list; whatever the store refuses carries the row it was written in.
class Importing {
public:
    Importing(store::UnitOfWork &unit, const Agency &agency, const exchange::ReadList &list)
        : unit_(unit), agency_(agency), list_(list) {}

    Result<Imported> run() {
        done_.kind = list_.kind;
        const auto eachOf = [this](const auto &entries) -> Result<void> {
            for (const auto &entry : entries)
                if (Result<void> saved = save(entry); !saved) {
                    Problem refused = saved.error();
                    refused.row = entry.row;
                    return refused;
                }
            done_.rows += static_cast<int>(entries.size());
            return {};
        };
        if (Result<void> ok = eachOf(list_.items); !ok)
            return ok.error();
        if (Result<void> ok = eachOf(list_.nurses); !ok)
            return ok.error();
        if (Result<void> ok = eachOf(list_.patients); !ok)
            return ok.error();
        if (Result<void> ok = eachOf(list_.counts); !ok)
            return ok.error();
        if (Result<void> ok = saveHomeCounts(); !ok)
            return ok.error();
        return done_;
    }

private:
    template <class Record>
    Result<Record> stored(const Record &record, int Imported::*many) {
        Result<Record> saved = unit_.save(record);
        if (saved)
            ++(done_.*many);
        return saved;
    }

    Result<void> save(const exchange::PatientEntry &entry) {
        const Result<Patient> patient = stored(entry.patient, &Imported::patients);
        if (!patient)
            return patient.error();
        if (entry.visits) {
            VisitOrder visits = *entry.visits;
            visits.patient = patient->id;
            if (const auto saved = stored(visits, &Imported::visitOrders); !saved)
                return saved.error();
        }
        if (!entry.catheter)
            return {};
        Catheter placed = *entry.catheter;
        placed.patient = patient->id;
        const Result<Catheter> catheter = stored(placed, &Imported::catheters);
        if (!catheter)
            return catheter.error();
        if (!entry.order)
            return {};
        DrainOrder order = *entry.order;
        order.catheter = catheter->id;
        const auto saved = stored(order, &Imported::drainOrders);
        return saved ? Result<void>() : saved.error();
    }

    Result<void> save(const exchange::NurseEntry &entry) {
        const Result<Nurse> nurse = stored(entry.nurse, &Imported::nurses);
        if (!nurse)
            return nurse.error();
        for (ShiftPattern shift : entry.shifts) {
            shift.nurse = nurse->id;
            if (const auto saved = stored(shift, &Imported::shifts); !saved)
                return saved.error();
        }
        return {};
    }

    Result<void> save(const exchange::ItemEntry &entry) {
        const Result<Item> item = stored(entry.item, &Imported::items);
        if (!item)
            return item.error();
        if (!entry.offer)
            return {};
        SupplierItem offer = *entry.offer;
        offer.item = item->id;
        const auto saved = stored(offer, &Imported::offers);
        return saved ? Result<void>() : saved.error();
    }

    Result<void> save(const exchange::CountEntry &entry) {
        const Result<std::optional<LotId>> lot = lotOf(entry);
        if (!lot)
            return lot.error();
        const LocalTime at{entry.on, Minutes()};
        const Place place = entry.home ? Place::home(*entry.home) : Place::storeroom();
        if (entry.quantity.count() > 0) {
            const auto posted = unit_.post(moved(at, Place::variance(), place, entry.item, *lot,
                                                 entry.quantity, MovementReason::Opening));
            if (!posted)
                return renamed(posted.error(), "at", "counted_on");
        }
        ++done_.counts;
        if (!entry.home)
            return {};
        HomeCount &count = homes_[{*entry.home, entry.item}];
        count.catheter = *entry.home;
        count.item = entry.item;
        count.at = std::max(count.at, at);
        count.counted += entry.quantity;
        count.source = EntrySource::Import;
        return {};
    }

    Result<std::optional<LotId>> lotOf(const exchange::CountEntry &entry) {
        if (entry.lotNumber.empty())
            return std::optional<LotId>();
        for (Lot &made : lots_)
            if (made.item == entry.item && isSameLotNumber(made.number, entry.lotNumber))
                return withExpiry(made, entry);
        if (const Lot *known = lotNumbered(agency_.snapshot(), entry.item, entry.lotNumber)) {
            lots_.push_back(*known);
            return withExpiry(lots_.back(), entry);
        }
        Lot lot;
        lot.item = entry.item;
        lot.number = entry.lotNumber;
        lot.expiresOn = entry.expiresOn;
        const Result<Lot> saved = stored(lot, &Imported::lots);
        if (!saved)
            return saved.error();
        lots_.push_back(*saved);
        return std::optional(saved->id);
    }

    // Learned from a later row, or now for a lot on record.
    Result<std::optional<LotId>> withExpiry(Lot &lot, const exchange::CountEntry &entry) {
        if (entry.expiresOn && !lot.expiresOn) {
            lot.expiresOn = entry.expiresOn;
            const Result<Lot> saved = unit_.save(lot);
            if (!saved)
                return saved.error();
            lot = *saved;
        }
        return std::optional(lot.id);
    }

    // One count a home and item, of all its lots: from it on the home's stock is known.
    Result<void> saveHomeCounts() {
        for (const auto &[line, count] : homes_)
            if (const Result<HomeCount> saved = unit_.save(count); !saved)
                return saved.error();
        return {};
    }

    store::UnitOfWork &unit_;
    const Agency &agency_;
    const exchange::ReadList &list_;
    Imported done_;
    std::vector<Lot> lots_;
    std::map<std::pair<CatheterId, ItemId>, HomeCount> homes_;
};

const char *auditTableOf(ListKind kind) {
    switch (kind) {
    case ListKind::Patients:
        return "patient";
    case ListKind::Nurses:
        return "nurse";
    case ListKind::Items:
        return "item";
    case ListKind::Counts:
        return "stock_movement";
    }
    return "";
}

} // namespace

Result<Imported> Desk::importList(ListKind kind, const std::string &bytes, const std::string &fileName) {
    return inner_->writeOn([&](store::UnitOfWork &unit, const Agency &agency) -> Result<Imported> {
        exchange::ReadList list = readForImport(agency, kind, bytes);
        if (!list.faults.empty())
            return joined(std::move(list.faults));
        Result<Imported> done = Importing(unit, agency, list).run();
        if (!done)
            return done;
        if (done->rows == 0)
            return problem(ProblemCode::NotAllowed, "row", {"list_empty"});
        const Result<void> noted =
            unit.note(AuditAction::Insert, auditTableOf(kind), 0,
                      "brought in from " + fileName + ": " + std::to_string(done->rows) + " rows");
        if (!noted)
            return noted.error();
        return done;
    });
}

} // namespace kitround::desk

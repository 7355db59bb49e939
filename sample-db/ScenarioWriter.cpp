#include "sample-db/Scenario.h"

#include "core/store/AgencyFile.h"

#include <cstdio>
#include <functional>
#include <type_traits>

namespace kitround::sample {
namespace {

// Long families are split, so that one transaction's journal stays small.
constexpr std::size_t kRecordsATransaction = 20000;

class Writer {
public:
    Writer(store::AgencyFile &file, const Scenario &scenario, const ProgressSink &progress)
        : file_(file), scenario_(scenario), progress_(progress),
          at_(Instant::fromUnixSeconds(scenario.today.dayNumber() * 86400)) {}

    Result<void> write() {
        const Scenario &s = scenario_;
        // Whoever is referred to comes first.
        return first({[&] { return saveUsersAfterFirst(); },
                      [&] { return saveAll(s.payers); },
                      [&] { return saveAll(s.nurses); },
                      [&] { return saveAll(s.shiftPatterns); },
                      [&] { return saveAll(s.extraShifts); },
                      [&] { return saveAll(s.timeOff); },
                      [&] { return saveAll(s.patients); },
                      [&] { return saveAll(s.catheters); },
                      [&] { return saveAll(s.authorisations); },
                      [&] { return saveAll(s.holds); },
                      [&] { return saveItems(); },
                      [&] { return saveAll(s.lots); },
                      [&] { return saveAll(s.suppliers); },
                      [&] { return saveAll(s.supplierItems); },
                      [&] { return saveAll(s.drainOrders); },
                      [&] { return saveAll(s.visitOrders); },
                      [&] { return saveAll(s.visits); },
                      [&] { return saveAll(s.plans); },
                      [&] { return saveAll(s.drainEntries); },
                      [&] { return saveAll(s.homeCounts); },
                      [&] { return saveAll(s.refillContacts); },
                      [&] { return saveAll(s.deliveries); },
                      [&] { return saveAll(s.purchaseOrders); },
                      [&] { return saveAll(s.receipts); },
                      [&] { return saveAll(s.movements); },
                      [&] { return saveAll(s.callItems); },
                      [&] { return saveAll(s.phoneCalls); },
                      [&] { return saveAll(s.incidents); },
                      [&] { return saveAll(s.decisionNotes); },
                      [&] { return saveAll(s.carPars); }});
    }

private:
    using Step = std::function<Result<void>()>;

    Result<void> first(const std::vector<Step> &steps) {
        for (std::size_t i = 0; i < steps.size(); ++i) {
            if (auto done = steps[i](); !done)
                return done;
            if (progress_)
                progress_({static_cast<double>(i + 1) / static_cast<double>(steps.size()), "writing", 0, 0});
        }
        return {};
    }

    template <class Record>
    static Result<void> keep(store::UnitOfWork &work, const Record &record) {
        Record fresh = record;
        fresh.id = {};
        fresh.rowVersion = 0;
        return checked(work.save(std::move(fresh)), record.id.value());
    }
    static Result<void> keep(store::UnitOfWork &work, const RefillContact &record) {
        RefillContact fresh = record;
        fresh.id = {};
        return checked(work.save(std::move(fresh)), record.id.value());
    }
    static Result<void> keep(store::UnitOfWork &work, const Receipt &record) {
        Receipt fresh = record;
        fresh.id = {};
        return checked(work.save(std::move(fresh)), record.id.value());
    }
    static Result<void> keep(store::UnitOfWork &work, const StockMovement &record) {
        StockMovement fresh = record;
        fresh.id = {};
        return checked(work.post(std::move(fresh)), record.id.value());
    }
    template <class Record>
    static Result<void> checked(const Result<Record> &stored, std::int64_t promised) {
        if (!stored) {
            Problem problem = stored.error();
            problem.row = static_cast<int>(promised);
            return problem;
        }
        if (stored->id.value() != promised)
            return Problem{ProblemCode::UnknownRecord,
                           "id",
                           {std::to_string(stored->id.value()), std::to_string(promised)},
                           0,
                           0,
                           {}};
        return {};
    }

    template <class Record>
    Result<void> saveAll(const std::vector<Record> &records, std::size_t from = 0) {
        for (std::size_t i = from; i < records.size();) {
            store::UnitOfWork work(file_, UserId(1), at_, store::AuditDetail::Summary);
            const std::size_t end = std::min(records.size(), i + kRecordsATransaction);
            for (; i < end; ++i)
                if (auto kept = keep(work, records[i]); !kept)
                    return kept;
            if (auto committed = work.commit(); !committed)
                return committed;
        }
        return {};
    }

    Result<void> saveUsersAfterFirst() { return saveAll(scenario_.users, 1); }

    // Items refer to each other both ways, so they are saved bare first.
    Result<void> saveItems() {
        store::UnitOfWork work(file_, UserId(1), at_, store::AuditDetail::Summary);
        for (const Item &item : scenario_.items) {
            Item bare = item;
            bare.contents.clear();
            bare.substitutes.clear();
            bare.id = {};
            bare.rowVersion = 0;
            auto stored = work.save(std::move(bare));
            if (auto kept = checked(stored, item.id.value()); !kept)
                return kept;
            versions_.push_back(stored->rowVersion);
        }
        for (std::size_t i = 0; i < scenario_.items.size(); ++i) {
            Item full = scenario_.items[i];
            if (full.contents.empty() && full.substitutes.empty())
                continue;
            full.rowVersion = versions_[i];
            if (auto stored = work.save(std::move(full)); !stored)
                return stored.error();
        }
        return work.commit();
    }

    store::AgencyFile &file_;
    const Scenario &scenario_;
    const ProgressSink &progress_;
    Instant at_;
    std::vector<std::int64_t> versions_;
};

} // namespace

Result<void> writeScenario(const std::string &path, const Scenario &scenario, const ProgressSink &progress) {
    KITROUND_REQUIRE(!scenario.users.empty());
    auto file = store::AgencyFile::create(path, scenario.settings, scenario.users.front(),
                                          Instant::fromUnixSeconds(scenario.today.dayNumber() * 86400));
    if (!file)
        return file.error();
    auto written = Writer(**file, scenario, progress).write();
    if (!written) {
        file->reset(); // closed before it is removed
        std::remove(path.c_str());
    }
    return written;
}

} // namespace kitround::sample

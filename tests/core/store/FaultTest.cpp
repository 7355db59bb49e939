// The Nth statement fails, N = 1, 2, ... until the work succeeds; and the disk fills up. After each: the old
// state or the new one, nothing between, and a sound file.
#include "core/store/AgencyFileInner.h"
#include "tests/core/store/World.h"

#include <gtest/gtest.h>

namespace kitround::store {
namespace {

const LoadOptions kAll{{Date::of(2028, 1, 1), {}}, Days::of(3000)};

// All that the file says, as one comparable value.
struct Contents {
    Snapshot snapshot;
    std::vector<StockMovement> movements;
    std::vector<AuditEntry> audit;
    friend bool operator==(const Contents &a, const Contents &b) {
        return a.audit == b.audit && a.movements == b.movements &&
               a.snapshot.patients == b.snapshot.patients &&
               a.snapshot.drainEntries == b.snapshot.drainEntries &&
               a.snapshot.balances == b.snapshot.balances && a.snapshot.visits == b.snapshot.visits &&
               a.snapshot.plans == b.snapshot.plans && a.snapshot.items == b.snapshot.items;
    }
};
Contents contentsOf(AgencyFile &file) {
    return {file.load(kAll, {}, {}).value(), file.allMovements().value(), file.audit(1'000'000).value()};
}
bool isSound(AgencyFile &file) {
    const auto faults = file.check({}, {});
    if (!faults)
        return false;
    for (const Problem &fault : *faults)
        if (fault.code != ProblemCode::Negative)
            return false;
    return true;
}

// One use case that touches rows, lists, updates, the ledger and the audit.
Result<void> logADrain(AgencyFile &file, const SmallAgency &agency) {
    UnitOfWork unit(file, kFirstUser, kMoment);
    const LocalTime at{Date::of(2026, 11, 20), Minutes::of(600)};
    const auto entry = unit.save(plainEntry(agency, at));
    if (!entry)
        return entry.error();
    StockMovement used = plainMovement(agency, at, 1);
    used.from = Place::home(agency.catheter.id);
    used.to = Place::used(entry->id);
    if (auto posted = unit.post(used); !posted)
        return posted.error();
    Patient patient = agency.patient;
    patient.languages = {"es", "en"};
    patient.notes = "changed";
    if (auto saved = unit.save(patient); !saved)
        return saved.error();
    return unit.commit();
}

class FailNth {
public:
    FailNth(int n, bool forGood) : n_(n), forGood_(forGood) {}
    std::optional<Problem> operator()(const QString &) {
        ++seen_;
        if (seen_ != n_ && !(forGood_ && seen_ > n_))
            return std::nullopt;
        Problem problem;
        problem.code = ProblemCode::StoreFailed;
        problem.field = "file";
        problem.args = {"fault", "injected"};
        return problem;
    }

private:
    int n_;
    bool forGood_;
    int seen_ = 0;
};

TEST(FaultTest, WhicheverStatementFailsTheFileHasTheOldStateOrTheNew) {
    for (const bool forGood : {false, true}) {
        const TestFolder folder;
        const std::string path = folder.path("a");
        auto file = makeFile(path);
        const SmallAgency agency = addSmallAgency(*file);
        const Contents old = contentsOf(*file);
        int n = 1;
        for (bool succeeded = false; !succeeded; ++n) {
            ASSERT_LT(n, 100);
            file->inner().connection->setFault(FailNth(n, forGood));
            succeeded = bool(logADrain(*file, agency));
            file->inner().connection->setFault({});
            // Another seat sees the file as it is on the disk.
            auto seat = mustOpen(path);
            const Contents now = contentsOf(*seat);
            EXPECT_EQ(now == old, !succeeded) << n;
            EXPECT_TRUE(isSound(*seat)) << n;
        }
        EXPECT_GT(n, 12) << forGood; // the work has at least so many statements, and each was failed once
        EXPECT_EQ(file->load(kAll, {}, {})->drainEntries.size(), 1U);
    }
}

TEST(FaultTest, AFailedUnitDoesNotHinderTheNext) {
    const TestFolder folder;
    auto file = makeFile(folder.path("a"));
    const SmallAgency agency = addSmallAgency(*file);
    for (int n = 1; n <= 10; ++n) {
        file->inner().connection->setFault(FailNth(n, true)); // the rollback fails too
        EXPECT_FALSE(logADrain(*file, agency));
        file->inner().connection->setFault({});
        UnitOfWork next(*file, kFirstUser, kMoment);
        ASSERT_TRUE(next.post(plainMovement(agency, {Date::of(2026, 1, n > 9 ? 10U : unsigned(n)), {}}, 1)))
            << n;
        ASSERT_TRUE(next.commit()) << n;
    }
    EXPECT_EQ(file->allMovements()->size(), 10U);
    EXPECT_TRUE(file->load(kAll, {}, {})->drainEntries.empty());
    EXPECT_TRUE(isSound(*file));
}

TEST(FaultTest, AFullDiskLeavesTheOldStateAndSaysSo) {
    const TestFolder folder;
    auto file = makeFile(folder.path("a"));
    const SmallAgency agency = addSmallAgency(*file);
    Connection &connection = *file->inner().connection;
    const Contents old = contentsOf(*file);
    const int pages = connection.single(QStringLiteral("PRAGMA page_count"))->toInt();
    ASSERT_TRUE(connection.run(QStringLiteral("PRAGMA max_page_count = %1").arg(pages + 2)));
    Problem problem;
    {
        UnitOfWork unit(*file, kFirstUser, kMoment);
        for (int i = 0; i < 100000; ++i) {
            auto saved = unit.save(plainEntry(agency, {Date::of(2026, 11, 1), Minutes::of(i % 1440)}));
            if (!saved) {
                problem = saved.error();
                break;
            }
        }
        EXPECT_EQ(unit.commit().error().code, ProblemCode::DiskFull);
    }
    EXPECT_EQ(problem.code, ProblemCode::DiskFull) << debugText(problem);
    EXPECT_TRUE(contentsOf(*file) == old);
    EXPECT_TRUE(isSound(*file));
    ASSERT_TRUE(connection.run(QStringLiteral("PRAGMA max_page_count = 1000000")));
    EXPECT_TRUE(logADrain(*file, agency)); // room again, work again
}

} // namespace
} // namespace kitround::store

// The balances of a file are always the sum of its movements: with two seats writing at once, some of whose
// units are dropped, and when a seat is killed at any moment of its writing.
#include "core/supply/Ledger.h"
#include "tests/core/store/World.h"

#include <gtest/gtest.h>

#include <array>
#include <csignal>
#include <map>
#include <thread>
#include <tuple>

#include <sys/wait.h>
#include <unistd.h>

namespace kitround::store {
namespace {

const LoadOptions kAll{{Date::of(2028, 1, 1), {}}, Days::of(3000)};

// What one seat does again and again: a unit of kMoves movements between places that are drawn.
constexpr int kMoves = 3;
StockMovement drawnMovement(const SmallAgency &agency, Random &random) {
    const std::array places = {Place::storeroom(), Place::home(agency.catheter.id),
                               Place::car(agency.nurse.id), Place::quarantine()};
    const LocalTime at{Date::of(2026, 11, 1).plusDays(random.between(0, 20)), Minutes::of(600)};
    StockMovement movement = plainMovement(agency, at, random.between(1, 500));
    const auto from = static_cast<std::size_t>(random.below(places.size()));
    movement.from = places[from];
    movement.to = places[(from + 1 + random.below(places.size() - 1)) % places.size()];
    if (random.chance(0.3))
        movement.lot.reset();
    return movement;
}
// Whether the unit was committed; one in five is dropped on purpose. Busy or refused: not committed.
bool postUnit(AgencyFile &file, const SmallAgency &agency, Random &random) {
    UnitOfWork unit(file, kFirstUser, kMoment);
    for (int i = 0; i < kMoves; ++i)
        if (!unit.post(drawnMovement(agency, random)))
            return false;
    return !random.chance(0.2) && unit.commit();
}

void expectBalancesAreTheSum(AgencyFile &file) {
    const auto movements = file.allMovements();
    const auto snapshot = file.load(kAll, {}, {});
    ASSERT_TRUE(movements && snapshot);
    std::map<std::tuple<Place, ItemId, std::optional<LotId>>, std::int64_t> sums;
    const auto add = [&](const Place &place, const StockMovement &m, std::int64_t quantity) {
        sums[{place, m.item, m.lot}] += quantity;
    };
    for (const StockMovement &m : *movements) {
        add(m.from, m, -m.quantity.count());
        add(m.to, m, m.quantity.count());
    }
    std::size_t standing = 0;
    for (const auto &[key, sum] : sums)
        standing += sum != 0 ? 1 : 0;
    EXPECT_EQ(snapshot->balances.size(), standing);
    for (const StockBalance &row : snapshot->balances)
        EXPECT_EQ((sums[{row.place, row.item, row.lot}]), row.quantity.count());
    EXPECT_EQ(supply::balancesOf(*movements).size(), standing) << "the pure sum agrees with the file's";
    const Problems faults = file.check({}, {}).value();
    for (const Problem &fault : faults)
        EXPECT_EQ(fault.code, ProblemCode::Negative)
            << debugText(fault); // drawn moves take more than there is
}

TEST(LedgerPropertyTest, TwoSeatsAtOnceSomeUnitsDropped) {
    for (std::uint64_t seed = 1; seed <= 2; ++seed) {
        const TestFolder folder;
        const auto file = makeFile(folder.path("a"));
        const SmallAgency agency = addSmallAgency(*file);
        const auto work = [&](std::uint64_t own, int &committed) {
            auto seat = AgencyFile::open(folder.path("a"), OpenMode::ReadWrite);
            ASSERT_TRUE(seat);
            Random random(seed * 100 + own);
            for (int i = 0; i < 25; ++i)
                committed += postUnit(**seat, agency, random) ? 1 : 0;
        };
        int first = 0, second = 0;
        std::thread one(work, 1, std::ref(first)), two(work, 2, std::ref(second));
        one.join();
        two.join();
        EXPECT_GT(first + second, 20);
        EXPECT_EQ(file->allMovements()->size(), static_cast<std::size_t>(kMoves * (first + second)));
        expectBalancesAreTheSum(*file);
    }
}

// A process of its own, which tells each commit through a pipe until it is killed.
class Writer {
public:
    Writer(const std::string &path, const SmallAgency &agency, std::uint64_t seed) {
        std::array<int, 2> ends{};
        if (pipe(ends.data()) != 0)
            return;
        process_ = fork();
        if (process_ == 0) {
            auto seat = AgencyFile::open(path, OpenMode::ReadWrite);
            Random random(seed);
            while (seat)
                if (postUnit(**seat, agency, random) && write(ends[1], "c", 1) != 1)
                    break;
            _exit(1);
        }
        close(ends[1]);
        told_ = ends[0];
    }
    ~Writer() { close(told_); }
    bool isRunning() const { return process_ > 0; }
    // Waits for so many commits, then kills after a drawn while and gives how many were told in all.
    int killAfter(int commits, Random &random) {
        char c = 0;
        int told = 0;
        while (told < commits && read(told_, &c, 1) == 1)
            ++told;
        usleep(static_cast<useconds_t>(random.between(0, 8000)));
        kill(process_, SIGKILL);
        waitpid(process_, nullptr, 0);
        while (read(told_, &c, 1) == 1)
            ++told;
        return told;
    }

private:
    pid_t process_ = -1;
    int told_ = -1;
};

TEST(LedgerPropertyTest, ASeatKilledWhileItWritesLeavesWholeUnits) {
    const TestFolder folder;
    SmallAgency agency;
    {
        const auto file = makeFile(folder.path("a"));
        agency = addSmallAgency(*file);
    } // closed: a child must not share a connection
    Random random(5);
    std::size_t before = 0;
    for (std::uint64_t round = 1; round <= 5; ++round) {
        Writer writer(folder.path("a"), agency, round);
        ASSERT_TRUE(writer.isRunning());
        const int told = writer.killAfter(static_cast<int>(random.between(1, 6)), random);
        EXPECT_GE(told, 1);
        const auto file = mustOpen(folder.path("a"));
        const std::size_t movements = file->allMovements()->size();
        EXPECT_EQ(movements % kMoves, 0U) << "a unit is there as a whole or not at all";
        const std::size_t units = (movements - before) / kMoves;
        EXPECT_GE(units, static_cast<std::size_t>(told)) << "what was told as done is done";
        EXPECT_LE(units, static_cast<std::size_t>(told) + 1);
        before = movements;
        expectBalancesAreTheSum(*file);
        EXPECT_TRUE(postUnit(*file, agency, random) || postUnit(*file, agency, random) ||
                    postUnit(*file, agency, random))
            << "the next seat writes on";
        before = file->allMovements()->size();
    }
}

} // namespace
} // namespace kitround::store

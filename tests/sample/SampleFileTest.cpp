// The sample agency as a file: made twice, loaded, and looked through for what it promises.
#include "sample-db/SampleAgency.h"
#include "tests/sample/AwkwardCases.h"

#include "core/calendar/Weeks.h"
#include "core/store/AgencyFile.h"

#include <gtest/gtest.h>

#include <QTemporaryDir>

#include <algorithm>
#include <array>

namespace kitround::sample {
namespace {

class SampleFile : public testing::Test {
protected:
    std::string pathOf(const char *name) const {
        return folder_.filePath(QString::fromLatin1(name)).toStdString();
    }

    Snapshot loaded(const char *name, std::optional<Date> today) {
        const auto built = buildSampleAgency(pathOf(name), today, {});
        EXPECT_TRUE(built) << (built ? "" : debugText(built.error()));
        auto file = store::AgencyFile::open(pathOf(name), store::OpenMode::ReadOnly);
        EXPECT_TRUE(file) << (file ? "" : debugText(file.error()));
        if (!file)
            return {};
        const LocalTime now{today.value_or(kSampleDay), Minutes::of(8 * 60)};
        auto snapshot = (*file)->load({now, Days::of(120)}, {}, {});
        EXPECT_TRUE(snapshot) << (snapshot ? "" : debugText(snapshot.error()));
        return snapshot ? std::move(*snapshot) : Snapshot{};
    }

    QTemporaryDir folder_;
};

template <class Records>
bool same(const Records &a, const Records &b) {
    return !a.empty() && a == b;
}

TEST_F(SampleFile, IsTheSameWhenMadeTwice) {
    const Snapshot a = loaded("a", {});
    const Snapshot b = loaded("b", {});
    EXPECT_TRUE(a.settings == b.settings);
    EXPECT_TRUE(same(a.patients, b.patients));
    EXPECT_TRUE(same(a.catheters, b.catheters));
    EXPECT_TRUE(same(a.drainOrders, b.drainOrders));
    EXPECT_TRUE(same(a.drainEntries, b.drainEntries));
    EXPECT_TRUE(same(a.homeCounts, b.homeCounts));
    EXPECT_TRUE(same(a.deliveries, b.deliveries));
    EXPECT_TRUE(same(a.balances, b.balances));
    EXPECT_TRUE(same(a.receipts, b.receipts));
    EXPECT_TRUE(same(a.visits, b.visits));
    EXPECT_TRUE(same(a.plans, b.plans));
    EXPECT_TRUE(same(a.lots, b.lots));
    EXPECT_TRUE(same(a.incidents, b.incidents));
    EXPECT_TRUE(same(a.decisionNotes, b.decisionNotes));
}

TEST_F(SampleFile, HoldsEveryAwkwardCase) {
    const Snapshot snapshot = loaded("a", {});
    EXPECT_TRUE(snapshot.settings.isInvented);
    EXPECT_EQ(snapshot.settings.demoToday, kSampleDay);
    const Date next = calendar::weekStartOf(snapshot.asOf, snapshot.settings.weekStart).plusDays(7);
    const auto cases = awkwardCases(SnapshotIndex(snapshot), {next, next.plusDays(7)});
    EXPECT_GT(cases.size(), 30U);
    for (const AwkwardCase &c : cases)
        EXPECT_TRUE(c.isThere) << c.name;
}

TEST_F(SampleFile, ASnapshotWithoutAnythingHoldsNoAwkwardCase) {
    const Snapshot empty;
    const SnapshotIndex index(empty);
    for (const AwkwardCase &c : awkwardCases(index, {Date::of(2026, 6, 7), Date::of(2026, 6, 14)}))
        EXPECT_FALSE(c.isThere) << c.name;
}

TEST_F(SampleFile, MovesWithTheDay) {
    const Snapshot a = loaded("a", {});
    const Snapshot later = loaded("b", kSampleDay.plusDays(70));
    ASSERT_EQ(a.patients.size(), later.patients.size());
    for (std::size_t i = 0; i < a.patients.size(); ++i) {
        EXPECT_EQ(a.patients[i].startOfCare.has_value(), later.patients[i].startOfCare.has_value());
        if (a.patients[i].startOfCare && later.patients[i].startOfCare) {
            EXPECT_EQ(a.patients[i].startOfCare->plusDays(70), *later.patients[i].startOfCare);
        }
        EXPECT_EQ(a.patients[i].bornOn, later.patients[i].bornOn);
    }
    ASSERT_FALSE(later.drainEntries.empty());
    const auto latest = std::ranges::max(later.drainEntries, {}, [](const DrainEntry &e) { return e.at; });
    EXPECT_EQ(latest.at.date, later.asOf.plusDays(-1));
    EXPECT_EQ(later.settings.demoToday, kSampleDay.plusDays(70));
    EXPECT_TRUE(std::ranges::any_of(later.incidents, [&](const Incident &i) {
        return i.reportDueOn == later.asOf.plusDays(1) && !i.reportedOn;
    })) << "its report is always to be made tomorrow";
}

TEST_F(SampleFile, IsNotWrittenOverAnotherFile) {
    ASSERT_TRUE(buildSampleAgency(pathOf("a"), {}, {}));
    const auto again = buildSampleAgency(pathOf("a"), {}, {});
    ASSERT_FALSE(again);
    EXPECT_EQ(again.error().code, ProblemCode::FileExists);
}

TEST_F(SampleFile, PassesTheStoresOwnCheck) {
    ASSERT_TRUE(buildSampleAgency(pathOf("a"), {}, {}));
    auto file = store::AgencyFile::open(pathOf("a"), store::OpenMode::ReadOnly);
    ASSERT_TRUE(file);
    const auto faults = (*file)->check({}, {});
    ASSERT_TRUE(faults);
    for (const Problem &p : *faults)
        if (p.code != ProblemCode::Negative) // a home that used what nobody wrote down
            ADD_FAILURE() << debugText(p);
}

} // namespace
} // namespace kitround::sample

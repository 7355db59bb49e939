// Another program takes away the write-ahead log under an open file, or puts another file in its place: from
// then on nothing counts as saved, and all that was saved is in a copy.
#include "core/store/AgencyFileInner.h"
#include "tests/core/store/World.h"

#include <gtest/gtest.h>

#include <filesystem>

namespace kitround::store {
namespace {

const LoadOptions kAll{{Date::of(2027, 6, 1), {}}, Days::of(1000)};

Payer namedPayer(const std::string &name) {
    Payer payer;
    payer.name = name;
    return payer;
}
void addPayer(AgencyFile &file, const std::string &name) {
    UnitOfWork unit(file, kFirstUser, kMoment);
    ASSERT_TRUE(unit.save(namedPayer(name)));
    ASSERT_TRUE(unit.commit());
}
bool hasPayer(AgencyFile &file, const std::string &name) {
    const auto snapshot = file.load(kAll, {}, {});
    return snapshot && std::ranges::any_of(snapshot->payers, [&](const Payer &p) { return p.name == name; });
}

TEST(LostLogTest, AFileWhoseLogIsInPlaceIsSavedToWhateverElseOpensAndClosesIt) {
    const TestFolder folder;
    const std::string path = folder.path("a.kitround");
    const auto file = makeFile(path);
    addPayer(*file, "First");
    mustOpen(path, OpenMode::ReadOnly);
    mustOpen(path);
    ASSERT_TRUE(file->backupTo(folder.path("copy.kitround"), {}, {}));
    addPayer(*file, "Second");
    EXPECT_TRUE(hasPayer(*file, "Second"));
    EXPECT_FALSE(std::filesystem::exists(rescueName(path))) << "no copy where nothing is wrong";
}

TEST(LostLogTest, WithoutItsLogNoChangeIsSavedAndAllBeforeIsInACopy) {
    const TestFolder folder;
    const std::string path = folder.path("a.kitround");
    const auto file = makeFile(path);
    addPayer(*file, "Kept");
    const std::string copy = rescueName(path);
    EXPECT_TRUE(copy.ends_with("a-rescued.kitround"));
    ASSERT_TRUE(std::filesystem::remove(path + "-wal"));
    for (int time = 0; time < 2; ++time) { // the second time no second copy
        UnitOfWork unit(*file, kFirstUser, kMoment);
        const auto saved = unit.save(namedPayer("Late"));
        ASSERT_FALSE(saved);
        EXPECT_EQ(saved.error().code, ProblemCode::Conflict);
        EXPECT_EQ(saved.error().args, (std::vector<std::string>{"log_gone", copy}));
        EXPECT_FALSE(unit.commit());
    }
    const auto rescued = mustOpen(copy);
    EXPECT_TRUE(hasPayer(*rescued, "Kept"));
    EXPECT_FALSE(hasPayer(*rescued, "Late"));
    EXPECT_TRUE(rescued->check({}, {})->empty());
    EXPECT_FALSE(std::filesystem::exists(folder.path("a-rescued-2.kitround")));
}

TEST(LostLogTest, AChangeInWhoseMidstTheLogGoesIsNotToldAsSavedButIsInTheCopy) {
    const TestFolder folder;
    const std::string path = folder.path("a.kitround");
    const auto file = makeFile(path);
    UnitOfWork unit(*file, kFirstUser, kMoment);
    ASSERT_TRUE(unit.save(namedPayer("Late")));
    ASSERT_TRUE(std::filesystem::remove(path + "-wal"));
    const auto done = unit.commit();
    ASSERT_FALSE(done);
    ASSERT_EQ(done.error().args.size(), 2U);
    EXPECT_EQ(done.error().args[0], "log_gone_kept");
    EXPECT_TRUE(hasPayer(*mustOpen(done.error().args[1]), "Late"));
}

TEST(LostLogTest, AnotherFileInItsPlaceIsNoticed) {
    const TestFolder folder;
    const std::string path = folder.path("a.kitround");
    const auto file = makeFile(path);
    makeFile(folder.path("b.kitround"));
    std::filesystem::rename(folder.path("b.kitround"), path);
    UnitOfWork unit(*file, kFirstUser, kMoment);
    const auto saved = unit.save(namedPayer("Late"));
    ASSERT_FALSE(saved);
    EXPECT_EQ(saved.error().args.front(), "log_gone");
}

TEST(LostLogTest, ALinkToTheFileIsLookedThrough) {
    const TestFolder folder;
    const std::string path = folder.path("a.kitround"), link = folder.path("link.kitround");
    makeFile(path);
    std::filesystem::create_symlink(path, link);
    const auto file = mustOpen(link);
    addPayer(*file, "Kept");
    ASSERT_TRUE(std::filesystem::remove(path + "-wal"));
    UnitOfWork unit(*file, kFirstUser, kMoment);
    const auto saved = unit.save(namedPayer("Late"));
    ASSERT_FALSE(saved);
    EXPECT_EQ(saved.error().args.front(), "log_gone");
}

TEST(LostLogTest, WhereNoCopyCanBeMadeItIsSaidAndTriedAgain) {
    const TestFolder folder;
    const std::string path = folder.path("a.kitround");
    const auto file = makeFile(path);
    ASSERT_TRUE(std::filesystem::remove(path + "-wal"));
    bool isFull = true;
    file->inner().connection->setFault([&](const QString &sql) -> std::optional<Problem> {
        if (isFull && sql.startsWith(QStringLiteral("VACUUM")))
            return Problem{ProblemCode::DiskFull};
        return std::nullopt;
    });
    const auto firstWord = [&] {
        UnitOfWork unit(*file, kFirstUser, kMoment);
        const auto saved = unit.save(namedPayer("Late"));
        return saved ? std::string("saved") : saved.error().args.front();
    };
    EXPECT_EQ(firstWord(), "log_gone_no_copy");
    isFull = false;
    EXPECT_EQ(firstWord(), "log_gone");
}

} // namespace
} // namespace kitround::store

// Every way a file can be refused, and that a refused file is left as it was.
#include "core/store/Opening.h"
#include "core/store/AgencyFileInner.h"
#include "core/store/HeldFiles.h"
#include "core/store/SqlScript.h"
#include "core/store/Transaction.h"
#include "tests/core/store/World.h"
#include "tests/support/FileLocks.h"

#include <gtest/gtest.h>

#include <QDir>
#include <QFile>
#include <QFileInfo>

#include <filesystem>
#include <fstream>

namespace kitround::store {
namespace {

using test::isLockedForOthers;

QByteArray bytesOf(const std::string &path) {
    QFile file(QString::fromStdString(path));
    EXPECT_TRUE(file.open(QIODevice::ReadOnly));
    return file.readAll();
}
void write(const std::string &path, const QByteArray &bytes) {
    QFile file(QString::fromStdString(path));
    ASSERT_TRUE(file.open(QIODevice::WriteOnly));
    file.write(bytes);
}
QStringList namesIn(const TestFolder &folder) {
    return QDir(QString::fromStdString(folder.folder())).entryList(QDir::Files, QDir::Name);
}
ProblemCode refusalOf(const std::string &path, OpenMode mode = OpenMode::ReadWrite) {
    const auto file = AgencyFile::open(path, mode);
    EXPECT_FALSE(file) << "was opened";
    return file ? ProblemCode::Infeasible : file.error().code;
}
// A database by SQLite that is not ours.
void makeForeign(const std::string &path, std::int64_t applicationId) {
    write(path, {});
    auto connection = Connection::open(path, Connection::Access::ReadWrite);
    ASSERT_TRUE(connection);
    ASSERT_TRUE((*connection)->run(QStringLiteral("CREATE TABLE other (x)")));
    ASSERT_TRUE((*connection)->run(QStringLiteral("PRAGMA application_id = %1").arg(applicationId)));
}

// Without its lock another program takes the write-ahead log for abandoned, and what is saved later is lost.
TEST(OpeningTest, OpeningASecondTimeToReadKeepsTheLocksOfTheFirst) {
    const TestFolder folder;
    const std::string path = folder.path("a.kitround");
    const auto first = makeFile(path);
    ASSERT_TRUE(first->users());
    EXPECT_TRUE(isLockedForOthers(path));
    {
        const auto second = AgencyFile::open(path, OpenMode::ReadOnly);
        ASSERT_TRUE(second);
        EXPECT_TRUE(isLockedForOthers(path));
    }
    std::filesystem::create_symlink(path, folder.path("b.kitround"));
    EXPECT_TRUE(AgencyFile::open(folder.path("b.kitround"), OpenMode::ReadOnly));
    EXPECT_TRUE(isLockedForOthers(path));
    std::filesystem::create_hard_link(path, folder.path("c.kitround"));
    for (const char *held : {"a.kitround", "b.kitround", "c.kitround", "a.kitround-wal", "a.kitround-shm"})
        EXPECT_TRUE(isHeld(folder.path(held))) << held;
    EXPECT_FALSE(isHeld(folder.path("d.kitround")));
}

TEST(OpeningTest, ANewFileIsPrivateAndCarriesItsMarks) {
    const TestFolder folder;
    auto file = makeFile(folder.path("a.kitround"));
    const auto mode = std::filesystem::status(folder.path("a.kitround")).permissions();
    EXPECT_EQ(mode, std::filesystem::perms::owner_read | std::filesystem::perms::owner_write);
    Connection &connection = *file->inner().connection;
    EXPECT_EQ(connection.single(QStringLiteral("PRAGMA application_id"))->toLongLong(), kApplicationId);
    EXPECT_EQ(connection.single(QStringLiteral("PRAGMA user_version"))->toInt(), file->schemaVersion());
    EXPECT_EQ(connection.single(QStringLiteral("PRAGMA journal_mode"))->toString(), QStringLiteral("wal"));
    EXPECT_EQ(connection.single(QStringLiteral("PRAGMA foreign_keys"))->toInt(), 1);
    EXPECT_EQ(file->users()->size(), 1U);
    // Every table of ours is strict: a word where a number belongs is refused.
    EXPECT_EQ(connection
                  .single(QStringLiteral(
                      "SELECT count(*) FROM pragma_table_list WHERE type = 'table' AND strict = 0 "
                      "AND name NOT LIKE 'sqlite_%'"))
                  ->toInt(),
              0);
}

TEST(OpeningTest, ATakenNameIsRefusedAndTheFileKept) {
    const TestFolder folder;
    write(folder.path("a"), "precious");
    const auto file = AgencyFile::create(folder.path("a"), plainSettings(), firstUser(), kMoment);
    ASSERT_FALSE(file);
    EXPECT_EQ(file.error().code, ProblemCode::FileExists);
    EXPECT_EQ(bytesOf(folder.path("a")), QByteArray("precious"));
}

TEST(OpeningTest, AFailedCreationLeavesNothingBehind) {
    const TestFolder folder;
    User nameless;
    const auto file = AgencyFile::create(folder.path("a"), plainSettings(), nameless, kMoment);
    ASSERT_FALSE(file);
    EXPECT_EQ(file.error().field, "name");
    EXPECT_EQ(namesIn(folder), QStringList());
    const auto nowhere = AgencyFile::create(folder.path("no/a"), plainSettings(), firstUser(), kMoment);
    ASSERT_FALSE(nowhere);
    EXPECT_EQ(nowhere.error().code, ProblemCode::FileMissing);
}

TEST(OpeningTest, EachKindOfWrongFileHasItsOwnProblem) {
    const TestFolder folder;
    EXPECT_EQ(refusalOf(folder.path("missing")), ProblemCode::FileMissing);
    EXPECT_EQ(refusalOf(folder.folder()), ProblemCode::FileNotReadable); // a folder

    write(folder.path("text"), QByteArray("code,name\n").repeated(100));
    EXPECT_EQ(refusalOf(folder.path("text")), ProblemCode::FileForeign);
    write(folder.path("empty"), {});
    EXPECT_EQ(refusalOf(folder.path("empty")), ProblemCode::FileForeign);
    write(folder.path("head"), QByteArray("SQLite format 3\0", 16));
    EXPECT_EQ(refusalOf(folder.path("head")), ProblemCode::FileCorrupt);

    makeForeign(folder.path("other"), 0);
    const QByteArray before = bytesOf(folder.path("other"));
    EXPECT_EQ(refusalOf(folder.path("other")), ProblemCode::FileForeign);
    EXPECT_EQ(bytesOf(folder.path("other")), before);
    makeForeign(folder.path("marked"), 12345);
    EXPECT_EQ(refusalOf(folder.path("marked"), OpenMode::ReadOnly), ProblemCode::FileForeign);
}

TEST(OpeningTest, ANewerFileIsRefusedWithBothVersionsAndNotTouched) {
    const TestFolder folder;
    const std::string path = folder.path("a");
    const int ours = makeFile(path)->schemaVersion();
    {
        auto connection = Connection::open(path, Connection::Access::ReadWrite);
        ASSERT_TRUE(connection);
        ASSERT_TRUE((*connection)->run(QStringLiteral("PRAGMA user_version = %1").arg(ours + 1)));
    }
    const QByteArray before = bytesOf(path);
    for (OpenMode mode : {OpenMode::ReadWrite, OpenMode::ReadOnly}) {
        const auto file = AgencyFile::open(path, mode);
        ASSERT_FALSE(file);
        EXPECT_EQ(file.error().code, ProblemCode::FileTooNew);
        EXPECT_EQ(file.error().args,
                  (std::vector<std::string>{std::to_string(ours + 1), std::to_string(ours)}));
    }
    EXPECT_EQ(bytesOf(path), before);
}

TEST(OpeningTest, AFileMarkedReadOnlyOpensOnlyForReading) {
    const TestFolder folder;
    const std::string path = folder.path("a");
    makeFile(path);
    QFile::setPermissions(QString::fromStdString(path), QFileDevice::ReadOwner);
    EXPECT_EQ(refusalOf(path), ProblemCode::FileReadOnly);
    auto file = mustOpen(path, OpenMode::ReadOnly);
    EXPECT_EQ(file->settings().value(), plainSettings());
    UnitOfWork unit(*file, kFirstUser, kMoment);
    EXPECT_EQ(unit.commit().error().code, ProblemCode::FileReadOnly);
    file.reset();
    QFile::setPermissions(QString::fromStdString(path), {});
    EXPECT_EQ(refusalOf(path, OpenMode::ReadOnly), ProblemCode::FileNotReadable);
}

TEST(OpeningTest, AReadOnlyConnectionCannotWriteEvenByHand) {
    const TestFolder folder;
    makeFile(folder.path("a"));
    auto file = mustOpen(folder.path("a"), OpenMode::ReadOnly);
    const auto done = file->inner().connection->run(QStringLiteral("UPDATE user SET name = 'x'"));
    ASSERT_FALSE(done);
    EXPECT_EQ(done.error().code, ProblemCode::FileReadOnly);
}

TEST(OpeningTest, AFrozenFileCanBeRead) {
    const TestFolder folder;
    makeFile(folder.path("a b%20c#d")); // a name that a URI would misread
    auto connection = Connection::open(folder.path("a b%20c#d"), Connection::Access::Frozen);
    ASSERT_TRUE(connection) << debugText(connection.error());
    EXPECT_EQ((*connection)->single(QStringLiteral("SELECT count(*) FROM user"))->toInt(), 1);
    EXPECT_EQ(namesIn(folder).size(), 1);
}

TEST(OpeningTest, AFileHeldByAnotherWriterIsLocked) {
    const TestFolder folder;
    const std::string path = folder.path("a");
    auto first = makeFile(path);
    auto second = mustOpen(path);
    UnitOfWork held(*first, kFirstUser, kMoment);
    UnitOfWork waits(*second, kFirstUser, kMoment); // gives up after the busy time
    EXPECT_EQ(waits.commit().error().code, ProblemCode::FileLocked);
}

TEST(OpeningTest, AFileHeldAloneIsLockedAtOpening) {
    const TestFolder folder;
    const std::string path = folder.path("a");
    makeFile(path);
    auto alone = Connection::open(path, Connection::Access::ReadWrite);
    ASSERT_TRUE(alone);
    ASSERT_TRUE((*alone)->run(QStringLiteral("PRAGMA locking_mode = EXCLUSIVE")));
    ASSERT_TRUE((*alone)->run(QStringLiteral("BEGIN EXCLUSIVE")));
    EXPECT_EQ(refusalOf(path), ProblemCode::FileLocked);
}

TEST(OpeningTest, ACutOffFileIsCorrupt) {
    const TestFolder folder;
    const std::string path = folder.path("a");
    makeFile(path);
    const QByteArray whole = bytesOf(path);
    for (const qsizetype left : {whole.size() / 2, whole.size() - 1, qsizetype(5000)}) {
        write(path, whole.left(left));
        EXPECT_EQ(refusalOf(path), ProblemCode::FileCorrupt) << left;
        EXPECT_EQ(refusalOf(path, OpenMode::ReadOnly), ProblemCode::FileCorrupt) << left;
    }
}

// Whatever page is overwritten, the damage is told at opening, by the check, or it was a page that holds
// nothing.
TEST(OpeningTest, AnOverwrittenPageIsFoundAtOpeningOrByTheCheck) {
    const TestFolder folder;
    const std::string path = folder.path("a");
    {
        auto file = makeFile(path);
        WorldBuilder builder(7);
        UnitOfWork unit(*file, kFirstUser, kMoment);
        builder.grow(unit, 4);
        ASSERT_TRUE(unit.commit());
    }
    const QByteArray whole = bytesOf(path);
    int silent = 0, pages = 0;
    for (qsizetype at = 4096; at < whole.size(); at += 3 * 4096) {
        QByteArray damaged = whole;
        damaged.replace(at, 4096, QByteArray(4096, '\x5a'));
        write(path, damaged);
        ++pages;
        auto file = AgencyFile::open(path, OpenMode::ReadOnly);
        if (!file) {
            EXPECT_EQ(file.error().code, ProblemCode::FileCorrupt) << at;
            continue;
        }
        const auto found = (*file)->check({}, {});
        if (found && std::none_of(found->begin(), found->end(),
                                  [](const Problem &p) { return p.code == ProblemCode::FileCorrupt; }))
            ++silent;
    }
    EXPECT_GT(pages, 10);
    EXPECT_EQ(silent, 0);
}

// --- migrations ---

std::vector<Migration> withTestMigrations() {
    std::vector<Migration> all(builtInMigrations().begin(), builtInMigrations().end());
    all.push_back({newestVersion(all) + 1, QStringLiteral("ALTER TABLE payer ADD COLUMN colour TEXT;\n"
                                                          "UPDATE payer SET colour = 'blue; or not';")});
    all.push_back({newestVersion(all) + 1, QStringLiteral("CREATE TABLE extra (x INTEGER) STRICT;")});
    return all;
}

TEST(MigrationTest, AnOlderFileIsBackedUpBesideItselfAndThenBroughtUp) {
    const TestFolder folder;
    const std::string path = folder.path("a");
    {
        auto file = makeFile(path);
        addSmallAgency(*file);
    }
    const int old = newestVersion(builtInMigrations());
    const std::vector<Migration> migrations = withTestMigrations();
    {
        auto opened = store::openFile(path, OpenMode::ReadWrite, {migrations, {}});
        ASSERT_TRUE(opened) << debugText(opened.error());
        EXPECT_EQ(opened->version, old + 2);
        EXPECT_EQ(opened->keptAs, path + ".before-v" + std::to_string(old + 2) + ".bak");
        EXPECT_EQ(opened->connection->single(QStringLiteral("SELECT colour FROM payer"))->toString(),
                  QStringLiteral("blue; or not"));
        EXPECT_EQ(opened->connection->single(QStringLiteral("PRAGMA foreign_keys"))->toInt(), 1);
    }
    const std::string backup = path + ".before-v" + std::to_string(old + 2) + ".bak";
    auto copy = mustOpen(backup);
    EXPECT_EQ(copy->schemaVersion(), old);
    EXPECT_EQ(copy->settings().value(), plainSettings());
    EXPECT_EQ(refusalOf(path), ProblemCode::FileTooNew); // for the program without the new ones
    copy.reset();
    // Up to date now: a second opening makes no second copy.
    const auto again = store::openFile(path, OpenMode::ReadWrite, {migrations, {}});
    ASSERT_TRUE(again);
    EXPECT_TRUE(again->keptAs.empty());
    EXPECT_EQ(namesIn(folder).filter(QStringLiteral(".bak")).size(), 1);
}

TEST(MigrationTest, AnOlderFileIsNotMigratedForReadingOnly) {
    const TestFolder folder;
    const std::string path = folder.path("a");
    makeFile(path);
    const std::vector<Migration> migrations = withTestMigrations();
    const auto opened = store::openFile(path, OpenMode::ReadOnly, {migrations, {}});
    ASSERT_FALSE(opened);
    EXPECT_EQ(opened.error().code, ProblemCode::FileReadOnly);
    EXPECT_EQ(opened.error().args.front(), "older");
    mustOpen(path);
}

TEST(MigrationTest, AMigrationThatFailsLeavesTheVersionBeforeIt) {
    const TestFolder folder;
    const std::string path = folder.path("a");
    makeFile(path);
    const int old = newestVersion(builtInMigrations());
    std::vector<Migration> migrations = withTestMigrations();
    migrations.push_back(
        {old + 3, QStringLiteral("CREATE TABLE half (x);\nINSERT INTO nowhere VALUES (1);")});
    EXPECT_FALSE(store::openFile(path, OpenMode::ReadWrite, {migrations, {}}));
    migrations.pop_back();
    auto opened = store::openFile(path, OpenMode::ReadWrite, {migrations, {}});
    ASSERT_TRUE(opened) << debugText(opened.error());
    EXPECT_EQ(opened->version, old + 2);
    EXPECT_EQ(
        opened->connection->single(QStringLiteral("SELECT count(*) FROM sqlite_master WHERE name = 'half'"))
            ->toInt(),
        0);
}

TEST(MigrationTest, AMigrationThatBreaksAForeignKeyIsNotKept) {
    const TestFolder folder;
    const std::string path = folder.path("a");
    {
        auto file = makeFile(path);
        addSmallAgency(*file);
    }
    std::vector<Migration> migrations(builtInMigrations().begin(), builtInMigrations().end());
    migrations.push_back({newestVersion(migrations) + 1, QStringLiteral("DELETE FROM patient;")});
    const auto opened = store::openFile(path, OpenMode::ReadWrite, {migrations, {}});
    ASSERT_FALSE(opened);
    EXPECT_EQ(opened.error().code, ProblemCode::FileCorrupt);
    auto file = mustOpen(path);
    EXPECT_EQ(file->load({{Date::of(2026, 11, 25), {}}, Days::of(30)}, {}, {})->patients.size(), 1U);
}

TEST(MigrationTest, WhatWasJudgedBeforeItCouldBeLeftOpenIsKept) {
    const TestFolder folder;
    const std::string path = folder.path("a");
    {
        const auto made = createFile(path, {builtInMigrations().first(7), {}});
        ASSERT_TRUE(made) << debugText(made.error());
        ASSERT_TRUE(made->connection->run(QStringLiteral(
            "INSERT INTO patient (id, code, family_name, given_name, phone, street, town, postal_code, "
            "access_notes, point_quality, area, status, exit_reason, patient_competence, "
            "caregiver_competence, acuity, emergency_priority, needs_two_nurses, allows_courier, notes, "
            "row_version) VALUES (1, 'P', 'F', '', '', '', '', '', '', 'exact', 'urban', 'active', '', "
            "'none', 'none', 'high', 'first', 0, 1, '', 1)")));
    }
    const auto opened = openFile(path, OpenMode::ReadWrite, {builtInMigrations().first(8), {}});
    ASSERT_TRUE(opened) << debugText(opened.error());
    const auto cell = [&](const QString &column) {
        return opened->connection->single(QStringLiteral("SELECT %1 FROM patient").arg(column))->toString();
    };
    EXPECT_EQ(cell(QStringLiteral("acuity")), QStringLiteral("high"));
    EXPECT_EQ(cell(QStringLiteral("emergency_priority")), QStringLiteral("first"));
    EXPECT_EQ(cell(QStringLiteral("no_allergies_on IS NULL")), QStringLiteral("1")) << "nobody was asked";
    EXPECT_FALSE(opened->connection->run(QStringLiteral("UPDATE patient SET acuity = 'grave'")));
    EXPECT_TRUE(opened->connection->run(QStringLiteral("UPDATE patient SET acuity = NULL")));
}

TEST(MigrationTest, AnOlderIncidentWasLearnedOfOnTheDayItHappened) {
    const TestFolder folder;
    const std::string path = folder.path("a");
    {
        const auto made = createFile(path, {builtInMigrations().first(8), {}});
        ASSERT_TRUE(made) << debugText(made.error());
        ASSERT_TRUE(made->connection->run(QStringLiteral(
            "INSERT INTO incident (at, facts, row_version) VALUES ('2026-03-02T09:30', 'No vacuum.', 1)")));
    }
    const auto opened = openFile(path, OpenMode::ReadWrite, {builtInMigrations().first(9), {}});
    ASSERT_TRUE(opened) << debugText(opened.error());
    const auto cell = [&](const QString &column) {
        return opened->connection->single(QStringLiteral("SELECT %1 FROM incident").arg(column))->toString();
    };
    EXPECT_EQ(cell(QStringLiteral("learned_on")), QStringLiteral("2026-03-02"));
    EXPECT_EQ(cell(QStringLiteral("kind")), QStringLiteral("other"));
    EXPECT_EQ(cell(QStringLiteral("harm")), QStringLiteral("not_known"));
    EXPECT_FALSE(opened->connection->run(QStringLiteral("UPDATE incident SET kind = 'blame'")));
}

TEST(MigrationTest, TheScriptIsCutAtItsStatementsOnly) {
    const QStringList found =
        statementsOf(QStringLiteral("-- a; b\nCREATE TABLE t (x TEXT DEFAULT ';');\n"
                                    "/* ; */ CREATE TRIGGER g BEFORE UPDATE ON t\nBEGIN\n"
                                    "  SELECT 1; SELECT 2;\nEND;\nINSERT INTO t VALUES ('it''s; ');"));
    ASSERT_EQ(found.size(), 3);
    EXPECT_EQ(found[0], QStringLiteral("CREATE TABLE t (x TEXT DEFAULT ';')"));
    EXPECT_TRUE(found[1].endsWith(QStringLiteral("SELECT 2;\nEND")));
    EXPECT_EQ(found[2], QStringLiteral("INSERT INTO t VALUES ('it''s; ')"));
}

// --- copies ---

TEST(BackupTest, ACopyIsPrivateWholeAndOpens) {
    const TestFolder folder;
    auto file = makeFile(folder.path("a"));
    WorldBuilder builder(5);
    UnitOfWork unit(*file, kFirstUser, kMoment);
    builder.grow(unit, 3);
    ASSERT_TRUE(unit.commit());
    const auto done = file->backupTo(folder.path("copy"), {}, {});
    ASSERT_TRUE(done) << debugText(done.error());
    EXPECT_EQ(std::filesystem::status(folder.path("copy")).permissions(),
              std::filesystem::perms::owner_read | std::filesystem::perms::owner_write);
    auto copy = mustOpen(folder.path("copy"));
    const LoadOptions all{{Date::of(2027, 6, 1), {}}, Days::of(1000)};
    EXPECT_EQ(copy->load(all, {}, {})->patients, file->load(all, {}, {})->patients);
    EXPECT_EQ(copy->audit(100000).value(), file->audit(100000).value());
    EXPECT_FALSE(namesIn(folder).contains(QStringLiteral("copy.part")));
}

TEST(BackupTest, ACopyReplacesAnOlderCopyButNeverTheFileItself) {
    const TestFolder folder;
    auto file = makeFile(folder.path("a"));
    write(folder.path("copy"), "older");
    ASSERT_TRUE(file->backupTo(folder.path("copy"), {}, {}));
    mustOpen(folder.path("copy"));
    std::filesystem::create_hard_link(folder.path("a"), folder.path("alias"));
    for (const char *self : {"a", "alias", "./a"}) {
        const auto done = file->backupTo(folder.path(self), {}, {});
        ASSERT_FALSE(done) << self;
        EXPECT_EQ(done.error().code, ProblemCode::Conflict);
    }
    const auto nowhere = file->backupTo(folder.path("no/copy"), {}, {});
    ASSERT_FALSE(nowhere);
    EXPECT_EQ(nowhere.error().code, ProblemCode::FileMissing);
}

TEST(BackupTest, ACopyThatIsOpenElsewhereIsNotReplaced) {
    const TestFolder folder;
    auto file = makeFile(folder.path("a"));
    auto other = makeFile(folder.path("copy"));
    addSmallAgency(*other); // its write-ahead log is not empty
    const auto done = file->backupTo(folder.path("copy"), {}, {});
    ASSERT_FALSE(done);
    EXPECT_EQ(done.error().code, ProblemCode::FileLocked);
}

TEST(BackupTest, AFailedCopyLeavesTheTargetAsItWas) {
    const TestFolder folder;
    auto file = makeFile(folder.path("a"));
    write(folder.path("copy"), "older");
    file->inner().connection->setFault([](const QString &sql) -> std::optional<Problem> {
        if (!sql.startsWith(
                QStringLiteral("PRAGMA user_version"))) // fails after the copying, before the renaming
            return std::nullopt;
        Problem full;
        full.code = ProblemCode::DiskFull;
        return full;
    });
    EXPECT_FALSE(file->backupTo(folder.path("copy"), {}, {}));
    EXPECT_EQ(bytesOf(folder.path("copy")), QByteArray("older"));
    EXPECT_FALSE(namesIn(folder).contains(QStringLiteral("copy.part")));
    std::stop_source stop;
    stop.request_stop();
    EXPECT_EQ(file->backupTo(folder.path("copy"), stop.get_token(), {}).error().code, ProblemCode::Cancelled);
}

} // namespace
} // namespace kitround::store

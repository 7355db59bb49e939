// Files that cannot be used, and writes that do not come through: said clearly, and nothing half-written.
#include "core/store/Opening.h"
#include "tests/core/desk/Story.h"

#include <QFile>
#include <QFileInfo>

#include <csignal>
#include <fstream>
#include <sys/resource.h>

namespace kitround::desk {
namespace {

using test::everyDays;

std::string bytesOf(const std::string &path) {
    std::ifstream in(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
}
void put(const std::string &path, const std::string &bytes) {
    std::ofstream(path, std::ios::binary | std::ios::trunc) << bytes;
}
ProblemCode openingGives(const Story &s, const std::string &path) {
    return refused(Desk::open(path, {}, s.clock(), {}, {})).code;
}

TEST(FileStory, FilesThatAreNotOursAreNamedForWhatTheyAre) {
    Story s;
    s.addHome("A");
    s.closeFile();
    const std::string whole = bytesOf(s.path());
    const auto beside = [&](const char *name) { return s.folder() + "/" + name; };

    EXPECT_EQ(openingGives(s, beside("none")), ProblemCode::FileMissing);
    put(beside("text"), "patients, nurses\n");
    EXPECT_EQ(openingGives(s, beside("text")), ProblemCode::FileForeign);
    EXPECT_EQ(bytesOf(beside("text")), "patients, nurses\n") << "what is not ours is not touched";

    std::string other = whole;
    other.replace(68, 4, std::string("\x00\x00\x00\x07", 4)); // application id of another program
    put(beside("other"), other);
    EXPECT_EQ(openingGives(s, beside("other")), ProblemCode::FileForeign);

    std::string newer = whole;
    newer[63] = 99; // user_version, big-endian at byte 60
    put(beside("newer"), newer);
    const Problem tooNew = refused(Desk::open(beside("newer"), {}, s.clock(), {}, {}));
    EXPECT_EQ(tooNew.code, ProblemCode::FileTooNew);
    ASSERT_EQ(tooNew.args.size(), 2U);
    EXPECT_EQ(tooNew.args[0], "99");

    put(beside("short"), whole.substr(0, whole.size() / 2));
    EXPECT_EQ(openingGives(s, beside("short")), ProblemCode::FileCorrupt);

    EXPECT_EQ(refused(Desk::create(s.path(), AgencySettings(), "Ada", s.clock())).code,
              ProblemCode::FileExists);
    EXPECT_EQ(bytesOf(s.path()), whole);
}

TEST(FileStory, AnOlderFileIsKnownBeforeItIsBroughtToTheNewVersion) {
    Story s;
    EXPECT_FALSE(isOfOlderVersion(s.path()));
    EXPECT_FALSE(isOfOlderVersion(s.folder() + "/none")) << "opening says what is wrong with it";
    const std::string older = s.folder() + "/older";
    const auto known = store::builtInMigrations();
    {
        const auto made = store::createFile(older, {known.first(known.size() - 1), {}});
        ASSERT_TRUE(made) << debugText(made.error());
    }
    EXPECT_TRUE(isOfOlderVersion(older));
    const std::string keptAs = must(bringUpToDate(older));
    EXPECT_TRUE(QFileInfo::exists(QString::fromStdString(keptAs))) << keptAs;
    EXPECT_FALSE(isOfOlderVersion(older));
    EXPECT_EQ(must(bringUpToDate(older)), "") << "nothing is left to do";
}

TEST(FileStory, AReadOnlyFileIsLookedAtAndNeverWritten) {
    Story s;
    const auto home = s.addHome("A");
    s.closeFile();
    s.openFile(store::OpenMode::ReadOnly);
    EXPECT_TRUE(s.desk().isReadOnly());
    EXPECT_EQ(s.snapshot().patients.size(), 1U);
    EXPECT_EQ(refused(s.desk().save(*s.index().patient(home.patient))).code, ProblemCode::FileReadOnly);
    EXPECT_EQ(refused(s.desk().logDrain(s.entry(home, at(kMonday, 7), 300))).code, ProblemCode::FileReadOnly);
    EXPECT_EQ(
        refused(s.desk().exitPatient({home.patient, CareStatus::Deceased, s.utc(at(kMonday, 7)), "x"})).code,
        ProblemCode::FileReadOnly);
    // What an order would do may still be looked at.
    EXPECT_TRUE(s.desk().previewOrder(s.blankOrder(home, everyDays(1, kMonday), kMonday, s.kit500)));
    s.closeFile();
    QFile::setPermissions(QString::fromStdString(s.path()), QFileDevice::ReadOwner);
    EXPECT_EQ(openingGives(s, s.path()), ProblemCode::FileReadOnly);
}

TEST(FileStory, WhileAnotherSeatHoldsTheFileAWriteSaysSoAndLaterGoesThrough) {
    Story s;
    const auto home = s.addHome("A");
    s.order(home, everyDays(1, kMonday), kMonday, s.kit500);
    {
        auto other = must(store::AgencyFile::open(s.path(), store::OpenMode::ReadWrite));
        store::UnitOfWork holding(*other, UserId(1), s.utc(at(kMonday, 8)));
        Payer payer;
        payer.name = "Held";
        must(holding.save(payer));
        EXPECT_EQ(refused(s.desk().logDrain(s.entry(home, at(kMonday, 7), 300))).code,
                  ProblemCode::FileLocked);
    }
    EXPECT_TRUE(s.desk().logDrain(s.entry(home, at(kMonday, 7), 300)));
    EXPECT_EQ(s.snapshot().payers.size(), 1U) << "the other seat never committed";
}

TEST(FileStory, TwoSeatsDoNotOverwriteEachOther) {
    Story s;
    const auto home = s.addHome("A");
    auto other = must(Desk::open(s.path(), {}, s.clock(), {}, {}));
    Patient mine = *s.index().patient(home.patient);
    Patient theirs = *other->agency()->index().patient(home.patient);
    theirs.phone = "555-0101";
    must(other->save(theirs));
    mine.phone = "555-0102";
    EXPECT_EQ(refused(s.desk().save(mine)).code, ProblemCode::ChangedMeanwhile);
    must(s.desk().reload());
    EXPECT_EQ(s.index().patient(home.patient)->phone, "555-0101");
}

// Lets files grow to `bytes` at most while it lives: what a full disk does to a write.
class FileSizeLimit {
public:
    explicit FileSizeLimit(rlim_t bytes) {
        std::signal(SIGXFSZ, SIG_IGN);
        getrlimit(RLIMIT_FSIZE, &before_);
        const rlimit now{bytes, before_.rlim_max};
        setrlimit(RLIMIT_FSIZE, &now);
    }
    ~FileSizeLimit() { setrlimit(RLIMIT_FSIZE, &before_); }

private:
    rlimit before_{};
};

TEST(FileStory, AFullDiskLeavesTheOldStateWholeAndTheNextWriteGoesThrough) {
    Story s;
    const auto home = s.addHome("A");
    s.order(home, everyDays(1, kMonday), kMonday, s.kit500);
    s.count(home, s.kit500, 10, at(kMonday, 6));
    const std::size_t before = s.auditLength();
    DrainEntry entry = s.entry(home, at(kMonday, 7), 1300);
    entry.supplies = {{s.kit500, Eaches::of(2), Eaches::of(1), std::nullopt}};
    const auto wal = QFileInfo(QString::fromStdString(s.path() + "-wal")).size();
    int refusals = 0;
    // The room ends a little later each time, so that different steps of the same write are the ones that
    // fail.
    for (int room = 0; room <= 40; room += 4) {
        Result<Desk::Logged> logged = [&] {
            const FileSizeLimit full(static_cast<rlim_t>(wal + room * 1024));
            return s.desk().logDrain(entry);
        }();
        if (logged)
            break;
        ++refusals;
        EXPECT_TRUE(logged.error().code == ProblemCode::DiskFull ||
                    logged.error().code == ProblemCode::StoreFailed)
            << debugText(logged.error());
        must(s.desk().reload());
        EXPECT_EQ(s.auditLength(), before);
        EXPECT_EQ(s.balance(Place::home(home.catheter), s.kit500), Eaches::of(10));
        EXPECT_TRUE(s.snapshot().callItems.empty());
        EXPECT_EQ(must(s.desk().check({}, {})), Problems{});
    }
    EXPECT_GT(refusals, 0);
    if (s.auditLength() == before)
        must(s.desk().logDrain(entry));
    EXPECT_EQ(s.balance(Place::home(home.catheter), s.kit500), Eaches::of(7));
    EXPECT_EQ(s.snapshot().callItems.size(), 1U);
}

TEST(FileStory, WhatIsWrittenWithoutReadingAgainIsSeenByTheNextStepThatNeedsIt) {
    Story s;
    const auto home = s.addHome("A");
    s.receive(s.kit500, "L1", 10, Date::of(2027, 6, 1));
    s.desk().setReloadAfterWrites(false);
    const AgencyPtr old = s.agency();
    const std::uint64_t atStart = s.desk().writeCount();
    const Delivery parcel = s.promise(home, s.kit500, 8, kMonday);
    must(s.desk().pick(parcel.id)); // needs the promise it has not read
    EXPECT_EQ(firstArg(refused(s.desk().pick(parcel.id))), "picked");
    // A reading begun before those writes does not make the desk forget them.
    s.desk().adopt(old, atStart);
    EXPECT_EQ(firstArg(refused(s.desk().pick(parcel.id))), "picked");
}

TEST(FileStory, AWrongZoneAndAWrongWeekAreRefusedBeforeTheyCanDoHarm) {
    Story s;
    AgencySettings settings = s.desk().agency()->settings();
    settings.timeZone = "Mars/Olympus";
    EXPECT_EQ(refused(s.desk().save(settings)).code, ProblemCode::UnknownChoice);
    EXPECT_EQ(refused(Desk::create(s.folder() + "/new", settings, "Ada", s.clock())).code,
              ProblemCode::UnknownChoice);
    EXPECT_FALSE(QFile::exists(QString::fromStdString(s.folder() + "/new")));
    EXPECT_EQ(refused(s.desk().acceptPlan(kMonday, {}, 1, 0, true)).field, "week_start");
}

TEST(FileStory, TheSamplesOwnDayOrAChosenOneIsTodayWhateverTheClockSays) {
    Story s;
    AgencySettings settings = s.desk().agency()->settings();
    settings.demoToday = Date::of(2026, 5, 4);
    must(s.desk().save(settings));
    EXPECT_EQ(s.snapshot().asOf, Date::of(2026, 5, 4));
    EXPECT_EQ(s.snapshot().now.minute, Minutes::of(8 * 60));
    s.closeFile();
    OpenOptions options;
    options.asOf = Date::of(2026, 6, 1);
    const auto desk = must(Desk::open(s.path(), options, s.clock(), {}, {}));
    EXPECT_EQ(desk->agency()->today(), Date::of(2026, 6, 1));
    EXPECT_EQ(must(loadAgency(s.path(), options.asOf, s.clock(), {}, {}))->today(), Date::of(2026, 6, 1));
}

} // namespace
} // namespace kitround::desk

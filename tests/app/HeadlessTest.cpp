#include "core/exchange/Csv.h"

#include <QCoreApplication>
#include <QFile>
#include <QFileInfo>
#include <QJsonArray>
#include <QJsonDocument>
#include <QJsonObject>
#include <QProcess>
#include <QSqlDatabase>
#include <QSqlQuery>
#include <QTemporaryDir>

#include <gtest/gtest.h>

#include <memory>
namespace {

struct Outcome {
    int code = -1;
    QString out, err;
};

Outcome call(const QStringList &arguments) {
    QProcess process;
    process.start(QStringLiteral(KITROUND_HEADLESS), arguments);
    Outcome outcome;
    if (!process.waitForFinished(60000) || process.exitStatus() != QProcess::NormalExit)
        return outcome;
    outcome.code = process.exitCode();
    outcome.out = QString::fromUtf8(process.readAllStandardOutput());
    outcome.err = QString::fromUtf8(process.readAllStandardError());
    return outcome;
}

// One sample agency for all tests: they only read it.
class HeadlessTest : public ::testing::Test {
protected:
    static void SetUpTestSuite() {
        dir_ = std::make_unique<QTemporaryDir>();
        const Outcome made = call({QStringLiteral("sample"), QStringLiteral("--agency"), agency()});
        ASSERT_EQ(made.code, 0) << made.err.toStdString();
        ASSERT_TRUE(made.err.isEmpty());
    }
    static void TearDownTestSuite() { dir_.reset(); }
    static QString path(const QString &name) { return dir_->filePath(name); }
    static QString agency() { return path(QStringLiteral("sample.kitround")); }
    static Outcome ask(const QString &verb, const QStringList &more = {}) {
        return call(QStringList{verb, QStringLiteral("--agency"), agency()} + more);
    }
    // Wrong use or a refusal: the code, nothing on standard output, one or two lines that start with our
    // name.
    static void expectRefused(const Outcome &outcome, int code, const QString &says) {
        EXPECT_EQ(outcome.code, code) << outcome.err.toStdString();
        EXPECT_TRUE(outcome.out.isEmpty()) << outcome.out.toStdString();
        EXPECT_TRUE(outcome.err.startsWith(QStringLiteral("kitround-headless: ")))
            << outcome.err.toStdString();
        EXPECT_TRUE(outcome.err.contains(says)) << outcome.err.toStdString();
        EXPECT_LE(outcome.err.count(u'\n'), 2) << outcome.err.toStdString();
    }

private:
    static inline std::unique_ptr<QTemporaryDir> dir_;
};

const QStringList kTableVerbs = {
    QStringLiteral("forecast"), QStringLiteral("refills"),  QStringLiteral("reorders"),
    QStringLiteral("expiry"),   QStringLiteral("starts"),   QStringLiteral("month"),
    QStringLiteral("week"),     QStringLiteral("caseload"), QStringLiteral("attention"),
    QStringLiteral("backtest"), QStringLiteral("check"),    QStringLiteral("incidents")};

TEST_F(HeadlessTest, HelpIsThereForTheProgramAndForEveryVerb) {
    const Outcome whole = call({QStringLiteral("--help")});
    EXPECT_EQ(whole.code, 0);
    for (const QString &verb :
         kTableVerbs + QStringList{QStringLiteral("sample"), QStringLiteral("backup"),
                                   QStringLiteral("import"), QStringLiteral("papers")}) {
        EXPECT_TRUE(whole.out.contains(QStringLiteral("  ") + verb + u' ')) << verb.toStdString();
        const Outcome one = call({verb, QStringLiteral("--help")});
        EXPECT_EQ(one.code, 0) << one.err.toStdString();
        EXPECT_TRUE(one.out.startsWith(QStringLiteral("Usage: kitround-headless ") + verb))
            << one.out.toStdString();
        EXPECT_TRUE(one.out.contains(QStringLiteral("--agency")));
        EXPECT_TRUE(one.out.contains(QStringLiteral("Exit codes")));
        EXPECT_TRUE(one.err.isEmpty()) << one.err.toStdString();
    }
}

TEST_F(HeadlessTest, WrongUseIsTwoAndSaysWhatIsWrong) {
    expectRefused(call({}), 2, QStringLiteral("No verb"));
    expectRefused(call({QStringLiteral("plan")}), 2, QStringLiteral("\"plan\" is not a verb"));
    expectRefused(call({QStringLiteral("--agency"), agency()}), 2, QStringLiteral("The verb comes first"));
    expectRefused(call({QStringLiteral("forecast")}), 2, QStringLiteral("--agency is missing"));
    expectRefused(call({QStringLiteral("forecast"), QStringLiteral("--agency"), QString()}), 2,
                  QStringLiteral("--agency needs a value"));
    expectRefused(ask(QStringLiteral("forecast"), {QStringLiteral("--as-of"), QStringLiteral("2026-02-30")}),
                  2, QStringLiteral("is not a date"));
    expectRefused(ask(QStringLiteral("forecast"), {QStringLiteral("--as-of"), QStringLiteral("tomorrow")}), 2,
                  QStringLiteral("is not a date"));
    expectRefused(ask(QStringLiteral("forecast"), {QStringLiteral("--format"), QStringLiteral("xml")}), 2,
                  QStringLiteral("not table, csv or json"));
    expectRefused(ask(QStringLiteral("forecast"), {QStringLiteral("--colour")}), 2, QStringLiteral("colour"));
    expectRefused(ask(QStringLiteral("forecast"), {QStringLiteral("more")}), 2,
                  QStringLiteral("\"more\" is not expected"));
    expectRefused(ask(QStringLiteral("forecast"), {QStringLiteral("--seed"), QStringLiteral("1")}), 2,
                  QStringLiteral("seed"));
    expectRefused(ask(QStringLiteral("week"), {QStringLiteral("--seed"), QStringLiteral("-1")}), 2,
                  QStringLiteral("whole number"));
    expectRefused(ask(QStringLiteral("week"), {QStringLiteral("--iterations"), QStringLiteral("many")}), 2,
                  QStringLiteral("whole number"));
    expectRefused(ask(QStringLiteral("week"), {QStringLiteral("--table"), QStringLiteral("load")}), 2,
                  QStringLiteral("week, unplaced, cost, broken"));
    expectRefused(ask(QStringLiteral("week"), {QStringLiteral("--format"), QStringLiteral("csv")}), 2,
                  QStringLiteral("--table"));
    expectRefused(ask(QStringLiteral("backup")), 2, QStringLiteral("--to is missing"));
    expectRefused(ask(QStringLiteral("papers")), 2, QStringLiteral("--out-dir is missing"));
    expectRefused(ask(QStringLiteral("forecast"), {QStringLiteral("--out"), agency()}), 2,
                  QStringLiteral("agency file itself"));
    EXPECT_TRUE(QFileInfo(agency()).size() > 4096);
}

TEST_F(HeadlessTest, AFileThatIsNotOursIsThreeAndSaysWhatToDo) {
    const QString missing = path(QStringLiteral("none.kitround"));
    expectRefused(call({QStringLiteral("forecast"), QStringLiteral("--agency"), missing}), 3,
                  QStringLiteral("was not found"));
    EXPECT_FALSE(QFileInfo::exists(missing)) << "reading made a file";
    const QString foreign = path(QStringLiteral("letter.txt"));
    QFile file(foreign);
    ASSERT_TRUE(file.open(QIODevice::WriteOnly));
    file.write(QByteArray("Dear all, this is a letter and no agency.\n").repeated(200));
    file.close();
    for (const QString &verb : kTableVerbs)
        expectRefused(call({verb, QStringLiteral("--agency"), foreign}), 3, QStringLiteral("letter.txt"));
    expectRefused(call({QStringLiteral("check"), QStringLiteral("--agency"), QFileInfo(foreign).path()}), 3,
                  QString());
    expectRefused(call({QStringLiteral("sample"), QStringLiteral("--agency"), agency()}), 3,
                  QStringLiteral("already"));
}

TEST_F(HeadlessTest, EveryVerbAnswersInAllThreeFormats) {
    for (const QString &verb : kTableVerbs) {
        const QStringList quick = verb == QStringLiteral("week") || verb == QStringLiteral("caseload")
                                      ? QStringList{QStringLiteral("--iterations"), QStringLiteral("20")}
                                      : QStringList();
        const Outcome text = ask(verb, quick);
        EXPECT_EQ(text.code, 0) << verb.toStdString() << text.err.toStdString();
        EXPECT_TRUE(text.err.isEmpty()) << text.err.toStdString();
        EXPECT_TRUE(text.out.contains(QStringLiteral("----"))) << verb.toStdString();
        const Outcome json =
            ask(verb, quick + QStringList{QStringLiteral("--format"), QStringLiteral("json")});
        QJsonParseError error;
        const auto doc = QJsonDocument::fromJson(json.out.toUtf8(), &error);
        EXPECT_EQ(error.error, QJsonParseError::NoError) << verb.toStdString();
        EXPECT_EQ(doc[QStringLiteral("verb")].toString(), verb);
        const QStringList keys = doc[QStringLiteral("tables")].toObject().keys();
        EXPECT_FALSE(keys.isEmpty());
        for (const QString &key : keys) {
            const Outcome csv =
                ask(verb, quick + QStringList{QStringLiteral("--format"), QStringLiteral("csv"),
                                              QStringLiteral("--table"), key});
            EXPECT_EQ(csv.code, 0) << csv.err.toStdString();
            const auto read = kitround::exchange::readCsv(csv.out.toStdString());
            ASSERT_TRUE(read) << kitround::debugText(read.error());
            EXPECT_FALSE(read->head.empty());
            const auto rows = doc[QStringLiteral("tables")][key][QStringLiteral("rows")];
            EXPECT_EQ(static_cast<int>(read->rows.size()), rows.toArray().size())
                << verb.toStdString() << key.toStdString();
        }
    }
}

TEST_F(HeadlessTest, IncidentsComeOpenOnesFirstWithTheDayOfTheirReportAndNoName) {
    const Outcome csv = ask(QStringLiteral("incidents"), {QStringLiteral("--format"), QStringLiteral("csv")});
    ASSERT_EQ(csv.code, 0) << csv.err.toStdString();
    const auto read = kitround::exchange::readCsv(csv.out.toStdString());
    ASSERT_TRUE(read) << kitround::debugText(read.error());
    ASSERT_EQ(read->rows.size(), 3U);
    EXPECT_EQ(read->head.front(), "state");
    EXPECT_EQ(read->rows[0][0], "report due soon");
    EXPECT_EQ(read->rows[0][6], "2026-11-20") << "a day, as the CSV of the window has it";
    EXPECT_EQ(read->rows[2][0], "closed");
    EXPECT_TRUE(csv.out.contains(QStringLiteral("Q-132")));
    EXPECT_FALSE(csv.out.contains(QStringLiteral("Holme"))) << "that is the family name of Q-132";
}

TEST_F(HeadlessTest, TheCaseloadTellsTheDecisionsThatAreOpen) {
    const Outcome csv = ask(QStringLiteral("caseload"),
                            {QStringLiteral("--iterations"), QStringLiteral("5"), QStringLiteral("--format"),
                             QStringLiteral("csv"), QStringLiteral("--table"), QStringLiteral("decisions")});
    ASSERT_EQ(csv.code, 0) << csv.err.toStdString();
    EXPECT_TRUE(csv.out.startsWith(QStringLiteral("state,week,kind,text,noted_by,noted_at,")));
    EXPECT_TRUE(csv.out.contains(QStringLiteral("open for 1 week,")));
    EXPECT_FALSE(csv.out.contains(QStringLiteral("\nclosed"))) << "of a former week, and done with";
}

TEST_F(HeadlessTest, TheSameSeedPlansTheSameWeek) {
    const QStringList how = {QStringLiteral("--seed"),       QStringLiteral("7"),
                             QStringLiteral("--iterations"), QStringLiteral("50"),
                             QStringLiteral("--format"),     QStringLiteral("json")};
    const Outcome first = ask(QStringLiteral("week"), how), second = ask(QStringLiteral("week"), how);
    EXPECT_EQ(first.code, 0) << first.err.toStdString();
    EXPECT_EQ(first.out, second.out);
}

TEST_F(HeadlessTest, AListGoesInWholeOrItsFaultsAreTold) {
    const QString copy = path(QStringLiteral("import.kitround"));
    ASSERT_TRUE(QFile::copy(agency(), copy));
    const QString list = path(QStringLiteral("items.csv"));
    const auto bring = [&](const QByteArray &rows, const QStringList &more = {}) {
        QFile file(list);
        EXPECT_TRUE(file.open(QIODevice::WriteOnly));
        file.write("code,name,kind,eaches_per_case\n" + rows);
        file.close();
        return call(QStringList{QStringLiteral("import"), QStringLiteral("--agency"), copy,
                                QStringLiteral("--list"), QStringLiteral("items"), QStringLiteral("--from"),
                                list} +
                    more);
    };
    const Outcome faulty = bring("DRE-9,Dressing,dressing,many\n");
    EXPECT_EQ(faulty.code, 1) << faulty.err.toStdString();
    EXPECT_TRUE(faulty.out.contains(QStringLiteral("DRE-9"))) << faulty.out.toStdString();
    EXPECT_EQ(bring("DRE-9,Dressing,dressing,20\n", {QStringLiteral("--check")}).code, 0);
    const Outcome done = bring("DRE-9,Dressing,dressing,20\n");
    EXPECT_EQ(done.code, 0) << done.err.toStdString();
    EXPECT_TRUE(done.out.contains(QStringLiteral("Added: 1 item."))) << done.out.toStdString();
    EXPECT_EQ(bring("DRE-9,Dressing,dressing,20\n").code, 1) << "it is on record now";
    expectRefused(call({QStringLiteral("import"), QStringLiteral("--agency"), copy, QStringLiteral("--list"),
                        QStringLiteral("suppliers"), QStringLiteral("--from"), list}),
                  2, QStringLiteral("is not items"));
}

// On the file itself, as a disk that fails between the copy and the end of the writing would leave it.
bool runOn(const QString &file, const QString &sql) {
    const QString name = QStringLiteral("headless_test");
    int count = 1;
    char program[] = "headless_test";
    char *words[] = {program, nullptr};
    const QCoreApplication application(count, words); // finds the driver
    bool isDone = false;
    {
        QSqlDatabase database = QSqlDatabase::addDatabase(QStringLiteral("QSQLITE"), name);
        database.setDatabaseName(file);
        isDone = database.open() && QSqlQuery(database).exec(sql);
        database.close();
    }
    QSqlDatabase::removeDatabase(name);
    return isDone;
}

TEST_F(HeadlessTest, AListThatCannotBeWrittenAfterTheCopyIsRefusedAndNothingOfItIsIn) {
    const QString copy = path(QStringLiteral("refused.kitround")), list = path(QStringLiteral("refused.csv"));
    ASSERT_TRUE(QFile::copy(agency(), copy));
    {
        QFile file(list);
        ASSERT_TRUE(file.open(QIODevice::WriteOnly));
        file.write(
            "code,name,kind,eaches_per_case\nDRE-8,Dressing,dressing,20\nDRE-9,Dressing,dressing,20\n");
    }
    const auto bring = [&] {
        return call({QStringLiteral("import"), QStringLiteral("--agency"), copy, QStringLiteral("--list"),
                     QStringLiteral("items"), QStringLiteral("--from"), list});
    };
    ASSERT_TRUE(runOn(copy, QStringLiteral("CREATE TRIGGER refuses BEFORE INSERT ON item WHEN new.code = "
                                           "'DRE-9' BEGIN SELECT RAISE(ABORT, 'refused'); END")));
    const Outcome refused = bring();
    expectRefused(refused, 3, QStringLiteral("Nothing of the list was brought in"));
    EXPECT_TRUE(refused.err.contains(QStringLiteral("refused-before-import-"))) << "where the copy is";
    ASSERT_TRUE(runOn(copy, QStringLiteral("DROP TRIGGER refuses")));
    const Outcome done = bring();
    EXPECT_EQ(done.code, 0) << "not even the first row was left behind\n" << done.out.toStdString();
}

TEST_F(HeadlessTest, SeveralTablesGoToFilesNamedByTheirKeys) {
    const QString file = path(QStringLiteral("plan.csv"));
    const Outcome outcome = ask(QStringLiteral("week"), {QStringLiteral("--iterations"), QStringLiteral("20"),
                                                         QStringLiteral("--format"), QStringLiteral("csv"),
                                                         QStringLiteral("--out"), file});
    EXPECT_EQ(outcome.code, 0) << outcome.err.toStdString();
    EXPECT_TRUE(outcome.out.isEmpty());
    for (const char *name : {"plan.csv", "plan-unplaced.csv", "plan-cost.csv", "plan-broken.csv"}) {
        QFile written(path(QLatin1String(name)));
        ASSERT_TRUE(written.open(QIODevice::ReadOnly)) << name;
        EXPECT_TRUE(kitround::exchange::readCsv(written.readAll().toStdString())) << name;
    }
}

TEST_F(HeadlessTest, AnUnwritableOutIsThree) {
    expectRefused(ask(QStringLiteral("forecast"),
                      {QStringLiteral("--out"), path(QStringLiteral("no/such/folder/f.txt"))}),
                  3, QStringLiteral("can't be written"));
    expectRefused(ask(QStringLiteral("forecast"), {QStringLiteral("--out"), QFileInfo(agency()).path()}), 3,
                  QString());
}

TEST_F(HeadlessTest, ReadingChangesNothingInTheFile) {
    const auto content = [] {
        QFile file(agency());
        EXPECT_TRUE(file.open(QIODevice::ReadOnly));
        return file.readAll();
    };
    const QByteArray before = content();
    ask(QStringLiteral("forecast"));
    ask(QStringLiteral("week"), {QStringLiteral("--iterations"), QStringLiteral("10")});
    EXPECT_EQ(content(), before);
}

TEST_F(HeadlessTest, ABackupIsAnAgencyFileThatPassesTheCheck) {
    const QString copy = path(QStringLiteral("copy.kitround"));
    EXPECT_EQ(ask(QStringLiteral("backup"), {QStringLiteral("--to"), copy}).code, 0);
    const Outcome check = call({QStringLiteral("check"), QStringLiteral("--agency"), copy});
    EXPECT_EQ(check.code, 0) << check.out.toStdString();
    expectRefused(ask(QStringLiteral("backup"), {QStringLiteral("--to"), agency()}), 3,
                  QStringLiteral("the open file itself"));
}

TEST_F(HeadlessTest, AFileWithFaultsAnswersNoOrIsRefused) {
    const QString copy = path(QStringLiteral("broken.kitround"));
    ASSERT_TRUE(QFile::copy(agency(), copy));
    QFile file(copy);
    ASSERT_TRUE(file.open(QIODevice::ReadWrite));
    const qint64 middle = file.size() / 2;
    file.seek(middle - middle % 4096);
    file.write(QByteArray(8192, '\x5a'));
    file.close();
    const Outcome check = call({QStringLiteral("check"), QStringLiteral("--agency"), copy});
    EXPECT_TRUE(check.code == 1 || check.code == 3)
        << check.code << check.out.toStdString() << check.err.toStdString();
}

TEST_F(HeadlessTest, PapersAreDrawnAsPdfAndNameNobodyInTheirFileNames) {
    const QString folder = path(QStringLiteral("papers"));
    const Outcome outcome =
        ask(QStringLiteral("papers"),
            {QStringLiteral("--out-dir"), folder, QStringLiteral("--iterations"), QStringLiteral("20")});
    ASSERT_EQ(outcome.code, 0) << outcome.err.toStdString();
    EXPECT_TRUE(outcome.err.isEmpty()) << outcome.err.toStdString();
    const QStringList files = outcome.out.split(u'\n', Qt::SkipEmptyParts);
    EXPECT_GE(files.size(), 18);
    for (const char *wanted : {"expiry-", "first-deliveries-", "month-2026-10-01", "hand-over-",
                               "watch-list-", "holidays-", "on-call-rota-"})
        EXPECT_FALSE(files.filter(QLatin1String(wanted)).isEmpty()) << wanted;
    for (const QString &name : files) {
        QFile file(name);
        ASSERT_TRUE(file.open(QIODevice::ReadOnly)) << name.toStdString();
        EXPECT_TRUE(file.read(5) == "%PDF-") << name.toStdString();
    }
}

} // namespace

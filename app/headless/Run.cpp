#include "app/headless/Run.h"

#include "app/headless/Output.h"
#include "app/headless/PaperFiles.h"
#include "core/base/Clock.h"
#include "core/desk/Desk.h"
#include "core/desk/views/Attention.h"
#include "core/desk/views/CaseloadView.h"
#include "core/desk/views/CheckView.h"
#include "core/desk/views/DecisionNotes.h"
#include "core/desk/views/ExpiryView.h"
#include "core/desk/views/ForecastCheck.h"
#include "core/desk/views/ImportPreview.h"
#include "core/desk/views/Incidents.h"
#include "core/desk/views/JointVisits.h"
#include "core/desk/views/MonthView.h"
#include "core/desk/views/StartUpView.h"
#include "core/desk/views/StockView.h"
#include "core/desk/views/WeekView.h"
#include "core/desk/words/Words.h"

#include <QFileInfo>

#include "sample-db/SampleAgency.h"

#include <algorithm>

namespace kitround::headless {
namespace {

ExitCode refuse(const Problem &problem) {
    complain(desk::words(problem));
    return ExitCode::WorldSaidNo;
}

ExitCode finish(const Result<void> &result) {
    return result ? ExitCode::Done : refuse(result.error());
}

Result<std::unique_ptr<desk::Desk>> openToRead(const Arguments &a, const Clock &clock) {
    desk::OpenOptions options;
    options.mode = store::OpenMode::ReadOnly;
    options.asOf = a.asOf;
    return desk::Desk::open(a.agency.toStdString(), options, clock, {}, {});
}

Result<desk::AgencyPtr> load(const Arguments &a) {
    const SystemClock clock;
    auto opened = openToRead(a, clock);
    if (!opened)
        return opened.error();
    return (*opened)->agency();
}

struct Pictures {
    desk::AgencyPtr agency;
    desk::StockPicturePtr stock;
    desk::WeekPicturePtr week;
};

// The week as stored, or planned where nothing is stored or a new plan is asked for.
Result<desk::WeekPicturePtr> weekOf(const Arguments &a, const desk::AgencyPtr &agency,
                                    const desk::StockPicture &stock, bool planWhereEmpty) {
    auto week = desk::openWeek(agency, a.week.value_or(desk::nextWeek(*agency)), &stock.refills, a.weeks);
    if (!week)
        return week;
    const bool hasPlan = desk::hasStoredPlan(**week);
    if (!a.replan && (hasPlan || !planWhereEmpty))
        return week;
    rounds::SolveOptions options;
    options.seed = a.seed.value_or(options.seed);
    options.iterations = a.iterations.value_or(options.iterations * a.weeks);
    options.keepPublished = !a.replan || hasPlan;
    return desk::planWeek(**week, options, {}, {});
}

Result<Pictures> look(const Arguments &a, bool withWeek, bool planWhereEmpty) {
    Pictures pictures;
    auto agency = load(a);
    if (!agency)
        return agency.error();
    pictures.agency = *agency;
    auto stock = desk::computeStock(pictures.agency, {}, {});
    if (!stock)
        return stock.error();
    pictures.stock = *stock;
    if (!withWeek)
        return pictures;
    auto week = weekOf(a, pictures.agency, *pictures.stock, planWhereEmpty);
    if (!week)
        return week.error();
    pictures.week = *week;
    return pictures;
}

std::vector<desk::Table> tablesFor(const QString &verb, const Pictures &p) {
    if (verb == QStringLiteral("forecast"))
        return {desk::forecastTable(*p.stock)};
    if (verb == QStringLiteral("refills"))
        return {desk::refillTable(*p.stock)};
    if (verb == QStringLiteral("reorders"))
        return {desk::reorderTable(*p.stock), desk::storeroomTable(*p.stock)};
    if (verb == QStringLiteral("expiry"))
        return {desk::expiryTable(*p.stock)};
    if (verb == QStringLiteral("starts"))
        return {desk::startUpTable(*p.stock)};
    if (verb == QStringLiteral("week"))
        return {desk::weekTable(*p.week), desk::unplacedTable(*p.week), desk::costTable(*p.week),
                desk::brokenRulesTable(*p.week)};
    if (verb == QStringLiteral("caseload")) {
        const auto review = desk::loadReview(*p.week);
        return {desk::loadTable(*p.week, review), desk::continuityTable(*p.week, review),
                desk::jointVisitTable(desk::jointVisits(*p.agency), *p.agency),
                desk::decisionTable(desk::decisionsFor(*p.agency, review.week))};
    }
    return {desk::attentionTable(desk::attention(*p.agency, p.stock.get(), p.week.get()), *p.agency)};
}

ExitCode runTables(const Arguments &a) {
    const bool plans = a.verb == QStringLiteral("week") || a.verb == QStringLiteral("caseload");
    const auto pictures = look(a, plans || a.verb == QStringLiteral("attention"), plans);
    if (!pictures)
        return refuse(pictures.error());
    const QString asOf = QString::fromStdString(pictures->agency->today().toIso());
    return finish(writeTables(tablesFor(a.verb, *pictures), a, asOf));
}

ExitCode runBacktest(const Arguments &a) {
    const auto agency = load(a);
    if (!agency)
        return refuse(agency.error());
    const auto check = desk::checkForecast(**agency, {}, {});
    if (!check)
        return refuse(check.error());
    return finish(writeTables(desk::forecastCheckTables(*check), a,
                              QString::fromStdString((*agency)->today().toIso())));
}

// Of the records alone: nothing is worked out for it.
ExitCode runIncidents(const Arguments &a) {
    const auto agency = load(a);
    if (!agency)
        return refuse(agency.error());
    return finish(writeTables({desk::incidentTable(desk::incidentList(**agency))}, a,
                              QString::fromStdString((*agency)->today().toIso())));
}

ExitCode runSample(const Arguments &a) {
    return finish(sample::buildSampleAgency(a.agency.toStdString(), a.asOf, {}));
}

Result<std::unique_ptr<desk::Desk>> openOnly(const Arguments &a, const Clock &clock) {
    desk::OpenOptions options;
    options.mode = store::OpenMode::ReadOnly;
    options.loadNow = false;
    return desk::Desk::open(a.agency.toStdString(), options, clock, {}, {});
}

ExitCode runCheck(const Arguments &a) {
    const SystemClock clock;
    auto opened = openOnly(a, clock);
    if (!opened)
        return refuse(opened.error());
    const auto faults = (*opened)->check({}, {});
    if (!faults)
        return refuse(faults.error());
    const desk::Table table = desk::checkTable(*faults);
    if (const auto written = writeTables({table}, a, {}); !written)
        return refuse(written.error());
    return desk::hasFault(*faults) ? ExitCode::AnswerIsNo : ExitCode::Done;
}

ExitCode runBackup(const Arguments &a) {
    const SystemClock clock;
    auto opened = openOnly(a, clock);
    if (!opened)
        return refuse(opened.error());
    return finish((*opened)->backupTo(a.to.toStdString(), {}, {}));
}

// What went wrong, and how the agency stands by it: whoever runs this unseen reads only that.
ExitCode refuseImport(const Problem &problem, const std::string &standing) {
    complain(desk::words(problem));
    complain(QString::fromStdString(standing));
    return ExitCode::WorldSaidNo;
}

// Nothing is written while the list has a fault, or where it is only to be checked.
ExitCode runImport(const Arguments &a) {
    const SystemClock clock;
    desk::OpenOptions options;
    options.asOf = a.asOf;
    if (a.checkOnly)
        options.mode = store::OpenMode::ReadOnly;
    auto opened = desk::Desk::open(a.agency.toStdString(), options, clock, {}, {});
    if (!opened)
        return refuse(opened.error());
    const auto bytes = desk::readListFile(a.from.toStdString());
    if (!bytes)
        return refuse(bytes.error());
    desk::Desk &desk = **opened;
    const Date today = desk.agency()->today();
    const desk::ListKind kind = *exchange::listNamed(a.list.toStdString());
    const desk::ImportPreview preview = desk::previewImport(*desk.agency(), kind, *bytes);
    desk::Table table = desk::importTable(preview);
    bool isIn = false;
    if (preview.mayGoIn() && !a.checkOnly) {
        const std::string backup = desk::backupBeforeImport(a.agency.toStdString(), today);
        if (const auto kept = desk.backupTo(backup, {}, {}); !kept)
            return refuseImport(kept.error(),
                                "No copy could be made, so nothing of the list was brought in.");
        const auto done = desk.importList(kind, *bytes, QFileInfo(a.from).fileName().toStdString());
        if (!done)
            return refuseImport(done.error(), "Nothing of the list was brought in; the agency is as it was, "
                                              "and its copy stays at " +
                                                  backup + ".");
        isIn = true;
        table.notes.push_back(desk::importDoneText(*done).toStdString());
        table.notes.push_back("The agency as it was before is kept as " + backup + ".");
    }
    if (const auto told = writeTables({table}, a, QString::fromStdString(today.toIso())); !told)
        return refuseImport(told.error(),
                            isIn ? "The list was brought in all the same; do not bring it in again."
                                 : "Nothing of the list was brought in.");
    return preview.mayGoIn() ? ExitCode::Done : ExitCode::AnswerIsNo;
}

Date lastMonthOf(const desk::Agency &agency) {
    return monthOf(monthOf(agency.today()).plusDays(-1));
}

ExitCode runMonth(const Arguments &a) {
    const SystemClock clock;
    auto opened = openToRead(a, clock);
    if (!opened)
        return refuse(opened.error());
    const desk::AgencyPtr agency = (*opened)->agency();
    const auto books = (*opened)->monthBooks(a.month.value_or(lastMonthOf(*agency)));
    if (!books)
        return refuse(books.error());
    desk::Table table = desk::monthTable(*agency, books->close);
    table.notes.push_back(desk::monthState(*agency, *books).toStdString());
    return finish(writeTables({table}, a, QString::fromStdString(agency->today().toIso())));
}

ExitCode runPapers(const Arguments &a) {
    const auto pictures = look(a, true, true);
    if (!pictures)
        return refuse(pictures.error());
    const auto lastMonth =
        desk::readMonthBooks(a.agency.toStdString(), *pictures->agency, lastMonthOf(*pictures->agency));
    if (!lastMonth)
        return refuse(lastMonth.error());
    return finish(writePapers(*pictures->stock, *pictures->week, *lastMonth, a.outDir));
}

// Writing the answer over the file that was asked would lose an agency.
bool wouldOverwriteAgency(const Arguments &a) {
    if (a.out.isEmpty())
        return false;
    const QFileInfo out(a.out), agency(a.agency);
    return out.exists() && agency.exists() && out.canonicalFilePath() == agency.canonicalFilePath();
}

} // namespace

ExitCode run(const Arguments &a) {
    if (wouldOverwriteAgency(a)) {
        complain(QStringLiteral("--out is the agency file itself; choose another file."));
        return ExitCode::WrongUse;
    }
    if (a.verb == QStringLiteral("sample"))
        return runSample(a);
    if (a.verb == QStringLiteral("backtest"))
        return runBacktest(a);
    if (a.verb == QStringLiteral("incidents"))
        return runIncidents(a);
    if (a.verb == QStringLiteral("check"))
        return runCheck(a);
    if (a.verb == QStringLiteral("backup"))
        return runBackup(a);
    if (a.verb == QStringLiteral("import"))
        return runImport(a);
    if (a.verb == QStringLiteral("papers"))
        return runPapers(a);
    if (a.verb == QStringLiteral("month"))
        return runMonth(a);
    return runTables(a);
}

} // namespace kitround::headless

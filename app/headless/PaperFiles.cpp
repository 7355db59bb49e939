#include "app/headless/PaperFiles.h"

#include "app/headless/Output.h"
#include "core/desk/paper/ClerkPapers.h"
#include "core/desk/paper/Papers.h"
#include "core/desk/views/HolidayPlan.h"
#include "ui/print/PaperPdf.h"

#include <QDateTime>
#include <QDir>

#include <algorithm>

namespace kitround::headless {
namespace {

constexpr int kHolidayWeeks = 8; // what the desktop shows first

LocalTime machineNow() {
    const QDateTime now = QDateTime::currentDateTime();
    return {Date::fromDayNumber(now.date().toJulianDay() - QDate(1970, 1, 1).toJulianDay()),
            Minutes::of(now.time().hour() * 60 + now.time().minute())};
}

QString userName() {
    const QString user = qEnvironmentVariable("USER", qEnvironmentVariable("LOGNAME"));
    return user.isEmpty() ? QStringLiteral("kitround-headless") : user;
}

struct NamedPaper {
    QString file; // without folder and suffix
    desk::Paper paper;
};

std::vector<NamedPaper> mainPapers(const desk::StockPicture &stock, const desk::WeekPicture &week,
                                   const supply::MonthBooks &lastMonth) {
    const desk::Agency &agency = *week.agency;
    const QString today = QString::fromStdString(agency.today().toIso());
    const QString start = QString::fromStdString(week.week.from.toIso());
    std::vector<NamedPaper> papers;
    const std::vector<desk::AttentionItem> attention = desk::attention(agency, &stock, &week);
    papers.push_back({QStringLiteral("attention-") + today, desk::attentionPaper(attention, agency)});
    papers.push_back({QStringLiteral("hand-over-") + today, desk::handOverPaper(attention, agency)});
    papers.push_back({QStringLiteral("watch-list-") + today, desk::watchPaper(agency)});
    papers.push_back({QStringLiteral("holidays-") + today,
                      desk::holidayPaper(desk::holidayPlan(stock, kHolidayWeeks), agency, kHolidayWeeks)});
    papers.push_back({QStringLiteral("week-") + start, desk::weekPaper(week)});
    for (Date day = week.week.from; day < week.week.to; ++day)
        papers.push_back({QStringLiteral("day-sheets-") + QString::fromStdString(day.toIso()),
                          desk::daySheets(week, day)});
    papers.push_back({QStringLiteral("load-") + start, desk::loadPaper(week, desk::loadReview(week))});
    papers.push_back({QStringLiteral("homes-") + today, desk::forecastPaper(stock)});
    papers.push_back({QStringLiteral("refill-calls-") + today, desk::refillCallList(stock)});
    papers.push_back({QStringLiteral("pick-list-") + today, desk::pickList(stock)});
    papers.push_back({QStringLiteral("orders-") + today, desk::reorderPaper(stock)});
    papers.push_back({QStringLiteral("expiry-") + today, desk::expiryPaper(stock)});
    papers.push_back({QStringLiteral("first-deliveries-") + today, desk::startUpPaper(stock)});
    papers.push_back({QStringLiteral("month-") + QString::fromStdString(lastMonth.close.month.toIso()),
                      desk::monthPaper(agency, lastMonth)});
    int k = 0;
    for (const PurchaseOrder &order : desk::draftOrders(stock))
        papers.push_back({QStringLiteral("purchase-order-%1-%2").arg(today).arg(++k),
                          desk::purchaseOrderPaper(agency, order)});
    papers.push_back({QStringLiteral("on-call-card-") + today, desk::onCallCard(agency)});
    papers.push_back({QStringLiteral("on-call-rota-") + today, desk::onCallRota(agency)});
    papers.push_back({QStringLiteral("weekend-list-") + today, desk::weekendList(week, stock)});
    papers.push_back({QStringLiteral("emergency-call-order-") + today, desk::emergencyCallOrder(agency)});
    papers.push_back({QStringLiteral("downtime-pack-") + today, desk::downtimePack(week, stock)});
    return papers;
}

Result<void> draw(const desk::Paper &paper, const QString &file) {
    return ui::writePdf(paper, file);
}

} // namespace

Result<void> writePapers(const desk::StockPicture &stock, const desk::WeekPicture &week,
                         const supply::MonthBooks &lastMonth, const QString &folder) {
    const QDir dir(folder);
    if (!dir.mkpath(QStringLiteral("."))) {
        Problem problem;
        problem.code = ProblemCode::FileReadOnly;
        problem.field = folder.toStdString();
        return problem;
    }
    const LocalTime now = machineNow();
    for (const NamedPaper &p : mainPapers(stock, week, lastMonth)) {
        const QString file = dir.filePath(p.file + QStringLiteral(".pdf"));
        if (auto done = draw(desk::signedBy(p.paper, userName(), now), file); !done)
            return done;
        if (auto said = writeText(file + u'\n'); !said)
            return said;
    }
    return {};
}

} // namespace kitround::headless

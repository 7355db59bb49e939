#include "core/desk/views/QualityView.h"

#include "core/calendar/Weeks.h"
#include "core/desk/views/Cells.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"

#include <algorithm>
#include <cmath>

namespace kitround::desk {
namespace {

using caseload::QualityMeasure;

constexpr std::int64_t kFewestEvents = 5; // below it a rate is chance (assumed)
constexpr QualityMeasure kMeasures[] = {QualityMeasure::InfectionSigns, QualityMeasure::HospitalStays,
                                        QualityMeasure::UnplannedVisits, QualityMeasure::LateRefills,
                                        QualityMeasure::TaughtInTime};
static_assert(std::size(kMeasures) == caseload::kQualityMeasures);

bool isByCatheterDays(QualityMeasure measure) {
    return measure == QualityMeasure::InfectionSigns || measure == QualityMeasure::HospitalStays;
}

std::string keyOf(QualityMeasure measure) {
    switch (measure) {
    case QualityMeasure::InfectionSigns:
        return "infection_signs";
    case QualityMeasure::HospitalStays:
        return "hospital_stays";
    case QualityMeasure::UnplannedVisits:
        return "unplanned_visits";
    case QualityMeasure::LateRefills:
        return "late_refills";
    case QualityMeasure::TaughtInTime:
        return "taught_in_time";
    }
    return {};
}

} // namespace

QString words(QualityMeasure measure) {
    switch (measure) {
    case QualityMeasure::InfectionSigns:
        return Text::tr("Infection signs");
    case QualityMeasure::HospitalStays:
        return Text::tr("Hospital stays");
    case QualityMeasure::UnplannedVisits:
        return Text::tr("Unplanned visits");
    case QualityMeasure::LateRefills:
        return Text::tr("Late refills");
    case QualityMeasure::TaughtInTime:
        return Text::tr("Taught by day 14");
    }
    return {};
}

QString qualityText(QualityMeasure measure, const caseload::QualityCount &count) {
    if (count.of == 0)
        return Text::tr("none");
    const QString text = Text::tr("%1 of %2").arg(numberText(count.count), numberText(count.of));
    if (count.count < kFewestEvents)
        return text;
    const double share = static_cast<double>(count.count) / static_cast<double>(count.of);
    return isByCatheterDays(measure) ? Text::tr("%1 (%2)").arg(text, QString::number(1000 * share, 'f', 1))
                                     : Text::tr("%1 (%2 %)").arg(text, QString::number(100 * share, 'f', 0));
}

Table qualityTable(const std::vector<caseload::QualityMonth> &months) {
    Table table;
    table.title = Text::tr("Quality by month").toStdString();
    table.key = "quality";
    table.columns = {textColumn(Text::tr("From"), "from"), textColumn(Text::tr("Up to"), "until")};
    for (const QualityMeasure measure : kMeasures) {
        const std::string key = keyOf(measure);
        table.columns.push_back(inText(textColumn(words(measure), key.c_str())));
        table.columns.push_back(inCopies(numberColumn(words(measure), key.c_str())));
        table.columns.push_back(
            inCopies(numberColumn(Text::tr("%1, of").arg(words(measure)), (key + "_of").c_str())));
    }
    for (const caseload::QualityMonth &month : months) {
        std::vector<std::string> cells{cell(month.days.from), cell(month.days.to.plusDays(-1))};
        for (const QualityMeasure measure : kMeasures) {
            cells.push_back(cell(qualityText(measure, month[measure])));
            cells.push_back(cell(month[measure].count));
            cells.push_back(cell(month[measure].of));
        }
        table.rows.push_back(std::move(cells));
    }
    table.notes.push_back(
        Text::tr(
            "Infection signs and hospital stays are told beside the catheter-days they were seen in, without "
            "days on hold; in brackets how many that is for each 1,000 catheter-days. A sign is what was "
            "written down, no diagnosis. With fewer than %1 "
            "events no rate is told: it would be chance.")
            .arg(kFewestEvents)
            .toStdString());
    return table;
}

QualityTrend qualityTrend(const Agency &agency, const std::vector<caseload::QualityMonth> &months) {
    QualityTrend trend;
    trend.isByMonth = months.size() >= kTrendPeriods;
    if (trend.isByMonth) {
        trend.periods.assign(months.end() - static_cast<std::ptrdiff_t>(kTrendPeriods), months.end());
        return trend;
    }
    const Date thisWeek = calendar::weekStartOf(agency.today(), agency.settings().weekStart);
    for (auto back = static_cast<std::int64_t>(kTrendPeriods); back >= 1; --back)
        if (const Date from = thisWeek.plusDays(-7 * back); from >= agency.snapshot().logFrom)
            trend.periods.push_back(caseload::qualityOf(agency.index(), {from, from.plusDays(7)}));
    return trend;
}

QString sparkline(const std::vector<caseload::QualityCount> &counts) {
    constexpr char16_t kLowest = u'\u2581'; // the eighths of a block, one after the other
    constexpr double kSteps = 7;
    const auto rate = [](const caseload::QualityCount &c) {
        return c.of > 0 ? static_cast<double>(c.count) / static_cast<double>(c.of) : 0;
    };
    double most = 0;
    for (const caseload::QualityCount &c : counts)
        most = std::max(most, rate(c));
    QString line;
    for (const caseload::QualityCount &c : counts) {
        const auto step = most > 0 ? std::lround(kSteps * rate(c) / most) : 0;
        line += c.of > 0 ? QChar(static_cast<char16_t>(kLowest + step)) : QChar(u'\u2591');
    }
    return line;
}

namespace {

std::vector<Column> trendColumns(const QualityTrend &trend) {
    std::vector<Column> columns{textColumn(Text::tr("Sign"), "sign"),
                                inText(textColumn(Text::tr("Trend"), "trend"))};
    for (std::size_t i = 0; i < trend.periods.size(); ++i) {
        const Date from = trend.periods[i].days.from;
        const std::string key = "figure_" + std::to_string(trend.periods.size() - i);
        Column figure = inText(textColumn(trend.isByMonth ? monthText(from) : dayText(from), key.c_str()));
        figure.align = Align::Right;
        columns.push_back(std::move(figure));
    }
    for (std::size_t back = 1; back <= kTrendPeriods; ++back) {
        const std::string number = std::to_string(back);
        const QString name = fromStd(number);
        columns.push_back(inCopies(textColumn(Text::tr("From, %1").arg(name), ("from_" + number).c_str())));
        columns.push_back(inCopies(textColumn(Text::tr("Up to, %1").arg(name), ("until_" + number).c_str())));
        columns.push_back(inCopies(numberColumn(Text::tr("Count, %1").arg(name), ("n_" + number).c_str())));
        columns.push_back(inCopies(numberColumn(Text::tr("Of, %1").arg(name), ("of_" + number).c_str())));
    }
    return columns;
}

std::vector<std::string> trendRow(QualityMeasure measure, const QualityTrend &trend) {
    std::vector<caseload::QualityCount> counts;
    for (const caseload::QualityMonth &period : trend.periods)
        counts.push_back(period[measure]);
    std::vector<std::string> cells{cell(words(measure)), cell(sparkline(counts))};
    for (const caseload::QualityCount &count : counts)
        cells.push_back(cell(qualityText(measure, count)));
    for (std::size_t back = 1; back <= kTrendPeriods; ++back) {
        if (back > trend.periods.size()) {
            cells.insert(cells.end(), 4, std::string());
            continue;
        }
        const std::size_t at = trend.periods.size() - back;
        const DateRange days = trend.periods[at].days;
        for (const std::string &text :
             {cell(days.from), cell(days.to.plusDays(-1)), cell(counts[at].count), cell(counts[at].of)})
            cells.push_back(text);
    }
    return cells;
}

} // namespace

Table qualityTrendTable(const QualityTrend &trend) {
    Table table;
    table.title =
        (trend.isByMonth ? Text::tr("Quality, the last months") : Text::tr("Quality, the last weeks"))
            .toStdString();
    table.key = "quality_trend";
    table.columns = trendColumns(trend);
    if (trend.periods.empty())
        return table;
    for (const QualityMeasure measure : kMeasures)
        table.rows.push_back(trendRow(measure, trend));
    const QString periods = trend.isByMonth ? Text::tr("Calendar months, the last one so far.")
                                            : Text::tr("Whole weeks, by their first day.");
    table.notes.push_back(
        Text::tr("%1 A bar is the rate of its period beside the highest of the line, a grey block one with "
                 "nothing to count of: read the counts with it, a few events are chance. More is better for "
                 "taught by "
                 "day 14 alone.")
            .arg(periods)
            .toStdString());
    return table;
}

} // namespace kitround::desk

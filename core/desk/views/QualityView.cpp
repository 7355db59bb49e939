#include "core/desk/views/QualityView.h"

#include "core/desk/views/Cells.h"
#include "core/desk/words/Text.h"

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
            "Infection signs and hospital stays are counted of catheter-days, without days on hold; in "
            "brackets a 1,000 of them. A sign is what was written down, no diagnosis. With fewer than %1 "
            "events no rate is told: it would be chance.")
            .arg(kFewestEvents)
            .toStdString());
    return table;
}

} // namespace kitround::desk

#pragma once
// Quality by month, and how each sign went of late: every figure with its count and what it is counted of.
#include "core/caseload/Quality.h"
#include "core/desk/Desk.h"
#include "core/desk/Table.h"

#include <QString>

#include <vector>

namespace kitround::desk {

QString words(caseload::QualityMeasure measure);
// "6 of 1240 (4.8)": the rate only where there are events enough to speak of one.
QString qualityText(caseload::QualityMeasure measure, const caseload::QualityCount &count);
Table qualityTable(const std::vector<caseload::QualityMonth> &months);

inline constexpr std::size_t kTrendPeriods = 6;
// The last six months, where the loaded log covers so many; else the last six whole weeks of it. The oldest
// first.
struct QualityTrend {
    bool isByMonth = false; // the last month is this one so far
    std::vector<caseload::QualityMonth> periods;
};
// `months`: caseload::qualityByMonth of the same agency.
QualityTrend qualityTrend(const Agency &agency, const std::vector<caseload::QualityMonth> &months);
// A line a sign: its rates as a small picture, and the figure of each period, headed by its first day. Copies
// have the days and counts of each, numbered back from the newest (n_1): their head is always the same.
Table qualityTrendTable(const QualityTrend &trend);
// A bar a period, the highest rate being the whole height; a grey block (as wide) where nothing is
// counted of.
QString sparkline(const std::vector<caseload::QualityCount> &counts);

} // namespace kitround::desk

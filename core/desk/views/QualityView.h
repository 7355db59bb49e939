#pragma once
// Quality by month as a table: every figure with its count and what it is counted of.
#include "core/caseload/Quality.h"
#include "core/desk/Table.h"

#include <QString>

namespace kitround::desk {

QString words(caseload::QualityMeasure measure);
// "6 of 1240 (4.8)": the rate only where there are events enough to speak of one.
QString qualityText(caseload::QualityMeasure measure, const caseload::QualityCount &count);
Table qualityTable(const std::vector<caseload::QualityMonth> &months);

} // namespace kitround::desk

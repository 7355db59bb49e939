#pragma once
// Quality by calendar month: each measure is a count beside what it is counted of, never a bare rate.
//
//   infection signs  catheters with a sign of infection in the log that month, of catheter-days
//   hospital stays   that began, of catheter-days
//   unplanned        as-needed visits done, of visits done; by the day they were made
//   late refills     delivered after the day they were promised against, of those that had one
//   taught in time   a teaching visit by day 14 (the start of care being day 1), of starts whose day 14 is
//                    past; who left service or died by then is left out
//
// The signs are what homes and nurses wrote down, no diagnosis. Run-outs leave no record of their own.
#include "core/records/Snapshot.h"

#include <array>
#include <vector>

namespace kitround::caseload {

enum class QualityMeasure : std::uint8_t {
    InfectionSigns,
    HospitalStays,
    UnplannedVisits,
    LateRefills,
    TaughtInTime
};
inline constexpr std::size_t kQualityMeasures = 5;
struct QualityCount {
    std::int64_t count = 0, of = 0;
    friend bool operator==(const QualityCount &, const QualityCount &) = default;
};
struct QualityMonth {
    DateRange days; // the last one ends today
    std::array<QualityCount, kQualityMeasures> measures;
    const QualityCount &operator[](QualityMeasure m) const { return measures[static_cast<std::size_t>(m)]; }
};
// The same of any days, which the loaded log should cover.
QualityMonth qualityOf(const SnapshotIndex &agency, DateRange days);
// The months that the loaded log covers from their first day, the oldest first; the last one is this month so
// far.
std::vector<QualityMonth> qualityByMonth(const SnapshotIndex &agency);

} // namespace kitround::caseload

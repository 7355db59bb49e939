#pragma once
// One home cut out of its agency, so that a question about it alone is asked on a changed copy of a few rows.
// What the caseload teaches comes along as figures; with those the home's forecast is what it was.
#include "core/forecast/AgencyFigures.h"
#include "core/forecast/HomeForecast.h"

namespace kitround::forecast {

// The patient, all lines with their orders, log, holds and stock, and what these name.
Snapshot homeAlone(const SnapshotIndex &agency, PatientId patient);

struct Parcel {
    Date on;
    Eaches units;
};
// The line's forecast anew, as if this parcel were on its way to it too, and with it what is promised to the
// home already: who weighs another parcel counts on those. Without cumulated distributions: no parcel changes
// the use.
ItemForecast withParcel(const SnapshotIndex &agency, const AgencyFigures &figures, const ItemForecast &line,
                        const Parcel &parcel);

} // namespace kitround::forecast

#include "core/forecast/AgencyFigures.h"

namespace kitround::forecast {

AgencyFigures learnFigures(const SnapshotIndex &agency) {
    AgencyFigures figures;
    figures.exits = ExitOutlook::learnFrom(agency);
    figures.wander = learnWander(agency);
    return figures;
}

} // namespace kitround::forecast

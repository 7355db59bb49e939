#pragma once
// The file of one incident, for the drawer and for whoever asks later.
#include "core/desk/paper/Papers.h"
#include "core/desk/views/Incidents.h"

namespace kitround::desk {

// `timeline`: incidentTimeline of the same.
Paper incidentPaper(const IncidentRow &row, const Agency &agency, const Table &timeline);

} // namespace kitround::desk

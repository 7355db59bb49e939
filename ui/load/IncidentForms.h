#pragma once
// The forms of an incident: what happened and who was told; and what came of it.
#include "core/records/Safety.h"

#include <optional>

class QWidget;

namespace kitround::ui {

class Session;

// Of one without an id a new one is written down. Gives the one that was saved.
std::optional<IncidentId> editIncident(QWidget *window, Session &session, const Incident &before);
bool closeIncident(QWidget *window, Session &session, const Incident &incident);

} // namespace kitround::ui

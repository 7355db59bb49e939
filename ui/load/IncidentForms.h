#pragma once
// The forms of an incident: what happened and who was told; and what came of it.
#include "core/records/Safety.h"

class QWidget;

namespace kitround::ui {

class Session;

// Of one without an id a new one is written down.
bool editIncident(QWidget *window, Session &session, const Incident &before);
bool closeIncident(QWidget *window, Session &session, const Incident &incident);

} // namespace kitround::ui

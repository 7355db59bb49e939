#pragma once
// A visit order, its frequency typed in the trade's notation and explained while typing.
#include "core/records/Visits.h"

class QWidget;

namespace kitround::ui {

class Session;

// True when stored. By value: the agency may be reloaded under the open form.
bool editVisitOrder(QWidget *window, Session &session, VisitOrder order);

} // namespace kitround::ui

#pragma once
#include "core/records/Visits.h"

#include <QString>

class QWidget;

namespace kitround::ui {

class Session;

// A nurse was told how her round is now; kept with who told her. `what`: the changes in words.
bool recordPlanTold(QWidget *window, Session &session, PlanTold told, const QString &what);

} // namespace kitround::ui

#pragma once
// What happened at a visit: done with its times and miles, or missed with the reason and whom was told.
#include "core/records/Visits.h"

#include <QString>

class QWidget;

namespace kitround::ui {

class Session;

// True when stored.
bool recordVisit(QWidget *window, Session &session, Visit visit, const QString &who);

} // namespace kitround::ui

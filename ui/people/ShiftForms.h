#pragma once
// When a nurse works: the weekly pattern, single days that differ, time off. True when stored. By value: the
// agency may be reloaded under the open form.
#include "core/records/Nurses.h"

class QWidget;

namespace kitround::ui {

class Session;

bool editShift(QWidget *window, Session &session, ShiftPattern shift);
bool editExtraShift(QWidget *window, Session &session, ExtraShift shift);
bool editTimeOff(QWidget *window, Session &session, TimeOff off);

} // namespace kitround::ui

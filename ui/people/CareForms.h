#pragma once
// Shorter steps in a patient's care: holds, leaving service and the way back, a catheter in and out, a count
// of the home. Each is true when something was stored. Records come by value: the agency may be reloaded
// under an open form.
#include "core/desk/Desk.h"

#include <QString>

class QWidget;

namespace kitround::ui {

class Session;

bool putOnHold(QWidget *window, Session &session, Patient patient);
bool changeHold(QWidget *window, Session &session, Patient patient, Hold hold);
bool endHold(QWidget *window, Session &session, Patient patient, Hold hold);
bool callOffHold(QWidget *window, Session &session, Patient patient, Hold hold); // one that is still to come
bool leaveService(QWidget *window, Session &session, Patient patient);
// The way back, where that was entered by mistake.
bool backOnService(QWidget *window, Session &session, Patient patient);
bool editCatheter(QWidget *window, Session &session, Catheter catheter);
bool takeCatheterOut(QWidget *window, Session &session, Catheter catheter);
// A visit besides those the orders owe; a plan or its mending places it.
bool addVisit(QWidget *window, Session &session, Patient patient);
bool countAtHome(QWidget *window, Session &session, PatientId patient);

// What stopped, in words, with what somebody still has to do.
QString exitEffectText(const desk::ExitEffect &effect, const desk::Agency &agency);
// What came back, and what has to be planned, promised or entered anew.
QString exitUndoneText(const desk::ExitUndone &undone, const desk::Agency &agency);

} // namespace kitround::ui

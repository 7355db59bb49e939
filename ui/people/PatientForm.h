#pragma once
// All facts of a patient that are entered by hand. Leaving service has a form of its own (ExitForm).
#include "core/records/People.h"

#include <optional>

class QWidget;

namespace kitround::ui {

class Session;

// The stored patient, or nothing where the form was left.
std::optional<PatientId> editPatient(QWidget *window, Session &session, const Patient &patient);

} // namespace kitround::ui

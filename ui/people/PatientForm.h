#pragma once
// All facts of a patient that are entered by hand. Leaving service has a form of its own (ExitForm).
#include "core/records/People.h"

#include <optional>
#include <string>

class QWidget;

namespace kitround::ui {

class Session;

// The stored patient, or nothing where the form was left. `startAt`: the field to begin at, by its schema
// name.
std::optional<PatientId> editPatient(QWidget *window, Session &session, const Patient &patient,
                                     const std::string &startAt = {});

} // namespace kitround::ui
